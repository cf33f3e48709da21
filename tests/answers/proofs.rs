//! Proofs of seeded briefs with every feature: each answer has one, and the checker accepts it.
//!
//! The files are left beside the test's other output, for the second checker (`tests/proof/check.py`).

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use washline::explain::conflict::conflict;
use washline::proof::{What, check, digest};
use washline::prove::{NoProof, prove};
use washline::read::read;
use washline::solve::{Ending, Stop, solve};

use crate::exact::over_both_cores;
use crate::files::file;

/// Where briefs and proofs are left.
fn folder() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("proofs")
}

/// Proves the answers of seeds and checks the proofs. Each brief has a proof of all that its answer says.
fn hold(seeds: std::ops::Range<u64>, conflicts: usize) {
    fs::create_dir_all(folder()).expect("a folder");
    let counts = Mutex::new(BTreeMap::new());
    over_both_cores(seeds, |seed| {
        let text = file(seed);
        let brief = read(text.as_bytes(), &[]).map_err(|findings| format!("{findings:#?}"))?.brief;
        let stop = Stop::within_reason();
        let solved = solve(&brief, &stop);
        let cores = if solved.ending == Ending::Conflict { conflict(&brief, &stop).cores } else { vec![] };
        let proof = match prove(&brief, &solved, &cores, digest([text.as_bytes()]), &stop) {
            Ok(proof) => proof,
            Err(NoProof::Beyond(what)) => return Err(format!("beyond: {what}")),
            Err(why) => return Err(format!("{why:?} {:?}", solved.ending)),
        };
        let proved =
            check(&brief, digest([text.as_bytes()]), &proof).map_err(|why| format!("{why:?}\n{proof}"))?;
        let what = match &proved.claims[0].what {
            What::Best => "best",
            What::Sets => "sets",
            What::Nothing(_) => "nothing",
        };
        if what == "best" && solved.complete {
            return Err("the alternatives are not proved".to_owned());
        }
        *counts.lock().map_err(|e| e.to_string())?.entry(what).or_insert(0) += 1;
        let write = |ending: &str, text: &str| fs::write(folder().join(format!("{seed}.{ending}")), text);
        write("toml", &text).and_then(|()| write("proof", &proof)).map_err(|e| e.to_string())
    });
    let counts = counts.into_inner().expect("no check failed");
    let count = |what: &str| counts.get(what).copied().unwrap_or(0);
    assert!(count("nothing") >= conflicts && count("sets") > count("nothing"), "{counts:?}");
}

#[test]
fn forty_seeded_briefs_have_proofs_that_hold() {
    hold(20_000..20_040, 5);
}

/// Three hundred answers, and a hundred conflicts.
#[test]
#[ignore = "minutes"]
fn seeded_briefs_have_proofs_that_hold() {
    hold(21_000..21_450, 100);
}

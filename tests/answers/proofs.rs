//! Proofs of seeded briefs with every feature: each answer has one, and the checker accepts it.
//!
//! The files are left beside the test's other output, for the second checker (`tests/proof/check.py`).

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use washline::brief::Brief;
use washline::explain::conflict::conflict;
use washline::proof::{What, check, digest};
use washline::prove::prove;
use washline::read::read;
use washline::solve::{Ending, Solved, Stop, solve};

use crate::exact::over_both_cores;
use crate::files::file;
use crate::on_ice::on_ice;

/// Where briefs and proofs are left.
fn folder() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("proofs")
}

/// A proof of an answer, which the checker accepts and says what it proves.
fn proved(brief: &Brief, solved: &Solved, text: &str) -> Result<(String, What), String> {
    let (stop, digest) = (Stop::within_reason(), digest([text.as_bytes()]));
    let cores = if solved.ending == Ending::Conflict { conflict(brief, &stop).cores } else { vec![] };
    let mut proof = String::new();
    prove(brief, solved, &cores, digest, &stop, &mut proof)
        .map_err(|why| format!("{why:?} {:?}", solved.ending))?;
    let proved = check(brief, digest, &proof).map_err(|why| format!("{why:?}\n{proof}"))?;
    Ok((proof, proved.claims[0].what.clone()))
}

/// Proves the answers of seeds and checks the proofs. Each brief has a proof of all that its answer says.
fn hold(seeds: std::ops::Range<u64>, conflicts: usize) {
    fs::create_dir_all(folder()).expect("a folder");
    let counts = Mutex::new(BTreeMap::new());
    over_both_cores(seeds, |seed| {
        let text = file(seed);
        let brief = read(text.as_bytes(), &[]).map_err(|findings| format!("{findings:#?}"))?.brief;
        let solved = solve(&brief, &Stop::within_reason());
        let (proof, what) = proved(&brief, &solved, &text)?;
        let what = match what {
            What::Best if solved.complete => return Err("the alternatives are not proved".to_owned()),
            What::Best => "best",
            What::Sets => "sets",
            What::Nothing(_) => "nothing",
        };
        *counts.lock().map_err(|e| e.to_string())?.entry(what).or_insert(0) += 1;
        let write = |ending: &str, text: &str| fs::write(folder().join(format!("{seed}.{ending}")), text);
        write("toml", &text).and_then(|()| write("proof", &proof)).map_err(|e| e.to_string())
    });
    let counts = counts.into_inner().expect("no check failed");
    let count = |what: &str| counts.get(what).copied().unwrap_or(0);
    assert!(count("nothing") >= conflicts && count("sets") > count("nothing"), "{counts:?}");
}

#[test]
fn thirty_seeded_briefs_have_proofs_that_hold() {
    hold(20_000..20_030, 4);
}

/// Three hundred answers, and a hundred conflicts.
#[test]
#[ignore = "minutes"]
fn seeded_briefs_have_proofs_that_hold() {
    hold(21_000..21_450, 100);
}

/// Drinks that stand on ice: the balance of heat, toppers, crushed ice, glasses that the ice shares. Its lines are not as
/// tight: of all of them the best is proved, of most the alternatives too.
#[test]
fn drinks_on_ice_have_proofs_that_hold() {
    let alone = Mutex::new(0);
    over_both_cores(8..16, |seed| {
        let brief = on_ice(seed);
        let solved = solve(&brief, &Stop::within_reason());
        let (_, what) = proved(&brief, &solved, "")?;
        *alone.lock().map_err(|e| e.to_string())? += usize::from(what == What::Best && solved.complete);
        Ok(())
    });
    let alone = alone.into_inner().expect("no check failed");
    assert!(alone <= 2, "{alone} of 8 without their alternatives");
}

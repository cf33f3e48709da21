//! The program itself with damaged arguments: one of the statuses of the contract, never 70, and words
//! where it refuses.

use std::process::{Command, Stdio};

use rand::seq::IndexedRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use super::damage::damaged;
use super::run::over;
use crate::effort::some;

const BRIEF: &str = "problems-demo/low-strength.toml";
const LINES: [&[&str]; 12] = [
    &["check", BRIEF, "40 ml aged rum, 20 ml lime juice"],
    &["check", BRIEF, "40 ml aged rum", "--set", "targets.strength.max=10", "--units", "oz"],
    &["check", BRIEF, "40 ml aged rum", "--swap", "lime juice=verjus", "--format", "json"],
    &["sweep", BRIEF, "--over", "targets.strength.max=8..16", "--steps", "2", "--time-limit", "0"],
    &["sweep", BRIEF, "--over=candidate.aged rum.price=10..20", "--steps=2", "--time-limit=0"],
    &["spec", BRIEF, "--time-limit", "0", "--format", "csv"],
    &["spec", BRIEF, "--time-limit", "0", "--swap", "aged rum=?"],
    &["batch", BRIEF, "--make", "10 l", "--bottle", "700 ml", "--time-limit", "0"],
    &["batch", BRIEF, "--serves", "60", "--alternative", "1", "--pour-cost", "18 %", "--time-limit", "0"],
    &["larder", "rum", "--format", "csv"],
    &["model", BRIEF, "--as", "lp", "--free", "--time-limit", "0"],
    &["schema"],
];

/// A line with one of its arguments damaged.
fn arguments(seed: u64) -> Vec<String> {
    let mut rng = Pcg64Mcg::seed_from_u64(seed);
    let line = *LINES.choose(&mut rng).expect("a line");
    let mut all: Vec<String> = line.iter().map(|&word| word.to_owned()).collect();
    let at = rng.random_range(0..all.len());
    let lent = LINES.choose(&mut rng).expect("a line").join(" ");
    let damage = damaged(all[at].as_bytes(), lent.as_bytes(), &mut rng);
    // No argument can hold a zero byte; and none of these is to name a file to write.
    all[at] = String::from_utf8_lossy(&damage).replace('\0', "0");
    all.retain(|word| !word.starts_with("--w") && !word.starts_with("--r") && !word.starts_with("--f="));
    all
}

#[test]
fn no_argument_breaks_the_program() {
    over(some(0..400, 9), |seed| {
        let arguments = arguments(seed);
        let mut command = Command::new(env!("CARGO_BIN_EXE_washline"));
        command.args(&arguments).current_dir(env!("CARGO_MANIFEST_DIR")).stdin(Stdio::null());
        let output = command.output().map_err(|e| e.to_string())?;
        let told = String::from_utf8(output.stderr).map_err(|_| format!("{arguments:?}: no UTF-8"))?;
        match output.status.code() {
            Some(2) if told.trim().is_empty() || !output.stdout.is_empty() => {
                Err("refused without words".to_owned())
            }
            Some(0..=3) => Ok(()),
            other => Err(format!("{other:?}: {told}")),
        }
        .map_err(|what| format!("{arguments:?}: {what}"))
    });
}

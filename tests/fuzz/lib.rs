//! What the targets share with `cargo test --test mutator`: the checks are the same, only the inputs are found by
//! libFuzzer, which looks for ones that take new ways through the program.

#[allow(dead_code)]
#[path = "../answers/briefs.rs"]
mod briefs;
#[allow(dead_code)]
#[path = "../answers/files.rs"]
pub mod files;
#[allow(dead_code)]
#[path = "../answers/glass.rs"]
mod glass;
#[allow(dead_code)]
#[path = "../answers/plan.rs"]
mod plan;

#[allow(dead_code)]
#[path = "../mutator"]
pub mod mutator {
    pub mod checks;
    mod run;
    pub mod shown;
    pub mod values;
}

/// Ends the run when a check has found a fault, as libFuzzer wants it.
///
/// # Panics
///
/// When there is a fault.
pub fn hold(check: Result<(), String>) {
    if let Err(fault) = check {
        panic!("{fault}");
    }
}

//! Good input, damaged by seeded accidents: nothing may panic, hang, point outside the text or show a
//! figure that is not the drink's.
//!
//! A seed prints itself when it fails. Twenty times as many, three million: `cargo test --test mutator --
//! --ignored`, as `.ci/run` does; `TIMES=10` before it makes that ten times as many again.

#[allow(dead_code)]
#[path = "answers/briefs.rs"]
mod briefs;
#[allow(dead_code)]
#[path = "answers/files.rs"]
mod files;
#[allow(dead_code)]
#[path = "answers/glass.rs"]
mod glass;
#[allow(dead_code)]
#[path = "answers/plan.rs"]
mod plan;

mod effort;

mod mutator {
    pub mod checks;
    pub mod corpus;
    pub mod damage;
    pub mod line;
    pub mod reader;
    pub mod run;
    pub mod shown;
    pub mod values;
    pub mod whole;
    pub mod words;
}

//! What is too large, too many, too deep, or not there at all: the whole program answers or refuses, in
//! bounded memory, and leaves nothing half done. Disks and mounts are tried by `.ci/resources`.

mod effort;

mod limits {
    pub mod briefs;
    #[cfg(unix)]
    pub mod files;
    pub mod numbers;
    #[cfg(target_os = "linux")]
    pub mod signals;
    #[cfg(target_os = "linux")]
    pub mod size;
    #[cfg(unix)]
    pub mod streams;
}

#[allow(dead_code)]
#[path = "program/run.rs"]
mod run;

//! The whole program: what it prints where, and how it ends.

mod effort;

mod program {
    #[cfg(target_os = "linux")]
    pub mod asks;
    pub mod bad;
    pub mod batch;
    pub mod conflict;
    pub mod demos;
    pub mod developers;
    pub mod files;
    pub mod house;
    pub mod manual;
    pub mod markup;
    pub mod menu;
    pub mod notebook;
    pub mod pages;
    pub mod proofs;
    pub mod readme;
    pub mod run;
    pub mod screen;
    pub mod swap;
    pub mod sweep;
    pub mod terminal;
    pub mod typed;
    pub mod version;
}

//! Words and figures that text and Markdown share.

mod aim;
mod asked;
pub mod batch;
mod change;
mod clean;
mod figures;
mod hangs;
mod mended;
pub mod menu;
mod method;
mod miss;
mod notes;
mod prices;
mod proof;
mod service;
mod spreads;
mod steadier;
mod substitutes;
mod swap;
mod sweep;
mod tasted;
mod verdict;
mod why;

pub use aim::*;
pub use asked::*;
pub use change::*;
pub use clean::*;
pub use figures::*;
pub use hangs::*;
pub use mended::*;
pub use method::*;
pub use miss::*;
pub use notes::*;
pub use prices::*;
pub use proof::*;
pub use service::*;
pub use steadier::*;
pub use substitutes::*;
pub use swap::*;
pub use sweep::*;
pub use tasted::*;
pub use verdict::*;
pub use why::*;

pub use crate::quantity::english::{counted, listed, upper_first};

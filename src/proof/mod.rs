//! Proofs that nothing better can be poured, and their check by whoever does not trust the search.
//!
//! This room knows the brief and the physics; the search, the rows it solves and its simplex are above it and cannot be
//! reached from here. A proof is a tree over all that may be poured: it branches on amounts (of which none is one) and
//! on ranges of compositions, and each leaf says why no spec is left in it. The rows are derived anew from the brief.
//! `tests/proof/README.md` has the form of the file.

mod check;
mod claim;
mod facts;
mod interval;
mod lines;
mod node;
mod point;
mod reader;
mod rows;
mod text;
mod view;

pub use check::{Proved, check};
pub use claim::{
    Claim, What, but as but_line, claim, line as claim_line, of_core, of_core_but, spec as spec_line, views,
};
pub use facts::{Facts, LOOSE, Limit, Score};
pub use interval::Interval;
pub use lines::{Band, Curve, MeltLine, Span};
pub use node::{Branch, Cutoffs, Domain, FIXED_ONE, Ground, Node, State};
pub use point::Point;
pub use reader::Refusal;
pub use rows::{Name, Row};
pub use text::{FIRST, MULTIPLIER, Step, digest, facts as facts_text};
pub use view::{Heat, Lines, Ranges, Which};

//! Many drinks, one shelf: a whole menu's specs, what a price or a missing bottle does to it, the fewest bottles or the
//! cheapest shelf that makes all of it, and what to order for a week.
//!
//! A *bottle* is one thing that is bought, known over all drinks by its name: that of the house, of the larder, or the
//! brief's own. What the house makes counts by its parts; water of the tap is no bottle.

pub mod bottles;
pub mod change;
mod cover;
pub mod fewest;
pub mod least;
pub mod offers;
pub mod oracle;
pub mod order;
mod relaxed;
pub mod set;
pub mod shelf;
pub mod week;
pub mod worth;

pub use bottles::{Bottle, Bottles};
pub use set::Set;

use crate::brief::{Brief, HoldFor};
use crate::explain::conflict::{Conflict, conflict};
use crate::explain::side_by_side::side_by_side;
use crate::explain::variation::{Share, within_all};
use crate::solve::{Ending, Solved, Stop, solve};

/// The answer to one drink of a menu.
#[derive(Debug, Clone)]
pub struct Found {
    /// What the search found.
    pub solved: Solved,
    /// The share of the best spec's serves within all targets.
    pub share: Option<Share>,
    /// Why there is no spec, where there is none.
    pub conflict: Option<Conflict>,
}

/// Solves every drink, `workers` at a time, and says of each that has no spec why; `done` is told of each.
pub fn solve_all(briefs: &[Brief], workers: usize, stop: &Stop, done: &(dyn Fn() + Sync)) -> Vec<Found> {
    side_by_side(briefs, workers, |brief| {
        let solved = solve(brief, stop);
        let share = solved.specs.first().map(|best| within_all(brief, &best.pours));
        let clashes = solved.ending == Ending::Conflict && !matches!(brief.variation.hold, HoldFor::Share(_));
        let conflict = clashes.then(|| conflict(brief, stop));
        done();
        Found { solved, share, conflict }
    })
}

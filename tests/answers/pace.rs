//! How much work a whole proof takes, counted and not timed: the same on every machine.

use washline::solve::{Ending, Stop, solve};

use crate::shelf;

/// A twentieth of what a search may take by itself, in figures gone over. Without cuts through sums
/// some of these shelves take more than twenty times as much.
const LITTLE: u64 = 90_000_000;

#[test]
fn shelves_of_any_size_are_proved_with_little_work() {
    for (count, seeds) in [(15, 8), (30, 8), (60, 8), (120, 4), (250, 2)] {
        for seed in 0..seeds {
            let mut plan = shelf::shelf(count, seed);
            plan.answer.alternatives = 6;
            let solved = solve(&plan.brief(), &Stop::after(LITTLE));
            assert_eq!((solved.ending, solved.complete), (Ending::Found, true), "shelf {seed} of {count}");
        }
    }
}

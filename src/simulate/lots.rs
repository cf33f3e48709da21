//! Tonight's limes apart from the hand: serves from one lot have its composition in common.

use std::num::NonZeroUsize;
use std::ops::Range;

use super::{Cause, SERVES, Serves, Which, on_threads};
use crate::brief::{Limit, Pour, Varies};

/// How many lots are simulated, each with as many serves as keep the sum at [`SERVES`].
pub const LOTS: usize = 100;
/// Serves of one lot.
const EACH: usize = SERVES / LOTS;

/// How many of a lot's serves meet all limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lot {
    /// How many were simulated.
    pub draws: usize,
    /// How many met every limit.
    pub within_all: usize,
}

impl Serves<'_> {
    /// Which of the pours have a composition that serves have in common and that differs from lot to lot.
    pub fn from_lots(&self, pours: &[Pour]) -> Vec<usize> {
        let common = |at: &usize| {
            let candidate = &self.brief.candidates[*at];
            candidate.spread.varies != Varies::Serve && !candidate.natural.is_fixed()
        };
        pours.iter().map(|pour| pour.candidate).filter(common).collect()
    }

    /// How many serves of each of [`LOTS`] lots meet the limits. The result does not depend on `threads`.
    pub fn lots(&self, pours: &[Pour], limits: &[Limit], threads: NonZeroUsize) -> Vec<Lot> {
        let pours = &self.ordered(pours);
        let of = |lots: Range<usize>| lots.map(|lot| self.lot(pours, limits, lot)).collect::<Vec<_>>();
        on_threads(threads, LOTS, of).concat()
    }

    fn lot(&self, pours: &[Pour], limits: &[Limit], lot: usize) -> Lot {
        let mut stretch = self.stretch();
        let first = lot * EACH;
        let numbers: Vec<usize> = (first..first + EACH).collect();
        let within = Which::all(&numbers).map(|which| {
            self.pour(pours, Which { lot: Some(first), ..which }, &|_| true, &mut stretch);
            self.within(limits, &stretch).iter().filter(|within| **within).count()
        });
        Lot { draws: EACH, within_all: within.sum() }
    }

    /// How many of the serves from typical lots meet the limits: what is left is the hand, the ice, and what each
    /// serve has of its own.
    pub fn typical_lot(&self, pours: &[Pour], limits: &[Limit]) -> Lot {
        let lots = self.from_lots(pours);
        let common = |cause| matches!(cause, Cause::Nature(at) if lots.contains(&at));
        let all: Vec<usize> = (0..SERVES).collect();
        Lot { draws: SERVES, within_all: self.meeting(pours, limits, &all, |cause| !common(cause)).len() }
    }
}

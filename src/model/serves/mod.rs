//! Simulated serves: the same spec poured many times, with the fruit, the hand and the ice as they come.
//!
//! Every ingredient has random numbers of its own, from its name and the number of a block of serves:
//! the same whatever else is poured, in whatever order, on however many threads. So two specs of a
//! brief are poured by the same hand from the same fruit, and the same brief gives the same bytes.

mod draws;
mod lots;
mod room;
mod spread;

use std::num::NonZeroUsize;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;

use super::Limit;
use crate::brief::{Brief, Measure, Pour, Served, Varies, serve_on};
use crate::liquid::Portion;
use draws::{BLOCK, BLOCKS, Drawn, Ice};
pub use draws::{Hand, melt_reach, melt_reaches};
pub use lots::{LOTS, Lot};
pub use room::{Region, Room};
pub use spread::TAIL;

/// How many serves are simulated.
pub const SERVES: usize = BLOCK * BLOCKS;

/// One thing that differs from serve to serve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// How much of a candidate is poured.
    Pour(usize),
    /// What a candidate is made of.
    Nature(usize),
    /// How much ice melts.
    Ice,
}

/// Which run of random numbers: the search and the report use the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Run {
    /// The one that is reported and that a wanted share is judged by.
    First,
    /// Numbers that no spec was chosen by.
    Fresh,
}

/// Which random numbers a serve has: its own, and those of the lot that its ingredients are from.
#[derive(Debug, Clone, Copy)]
struct Number {
    serve: usize,
    lot: usize,
}

/// A serve from lots of its own: over many, every lot has the weight that it has over many nights.
impl From<usize> for Number {
    fn from(serve: usize) -> Self {
        Self { serve, lot: serve }
    }
}

/// The serves of one brief; random numbers are drawn when an ingredient is first poured.
#[derive(Debug)]
pub struct Serves<'b> {
    brief: &'b Brief,
    hand: Hand,
    run: Run,
    drawn: Vec<[OnceLock<Drawn>; BLOCKS]>,
    ice: [OnceLock<Ice>; BLOCKS],
    /// How many serves were simulated to hold specs to a share.
    held: AtomicU64,
}

/// How many serves met what.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Tally {
    /// How many were simulated.
    pub draws: usize,
    /// How many met every limit.
    pub within_all: usize,
    /// Of every limited measure, in the order in which limits name them, how many met all its limits.
    pub within: Vec<(Measure, usize)>,
    /// Of every limit, in their order, how many missed it.
    pub missed: Vec<usize>,
    /// The numbers of the serves that missed something.
    pub misses: Vec<usize>,
}

impl<'b> Serves<'b> {
    /// The serves of a brief.
    pub fn new(brief: &'b Brief, run: Run) -> Self {
        let empty = || std::array::from_fn(|_| OnceLock::new());
        let drawn = brief.candidates.iter().map(|_| empty()).collect();
        let ice = std::array::from_fn(|_| OnceLock::new());
        Self { brief, hand: Hand::of(brief), run, drawn, ice, held: AtomicU64::new(0) }
    }

    /// How many serves [`Self::hold`] has simulated so far: what it cost, the same on every machine.
    pub fn held(&self) -> u64 {
        self.held.load(Ordering::Relaxed)
    }

    /// How the pours are off.
    pub fn hand(&self) -> &Hand {
        &self.hand
    }

    /// How many of the serves of a spec meet the limits. The result does not depend on `threads`.
    pub fn tally(&self, pours: &[Pour], limits: &[Limit], threads: NonZeroUsize) -> Tally {
        let pours = &self.ordered(pours);
        let share = BLOCKS.div_ceil(threads.get().min(BLOCKS));
        let parts: Vec<Tally> = thread::scope(|scope| {
            let workers: Vec<_> = (0..BLOCKS)
                .step_by(share)
                .map(|from| scope.spawn(move || self.blocks(pours, limits, from..(from + share).min(BLOCKS))))
                .collect();
            workers.into_iter().filter_map(|worker| worker.join().ok()).collect()
        });
        parts.into_iter().fold(Tally::of(limits), Tally::and)
    }

    fn blocks(&self, pours: &[Pour], limits: &[Limit], blocks: std::ops::Range<usize>) -> Tally {
        let mut tally = Tally::of(limits);
        let mut poured = Vec::with_capacity(pours.len());
        for block in blocks {
            for number in block * BLOCK..(block + 1) * BLOCK {
                tally.count(number, limits, &self.one(pours, number.into(), |_| true, &mut poured));
            }
        }
        tally
    }

    /// Whether at least a share (0 to 1) of the serves of a spec meets all limits; ends as soon as that
    /// is decided.
    pub fn hold(&self, pours: &[Pour], limits: &[Limit], share: f64) -> bool {
        let pours = &self.ordered(pours);
        let wanted = room::wanted(share);
        let allowed = SERVES.saturating_sub(wanted);
        let mut poured = Vec::with_capacity(pours.len());
        let mut missed = 0;
        for number in 0..SERVES {
            let served = self.one(pours, number.into(), |_| true, &mut poured);
            missed += usize::from(!limits.iter().all(|limit| limit.met(&served)));
            if missed > allowed || number + 1 - missed >= wanted {
                self.held.fetch_add(number as u64 + 1, Ordering::Relaxed);
                return missed <= allowed;
            }
        }
        true
    }

    /// Which of some serves would meet all limits, were only those causes at work that `moves` names,
    /// and everything else as it should be.
    pub fn meeting(
        &self,
        pours: &[Pour],
        limits: &[Limit],
        numbers: &[usize],
        moves: impl Fn(Cause) -> bool,
    ) -> Vec<usize> {
        let pours = self.ordered(pours);
        let mut poured = Vec::with_capacity(pours.len());
        let meets = |number: &usize| {
            let served = self.one(&pours, (*number).into(), &moves, &mut poured);
            limits.iter().all(|limit| limit.met(&served))
        };
        numbers.iter().copied().filter(meets).collect()
    }

    /// The pours in one order, so that sums come out the same to the last bit.
    fn ordered(&self, pours: &[Pour]) -> Vec<Pour> {
        let mut pours = pours.to_vec();
        pours.sort_by(|a, b| {
            self.brief.candidates[a.candidate].name.cmp(&self.brief.candidates[b.candidate].name)
        });
        pours
    }

    /// One serve; `poured` is room for what is poured.
    fn one(
        &self,
        pours: &[Pour],
        number: Number,
        moves: impl Fn(Cause) -> bool,
        poured: &mut Vec<Pour>,
    ) -> Served {
        poured.clear();
        poured.extend(pours.iter().map(|pour| {
            let moved = moves(Cause::Pour(pour.candidate));
            let error = if moved { self.off(pour.candidate, pour.amount, number.serve) } else { 0.0 };
            // Nobody pours less than nothing.
            Pour { amount: (pour.amount + error).max(0.0), ..*pour }
        }));
        let portion = |candidate: usize| {
            let own = self.brief.candidates[candidate].spread.varies == Varies::Serve;
            let natural = self.natural(candidate, if own { number.serve } else { number.lot });
            let typical = &self.brief.candidates[candidate].portion;
            natural.filter(|_| moves(Cause::Nature(candidate))).unwrap_or(typical)
        };
        let (block, at) = (number.serve / BLOCK, number.serve % BLOCK);
        let by = if moves(Cause::Ice) { self.ice(block).at(at) } else { (0.0, 0.0) };
        serve_on(self.brief, poured, portion, self.brief.serve.melting().shifted(by))
    }

    /// By how much a pour of this amount is off in a serve, ml or g.
    fn off(&self, candidate: usize, amount: f64, serve: usize) -> f64 {
        let normal = self.drawn(candidate, serve / BLOCK).normals.get(serve % BLOCK).copied();
        normal.map_or(0.0, |normal| normal * self.hand.error(candidate, amount))
    }

    /// What one unit of a candidate brings in a serve; nothing where it does not vary.
    fn natural(&self, candidate: usize, serve: usize) -> Option<&Portion> {
        self.drawn(candidate, serve / BLOCK).portions.get(serve % BLOCK)
    }

    fn drawn(&self, candidate: usize, block: usize) -> &Drawn {
        let exact = self.hand.of_candidate(candidate).is_exact();
        let draw = || Drawn::new(&self.brief.candidates[candidate], exact, self.run, block);
        self.drawn[candidate][block].get_or_init(draw)
    }

    fn ice(&self, block: usize) -> &Ice {
        self.ice[block].get_or_init(|| Ice::new(self.brief, self.run, block))
    }
}

impl Tally {
    fn of(limits: &[Limit]) -> Self {
        let mut within: Vec<(Measure, usize)> = vec![];
        for limit in limits {
            if !within.iter().any(|(measure, _)| *measure == limit.measure) {
                within.push((limit.measure, 0));
            }
        }
        Self { within, missed: vec![0; limits.len()], ..Self::default() }
    }

    fn count(&mut self, number: usize, limits: &[Limit], served: &Served) {
        self.draws += 1;
        let mut all = true;
        for (measure, within) in &mut self.within {
            let mut meets = true;
            for (limit, missed) in limits.iter().zip(&mut self.missed).filter(|(l, _)| l.measure == *measure)
            {
                let met = limit.met(served);
                *missed += usize::from(!met);
                meets &= met;
            }
            *within += usize::from(meets);
            all &= meets;
        }
        self.within_all += usize::from(all);
        if !all {
            self.misses.push(number);
        }
    }

    fn and(mut self, more: Self) -> Self {
        self.draws += more.draws;
        self.within_all += more.within_all;
        self.within.iter_mut().zip(more.within).for_each(|(sum, more)| sum.1 += more.1);
        self.missed.iter_mut().zip(more.missed).for_each(|(sum, more)| *sum += more);
        self.misses.extend(more.misses);
        self
    }
}

//! Simulated serves: the same spec poured many times, with the fruit, the hand and the ice as they come.
//!
//! Every ingredient has random numbers of its own, from its name and the number of a block of serves:
//! the same whatever else is poured, in whatever order, on however many threads. So two specs of a
//! brief are poured by the same hand from the same fruit, and the same brief gives the same bytes.

mod draws;
mod lots;
mod room;
mod span;
mod spread;
mod stretch;
#[cfg(test)]
mod tests;

use std::num::NonZeroUsize;
use std::ops::Range;
use std::panic::resume_unwind;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, OnceLock};
use std::thread;

use crate::brief::{Brief, Candidate, Limit, Measure, Pour};
use draws::{BLOCK, BLOCKS, Brings, Drawn, Draws, Ice};
pub use draws::{Hand, melt_reach, melt_reaches};
pub use lots::{LOTS, Lot};
pub use room::{Region, Room};
pub use spread::TAIL;
use stretch::{Stretch, Which};

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

/// The serves of one brief; random numbers are drawn when an ingredient is first poured.
#[derive(Debug)]
pub struct Serves<'b> {
    brief: &'b Brief,
    hand: Hand,
    run: Run,
    drawn: Vec<Arc<Draws>>,
    ice: [OnceLock<Ice>; BLOCKS],
    /// How many serves were simulated to hold specs to a share.
    held: AtomicU64,
}

/// How many serves met what.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tally {
    /// How many were simulated.
    pub draws: usize,
    /// How many met every limit.
    pub within_all: usize,
    /// Of every limited measure, in the order in which limits name them, how many met all its limits.
    pub within: Vec<(Measure, usize)>,
    /// Of each of these the value in every serve.
    values: Vec<Vec<f64>>,
    /// Of every limit, in their order, how many missed it.
    pub missed: Vec<usize>,
    /// The numbers of the serves that missed something.
    pub misses: Vec<usize>,
}

impl<'b> Serves<'b> {
    /// The serves of a brief.
    pub fn new(brief: &'b Brief, run: Run) -> Self {
        let hand = Hand::of(brief);
        let exact = |at: usize| hand.of_candidate(at).is_exact();
        let draws = |(at, candidate): (usize, &Candidate)| draws::known(candidate, exact(at), run);
        let drawn = brief.candidates.iter().enumerate().map(draws).collect();
        let ice = std::array::from_fn(|_| OnceLock::new());
        Self { brief, hand, run, drawn, ice, held: AtomicU64::new(0) }
    }

    /// How many serves [`Self::hold`] has simulated so far: what it cost, the same on every machine.
    pub fn held(&self) -> u64 {
        self.held.load(Ordering::Relaxed)
    }

    /// How the pours are off.
    pub fn hand(&self) -> &Hand {
        &self.hand
    }

    /// What the serves of a spec meet. The result does not depend on `threads`.
    pub fn tally(&self, pours: &[Pour], limits: &[Limit], threads: NonZeroUsize) -> Tally {
        let parts = self.poured_on(threads, pours, Tally::of(limits), |tally, which, stretch| {
            tally.count(self, which, limits, stretch);
        });
        parts.into_iter().fold(Tally::of(limits), Tally::and)
    }

    /// How many of the serves of a spec meet all limits, and nothing else of them.
    pub fn holding(&self, pours: &[Pour], limits: &[Limit], threads: NonZeroUsize) -> usize {
        let parts = self.poured_on(threads, pours, 0, |held, _, stretch| {
            *held += self.within(limits, stretch).iter().filter(|within| **within).count();
        });
        parts.into_iter().sum()
    }

    /// Pours all serves of a spec, and makes something of each stretch of a share of them; the shares are in order.
    fn poured_on<T: Clone + Send + Sync>(
        &self,
        threads: NonZeroUsize,
        pours: &[Pour],
        none: T,
        counts: impl Fn(&mut T, Which, &Stretch) + Sync,
    ) -> Vec<T> {
        let pours = self.ordered(pours);
        on_threads(threads, BLOCKS, |blocks| {
            let (mut sum, mut stretch) = (none.clone(), self.stretch());
            let numbers: Vec<usize> = (blocks.start * BLOCK..blocks.end * BLOCK).collect();
            for which in Which::all(&numbers) {
                self.pour(&pours, which, &|_| true, &mut stretch);
                counts(&mut sum, which, &stretch);
            }
            sum
        })
    }

    /// Whether at least a share (0 to 1) of the serves of a spec meets all limits; ends as soon as that
    /// is decided.
    pub fn hold(&self, pours: &[Pour], limits: &[Limit], share: f64) -> bool {
        let pours = &self.ordered(pours);
        let wanted = room::wanted(share);
        let allowed = SERVES.saturating_sub(wanted);
        let (mut stretch, mut missed, mut held) = (self.stretch(), 0, 0);
        let numbers: Vec<usize> = (0..SERVES).collect();
        for which in Which::all(&numbers) {
            self.pour(pours, which, &|_| true, &mut stretch);
            let within = self.within(limits, &stretch).iter().filter(|within| **within).count();
            (held, missed) = (held + within, missed + which.numbers.len() - within);
            if missed > allowed || held >= wanted {
                self.held.fetch_add((held + missed) as u64, Ordering::Relaxed);
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
        let mut stretch = self.stretch();
        let mut meeting = vec![];
        for which in Which::all(numbers) {
            self.pour(&pours, which, &moves, &mut stretch);
            let within = self.within(limits, &stretch);
            meeting.extend(which.numbers.iter().zip(within).filter(|(_, within)| *within).map(|(n, _)| *n));
        }
        meeting
    }

    /// The pours in one order, so that sums come out the same to the last bit.
    fn ordered(&self, pours: &[Pour]) -> Vec<Pour> {
        let mut pours = pours.to_vec();
        pours.sort_by(|a, b| {
            self.brief.candidates[a.candidate].name.cmp(&self.brief.candidates[b.candidate].name)
        });
        pours
    }

    /// What one unit of a candidate brings in a serve; nothing where it does not vary.
    fn natural(&self, candidate: usize, serve: usize) -> Option<Brings> {
        self.drawn(candidate, serve / BLOCK).at(serve % BLOCK)
    }

    fn drawn(&self, candidate: usize, block: usize) -> &Drawn {
        self.drawn[candidate].block(block)
    }

    fn ice(&self, block: usize) -> &Ice {
        self.ice[block].get_or_init(|| Ice::new(self.brief, self.run, block))
    }
}

/// More threads than this bring nothing for so short a task.
const THREADS: usize = 4;

/// As many threads as are of use to pour serves; what comes out does not depend on it.
pub fn threads() -> NonZeroUsize {
    let there = thread::available_parallelism().map_or(1, NonZeroUsize::get);
    NonZeroUsize::new(there.min(THREADS)).unwrap_or(NonZeroUsize::MIN)
}

/// Does so many things on threads, each of which has a range of them; what comes of them is in order.
pub fn on_threads<T: Send>(
    threads: NonZeroUsize,
    count: usize,
    of: impl Fn(Range<usize>) -> T + Sync,
) -> Vec<T> {
    let (share, of) = (count.div_ceil(threads.get()).max(1), &of);
    thread::scope(|scope| {
        let ranges = (0..count).step_by(share).map(|from| from..(from + share).min(count));
        let workers: Vec<_> = ranges.map(|range| scope.spawn(move || of(range))).collect();
        let joined =
            workers.into_iter().map(|worker| worker.join().unwrap_or_else(|fault| resume_unwind(fault)));
        joined.collect()
    })
}

impl Tally {
    fn of(limits: &[Limit]) -> Self {
        let mut within: Vec<(Measure, usize)> = vec![];
        for limit in limits {
            if !within.iter().any(|(measure, _)| *measure == limit.measure) {
                within.push((limit.measure, 0));
            }
        }
        let values = vec![vec![]; within.len()];
        Self { within, values, missed: vec![0; limits.len()], ..Self::default() }
    }

    fn count(&mut self, serves: &Serves, which: Which, limits: &[Limit], stretch: &Stretch) {
        self.draws += which.numbers.len();
        let mut all = [true; stretch::LONG];
        for ((measure, within), all_values) in self.within.iter_mut().zip(&mut self.values) {
            let values = serves.values(*measure, stretch);
            all_values.extend(&values[..which.numbers.len()]);
            let mut meets = [true; stretch::LONG];
            for (limit, missed) in limits.iter().zip(&mut self.missed).filter(|(l, _)| l.measure == *measure)
            {
                for (meets, value) in meets.iter_mut().zip(&values).take(which.numbers.len()) {
                    let met = limit.met_by(*value);
                    *missed += usize::from(!met);
                    *meets &= met;
                }
            }
            *within += meets.iter().take(which.numbers.len()).filter(|meets| **meets).count();
            all.iter_mut().zip(meets).for_each(|(all, meets)| *all &= meets);
        }
        let all = &all[..which.numbers.len()];
        self.within_all += all.iter().filter(|all| **all).count();
        self.misses
            .extend(which.numbers.iter().zip(all).filter(|(_, all)| !**all).map(|(number, _)| *number));
    }

    fn and(mut self, more: Self) -> Self {
        self.draws += more.draws;
        self.within_all += more.within_all;
        self.within.iter_mut().zip(more.within).for_each(|(sum, more)| sum.1 += more.1);
        self.values.iter_mut().zip(more.values).for_each(|(all, more)| all.extend(more));
        self.missed.iter_mut().zip(more.missed).for_each(|(sum, more)| *sum += more);
        self.misses.extend(more.misses);
        self
    }
}

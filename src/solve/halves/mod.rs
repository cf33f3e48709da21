//! Specs near the middle of all ranges, put together from halves.
//!
//! What is nearest the middle hugs no limit: hundreds of thousands of specs lie around it, each ratio within some
//! hundredths of its range, and the relaxation of any of them is nearly nothing, so that branching rules out next to none.
//! But each of them is two halves of at most three ingredients. Every row of the program adds up over the halves, so of
//! all of these, sorted into cells, only those are put together whose sums make up the middle (Horowitz and Sahni, *Journal
//! of the ACM* 21, 1974). What fits by the rows is judged by the physics; what does not is no spec, as the rows are a
//! relaxation.

mod cells;
mod ranges;
mod tube;

use std::ops::Range;

use self::cells::Cells;
use self::tube::{Half, Tube};
use super::capped::capped;
use crate::brief::Goal;
use crate::model::{Model, Objective, Together};
use crate::search::{Entry, Incumbents, Judge, Searched, Stop, Subproblems, Wanted, ranks};

/// The most ingredients that make two halves of three.
const MOST: usize = 6;
/// No more halves than this are kept at once.
const KEPT: usize = 1_200_000;
/// Of a shelf that is too long, parts of three columns in five are looked at, of at least and at most so many, and of each
/// about so many halves: the more columns, the more of its halves are of use, and the longer it takes to find them.
const PART: (usize, usize) = (24, 36);
const BALANCED: f64 = 250_000.0;
/// What one half costs, in figures gone over.
const HALF: u64 = 40;
/// What it costs to see that a half does not make up another.
const LOOKED: u64 = 4;
/// What judging one spec costs.
const JUDGED: u64 = 600;
/// Once the best is good enough, so many more specs are judged for others.
const MORE: u64 = 50;
/// The first distance that is looked up to, and how much farther each further one is.
const FIRST: f64 = 0.04;
const FARTHER: f64 = 2.5;
/// Of a shelf that is too long, so many parts are looked at first, and so many in all.
pub const PARTS: usize = 4;
pub const ALL_PARTS: usize = 20;

/// How many ingredients a spec has at most.
fn ingredients(model: &Model) -> usize {
    model.brief.serve.most.unwrap_or(model.columns.len()).min(model.columns.len())
}

/// Whether the specs of a model can be put together so: few ingredients in steps, and a score of the measures alone.
pub fn apply(model: &Model, objective: &Objective) -> bool {
    (distance(objective) || matches!(objective, Objective::Goal { goal: Goal::Measure(_), .. }))
        && ingredients(model) <= MOST
        && model.columns.iter().all(|column| column.whole)
        && u16::try_from(model.columns.len()).is_ok()
}

/// Whether a score is the largest of several distances, of which branching proves next to nothing.
pub fn distance(objective: &Objective) -> bool {
    matches!(objective, Objective::Elastic { together: Together::Largest, .. })
}

/// Searches a model to which halves [`apply`], up to a distance that is enough for what is wanted. Nothing is nearer than
/// `bound`. Where a shelf is too long for all of it and finer differences do not matter, parts of it are looked at; where
/// they do, `None`.
pub fn search(
    model: &Model,
    objective: &Objective,
    wanted: Wanted,
    bound: f64,
    (stop, effort, parts): (&Stop, u64, Range<usize>),
) -> Option<Searched> {
    let count = ingredients(model);
    let mut halving = Halving {
        judge: Judge { model, objective },
        incumbents: Incumbents::new(wanted, ranks(model)),
        sizes: (count.div_ceil(2), count / 2),
        stop,
        left: effort,
        endless: effort == u64::MAX,
        judged: 0,
        good: None,
    };
    halving.incumbents.raise(f64::INFINITY);
    let (bound, complete) = if let Objective::Elastic { most, .. } = objective {
        match halving.outwards((bound.max(0.0), *most), wanted.slack, parts) {
            Seen::Enough => (f64::INFINITY, true),
            Seen::UpTo(seen) => (seen.max(bound), false),
            Seen::TooLong => return None,
        }
    } else {
        let good = bound + wanted.slack;
        halving.parts(good, good, parts);
        (bound, false)
    };
    let entries = halving.incumbents.entries().to_vec();
    Some(Searched { entries, bound, complete, nodes: halving.judged, spent: effort - halving.left })
}

/// The columns in an order that has nothing to do with the brief's: by a scramble of their names' places, what has to be
/// used first.
fn order(model: &Model, number: usize) -> Vec<usize> {
    let rank = ranks(model);
    let scrambled = |place: usize| {
        let mixed = (place as u64 + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15).rotate_left(23);
        (mixed ^ number as u64).wrapping_mul(0xd6e8_feb8_6659_fd93).rotate_left(31)
    };
    let mut order: Vec<usize> = (0..model.columns.len()).collect();
    order.sort_by_key(|c| (!model.columns[*c].must, scrambled(rank[*c])));
    order
}

/// How far a search came.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Reached {
    /// Everything up to the distance was seen.
    All,
    /// The effort ran out.
    Tired,
    /// There are more halves than can be kept.
    TooMany,
}

/// How far from the middle everything was seen.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Seen {
    /// So far that no more is wanted.
    Enough,
    /// So far.
    UpTo(f64),
    /// There is too much to be seen, and nobody minds the effort of another way.
    TooLong,
}

struct Halving<'a> {
    judge: Judge<'a>,
    incumbents: Incumbents,
    /// The most ingredients of a first and of a second half.
    sizes: (usize, usize),
    stop: &'a Stop,
    left: u64,
    /// Whether nobody minds the effort.
    endless: bool,
    judged: u64,
    /// The score that is good enough where not everything is seen, and how many more specs are judged once one has it.
    good: Option<(f64, u64)>,
}

impl Halving<'_> {
    /// Looks ever farther from the middle, until there is enough.
    fn outwards(&mut self, (bound, most): (f64, f64), slack: f64, parts: Range<usize>) -> Seen {
        let order = order(self.judge.model, 0);
        let mut ceiling = (bound + FIRST.max(slack)).min(most);
        let mut seen = Seen::UpTo(bound);
        loop {
            match self.near(&order, ceiling, f64::INFINITY) {
                Reached::All => seen = Seen::UpTo(ceiling),
                Reached::Tired => return seen,
                Reached::TooMany if slack == 0.0 && self.endless => return Seen::TooLong,
                Reached::TooMany if slack == 0.0 => return seen,
                Reached::TooMany => {
                    self.parts(ceiling, bound + slack, parts);
                    return seen;
                }
            }
            if ceiling >= most || self.incumbents.enough(ceiling) {
                return Seen::Enough;
            }
            ceiling = (ceiling * FARTHER).min(most);
        }
    }

    /// Sees everything of some columns that scores at most so much; of more halves than `many` about so many.
    fn near(&mut self, order: &[usize], ceiling: f64, many: f64) -> Reached {
        let (model, objective) = (self.judge.model, self.judge.objective);
        let capped = capped(model, objective, ceiling);
        let subproblems = Subproblems::plain(&capped, objective);
        let mut left = subproblems.in_order();
        while let Ok(Some(subproblem)) = left.next(|_| false) {
            let Some(mut tube) = Tube::new(&capped, &subproblem.program, order) else {
                return Reached::Tired;
            };
            if many.is_finite() {
                tube.balance(self.sizes.0, many);
            } else if tube.count(self.sizes.0) > KEPT as f64 {
                return Reached::TooMany;
            }
            if !self.sweep(&tube) {
                return Reached::Tired;
            }
        }
        Reached::All
    }

    /// Puts together every spec of a tube: of its columns in their order, the first ones are its first half, the rest its
    /// second. So the second halves that start at a column meet all first halves that end before it.
    fn sweep(&mut self, tube: &Tube) -> bool {
        let mut cells = Cells::new(tube);
        let (first, second) = self.sizes;
        for at in 0..tube.len() {
            let seconds = tube.each(at, (at + 1, tube.len()), second, &mut |half| {
                self.left = self.left.saturating_sub(HALF);
                if !tube.balanced(half) {
                    return self.goes_on();
                }
                let looked = cells.meet(tube, half, &mut |other| self.judge(tube, &[other, half]));
                self.left = self.left.saturating_sub(LOOKED * looked);
                self.goes_on()
            });
            let firsts = tube.each(at, (0, at), first, &mut |half| {
                self.left = self.left.saturating_sub(HALF);
                if tube.fits(&half.sums) {
                    self.judge(tube, &[half]);
                }
                if half.count == first && tube.balanced(half) {
                    cells.add(half);
                }
                self.goes_on() && cells.len() < 2 * KEPT
            });
            if !(seconds && firsts) || self.stop.raised() {
                return false;
            }
        }
        true
    }

    /// Looks at parts of a shelf that is too long for all of it, and at some halves of each, until the best is as good as it
    /// has to be.
    fn parts(&mut self, ceiling: f64, good: f64, parts: Range<usize>) {
        self.good = Some((good, MORE));
        for number in parts {
            let mut some = order(self.judge.model, number);
            some.truncate((some.len() * 3 / 5).clamp(PART.0, PART.1));
            let many = BALANCED * (1.0 + number as f64 / 2.0);
            let reached = self.near(&some, ceiling, many);
            if reached != Reached::All || self.best() <= good {
                return;
            }
        }
    }

    /// Whether there is effort left, and something to be looked for with it.
    fn goes_on(&self) -> bool {
        self.left > 0 && self.good.is_none_or(|(_, more)| more > 0)
    }

    /// The best score that was found.
    fn best(&self) -> f64 {
        self.incumbents.entries().first().map_or(f64::INFINITY, |entry| entry.score)
    }

    fn judge(&mut self, tube: &Tube, halves: &[&Half]) {
        self.left = self.left.saturating_sub(JUDGED);
        self.judged += 1;
        let rank = self.incumbents.rank();
        let mut spec: Vec<(usize, f64)> = halves.iter().flat_map(|half| tube.pours(half)).collect();
        spec.sort_by_key(|(c, _)| rank[*c]);
        let (set, units): (Vec<usize>, Vec<f64>) = spec.into_iter().unzip();
        let entry: Option<Entry> = self.judge.entry(set, units);
        if let Some(entry) = entry {
            self.incumbents.offer(entry);
        }
        let best = self.best();
        if let Some((good, more)) = &mut self.good {
            *more -= u64::from(*more > 0 && best <= *good);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::read;

    /// Five liquids in steps of 10 ml, and what the middle of four ranges is.
    fn brief(aim: &str) -> String {
        let liquid = |name: &str, figures: &str| {
            format!("[[candidate]]\nname = \"{name}\"\n{figures}\nprice = \"10.00 per 1 l\"\n")
        };
        let liquids = [
            liquid("spirit", "strength = 40"),
            liquid("liqueur", "strength = 20\nsugar = 300"),
            liquid("juice", "acid = 60\nsugar = 15"),
            liquid("syrup", "sugar = 620"),
            liquid("tea", "acid = 1"),
        ]
        .concat();
        format!(
            "currency = \"GBP\"\n[serve]\nmethod = \"shake\"\npour = \"10 ml\"\nmost = 4\n[targets]\n\
             volume = {{ min = 90, max = 140 }}\nstrength = {{ min = 6, max = 14 }}\nsugar = {{ min = 50, max = 110 }}\n\
             acid = {{ min = 3, max = 12 }}\n[aim]\n{aim}\n{liquids}"
        )
    }

    /// Everything that can be poured, amount by amount.
    fn by_hand(model: &Model, objective: &Objective, wanted: Wanted) -> Vec<Entry> {
        let rank = ranks(model);
        let mut all = Incumbents::new(wanted, rank.clone());
        all.raise(f64::INFINITY);
        let judge = Judge { model, objective };
        let most: Vec<usize> = model.columns.iter().map(|column| column.most as usize).collect();
        let mut units = vec![0_usize; most.len()];
        loop {
            let mut set: Vec<usize> = (0..units.len()).filter(|c| units[*c] > 0).collect();
            set.sort_by_key(|c| rank[*c]);
            let poured = set.iter().map(|c| units[*c] as f64).collect();
            judge.entry(set, poured).into_iter().for_each(|entry| all.offer(entry));
            let Some(at) = (0..units.len()).find(|c| units[*c] < most[*c]) else {
                return all.entries().to_vec();
            };
            units[..at].fill(0);
            units[at] += 1;
        }
    }

    #[test]
    fn what_is_nearest_the_middle_is_what_enumeration_finds() {
        let brief = read(brief("nearest = \"middle\"").as_bytes(), &[]).expect("a brief").brief;
        let model = Model::new(&brief);
        let objective = Objective::of(&model);
        assert!(apply(&model, &objective));
        for specs in [1, 4, 9] {
            let wanted = Wanted::best(specs);
            let found =
                search(&model, &objective, wanted, f64::NEG_INFINITY, (&Stop::default(), u64::MAX, 0..PARTS));
            let found = found.expect("halves");
            assert!(found.complete, "{found:?}");
            let expected = by_hand(&model, &objective, wanted);
            assert!(expected.len() > 3 || specs == 1, "{expected:?}");
            assert_eq!(found.entries, expected, "{specs} sets");
        }
    }

    /// Of another aim they find what they find: each of it can be poured, and nothing comes before the enumerated best.
    #[test]
    fn near_the_bound_of_a_measure_they_find_what_can_be_poured() {
        let brief = read(brief("lowest = \"energy\"").as_bytes(), &[]).expect("a brief").brief;
        let model = Model::new(&brief);
        let objective = Objective::of(&model);
        let best = by_hand(&model, &objective, Wanted::best(1)).remove(0);
        let wanted = Wanted { slack: 5.0, ..Wanted::best(1) };
        let found =
            search(&model, &objective, wanted, best.score - 1.0, (&Stop::default(), 50_000_000, 0..PARTS));
        assert_eq!(found.expect("halves").entries.first(), Some(&best));
    }
}

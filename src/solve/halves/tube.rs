//! What a spec within a distance of the middle keeps, as sums over its halves.

use super::ranges::{Range, cap, draw_in, measures};
use crate::model::{Model, Program};

/// No more ranges than this are kept to: the judge keeps to the others.
pub(super) const RANGES: usize = 6;
/// No more greatest values than this rule out a half alone.
const CAPS: usize = 6;
/// The most ingredients of a half.
pub(super) const SIZE: usize = 3;
/// So many halves are drawn to know how many there are.
const DRAWN: usize = 20_000;

/// Part of a spec: places in the tube's order, and which of the amounts there.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Half {
    pub count: usize,
    pub at: [u16; SIZE],
    pub amount: [u16; SIZE],
    pub sums: [f64; RANGES],
    caps: [f64; CAPS],
}

/// What all specs of a program have in common, in the figures of its rows.
pub(super) struct Tube {
    /// The columns in their order.
    columns: Vec<usize>,
    /// The units that can be poured of each, the least first.
    amounts: Vec<Vec<f64>>,
    /// Of each column, what a unit adds to each range.
    figures: Vec<[f64; RANGES]>,
    /// One over each of them, where it is something.
    inverse: Vec<[f64; RANGES]>,
    /// The least and the most that one ingredient adds to each range.
    adds: [(f64, f64); RANGES],
    /// Between what each sum lies, the narrowest beside what its terms are first.
    pub low: [f64; RANGES],
    pub high: [f64; RANGES],
    /// How many ranges there are.
    pub ranges: usize,
    /// What a unit adds to sums that no term takes away from, and the most that each may be.
    caps: Vec<[f64; CAPS]>,
    most: [f64; CAPS],
    /// How far from half of a spec's sums those of a half may be.
    reach: [f64; RANGES],
}

impl Tube {
    /// The tube of a program whose limits are those of a model; nothing where too many amounts can be poured of a column.
    pub fn new(model: &Model, program: &Program, order: &[usize]) -> Option<Self> {
        let mut ranges: Vec<Range> = measures(model).filter_map(|m| Range::of(model, program, m)).collect();
        draw_in(model, program, &mut ranges);
        ranges.sort_by(|a, b| b.narrow().total_cmp(&a.narrow()));
        ranges.truncate(RANGES);
        let caps: Vec<(Vec<f64>, f64)> = model.limits.iter().filter_map(|l| cap(model, program, l)).collect();
        let amounts = order.iter().map(|c| amounts(model, *c)).collect::<Option<Vec<_>>>()?;
        let mut tube = Self {
            columns: order.to_vec(),
            amounts,
            figures: vec![[0.0; RANGES]; order.len()],
            inverse: vec![[0.0; RANGES]; order.len()],
            adds: [(0.0, 0.0); RANGES],
            low: [f64::NEG_INFINITY; RANGES],
            high: [f64::INFINITY; RANGES],
            ranges: ranges.len(),
            caps: vec![[0.0; CAPS]; order.len()],
            most: [f64::INFINITY; CAPS],
            reach: [f64::INFINITY; RANGES],
        };
        for (at, range) in ranges.iter().enumerate() {
            (tube.low[at], tube.high[at]) = (range.low, range.high);
            for (place, column) in order.iter().enumerate() {
                let figure = range.figures[*column];
                let most = figure * tube.amounts[place].last().copied().unwrap_or(0.0);
                tube.figures[place][at] = figure;
                tube.inverse[place][at] = if figure == 0.0 { 0.0 } else { 1.0 / figure };
                tube.adds[at] = (tube.adds[at].0.min(most), tube.adds[at].1.max(most));
            }
        }
        for (at, (figures, most)) in caps.iter().take(CAPS).enumerate() {
            tube.most[at] = *most;
            order.iter().zip(&mut tube.caps).for_each(|(c, caps)| caps[at] = figures[*c]);
        }
        Some(tube)
    }

    /// How many columns there are.
    pub fn len(&self) -> usize {
        self.columns.len()
    }

    /// A half with its sums.
    pub fn half(&self, at: [u16; SIZE], amount: [u16; SIZE], count: usize) -> Half {
        let mut half = Half { count, at, amount, ..Half::default() };
        for (at, amount) in at.iter().zip(&amount).take(count) {
            let units = self.amounts[usize::from(*at)][usize::from(*amount)];
            let figures = &self.figures[usize::from(*at)];
            half.sums.iter_mut().zip(figures).for_each(|(sum, figure)| *sum += figure * units);
            let caps = &self.caps[usize::from(*at)];
            half.caps.iter_mut().zip(caps).for_each(|(sum, figure)| *sum += figure * units);
        }
        half
    }

    /// Whether what a half is made of makes up all ranges with another. The narrowest range comes first: most halves of a
    /// cell fail by it.
    pub fn made_up(&self, (at, amount): (&[u16], &[u16]), with: &Half) -> bool {
        let mut parts: [(&[f64; RANGES], f64); SIZE] = [(&[0.0; RANGES], 0.0); SIZE];
        for ((part, at), amount) in parts.iter_mut().zip(at).zip(amount) {
            let at = usize::from(*at);
            *part = (&self.figures[at], self.amounts[at][usize::from(*amount)]);
        }
        (0..self.ranges).all(|range| {
            let own = parts.iter().fold(0.0, |sum, (figures, units)| sum + figures[range] * units);
            let sum = own + with.sums[range];
            self.low[range] <= sum && sum <= self.high[range]
        })
    }

    /// The columns and units of a half.
    pub fn pours<'a>(&'a self, half: &'a Half) -> impl Iterator<Item = (usize, f64)> + 'a {
        half.at[..half.count].iter().zip(&half.amount).map(|(at, amount)| {
            let at = usize::from(*at);
            (self.columns[at], self.amounts[at][usize::from(*amount)])
        })
    }

    /// About how many halves of so many ingredients there are, and some of them, drawn from all alike.
    fn drawn(&self, size: usize) -> (f64, Vec<[f64; RANGES]>) {
        let counts: Vec<f64> = self.amounts.iter().map(|amounts| amounts.len() as f64).collect();
        // The ways to pick amounts of so many different columns: elementary symmetric sums.
        let mut ways = vec![0.0; size + 1];
        ways[0] = 1.0;
        for count in &counts {
            (1..=size).rev().for_each(|k| ways[k] += ways[k - 1] * count);
        }
        let all: Vec<(u16, u16)> = (0..self.len())
            .flat_map(|at| (0..self.amounts[at].len()).map(move |amount| (at as u16, amount as u16)))
            .collect();
        let mut random = 0_u64;
        let mut next = |below: usize| {
            random = random.wrapping_mul(0x5851_f42d_4c95_7f2d).wrapping_add(0x1405_7b7e_f767_814f);
            ((random >> 33) as usize) % below.max(1)
        };
        let (mut sums, mut tried) = (vec![], 0.0);
        for _ in 0..DRAWN {
            let (mut at, mut amount) = ([0; SIZE], [0; SIZE]);
            for k in 0..size {
                (at[k], amount[k]) = all.get(next(all.len())).copied().unwrap_or_default();
            }
            if (1..size).any(|k| at[..k].contains(&at[k])) {
                continue;
            }
            tried += 1.0;
            let half = self.half(at, amount, size);
            if half.caps.iter().zip(&self.most).all(|(sum, most)| sum <= most) {
                sums.push(half.sums);
            }
        }
        (ways[size] * sums.len() as f64 / f64::max(tried, 1.0), sums)
    }

    /// About how many halves of so many ingredients there are.
    pub fn count(&self, size: usize) -> f64 {
        self.drawn(size).0
    }

    /// Keeps to halves that are each about half of a spec by every sum, as then most others make up for what they lack:
    /// about so many of a size.
    pub fn balance(&mut self, size: usize, many: f64) {
        let (total, drawn) = self.drawn(size);
        if drawn.is_empty() || total <= many {
            return;
        }
        let off = |sums: &[f64; RANGES], at: usize| (sums[at] - self.middle(at)).abs();
        let size_of = |at: usize| {
            let mut off: Vec<f64> = drawn.iter().map(|sums| off(sums, at)).collect();
            let middle = off.len() / 2;
            *off.select_nth_unstable_by(middle, f64::total_cmp).1
        };
        let sizes: Vec<f64> = (0..self.ranges).map(size_of).collect();
        let farthest = |sums: &[f64; RANGES]| {
            (0..self.ranges).map(|at| off(sums, at) / sizes[at].max(f64::MIN_POSITIVE)).fold(0.0, f64::max)
        };
        let mut farthest: Vec<f64> = drawn.iter().map(farthest).collect();
        let nth = ((many / total * drawn.len() as f64) as usize).min(drawn.len() - 1);
        let factor = *farthest.select_nth_unstable_by(nth, f64::total_cmp).1;
        (0..self.ranges).for_each(|at| self.reach[at] = factor * sizes[at]);
    }

    /// Half of what a sum is to be.
    fn middle(&self, at: usize) -> f64 {
        0.25 * (self.low[at] + self.high[at])
    }

    /// Whether a half is about half of a spec, where that is asked.
    pub fn balanced(&self, half: &Half) -> bool {
        (0..self.ranges).all(|at| (half.sums[at] - self.middle(at)).abs() <= self.reach[at])
    }

    /// Whether a half may still become about half of a spec with so many more ingredients.
    fn promising(&self, half: &Half, more: usize) -> bool {
        let more = more as f64;
        (0..self.ranges).all(|at| {
            let off = half.sums[at] - self.middle(at);
            off + more * self.adds[at].0 <= self.reach[at]
                && -(off + more * self.adds[at].1) <= self.reach[at]
        })
    }

    /// Between which units of a column a half stays balanced.
    fn room(&self, half: &Half, at: usize) -> (f64, f64) {
        let (mut low, mut high) = (0.0_f64, f64::INFINITY);
        for range in 0..self.ranges {
            let (inverse, reach) = (self.inverse[at][range], self.reach[range]);
            if reach.is_finite() && inverse != 0.0 {
                let middle = (self.middle(range) - half.sums[range]) * inverse;
                let reach = reach * inverse.abs();
                (low, high) = (low.max(middle - reach), high.min(middle + reach));
                if low > high {
                    break;
                }
            }
        }
        (low, high)
    }

    /// Whether sums lie within all ranges.
    pub fn fits(&self, sums: &[f64; RANGES]) -> bool {
        (0..RANGES).all(|at| self.low[at] <= sums[at] && sums[at] <= self.high[at])
    }

    /// Every half with the column at one place and others from a range of places, of at most so many in all; false where
    /// `visit` says that it is enough.
    pub fn each(
        &self,
        at: usize,
        others: (usize, usize),
        most: usize,
        visit: &mut dyn FnMut(&Half) -> bool,
    ) -> bool {
        most == 0 || self.further(&Half::default(), (at, at + 1), others, most, visit)
    }

    fn further(
        &self,
        half: &Half,
        (from, to): (usize, usize),
        others: (usize, usize),
        most: usize,
        visit: &mut dyn FnMut(&Half) -> bool,
    ) -> bool {
        if half.count + 1 == most {
            return (from..to).all(|at| self.last(half, at, visit));
        }
        for at in from..to {
            for (number, units) in self.amounts[at].iter().enumerate() {
                let mut more = *half;
                let caps = more.caps.iter_mut().zip(&self.caps[at]);
                caps.for_each(|(sum, figure)| *sum += figure * units);
                if more.caps.iter().zip(&self.most).any(|(sum, most)| sum > most) {
                    break;
                }
                let sums = more.sums.iter_mut().zip(&self.figures[at]);
                sums.for_each(|(sum, figure)| *sum += figure * units);
                (more.at[more.count], more.amount[more.count]) = (at as u16, number as u16);
                more.count += 1;
                if !visit(&more) {
                    return false;
                }
                // Of the others, those after the last of them.
                let next = if half.count == 0 { others.0 } else { at + 1 };
                let deeper = self.promising(&more, most - more.count)
                    && !self.further(&more, (next, others.1), others, most, visit);
                if deeper {
                    return false;
                }
            }
        }
        true
    }

    /// A half with each amount of its last ingredient; false where `visit` says that it is enough.
    fn last(&self, half: &Half, at: usize, visit: &mut dyn FnMut(&Half) -> bool) -> bool {
        let (low, high) = self.room(half, at);
        if low > high {
            return true;
        }
        let amounts = &self.amounts[at];
        let first = if low > 0.0 { first_of(amounts, low) } else { 0 };
        let mut more = *half;
        more.at[more.count] = at as u16;
        more.count += 1;
        for (number, units) in amounts.iter().enumerate().skip(first).take_while(|(_, units)| **units <= high)
        {
            let over = |((sum, figure), most): ((&f64, &f64), &f64)| sum + figure * units > *most;
            if half.caps.iter().zip(&self.caps[at]).zip(&self.most).any(over) {
                break;
            }
            for range in 0..RANGES {
                more.sums[range] = half.sums[range] + self.figures[at][range] * units;
            }
            more.amount[half.count] = number as u16;
            if !visit(&more) {
                return false;
            }
        }
        true
    }
}

/// The place of the first amount that is not under `low`. They are nearly always as far apart from each other.
fn first_of(amounts: &[f64], low: f64) -> usize {
    let (Some(least), Some(most)) = (amounts.first(), amounts.last()) else { return 0 };
    let guess = (low - least) / (most - least).max(f64::MIN_POSITIVE) * (amounts.len() - 1) as f64;
    let mut place = (guess as usize).min(amounts.len());
    while place > 0 && amounts[place - 1] >= low {
        place -= 1;
    }
    while amounts.get(place).is_some_and(|units| *units < low) {
        place += 1;
    }
    place
}

/// The amounts that can be poured of a column; nothing where they are too many to count.
fn amounts(model: &Model, column: usize) -> Option<Vec<f64>> {
    let column = &model.columns[column];
    let (least, most) = (column.least, column.most);
    if most - least > f64::from(u16::MAX) {
        return None;
    }
    let steps = (most - least).floor().max(-1.0) as i64;
    Some((0..=steps).map(|step| least + step as f64).filter(|units| column.measures(*units)).collect())
}

//! What every spec keeps that the brief would pass, as rows: each is nowhere negative for such a spec.
//!
//! A row is a sum over the steps of every column, whether it is used, and the notes that count; its figures are rounded
//! up to fixed point, which can only weaken it, as none of these is negative. So all that follows is whole numbers.

use super::facts::{Facts, LOOSE, Limit, Score};
use super::interval::{Interval, rounded_up};
use super::view::{Bounds, Lines, Ranges, Which, bounds};
use crate::brief::{Measure, Numerator, Over, Side};
use crate::liquid::Portion;

/// A name of a row, as proofs write it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Name {
    /// The limit of this index, seen with the view of this index.
    Limit(usize, usize),
    /// The score is better than the cutoff: its part of this index.
    Cut(usize),
    /// At least, at most so many of the group of this index.
    Group(usize, Side),
    /// The side of a ratio of this index.
    Ratio(usize),
    /// An end of a range of a view.
    End(usize, char, Side),
    /// The sign of the heat, of a view.
    Heat(usize),
    /// A note is covered only by what carries it.
    Note(usize),
    /// The ratio that the limit of this index is on is defined.
    Defined(usize),
}

/// `Σ step·x + Σ used·z + Σ note·n + constant ≥ 0`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Row {
    /// A figure a step of every column.
    pub step: Vec<i128>,
    /// A figure a used column.
    pub used: Vec<i128>,
    /// A figure a covered note.
    pub note: Vec<i128>,
    /// The constant.
    pub constant: i128,
    /// Whether the distance of every column's amount from the reference is taken off.
    pub bent: bool,
}

/// A row in the making.
struct Sum {
    step: Vec<Interval>,
    constant: Interval,
}

impl Sum {
    fn row(&self, notes: usize) -> Option<Row> {
        Some(Row {
            step: self.step.iter().map(|f| rounded_up(f.high)).collect::<Option<_>>()?,
            used: vec![0; self.step.len()],
            note: vec![0; notes],
            constant: rounded_up(self.constant.high)?,
            bent: false,
        })
    }
}

/// The notes of an aim.
pub fn notes<'a>(facts: &'a Facts) -> &'a [Vec<usize>] {
    if let Score::Notes(notes) = &facts.score { notes } else { &[] }
}

/// What one view knows of every column.
pub struct Seen<'a> {
    facts: &'a Facts<'a>,
    portions: &'a [Portion],
    bounds: Vec<Bounds>,
}

impl<'a> Seen<'a> {
    /// Under lines that hold.
    pub fn new(facts: &'a Facts, portions: &'a [Portion], lines: &Lines, ranges: &Ranges) -> Self {
        let glass = facts.brief.serve.melting().glass;
        let of = |(portion, column): (&Portion, &super::facts::Column)| {
            bounds(lines, ranges.heat, glass, portion, column.unit)
        };
        let bounds = portions.iter().zip(&facts.columns).map(of).collect();
        Self { facts, portions, bounds }
    }

    fn each(&self, figure: impl Fn(usize) -> Interval) -> Vec<Interval> {
        (0..self.bounds.len()).map(figure).collect()
    }

    /// What a measure is made of, a step of every column: at least and at most; and what it is over.
    fn parts(&self, measure: Measure) -> (Vec<Interval>, Vec<Interval>) {
        let unit = |c: usize| Interval::from(self.facts.columns[c].unit);
        let candidate = |c: usize| &self.facts.brief.candidates[self.facts.columns[c].candidate];
        let same = |figure: &dyn Fn(usize) -> f64| {
            let all = self.each(|c| Interval::from(figure(c)) * unit(c));
            (all.clone(), all)
        };
        let pair = |of: fn(&Bounds) -> (Interval, Interval)| {
            (self.each(|c| of(&self.bounds[c]).0), self.each(|c| of(&self.bounds[c]).1))
        };
        match measure.formula(self.facts.brief).0 {
            Numerator::Volume => pair(|b| b.volume),
            Numerator::Melt => pair(|b| b.melt),
            Numerator::Level => pair(|b| b.level),
            Numerator::Portion(figure) => same(&|c| figure(&self.portions[c])),
            Numerator::Cost(times) => same(&|c| candidate(c).cost_per_unit.unwrap_or(0.0) * times),
            Numerator::Carried(at, times) => same(&|c| candidate(c).carried(at) * times),
        }
    }

    /// A limit; `at` may be any value between two numbers.
    fn limit(&self, measure: Measure, side: Side, at: Interval) -> Sum {
        let (low, high) = self.parts(measure);
        let acid = |c: usize| {
            Interval::from(self.portions[c].masses.acid) * Interval::from(self.facts.columns[c].unit)
        };
        let over = |end: fn(&Bounds) -> Interval| self.each(|c| end(&self.bounds[c]) * at);
        // Of a divisor the end is taken that loosens: no limit is under nothing, but a cutoff may be.
        let under = (side == Side::Min) == (at.low >= 0.0);
        let (divided, constant) = match measure.formula(self.facts.brief).1 {
            Over::One => (vec![Interval::ZERO; low.len()], at),
            Over::Volume if under => (over(|b| b.volume.0), Interval::ZERO),
            Over::Volume => (over(|b| b.volume.1), Interval::ZERO),
            Over::Acid => (self.each(|c| acid(c) * at), Interval::ZERO),
        };
        let less = |all: Vec<Interval>, sign: Interval| {
            all.iter().zip(&divided).map(|(a, d)| (*a - *d) * sign).collect()
        };
        match side {
            Side::Min => Sum { step: less(high, Interval::ONE), constant: -constant },
            Side::Max => Sum { step: less(low, -Interval::ONE), constant },
        }
    }

    /// A limit of the brief.
    pub fn limit_row(&self, limit: &Limit) -> Option<Row> {
        let at = Interval::from(loosened(limit.side, limit.value));
        self.limit(limit.measure, limit.side, at).row(notes(self.facts).len())
    }

    /// The rows of "the score is under the cutoff".
    pub fn cut_rows(&self, cutoff: f64) -> Option<Vec<Row>> {
        let facts = self.facts;
        let count = notes(facts).len();
        let one = |sum: Sum| Some(vec![sum.row(count)?]);
        let nothing = || self.each(|_| Interval::ZERO);
        let at = Interval::from(cutoff);
        match &facts.score {
            Score::Low(measure) => one(self.limit(*measure, Side::Max, at)),
            Score::High(measure) => one(self.limit(*measure, Side::Min, -at)),
            Score::Amount(column, sign) => {
                let mut step = nothing();
                if let Some(c) = *column {
                    step[c] = Interval::from(-sign * facts.columns[c].unit);
                }
                one(Sum { step, constant: at })
            }
            Score::Change(_, lost) => {
                let sum = Sum { step: nothing(), constant: at - Interval::from(*lost) };
                Some(vec![Row { bent: true, ..sum.row(count)? }])
            }
            Score::Middle(ranges) => {
                let sides = ranges.iter().flat_map(|range| [(*range, Side::Min), (*range, Side::Max)]);
                let row = |((measure, middle, half), side): ((Measure, f64, f64), Side)| {
                    let by = at * Interval::from(half);
                    let middle = Interval::from(middle);
                    let end = if side == Side::Min { middle - by } else { middle + by };
                    let outer = if side == Side::Min { end.low } else { end.high };
                    self.limit(measure, side, Interval::from(outer)).row(count)
                };
                sides.map(row).collect()
            }
            Score::Notes(_) => {
                // Notes come whole: more than so many is the next whole number of them.
                let more = (-cutoff).floor() + 1.0;
                let row = Sum { step: nothing(), constant: Interval::from(-more) }.row(count)?;
                Some(vec![Row { note: vec![rounded_up(1.0)?; count], ..row }])
            }
        }
    }

    /// The two rows of a range.
    pub fn range_rows(&self, which: Which, span: (f64, f64)) -> Option<[Row; 2]> {
        let m = |c: usize| &self.portions[c].masses;
        let unit = |c: usize| Interval::from(self.facts.columns[c].unit);
        let worked = |c: usize| Interval::from(self.portions[c].worked) * unit(c);
        // The part, and the whole with the least and the most water.
        let part = |c: usize| match which {
            Which::Worked => worked(c) * Interval::from(self.portions[c].strength),
            Which::Spirit => Interval::from(m(c).ethanol) * unit(c),
            Which::Syrup => Interval::from(m(c).solids) * unit(c),
        };
        let whole = |c: usize, most: bool| {
            let (low, high) = self.bounds[c].water;
            match which {
                Which::Worked => worked(c),
                _ => part(c) + if most { high } else { low },
            }
        };
        let (from, to) = (Interval::from(span.0), Interval::from(span.1));
        let zero = Interval::ZERO;
        let least = Sum { step: self.each(|c| part(c) - from * whole(c, false)), constant: zero };
        let most = Sum { step: self.each(|c| to * whole(c, true) - part(c)), constant: zero };
        let count = notes(self.facts).len();
        Some([least.row(count)?, most.row(count)?])
    }

    /// The row of the sign of the heat.
    pub fn heat_row(&self, melts: bool) -> Option<Row> {
        let step = self.each(|c| if melts { self.bounds[c].sign.1 } else { -self.bounds[c].sign.0 });
        Sum { step, constant: Interval::ZERO }.row(notes(self.facts).len())
    }
}

/// A limit as it counts as met, and a little beyond.
pub fn loosened(side: Side, value: f64) -> f64 {
    let by = LOOSE * value.abs();
    if side == Side::Min { (value - by).next_down() } else { (value + by).next_up() }
}

/// The rows that hold under all lines: counts, ratios, notes, and ratios that are limited being defined.
pub fn plain_rows(facts: &Facts) -> Option<Vec<(Name, Row)>> {
    let (count, width) = (notes(facts).len(), facts.columns.len());
    let one = rounded_up(1.0)?;
    let empty = Row { step: vec![0; width], used: vec![0; width], note: vec![0; count], ..Row::default() };
    let mut rows = vec![];
    for (at, group) in facts.groups.iter().enumerate() {
        for (side, sign, many) in [(Side::Min, one, group.min), (Side::Max, -one, group.max)] {
            let mut row = empty.clone();
            group.members.iter().for_each(|c| row.used[*c] = sign);
            row.constant = -sign * many as i128;
            rows.push((Name::Group(at, side), row));
        }
    }
    for (at, ratio) in facts.ratios.iter().enumerate() {
        let value = Interval::from(loosened(ratio.side, ratio.value));
        let sign = if ratio.side == Side::Min { Interval::ONE } else { -Interval::ONE };
        let amount = |column: Option<usize>, c: usize| {
            if column == Some(c) { Interval::from(facts.columns[c].unit) } else { Interval::ZERO }
        };
        let of = |c: usize| (amount(ratio.of, c) - amount(ratio.to, c) * value) * sign;
        let sum = Sum { step: (0..width).map(of).collect(), constant: Interval::ZERO };
        rows.push((Name::Ratio(at), sum.row(count)?));
    }
    for (at, carriers) in notes(facts).iter().enumerate() {
        let mut row = empty.clone();
        carriers.iter().for_each(|c| row.used[*c] = one);
        row.note[at] = -one;
        rows.push((Name::Note(at), row));
    }
    let typical = facts.typical();
    let over_acid = |limit: &&Limit| matches!(limit.measure.formula(facts.brief).1, Over::Acid);
    for (at, limit) in facts.limits.iter().enumerate().filter(|(_, limit)| over_acid(limit)) {
        // Nothing over nothing keeps no limit, and of something over nothing there is no most.
        let is_there = |p: &Portion| p.masses.acid > 0.0 || limit.side == Side::Min && p.sugars > 0.0;
        let used = typical.iter().map(|portion| if is_there(portion) { one } else { 0 }).collect();
        rows.push((Name::Defined(at), Row { used, constant: -one, ..empty.clone() }));
    }
    Some(rows)
}

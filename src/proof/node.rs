//! A node of the tree: between which amounts, and over which compositions, specs are left there.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::facts::{Column, Facts, Score};
use super::interval::{BITS, Interval, rounded_up};
use super::rows::{Name, Row, Seen, plain_rows};
use super::view::{Heat, Lines, Ranges, Which};
use crate::brief::Side;
use crate::liquid::Portion;

/// The steps that a column may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Domain {
    /// Whether it may be left out.
    pub none: bool,
    /// From where to where where it is used; nothing where the first is over the second.
    pub some: (i64, i64),
}

impl Domain {
    /// Whether it may be used.
    pub fn may_be_used(&self) -> bool {
        self.some.0 <= self.some.1
    }

    /// With at most so many steps, or more.
    fn cut(self, column: &Column, at: i64, upper: bool) -> Self {
        let (from, to) = self.some;
        if upper {
            Self { none: self.none && at < 0, some: (from.max(column.above(at.saturating_add(1))), to) }
        } else {
            Self { none: self.none && at >= 0, some: (from, to.min(column.below(at))) }
        }
    }

    /// The only number of steps that is left.
    fn single(&self) -> Option<i64> {
        match (self.none, self.may_be_used()) {
            (true, false) => Some(0),
            (false, true) if self.some.0 == self.some.1 => Some(self.some.0),
            _ => None,
        }
    }
}

/// What is claimed to be out of reach.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutoffs {
    /// No spec of any other set scores under this; infinite where there is no such spec.
    pub others: f64,
    /// Sets of columns, the least first, each with the score under which no spec of it lies.
    pub sets: Vec<(Vec<usize>, f64)>,
}

impl Cutoffs {
    /// Nothing can be poured at all.
    pub const NOTHING: Self = Self { others: f64::INFINITY, sets: vec![] };

    /// The cutoff that counts for every spec of a node, by number: 0 for the others.
    fn of(&self, domains: &[Domain]) -> usize {
        if domains.iter().any(|d| d.none && d.may_be_used()) {
            return 0;
        }
        let used: Vec<usize> = (0..domains.len()).filter(|c| !domains[*c].none).collect();
        self.sets.iter().position(|(set, _)| *set == used).map_or(0, |at| at + 1)
    }

    /// A cutoff by its number.
    pub fn value(&self, number: usize) -> f64 {
        number.checked_sub(1).map_or(self.others, |at| self.sets[at].1)
    }
}

/// What all nodes share.
pub struct Ground<'a> {
    /// The brief.
    pub facts: &'a Facts<'a>,
    /// The compositions.
    pub views: Vec<Vec<Portion>>,
    /// What is claimed.
    pub cutoffs: Cutoffs,
    plain: Vec<(Name, Row)>,
}

impl<'a> Ground<'a> {
    /// With these views, the typical one first; nothing where figures are too large.
    pub fn new(facts: &'a Facts<'a>, views: Vec<Vec<Portion>>, cutoffs: Cutoffs) -> Option<Self> {
        Some(Self { facts, views, cutoffs, plain: plain_rows(facts)? })
    }

    /// The node of everything.
    pub fn root(&self) -> Node {
        let domain = |c: &Column| Domain { none: !c.must, some: (c.least, c.most) };
        let state = State { ranges: Ranges::ALL, lines: None, rows: Arc::default(), ends: Arc::default() };
        let domains = self.facts.columns.iter().map(domain).collect();
        Node { domains, states: vec![state; self.views.len()] }
    }
}

/// What is known of one view.
#[derive(Debug, Clone)]
pub struct State {
    /// Where its compositions lie.
    pub ranges: Ranges,
    /// The lines that hold there.
    pub lines: Option<Lines>,
    rows: Arc<BTreeMap<(Name, usize), Row>>,
    ends: Arc<BTreeMap<Name, Row>>,
}

/// A node.
#[derive(Debug, Clone)]
pub struct Node {
    /// A domain a column.
    pub domains: Vec<Domain>,
    /// What is known of every view.
    pub states: Vec<State>,
}

/// Where a tree branches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Branch {
    /// A column has at most so many steps, or more.
    Amount(usize, i64),
    /// A range of a view ends here, or starts.
    Range(usize, Which, f64),
    /// The ice in the glass melts in a view, or not.
    Heat(usize),
}

impl Node {
    /// One side of a branch, the lower first; nothing where it is no branch of this node.
    pub fn child(&self, ground: &Ground, branch: Branch, upper: bool) -> Option<Self> {
        let mut child = self.clone();
        match branch {
            Branch::Amount(column, at) => {
                let domain = child.domains.get_mut(column)?;
                *domain = domain.cut(&ground.facts.columns[column], at, upper);
            }
            Branch::Range(view, which, at) => {
                let state = child.states.get_mut(view)?;
                let span = state.ranges.span(which);
                if !(span.0..=span.1).contains(&at) {
                    return None;
                }
                *(if upper { &mut span.0 } else { &mut span.1 }) = at;
                state.find_ends(ground, view)?;
            }
            Branch::Heat(view) => {
                let state = child.states.get_mut(view)?;
                state.ranges.heat = if upper { Heat::Spares } else { Heat::Melts };
                state.find(ground, view)?;
            }
        }
        Some(child)
    }

    /// The same with lines for a view; nothing where they are not proved to hold.
    pub fn with_lines(&self, ground: &Ground, view: usize, lines: Lines) -> Option<Self> {
        let mut node = self.clone();
        let state = node.states.get_mut(view)?;
        if !lines.hold(ground.facts, &state.ranges) {
            return None;
        }
        state.lines = Some(lines);
        state.find(ground, view)?;
        Some(node)
    }

    /// Whether some column has no steps left.
    pub fn is_empty(&self) -> bool {
        self.domains.iter().any(|d| !d.none && !d.may_be_used())
    }

    /// The only spec that is left, in steps.
    pub fn point(&self) -> Option<Vec<i64>> {
        self.domains.iter().map(Domain::single).collect()
    }

    /// The number of the cutoff that counts.
    pub fn cutoff(&self, ground: &Ground) -> usize {
        ground.cutoffs.of(&self.domains)
    }

    /// All rows that hold, by name.
    pub fn rows<'n>(&'n self, ground: &'n Ground) -> impl Iterator<Item = (Name, &'n Row)> {
        let cutoff = self.cutoff(ground);
        let seen = self.states.iter().flat_map(move |state| {
            let lined = state.rows.iter().filter(move |((_, at), _)| [0, cutoff + 1].contains(at));
            lined.map(|((name, _), row)| (*name, row)).chain(state.ends.iter().map(|(n, r)| (*n, r)))
        });
        seen.chain(ground.plain.iter().map(|(name, row)| (*name, row)))
    }

    fn row<'n>(&'n self, ground: &'n Ground, name: Name) -> Option<&'n Row> {
        let number = if matches!(name, Name::Cut(_)) { self.cutoff(ground) + 1 } else { 0 };
        let plain = || ground.plain.iter().find(|(own, _)| *own == name).map(|(_, row)| row);
        let seen = |s: &'n State| s.rows.get(&(name, number)).or_else(|| s.ends.get(&name));
        self.states.iter().find_map(seen).or_else(plain)
    }

    /// Whether the sum of rows, each times a whole number of at least nothing, is under nothing for every spec of the
    /// node: then there is none. Whole numbers throughout; what overflows proves nothing.
    pub fn refuted_by(&self, ground: &Ground, multipliers: &[(Name, u64)]) -> bool {
        self.is_empty() || self.most(ground, multipliers).is_some_and(|most| most < 0)
    }

    fn most(&self, ground: &Ground, multipliers: &[(Name, u64)]) -> Option<i128> {
        let width = self.domains.len();
        let (mut step, mut used) = (vec![0_i128; width], vec![0_i128; width]);
        let (mut note, mut most, mut bent) =
            (vec![0_i128; super::rows::notes(ground.facts).len()], 0_i128, 0_i128);
        for (name, times) in multipliers {
            let (row, times) = (self.row(ground, *name)?, i128::from(*times));
            let add = |sums: &mut Vec<i128>, figures: &[i128]| {
                sums.iter_mut().zip(figures).try_for_each(|(sum, figure)| {
                    *sum = sum.checked_add(figure.checked_mul(times)?)?;
                    Some(())
                })
            };
            add(&mut step, &row.step)?;
            add(&mut used, &row.used)?;
            add(&mut note, &row.note)?;
            most = most.checked_add(row.constant.checked_mul(times)?)?;
            bent = if row.bent { bent.checked_add(times)? } else { bent };
        }
        for covered in note {
            most = most.checked_add(covered.max(0))?;
        }
        for (at, domain) in self.domains.iter().enumerate() {
            let of = |steps: i64, z: i128| -> Option<i128> {
                let away = if bent > 0 { distance(ground.facts, at, steps)?.checked_mul(bent)? } else { 0 };
                step[at].checked_mul(i128::from(steps))?.checked_add(z)?.checked_sub(away)
            };
            let mut greatest = if domain.none { Some(of(0, 0)?) } else { None };
            if domain.may_be_used() {
                let (from, to) = domain.some;
                let bend = if bent > 0 { bend(ground.facts, at) } else { from };
                for steps in [from, to, bend.clamp(from, to), bend.saturating_add(1).clamp(from, to)] {
                    let value = of(steps, used[at])?;
                    greatest = Some(greatest.map_or(value, |g| g.max(value)));
                }
            }
            most = most.checked_add(greatest?)?;
        }
        // Distances are rounded to fixed point one by one: by less than one of its units each.
        most.checked_add(bent.checked_mul(width as i128)?)
    }
}

/// The last whole step under the reference's amount.
fn bend(facts: &Facts, column: usize) -> i64 {
    let Score::Change(from, _) = &facts.score else { return 0 };
    (from[column] / facts.columns[column].unit).floor() as i64
}

/// By how much an amount differs from the reference, ml or g, in fixed point and at most.
fn distance(facts: &Facts, column: usize, steps: i64) -> Option<i128> {
    let Score::Change(from, _) = &facts.score else { return Some(0) };
    let amount = Interval::from(facts.columns[column].unit) * Interval::from(steps as f64);
    let away = (amount - Interval::from(from[column])).abs();
    rounded_up(-away.low).map(|down| -down)
}

impl State {
    /// Rows under the lines, then those of the ranges.
    fn find(&mut self, ground: &Ground, view: usize) -> Option<()> {
        let Some(lines) = &self.lines else { return Some(()) };
        let seen = Seen::new(ground.facts, &ground.views[view], lines, &self.ranges);
        let mut rows = BTreeMap::new();
        for (at, limit) in ground.facts.limits.iter().enumerate() {
            rows.insert((Name::Limit(at, view), 0), seen.limit_row(limit)?);
        }
        if view == 0 {
            for number in 0..=ground.cutoffs.sets.len() {
                let cutoff = ground.cutoffs.value(number);
                let cut = if cutoff.is_finite() { seen.cut_rows(cutoff)? } else { vec![] };
                rows.extend(cut.into_iter().enumerate().map(|(at, row)| ((Name::Cut(at), number + 1), row)));
            }
        }
        if self.ranges.heat != Heat::Open {
            rows.insert((Name::Heat(view), 0), seen.heat_row(self.ranges.heat == Heat::Melts)?);
        }
        self.rows = Arc::new(rows);
        self.find_ends(ground, view)
    }

    fn find_ends(&mut self, ground: &Ground, view: usize) -> Option<()> {
        let Some(lines) = &self.lines else { return Some(()) };
        let seen = Seen::new(ground.facts, &ground.views[view], lines, &self.ranges);
        let mut ends = BTreeMap::new();
        for which in Which::ALL {
            let [low, high] = seen.range_rows(which, *self.ranges.span(which))?;
            ends.insert(Name::End(view, which.letter(), Side::Min), low);
            ends.insert(Name::End(view, which.letter(), Side::Max), high);
        }
        self.ends = Arc::new(ends);
        Some(())
    }
}

/// One in fixed point.
pub const FIXED_ONE: f64 = (1_i64 << BITS) as f64;

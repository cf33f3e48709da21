//! Rows, segments and objective over linear bounds of the physics.
//!
//! With an [`Envelope`] over a range of compositions this is a valid relaxation, for the pourable
//! search; with a tangent (upper and lower line the same) it is the first-order expansion, for free
//! pours. The rows are the same but for how much they are loosened.

use std::ops::Range;

use super::lines::{self, Lines, Segment, objective_lines, soft_rows};
use super::row::{Row, RowOrigin, less, limit_row};
use super::{Envelope, Gauge, Model, Objective, Ranges, Tangent};
use super::{ends, notes};
use crate::brief::{Limit, Measure, Pour, Side};
use crate::liquid::{Drink, Portion};
use crate::lp::linear::LinearRow;
use crate::tolerance::LOOSE;

/// A composition that a limit is seen with, and linear bounds of volume and melt for it.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// A portion a column.
    pub portions: Vec<Portion>,
    /// Their bounds.
    pub envelope: Envelope,
}

impl View {
    /// The worst corners of a limit for given pours, with the expansion at the drink that they make;
    /// nothing where the typical composition alone counts.
    pub fn worst(model: &Model, pours: &[Pour], limit: &Limit) -> Option<Self> {
        let spread = model.spread.as_ref()?;
        let drink = spread.worst(model, pours, limit).1.drink;
        let portions = spread.portions(&spread.picks(model, limit, &drink));
        let envelope = Tangent::at(model, &portions, &drink).envelope();
        Some(Self { portions, envelope })
    }
}

/// What a program rests on besides its linear bounds.
#[derive(Debug, Clone, Copy)]
pub struct Basis<'a> {
    /// What the limits are to be seen with, one each, where that is not the typical composition.
    pub views: &'a [View],
    /// By which share limits are loosened.
    pub loose: f64,
    /// The drink at which the bounds are exact, where they are an expansion at a point.
    pub at: Option<&'a Drink>,
}

/// Segments, rows and objective.
#[derive(Debug, Clone, PartialEq)]
pub struct Program {
    /// The columns' segments, column by column.
    pub segments: Vec<Segment>,
    /// Greatest values of the further variables that follow the segments: misses of soft limits and notes of the
    /// objective, then notes of the objective bounds.
    pub extras: Vec<f64>,
    /// Where the segments of every column stand.
    pub of_column: Vec<Range<usize>>,
    /// The rows.
    pub rows: Vec<Row>,
    /// The objective.
    pub lines: Lines,
    /// The linear bounds that rows and objective were built from, a figure a column.
    pub envelope: Envelope,
}

impl Program {
    /// The relaxation that holds within `ranges`.
    pub fn relaxed(model: &Model, objective: &Objective, ranges: &Ranges) -> Self {
        let envelope = Envelope::new(model, &model.typical, ranges);
        let ends = ends::range_rows(model, &envelope, ranges);
        let views = worst_views(model, ranges);
        let mut program =
            Self::over(model, objective, envelope, Basis { views: &views, loose: LOOSE, at: None });
        let further: Vec<Row> = group_rows(model).into_iter().chain(ends).collect();
        program.add(further);
        program
    }

    /// The program over linear bounds.
    pub fn over(model: &Model, objective: &Objective, envelope: Envelope, basis: Basis) -> Self {
        let Basis { views, loose, .. } = basis;
        let row = |(at, limit): (usize, &Limit)| {
            let (portions, envelope) = match views.get(at) {
                Some(view) => (&view.portions, &view.envelope),
                None => (&model.typical, &envelope),
            };
            let gauge = Gauge::with(model, portions, limit.measure);
            let row = limit_row(&gauge, limit, envelope, loose, RowOrigin::Limit(at));
            let room = model.room.as_ref().and_then(|room| room.needed.get(at));
            row.narrowed(room.copied().unwrap_or(0.0))
        };
        let mut rows: Vec<Row> = model.limits.iter().enumerate().map(row).collect();
        let something = model.something(objective).into_iter();
        rows.extend(something.map(|(something, figures)| {
            Row::sided(figures, Side::Min, 1.0 - loose, RowOrigin::Something(something))
        }));
        rows.extend(proportion_rows(model, loose));
        let segments = segments(model, objective);
        let mut extras = lines::extras(objective);
        let mut lines = objective_lines(model, objective, &envelope, &segments);
        extras.extend(model.objective_bounds.iter().flat_map(|(cap, _)| vec![1.0; notes::variables(cap)]));
        lines.widen(segments.len() + extras.len());
        let of_column = ranges_of(model.columns.len(), &segments);
        let mut program = Self { segments, extras, of_column, rows: vec![], lines, envelope };
        program.add(rows);
        let first = program.segments.len();
        program.rows.extend(notes::rows(model, objective, (first, loose), |f| program.spread(|c| f[c])));
        program.add_objective_bounds(model, loose, first + lines::extras(objective).len());
        let around = (&program.envelope, basis.loose, basis.at);
        let rows =
            soft_rows(model, objective, around, (program.segments.len(), |f| program.spread(|c| f[c])));
        program.rows.extend(rows);
        program
    }

    /// The same with what the counts say of the amounts.
    pub fn counted(mut self, model: &Model) -> Self {
        self.add(group_rows(model));
        self
    }

    /// Variables in all: segments, then extras.
    pub fn width(&self) -> usize {
        self.segments.len() + self.extras.len()
    }

    /// Figures a column as figures a variable.
    pub fn spread(&self, figure: impl Fn(usize) -> f64) -> Vec<f64> {
        let mut wide: Vec<f64> = self.segments.iter().map(|s| figure(s.column)).collect();
        wide.resize(self.width(), 0.0);
        wide
    }

    /// Bounds of every variable, from bounds on the amount of every column, in units.
    pub fn bounds(&self, of: impl Fn(usize) -> (f64, f64)) -> Vec<(f64, f64)> {
        let part = |segment: &Segment| {
            let (low, high) = of(segment.column);
            (segment.part_of(low), segment.part_of(high))
        };
        self.segments.iter().map(part).chain(self.extras.iter().map(|most| (0.0, *most))).collect()
    }

    /// The rows as a linear program has them.
    pub fn linear_rows(&self) -> Vec<LinearRow> {
        self.rows.iter().map(|row| (row.coefficients.clone(), row.low, row.high)).collect()
    }

    fn add(&mut self, rows: Vec<Row>) {
        for mut row in rows {
            row.coefficients = self.spread(|c| row.coefficients[c]);
            self.rows.push(row);
        }
    }

    /// Rows that keep further scores at most at given values; what they add themselves stands from `first` on.
    fn add_objective_bounds(&mut self, model: &Model, loose: f64, mut first: usize) {
        let segments = self.segments.len();
        for (at, (objective, most)) in model.objective_bounds.iter().enumerate() {
            let lines = objective_lines(model, objective, &self.envelope, &self.segments);
            let most = most + loose * most.abs();
            let mut coefficients = match &lines.over {
                Some(over) => less(&lines.value, most, over),
                None => lines.value,
            };
            let own = coefficients.split_off(segments);
            coefficients.resize(self.width(), 0.0);
            for (own, figure) in coefficients.iter_mut().skip(first).zip(own) {
                *own = figure;
            }
            let rows = notes::rows(model, objective, (first, loose), |f| self.spread(|c| f[c]));
            self.rows.extend(rows);
            first += notes::variables(objective);
            let high = if lines.over.is_some() { 0.0 } else { most - lines.constant };
            self.rows.push(Row::sided(coefficients, Side::Max, high, RowOrigin::ObjectiveBound(at)));
        }
    }

    /// The amount of every column at a point of the variables, in units.
    pub fn amounts(&self, value: impl Fn(usize) -> f64) -> Vec<f64> {
        self.of_column.iter().map(|range| range.clone().map(&value).sum()).collect()
    }
}

/// The worst corners of every limit, and an envelope for them over what they could do to `ranges`.
/// A spec that holds for every composition holds for any one: whichever corner is taken, the row is
/// valid, and the worst one cuts the most.
fn worst_views(model: &Model, ranges: &Ranges) -> Vec<View> {
    let Some(spread) = &model.spread else { return vec![] };
    let everything = model.typical.iter().zip(&model.columns).map(|(p, c)| (p, c.unit));
    let drink = Drink::of(everything, model.brief.serve.melting());
    let (less, more) = spread.strength_reach(&model.typical);
    let view = |limit: &Limit| {
        let portions = spread.portions(&spread.picks(model, limit, &drink));
        let all = Ranges::of(&portions);
        let before = ((ranges.before.0 + less).max(0.0), (ranges.before.1 + more).min(1.0));
        let envelope = Envelope::new(model, &portions, &Ranges { before, ..all });
        View { portions, envelope }
    };
    model.limits.iter().map(view).collect()
}

/// One segment a column, or two where some objective bends at a given amount.
fn segments(model: &Model, objective: &Objective) -> Vec<Segment> {
    let bent = std::iter::once(objective).chain(model.objective_bounds.iter().map(|(o, _)| o)).find_map(
        |o| match o {
            Objective::Change { from, .. } => Some(from),
            _ => None,
        },
    );
    let mut segments = vec![];
    for (column, c) in model.columns.iter().enumerate() {
        let length = c.most.max(0.0);
        let bend = bent.map_or(0.0, |from| from[column].min(length));
        if bend > 0.0 {
            segments.push(Segment { column, start: 0.0, length: bend });
        }
        if bend < length || bend == 0.0 {
            segments.push(Segment { column, start: bend, length: length - bend });
        }
    }
    segments
}

fn ranges_of(columns: usize, segments: &[Segment]) -> Vec<Range<usize>> {
    let end = |column: usize| segments.partition_point(|s| s.column <= column);
    (0..columns).map(|c| if c == 0 { 0..end(0) } else { end(c - 1)..end(c) }).collect()
}

fn proportion_rows(model: &Model, loose: f64) -> Vec<Row> {
    let mut rows = vec![];
    for (at, rule) in model.brief.proportions.iter().enumerate() {
        let units = |candidate: usize| -> Vec<f64> {
            model.columns.iter().map(|c| if c.candidate == candidate { c.unit } else { 0.0 }).collect()
        };
        let (of, to) = (units(rule.of), units(rule.to));
        let mut side = |side, ratio: f64| {
            rows.push(Row::sided(less(&of, ratio, &to), side, 0.0, RowOrigin::Proportion(at, side)));
        };
        rule.min.into_iter().for_each(|min| side(Side::Min, min * (1.0 - loose)));
        rule.max.into_iter().for_each(|max| side(Side::Max, max * (1.0 + loose)));
    }
    rows
}

/// What a group's count says of the amounts: each member that is used counts at least its amount
/// over its most, and at most its amount over its least.
fn group_rows(model: &Model) -> Vec<Row> {
    let mut rows = vec![];
    let bounded = model.limits.iter().any(|l| l.measure == Measure::Volume && l.side == Side::Max);
    for (at, group) in model.groups.iter().enumerate() {
        if group.members.len() == model.columns.len() && bounded {
            // The count over everything is kept by branching alone: as a row it would be slack, where
            // the volume bounds everything together.
            continue;
        }
        // What has to be used counts as one, whatever is poured of it.
        let (musts, open): (Vec<usize>, Vec<usize>) =
            group.members.iter().partition(|m| model.columns[**m].must);
        let share = |over: fn(&super::Column) -> f64| {
            let mut coefficients = vec![0.0; model.columns.len()];
            for &member in &open {
                coefficients[member] = 1.0 / over(&model.columns[member]);
            }
            coefficients
        };
        if group.min > musts.len() && open.iter().all(|&m| model.columns[m].least > 0.0) {
            let least = (group.min - musts.len()) as f64 * (1.0 - LOOSE);
            rows.push(Row::sided(share(|c| c.least), Side::Min, least, RowOrigin::AtLeast(at)));
        }
        if group.max < group.members.len() && open.iter().all(|&m| model.columns[m].most > 0.0) {
            let most = group.max as f64 * (1.0 + LOOSE) - musts.len() as f64;
            rows.push(Row::sided(share(|c| c.most), Side::Max, most, RowOrigin::AtMost(at)));
        }
    }
    rows
}

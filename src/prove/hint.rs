//! Which rows close a node, as a linear program in floating point has it: a hint, and no more.
//!
//! Two further variables let rows be missed: one those of the cutoff, one all others, at a far higher price. Where the
//! least price is over nothing no spec is left, and the duals are the multipliers that show it.

use crate::lp::simplex::Simplex;
use crate::proof::{FIXED_ONE, Facts, Ground, MULTIPLIER, Name, Node, Row, Score};

/// What a program says of a node.
#[derive(Debug, Clone)]
pub struct Hint {
    /// The least price: over nothing, and no spec is left.
    pub value: f64,
    /// Rows with their multipliers and the size of their largest term.
    pub duals: Vec<Dual>,
    /// The amount of every column at the optimum, in steps.
    pub amounts: Vec<f64>,
}

/// A row, its multiplier, of figures as they are, and the size of its largest term.
#[derive(Debug, Clone, Copy)]
pub struct Dual {
    name: Name,
    value: f64,
    size: f64,
}

/// What missing a row costs beside missing the cutoff.
const DEAR: f64 = 30.0;
/// No row is missed by more than this, its largest term being 1.
const MISS: f64 = 50.0;

/// A stretch of a column's amount, in steps.
struct Segment {
    column: usize,
    bounds: (f64, f64),
    /// Whether it lies below the reference's amount.
    below: bool,
}

/// A stretch a column, or two where the distance from a reference bends.
fn segments(facts: &Facts, node: &Node) -> Vec<Segment> {
    let mut all = vec![];
    for (column, domain) in node.domains.iter().enumerate() {
        let most = if domain.may_be_used() { domain.some.1 as f64 } else { 0.0 };
        let least = if domain.none { 0.0 } else { domain.some.0 as f64 };
        let bend = match &facts.score {
            Score::Change(from, _) => (from[column] / facts.columns[column].unit).min(most),
            _ => 0.0,
        };
        if bend > 0.0 {
            all.push(Segment { column, bounds: (least.min(bend), bend), below: true });
        }
        all.push(Segment { column, bounds: ((least - bend).max(0.0), (most - bend).max(0.0)), below: false });
    }
    all
}

/// A row over the segments and notes, and its constant.
fn figures(facts: &Facts, node: &Node, row: &Row, segments: &[Segment]) -> (Vec<f64>, f64) {
    let real = |figure: i128| figure as f64 / FIXED_ONE;
    let mut constant = real(row.constant);
    let mut per_step: Vec<f64> = row.step.iter().map(|f| real(*f)).collect();
    for (at, domain) in node.domains.iter().enumerate() {
        let used = real(row.used[at]);
        if !domain.may_be_used() || used == 0.0 {
            continue;
        }
        if domain.none {
            // What is used counts at most its amount over its least, and at least its amount over its most.
            per_step[at] += used / if used > 0.0 { domain.some.0 as f64 } else { domain.some.1 as f64 };
        } else {
            constant += used;
        }
    }
    let bent = |segment: &Segment| {
        let unit = facts.columns[segment.column].unit;
        match (row.bent, segment.below) {
            (false, _) => 0.0,
            (true, true) => unit,
            (true, false) => -unit,
        }
    };
    if let (true, Score::Change(from, _)) = (row.bent, &facts.score) {
        constant -= from.iter().sum::<f64>();
    }
    let own = segments.iter().map(|s| per_step[s.column] + bent(s));
    (own.chain(row.note.iter().map(|f| real(*f))).collect(), constant)
}

/// Solves the program of a node.
pub fn hint(ground: &Ground, node: &Node, farkas: bool) -> Hint {
    let facts = ground.facts;
    let segments = segments(facts, node);
    let rows: Vec<(Name, &Row)> = node.rows(ground).collect();
    let notes = rows.first().map_or(0, |(_, row)| row.note.len());
    let cut = rows.iter().any(|(name, _)| matches!(name, Name::Cut(_)));
    let mut bounds: Vec<(f64, f64)> = segments.iter().map(|s| s.bounds).collect();
    bounds.extend(vec![(0.0, 1.0); notes]);
    let (first, last) = (bounds.len(), bounds.len() + 1);
    // Without a cutoff the program looks for the point that is farthest inside.
    bounds.push(if cut { (-MISS, MISS) } else { (0.0, 0.0) });
    bounds.push(if cut && !farkas { (0.0, MISS) } else { (-MISS, MISS) });
    let mut norms = vec![];
    let program: Vec<(Vec<f64>, f64, f64)> = rows
        .iter()
        .map(|(name, row)| {
            let (mut figures, constant) = figures(facts, node, row, &segments);
            let terms = figures.iter().zip(&bounds).map(|(f, (_, most))| (f * most).abs());
            let norm = terms.fold(1e-9_f64.max(constant.abs()), f64::max);
            norms.push(norm);
            figures.iter_mut().for_each(|f| *f /= norm);
            figures.extend(if matches!(name, Name::Cut(_)) && !farkas { [1.0, 0.0] } else { [0.0, 1.0] });
            (figures, -constant / norm, f64::INFINITY)
        })
        .collect();
    let part = |at: usize| -> Vec<f64> { (0..=last).map(|v| if v == at { 1.0 } else { 0.0 }).collect() };
    let mut simplex = Simplex::new(&bounds, &program, &[part(first), part(last)]);
    simplex.weigh(&[1.0, if cut && !farkas { DEAR } else { 1.0 }]);
    simplex.solve(f64::INFINITY);
    let mut amounts = vec![0.0; facts.columns.len()];
    for (at, segment) in segments.iter().enumerate() {
        amounts[segment.column] += simplex.value(at);
    }
    let dual = |at: usize| simplex.reduced_cost(last + 1 + at) / norms[at];
    let own = |at: usize| Dual { name: rows[at].0, value: dual(at), size: norms[at] };
    let duals = (0..rows.len()).map(own).filter(|dual| dual.value > 0.0).collect();
    Hint { value: simplex.objective(), duals, amounts }
}

/// Whole multipliers of few digits that close a node in whole numbers; nothing where none do.
pub fn closing(ground: &Ground, node: &Node) -> Option<Vec<(Name, u64)>> {
    if node.is_empty() {
        return Some(vec![]);
    }
    let first = hint(ground, node, false);
    rounded(ground, node, &first).or_else(|| rounded(ground, node, &hint(ground, node, true)))
}

/// The same for a hint that is there already: each multiplier has so few digits that rounding it moves the sum by a
/// small part of what there is to spare.
pub fn rounded(ground: &Ground, node: &Node, hint: &Hint) -> Option<Vec<(Name, u64)>> {
    if hint.value <= 0.0 || hint.duals.is_empty() {
        return None;
    }
    let largest = hint.duals.iter().map(|dual| dual.size).fold(0.0, f64::max);
    let mut spare = hint.value * 4.0 / hint.duals.len() as f64;
    for _ in 0..20 {
        // A power of ten a row: the least of them is one.
        let power = |size: f64| (spare / size).log10().floor() as i32;
        let least = power(largest);
        let whole = |dual: &Dual| {
            let step = 10_f64.powi(power(dual.size) - least);
            let times = (dual.value / 10_f64.powi(least) / step).round() * step;
            (times <= MULTIPLIER as f64).then_some((dual.name, times as u64))
        };
        let terms: Vec<(Name, u64)> = hint.duals.iter().map(whole).collect::<Option<_>>()?;
        let terms: Vec<(Name, u64)> = terms.into_iter().filter(|(_, times)| *times > 0).collect();
        if node.refuted_by(ground, &terms) {
            return Some(terms);
        }
        spare *= 0.3;
    }
    None
}

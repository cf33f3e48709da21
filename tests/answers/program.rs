//! The program behind a brief as others read it: both texts hold the same matrix, and its optimum, found
//! by trying everything, is that of the exhaustive enumerator.

use std::collections::BTreeMap;

use washline::brief::Aim;
use washline::explain::program::program;
use washline::model::Pours;
use washline::report::program::{Form, write};
use washline::solve::Stop;

use crate::briefs::{Aims, seeded};
use crate::enumerator::enumerate;
use crate::plan::Plan;
use crate::read_program::{Read, ReadRow, Side, read_lp, read_mps};

/// How far two optima may lie apart, relative to them: the issue's own figure.
const SAME: f64 = 1e-6;
/// What a solver lets pass, relative to a row's largest figure.
const SLACK: f64 = 1e-9;
/// More combinations than this take too long.
const TOO_MANY: f64 = 2e5;

#[test]
fn the_optimum_of_the_text_is_that_of_enumeration() {
    for aims in [Aims::Plain, Aims::Nearest] {
        let tried = (0..150).filter(|seed| agrees(&seeded(*seed, aims), *seed)).count();
        assert!(tried >= 20, "{tried} briefs small enough");
    }
}

/// Whether the brief was small enough to be tried.
fn agrees(plan: &Plan, seed: u64) -> bool {
    let brief = plan.brief();
    let exported = program(&brief, Pours::Steps, &Stop::default());
    let read = read_lp(&write(&exported, Form::Lp));
    assert_eq!(read, read_mps(&write(&exported, Form::Mps)), "seed {seed}: the two texts differ");
    let Some(optimum) = tried_out(&read) else { return false };
    let best = enumerate(&brief).first().map(|found| match brief.aim {
        Aim::Highest(_) => -found.score,
        _ => found.score,
    });
    let same = match (optimum, best) {
        (None, None) => true,
        (Some(a), Some(b)) => (a - b).abs() <= SAME * b.abs().max(1e-3),
        _ => false,
    };
    assert!(
        same,
        "seed {seed}: the text says {optimum:?}, enumeration {best:?}\n{}",
        write(&exported, Form::Lp)
    );
    true
}

/// The least objective over all whole amounts; nothing where they are too many.
#[expect(clippy::option_option, reason = "no verdict, no optimum, and an optimum are three answers")]
fn tried_out(read: &Read) -> Option<Option<f64>> {
    let bounds: Vec<(f64, f64)> = pours(read).map(|name| read.bounds[name]).collect();
    if bounds.iter().map(|(lo, hi)| hi - lo + 1.0).product::<f64>() > TOO_MANY {
        return None;
    }
    let sums = std::iter::once(&read.objective).chain(read.rows.iter().map(|row| &row.terms));
    let mut trial = Trial {
        read,
        figures: pours(read).map(|name| figures_of(name, sums.clone())).collect(),
        bounds,
        best: None,
    };
    trial.down(0, &vec![0.0; read.rows.len() + 1]);
    Some(trial.best)
}

fn pours(read: &Read) -> impl Iterator<Item = &String> {
    read.bounds.keys().filter(|name| name.starts_with("pour_"))
}

/// What a step of an ingredient, and its use, add to every sum.
fn figures_of<'a>(name: &str, sums: impl Iterator<Item = &'a BTreeMap<String, f64>>) -> Vec<(f64, f64)> {
    let used = name.replacen("pour_", "use_", 1);
    let figure = |terms: &BTreeMap<String, f64>, name: &str| terms.get(name).copied().unwrap_or(0.0);
    sums.map(|terms| (figure(terms, name), figure(terms, &used))).collect()
}

/// All amounts, one after another.
struct Trial<'a> {
    read: &'a Read,
    figures: Vec<Vec<(f64, f64)>>,
    bounds: Vec<(f64, f64)>,
    best: Option<f64>,
}

impl Trial<'_> {
    /// `sums` are those of the objective and of the rows so far.
    fn down(&mut self, at: usize, sums: &[f64]) {
        let Some((lo, hi)) = self.bounds.get(at).copied() else {
            if let Some(value) = self.value(sums) {
                self.best = Some(self.best.map_or(value, |best| best.min(value)));
            }
            return;
        };
        let mut amount = lo;
        while amount <= hi {
            let used = if amount > 0.0 { 1.0 } else { 0.0 };
            let add = |(sum, (step, use_of)): (&f64, &(f64, f64))| sum + step * amount + use_of * used;
            let next: Vec<f64> = sums.iter().zip(&self.figures[at]).map(add).collect();
            self.down(at + 1, &next);
            amount += 1.0;
        }
    }

    /// The objective with everything else chosen for the best; nothing where a row breaks.
    fn value(&self, sums: &[f64]) -> Option<f64> {
        let mut score = f64::NEG_INFINITY;
        let mut changed = 0.0;
        for (row, sum) in self.read.rows.iter().zip(&sums[1..]) {
            if row.terms.contains_key("score") {
                // The score is at least this much, changes aside.
                score = score.max(row.at - sum);
            } else if row.name.starts_with("change_") {
                changed += (sum - row.at).abs();
            } else if !keeps(row, *sum) {
                return None;
            }
        }
        let direct = if score.is_finite() { score } else { sums[0] };
        Some(direct + changed)
    }
}

fn keeps(row: &ReadRow, sum: f64) -> bool {
    let largest = row.terms.values().fold(row.at.abs(), |most, f| most.max(f.abs()));
    match row.side {
        Side::AtLeast => sum >= row.at - SLACK * largest,
        Side::AtMost => sum <= row.at + SLACK * largest,
        Side::Equal => (sum - row.at).abs() <= SLACK * largest,
    }
}

//! Cuts at the root: rows that every pourable spec keeps and the relaxation's optimum does not.
//!
//! Where a column's amount lies between two that can be poured, each spec is on one side or the other.
//! From the column's row in the tableau follows one linear row that holds on both sides and cuts the
//! point off (Gomory, *An algorithm for the mixed integer problem*, RAND RM-2597, 1960; the disjunctive
//! form: Balas, *Annals of Discrete Mathematics* 5, 1979). They rest on the root's bounds alone, so they
//! hold in the whole tree.

use crate::lp::simplex::{Ended, Entry, Line, Simplex};
use crate::model::{Model, Program};

/// How many rounds at most.
const ROUNDS: usize = 10;
/// A point nearer to one side than this share of the gap gives a numerically weak cut.
const NEAR: f64 = 0.03;
/// Figures of a cut may differ by this factor at most.
const SPREAD: f64 = 1e6;
/// A round that raises the bound by less than this share is the last.
const GAIN: f64 = 2e-4;

/// Figures of variables, and what their sum is at least.
type Cut = (Vec<(usize, f64)>, f64);

/// The amounts on both sides of a column's value, in its units; consecutive whole numbers, or nothing
/// and the least pour.
#[derive(Debug, Clone, Copy)]
struct Sides {
    below: f64,
    above: f64,
}

/// Adds cuts to a solved root until they gain little. The objective in force stays in force.
pub fn sharpen(model: &Model, program: &Program, simplex: &mut Simplex) {
    let first = simplex.rows();
    let whole: Vec<bool> = (0..program.width()).map(|at| is_whole(model, program, at)).collect();
    let mut last = simplex.objective();
    for _ in 0..ROUNDS {
        let cuts = cuts(model, program, simplex, &whole);
        if cuts.is_empty() {
            break;
        }
        cuts.into_iter().for_each(|(figures, least)| simplex.add_row(&figures, least));
        if simplex.solve(f64::INFINITY) != Ended::Optimal {
            // Nothing can be poured here, or the pivots ran out: the search will see.
            break;
        }
        simplex.drop_slack_rows(first);
        let now = simplex.objective();
        if now - last < GAIN * (now.abs() + last.abs()) {
            break;
        }
        last = now;
    }
}

/// Whether a variable counts whole steps of a column of its own.
fn is_whole(model: &Model, program: &Program, at: usize) -> bool {
    let Some(segment) = program.segments.get(at) else { return false };
    model.columns[segment.column].whole && program.of_column[segment.column].len() == 1
}

/// A cut for every column whose amount lies between.
fn cuts(model: &Model, program: &Program, simplex: &Simplex, whole: &[bool]) -> Vec<Cut> {
    (0..program.segments.len())
        .filter(|at| program.of_column[program.segments[*at].column].len() == 1)
        .filter_map(|at| {
            let column = &model.columns[program.segments[at].column];
            let sides = sides(column.whole, column.must, column.least, simplex.value(at))?;
            cut(&simplex.line_of(at)?, sides, whole)
        })
        .collect()
}

fn sides(whole: bool, must: bool, least: f64, value: f64) -> Option<Sides> {
    let sides = if !must && value < least {
        Sides { below: 0.0, above: least }
    } else if whole {
        Sides { below: value.floor(), above: value.floor() + 1.0 }
    } else {
        return None;
    };
    let share = (value - sides.below) / (sides.above - sides.below);
    (share > NEAR && share < 1.0 - NEAR).then_some(sides)
}

/// `Σ γ t ≥ 1` over the moves t of the nonbasic variables away from their bounds, as a row over the
/// variables themselves. By what the line may be off, the column may be nearer to both sides than it says.
fn cut(line: &Line, sides: Sides, whole: &[bool]) -> Option<Cut> {
    let value = line.value();
    let (down, up) = (value - sides.below - line.off, sides.above - value - line.off);
    let unit = sides.above - sides.below;
    if down.min(up) < 0.5 * NEAR * unit {
        return None;
    }
    let gamma = |entry: &Entry| {
        let alpha = entry.slope();
        let plain = if alpha > 0.0 { alpha / up } else { -alpha / down };
        let counts = whole.get(entry.variable).copied().unwrap_or(false) && unit == 1.0;
        if !counts {
            return plain;
        }
        // A whole move may be counted modulo a whole step of the column.
        let part = alpha - alpha.floor();
        plain.min((part / up).min((1.0 - part) / down))
    };
    let mut least = 1.0;
    let mut figures = Vec::with_capacity(line.entries.len());
    // Larger figures say less, so what rounding may have taken from them is given back.
    let gammas: Vec<f64> = line.entries.iter().map(|e| gamma(e) * (1.0 + 8.0 * f64::EPSILON)).collect();
    let largest = gammas.iter().zip(&line.entries).map(|(g, e)| g * e.range()).fold(0.0, f64::max);
    // So small a thing as a whole step more or less is a figure's last digit.
    let mut size = 1.0 + line.entries.iter().map(Entry::range).sum::<f64>() / down.min(up);
    for (g, entry) in gammas.iter().zip(&line.entries) {
        let reach = g * entry.range();
        if reach < largest / SPREAD {
            // Too small to stand in the row: what it could add is taken from the right side.
            least -= reach;
            size += reach;
            continue;
        }
        let figure = if entry.at_low { *g } else { -g };
        figures.push((entry.variable, figure));
        least += figure * entry.bound();
        size += g * entry.low.abs().max(entry.high.abs());
    }
    // What adding these up, and scaling them, can be off by.
    let off = 4.0 * (line.entries.len() + 4) as f64 * f64::EPSILON * size;
    let scale = 1.0 / largest.max(1.0);
    figures.iter_mut().for_each(|(_, figure)| *figure *= scale);
    (least.is_finite() && largest.is_finite()).then_some((figures, (least - off) * scale))
}

#[cfg(test)]
mod tests {
    use rand::SeedableRng;
    use rand_pcg::Pcg64Mcg;

    use super::*;
    use crate::lp::simplex::seeded::{program, rational};

    /// No cut takes a whole point away, by so much as a last digit, be it read off a sound tableau or a damaged one; and
    /// those of a sound one take the point away that they were read at.
    #[test]
    fn no_cut_takes_a_whole_point_away() {
        let mut rng = Pcg64Mcg::seed_from_u64(26);
        let mut cuts = [0, 0];
        for try_ in 0..3_000 {
            let (mut simplex, points) = program(&mut rng);
            simplex.weigh(&[1.0]);
            assert_eq!(simplex.solve(f64::INFINITY), Ended::Optimal);
            let damaged = try_ % 2 == 1;
            if damaged {
                simplex.damage(&mut rng, 10_f64.powi(-(try_ % 13)));
            }
            for column in 0..4 {
                let Some(sides) = sides(true, false, 1.0, simplex.value(column)) else { continue };
                let Some(line) = simplex.line_of(column) else { continue };
                let Some((figures, least)) = cut(&line, sides, &[true; 4]) else { continue };
                let mut with = simplex.clone();
                with.add_row(&figures, least);
                let (row, least) = with.youngest();
                for (x, _) in &points {
                    assert!(with.exactly(row, x) >= rational(least), "{try_}: {x:?} is cut off");
                }
                if !damaged {
                    let before = with.objective();
                    assert_ne!(with.solve(f64::INFINITY), Ended::Tired, "{try_}");
                    assert!(with.objective() >= before - 1e-9, "{try_}");
                    let moved = |at: usize| (with.value(at) - simplex.value(at)).abs() > 1e-9;
                    assert!((0..4).any(moved), "{try_}");
                }
                cuts[usize::from(damaged)] += 1;
            }
        }
        assert!(cuts.iter().all(|many| *many > 200), "{cuts:?}");
    }
}

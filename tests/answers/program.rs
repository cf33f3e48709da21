//! The program behind a brief as others read it: both texts hold the same matrix, and its optimum, found
//! by trying everything, is that of the exhaustive enumerator.

use std::collections::BTreeMap;

use good_lp::{Expression, ProblemVariables, Solution, SolverModel, Variable, microlp, variable};
use washline::brief::Aim;
use washline::export::program::program;
use washline::export::{Form, write};
use washline::model::Pours;
use washline::solve::Stop;
use washline::solve::outer::OuterEnding;

use crate::briefs::{Aims, seeded};
use crate::effort::one_in;
use crate::enumerator::enumerate;
use crate::exact::some;
use crate::plan::Plan;
use crate::read_program::{Read, ReadRow, Side, read_lp, read_mps};

/// How far two optima may lie apart, relative to them: the issue's own figure.
const SAME: f64 = 1e-6;
/// What a solver lets pass, relative to a row's largest figure.
const SLACK: f64 = 1e-9;
/// More combinations than this take too long.
const TOO_MANY: f64 = 3e4;

#[test]
fn the_optimum_of_the_text_is_that_of_enumeration() {
    let of = one_in(6);
    let noted: Vec<usize> =
        some(0..150, 6).into_iter().filter_map(|seed| agrees(&seeded(seed, Aims::Notes), seed)).collect();
    assert!(noted.len() * of >= 20, "{} briefs with notes tried", noted.len());
    for aims in [Aims::Plain, Aims::Nearest] {
        let tried: Vec<usize> =
            some(0..400, 6).into_iter().filter_map(|seed| agrees(&seeded(seed, aims), seed)).collect();
        // Without the further points some of these would not agree; they are few, and seen among all only.
        let further = tried.iter().filter(|points| **points > 0).count();
        assert!(
            tried.len() * of >= 60 && (of > 1 || further >= 2),
            "{} briefs tried, {further} with points",
            tried.len()
        );
    }
}

/// How many further points its program has, where it was small enough to be tried. Programs that have
/// any may take longer.
fn agrees(plan: &Plan, seed: u64) -> Option<usize> {
    let brief = plan.brief();
    let exported = program(&brief, Pours::Steps, &Stop::default());
    let text = write(&exported, Form::Lp);
    let read = read_lp(&text);
    assert_eq!(read, read_mps(&write(&exported, Form::Mps)), "seed {seed}: the two texts differ");
    let points = exported.outer.further.len();
    let most = if points > 0 { 50.0 } else { 1.0 } * TOO_MANY;
    let Tried::Least(optimum) = tried_out(&read, most) else { return None };
    let best = enumerate(&brief).first().map(|found| match brief.aim {
        Aim::Highest(_) | Aim::Notes => -found.score,
        _ => found.score,
    });
    let same = match (optimum, best) {
        (None, None) => true,
        (Some(a), Some(b)) => (a - b).abs() <= SAME * b.abs().max(1e-3),
        _ => false,
    };
    assert!(same, "seed {seed}: the text says {optimum:?}, enumeration {best:?}\n{text}");
    Some(points)
}

/// What trying everything gave.
enum Tried {
    /// The least objective over all whole amounts; nothing where no amounts keep the rows.
    Least(Option<f64>),
    /// They are too many to be tried.
    TooMany,
}

fn tried_out(read: &Read, most: f64) -> Tried {
    let bounds: Vec<(f64, f64)> = pours(read).map(|name| read.bounds[name]).collect();
    if bounds.iter().map(|(low, high)| high - low + 1.0).product::<f64>() > most {
        return Tried::TooMany;
    }
    let sums = std::iter::once(&read.objective).chain(read.rows.iter().map(|row| &row.terms));
    let mut trial = Trial {
        read,
        figures: pours(read).map(|name| figures_of(name, sums.clone())).collect(),
        bounds,
        best: None,
    };
    trial.down(0, &vec![0.0; read.rows.len() + 1]);
    Tried::Least(trial.best)
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
        let Some((low, high)) = self.bounds.get(at).copied() else {
            if let Some(value) = self.value(sums) {
                self.best = Some(self.best.map_or(value, |best| best.min(value)));
            }
            return;
        };
        let mut amount = low;
        while amount <= high {
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
            } else if row.name.starts_with("carried_") {
                // A note's own variable is at most 1, and at most what carries it comes to.
                changed -= sum.min(1.0);
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

/// The linear program of free pours: another solver's optimum is the score that was told. Where it is
/// an expansion at a point that is not an optimum, some other point of the program would be better. Where
/// the optimum lies on a bend, the text may be a little better than what was told, and says so.
#[test]
fn the_free_program_has_its_optimum_where_it_says() {
    let (mut tried, mut exact) = (0, 0);
    let seeds = (0..200).flat_map(|seed| [(seed, Aims::Plain), (seed, Aims::Nearest)]);
    for (seed, aims) in seeds.chain((0..60).map(|seed| (seed, Aims::Notes))) {
        let brief = seeded(seed, aims).brief();
        let exported = program(&brief, Pours::Free, &Stop::default());
        let text = write(&exported, Form::Lp);
        let read = read_lp(&text);
        assert_eq!(read, read_mps(&write(&exported, Form::Mps)), "seed {seed}: the two texts differ");
        assert!(read.whole.is_empty());
        let Some(best) = &exported.best else { continue };
        let score = exported.objective.score_of(best.score);
        let optimum = solved(&read).unwrap_or_else(|| panic!("seed {seed}: no optimum\n{text}"));
        let close = |a: f64, b: f64| (a - b).abs() <= SAME * b.abs().max(1e-2);
        let said = exported.outer.optimum.expect("an optimum");
        assert!(close(optimum, said), "seed {seed}: {optimum} is not {said}\n{text}");
        if exported.outer.ending == OuterEnding::Exact {
            assert!(close(optimum, score), "seed {seed}: {optimum} is not {score}\n{text}");
            exact += 1;
        }
        tried += 1;
    }
    assert!(tried >= 200 && exact * 100 >= tried * 98, "{exact} of {tried}");
}

/// What jiggers measure, as others read it: how often each is filled. An optimum that a solver of whole numbers
/// finds in the text is that of enumeration.
#[test]
fn jiggers_are_whole_numbers_of_fillings() {
    let jigger = |c: &washline::brief::Candidate| matches!(c.step, washline::brief::Step::Jigger(_));
    let mut tried = 0;
    for seed in (1..400).step_by(4) {
        let text = crate::files::file(seed);
        let brief = washline::read::read(text.as_bytes(), &[]).expect("a sound brief").brief;
        let few = brief.usable().count() <= 6 && brief.usable().any(|at| jigger(&brief.candidates[at]));
        if !few {
            continue;
        }
        let exported = program(&brief, Pours::Steps, &Stop::default());
        if exported.outer.ending != OuterEnding::Exact {
            continue;
        }
        let text = write(&exported, Form::Lp);
        let read = read_lp(&text);
        assert_eq!(read, read_mps(&write(&exported, Form::Mps)), "seed {seed}: the two texts differ");
        assert!(text.contains("fill_1_") && text.contains("measures_"), "seed {seed}\n{text}");
        let best = enumerate(&brief).first().map(|found| match brief.aim {
            Aim::Highest(_) | Aim::Notes => -found.score,
            _ => found.score,
        });
        let same = match (solved(&read), best) {
            (None, None) => true,
            (Some(a), Some(b)) => (a - b).abs() <= SAME * b.abs().max(1e-2),
            _ => false,
        };
        assert!(same, "seed {seed}: the text says {:?}, enumeration {best:?}\n{text}", solved(&read));
        tried += 1;
        if tried == 12 {
            return;
        }
    }
    panic!("only {tried} were tried");
}

/// The optimum of a program by a solver that is not ours.
fn solved(read: &Read) -> Option<f64> {
    let mut problem = ProblemVariables::new();
    let variables: BTreeMap<&str, Variable> = read
        .bounds
        .iter()
        .map(|(name, (low, high))| {
            let plain = variable().min(*low).max(*high);
            let whole = read.whole.contains(name);
            (name.as_str(), problem.add(if whole { plain.integer() } else { plain }))
        })
        .collect();
    let sum = |terms: &BTreeMap<String, f64>| -> Expression {
        terms.iter().map(|(name, f)| *f * variables[name.as_str()]).sum()
    };
    let goal = sum(&read.objective);
    let mut model = problem.minimise(goal.clone()).using(microlp);
    for row in &read.rows {
        model = match row.side {
            Side::AtLeast => model.with(sum(&row.terms).geq(row.at)),
            Side::AtMost => model.with(sum(&row.terms).leq(row.at)),
            Side::Equal => model.with(sum(&row.terms).eq(row.at)),
        };
    }
    let solution = model.solve().ok()?;
    Some(solution.eval(goal))
}

//! The pourable search against exhaustive enumeration: the best spec and every alternative, over
//! seeded briefs of every kind, and every shown figure against a second physics.

use std::fmt::Write as _;

use washline::brief::{Aim, Brief, Candidate, Goal, Measure, Role};
use washline::liquid::{Form, Label, Stage};
use washline::solve::{Ending, Solved, Spec, Stop, solve};

use crate::briefs::{Aims, seeded};
use crate::effort::one_in;
use crate::enumerator::{Found, enumerate, judge};
use crate::glass::{self, Contents};
use crate::plan::{Item, Plan};

/// How far two figures of the same thing may lie apart, relative to them.
const SAME: f64 = 1e-9;

/// 400 seeded briefs with every plain aim.
#[test]
fn the_search_agrees_with_enumeration() {
    over_both_cores(some(0..400, 6), |seed| check(&seeded(seed, Aims::Plain)));
}

/// The same for the aim `nearest`, with a reference and held values.
#[test]
fn the_nearest_spec_agrees_with_enumeration() {
    over_both_cores(some(0..200, 6), |seed| check(&seeded(seed, Aims::Nearest)));
}

/// The same for as many notes as possible, with groups of what carries a note.
#[test]
fn the_most_notes_agree_with_enumeration() {
    over_both_cores(some(0..300, 6), |seed| check(&seeded(seed, Aims::Notes)));
}

/// A gram of a powder takes up less than a ml: more grams than ml may fit.
#[test]
fn a_powder_may_weigh_more_than_its_glass_holds() {
    let mut sugar = Item::liquid(
        "sugar",
        Role::Sweetener,
        Label { form: Form::Powder, sugar: 1000.0, ..Label::default() },
        100,
    );
    sugar.pour = Some(1.0);
    sugar.max = Some(40.0);
    let mut water = Item::liquid("water", Role::Water, Label::default(), 1);
    water.must = true;
    let mut plan = Plan::of(vec![sugar, water]).with(Measure::Volume, None, 20.0);
    plan.pour = 1.0;
    plan.aim = Aim::Highest(Goal::Ingredient(0));
    // By hand: a ml of water leaves room for 19 ml, which is 29 to 31 g at 0.62 to 0.645 ml each.
    let best = enumerate(&plan.brief())[0].score;
    assert!((29.0..=31.0).contains(&best), "{best}");
    check(&plan).expect("the enumerator's answer");
}

/// Whatever can be poured in steps can be poured freely.
#[test]
fn free_pours_are_no_worse_than_steps() {
    over_both_cores(0..400, |seed| {
        let brief = seeded(seed, Aims::Plain).brief();
        let solved = solve(&brief, &Stop::default());
        solved.specs.first().map_or(Ok(()), |best| free_is_no_worse(&brief, &solved, best.score))
    });
    over_both_cores(0..100, |seed| {
        let brief = seeded(seed, Aims::Notes).brief();
        let solved = solve(&brief, &Stop::default());
        solved.specs.first().map_or(Ok(()), |best| free_is_no_worse(&brief, &solved, best.score))
    });
}

/// 200 more that aim at the reference or at the middle of their ranges, some with holds.
#[test]
fn nearest_specs_agree_with_enumeration() {
    over_both_cores(some(1000..1200, 6), |seed| check(&seeded(seed, Aims::Nearest)));
}

/// What one millilitre brings, from the label, by two programs.
#[test]
fn ingredients_agree_with_a_second_physics() {
    over_both_cores(0..300, |seed| {
        for candidate in &seeded(seed, Aims::Plain).brief().candidates {
            let own = glass::contents(candidate);
            let theirs = glass::as_read(candidate, own.cost);
            for ((name, a), (_, b)) in figures(&own).into_iter().zip(figures(&theirs)) {
                if (a - b).abs() > 1e-12 {
                    return Err(format!("{}: {name} {a} against {b}", candidate.name));
                }
            }
        }
        Ok(())
    });
}

fn figures(of: &Contents) -> [(&'static str, f64); 11] {
    [
        ("ethanol", of.ethanol),
        ("water", of.water),
        ("solids", of.solids),
        ("acid", of.acid),
        ("excess", of.excess),
        ("poured", of.poured),
        ("worked", of.worked),
        ("strength", of.strength),
        ("sugars", of.sugars),
        ("sweet", of.sweet),
        ("kcal", of.kcal),
    ]
}

/// One in so many seeds: four together, since mixes of aims go by fours.
pub fn some(seeds: std::ops::Range<u64>, share: usize) -> Vec<u64> {
    let share = one_in(share) as u64;
    seeds.filter(|seed| (seed / 4).is_multiple_of(share)).collect()
}

/// Runs a check over seeds on both cores and fails with everything that it found.
pub fn over_both_cores<S>(seeds: S, check: impl Fn(u64) -> Result<(), String> + Sync)
where
    S: IntoIterator<Item = u64, IntoIter: Clone + Send>,
{
    let seeds = seeds.into_iter();
    let failures = std::thread::scope(|scope| {
        let halves = [0, 1].map(|half| {
            let (seeds, check) = (seeds.clone(), &check);
            scope.spawn(move || {
                let mine = seeds.filter(|seed| seed % 2 == half);
                mine.filter_map(|seed| check(seed).err().map(|what| (seed, what))).collect::<Vec<_>>()
            })
        });
        halves.into_iter().flat_map(|half| half.join().expect("a check that ends")).collect::<Vec<_>>()
    });
    let mut report = String::new();
    for (seed, what) in &failures {
        let _ = writeln!(report, "seed {seed}: {what}");
    }
    assert!(failures.is_empty(), "{} of {} fail\n{report}", failures.len(), seeds.count());
}

/// One brief: solved, enumerated, compared.
pub fn check(plan: &Plan) -> Result<(), String> {
    let brief = plan.brief();
    let found = enumerate(&brief);
    let solved = solve(&brief, &Stop::default());
    compare(&brief, &solved, &found)
}

/// Everything that the contract promises of an answer.
pub fn compare(brief: &Brief, solved: &Solved, found: &[Found]) -> Result<(), String> {
    let Some(best) = found.first() else {
        return match solved.ending {
            Ending::Conflict if solved.specs.is_empty() => Ok(()),
            ending => Err(format!("{ending:?} with {} specs, but none exists", solved.specs.len())),
        };
    };
    if solved.ending != Ending::Found || !solved.complete {
        return Err(format!(
            "{:?}, complete {}: but {} exists",
            solved.ending,
            solved.complete,
            card(brief, &best.pours)
        ));
    }
    let bound = solved.bound.ok_or("no bound")?;
    if !same(bound, best.score) {
        return Err(format!("bound {bound}, best {}", best.score));
    }
    let expected: Vec<&Found> =
        found.iter().filter(|f| wanted(brief, best, f)).take(1 + brief.answer.alternatives).collect();
    if solved.specs.len() != expected.len() {
        return Err(format!("{} specs, {} expected", solved.specs.len(), expected.len()));
    }
    for (rank, (spec, expected)) in solved.specs.iter().zip(&expected).enumerate() {
        compare_spec(brief, spec, expected).map_err(|what| format!("spec {rank}: {what}"))?;
    }
    Ok(())
}

/// Whether it is within the band of alternatives.
fn wanted(brief: &Brief, best: &Found, found: &Found) -> bool {
    let Some(within) = brief.answer.within else { return true };
    let band = best.score.abs() * within / 100.0 * (1.0 + SAME);
    (found.score - best.score).abs() <= band
}

fn compare_spec(brief: &Brief, spec: &Spec, expected: &Found) -> Result<(), String> {
    let mut pours: Vec<(usize, f64)> = spec.pours.iter().map(|p| (p.candidate, p.amount)).collect();
    pours.sort_by_key(|&(at, _)| at);
    let names = (card(brief, &pours), card(brief, &expected.pours));
    if !same(spec.score, expected.score) {
        return Err(format!("score {} ({}), not {} ({})", spec.score, names.0, expected.score, names.1));
    }
    if pours.iter().map(|&(at, _)| at).ne(expected.pours.iter().map(|&(at, _)| at)) {
        return Err(format!("{} in the place of {} at {}", names.0, names.1, spec.score));
    }
    let (glass, score) = judge(brief, &pours).map_err(|what| format!("{}: {what}", names.0))?;
    if !same(score, spec.score) {
        return Err(format!("{} scores {score}, not {}", names.0, spec.score));
    }
    if !same(glass.sums.cost, expected.cost) {
        return Err(format!("{} costs {}, and {} {}", names.0, glass.sums.cost, names.1, expected.cost));
    }
    let mut measures = Measure::BUILT_IN.to_vec();
    measures.extend((0..brief.properties.len()).map(Measure::Property));
    for measure in measures {
        let (shown, own) = (spec.served.value(measure), glass.value(brief, measure));
        if !same(shown, own) {
            return Err(format!("{}: {measure:?} {shown}, measured {own}", names.0));
        }
    }
    in_card_order(brief, spec)
}

/// What tops the drink up last; then by role, then most first, then by name.
fn in_card_order(brief: &Brief, spec: &Spec) -> Result<(), String> {
    for pair in spec.pours.windows(2) {
        let [a, b] = pair else { continue };
        let (first, second) = (&brief.candidates[a.candidate], &brief.candidates[b.candidate]);
        let last = |candidate: &Candidate| candidate.stage == Stage::Topped;
        let order = last(first)
            .cmp(&last(second))
            .then(first.role.cmp(&second.role))
            .then(b.amount.total_cmp(&a.amount))
            .then(first.name.cmp(&second.name));
        if order.is_gt() {
            return Err(format!("{} stands before {}", first.name, second.name));
        }
    }
    Ok(())
}

/// Free pours can do whatever steps can. Where nothing asks for a volume, the least of an amount is
/// nothing at all, which is no spec: there they may have no optimum.
fn free_is_no_worse(brief: &Brief, solved: &Solved, best: f64) -> Result<(), String> {
    let asks = brief.target(Measure::Volume).is_some_and(|t| t.min.is_some_and(|min| min > 0.0));
    if solved.unrounded.is_none() && !asks {
        return Ok(());
    }
    let free = solved.unrounded.as_ref().ok_or("free pours cannot meet the brief, yet steps can")?;
    // Each of the two meets its limits within a share of them of its own.
    let slack = 3.0 * SAME * best.abs();
    let worse = match brief.aim {
        Aim::Highest(_) | Aim::Notes => free.score < best - slack,
        Aim::Lowest(_) | Aim::Nearest(_) => free.score > best + slack,
    };
    if worse { Err(format!("free pours {}, steps {best}", free.score)) } else { Ok(()) }
}

fn same(a: f64, b: f64) -> bool {
    // Undefined in both (a ratio over nothing), or equal to within rounding.
    (a.is_nan() && b.is_nan()) || a == b || (a - b).abs() <= SAME * a.abs().max(b.abs()).max(1e-3)
}

fn card(brief: &Brief, pours: &[(usize, f64)]) -> String {
    let pours: Vec<String> =
        pours.iter().map(|&(at, amount)| format!("{amount} {}", brief.candidates[at].name)).collect();
    pours.join(" + ")
}

//! Conflicts, who is in play and what waits behind limits, against every pourable spec.

use std::collections::BTreeSet;
use std::sync::atomic::{AtomicUsize, Ordering};

use washline::brief::{Aim, Brief, Goal, Role, Side, Step};
use washline::explain::conflict::{Conflict, End, Relaxed, Route, Steps, conflict, conflict_of, kept};
use washline::explain::demand::Demand;
use washline::explain::in_play::in_play;
use washline::explain::loosen::{Change, changed};
use washline::read::read;
use washline::solve::{Ending, Stop, solve};

use crate::briefs::{Aims, seeded};
use crate::effort::one_in;
use crate::enumerator::{enumerate, judge};
use crate::exact::{over_both_cores, some};
use crate::universe::{Universe, irreducible, largest};

/// More combinations than this take too long.
const COMBINATIONS: f64 = 4e5;
/// How far a least value may be off: the search goes on only for what is better by 1e-8 of it.
const SAME: f64 = 3e-8;

pub fn same(a: f64, b: f64) -> bool {
    a == b || (a - b).abs() <= SAME * a.abs().max(b.abs()) + SAME
}

/// What enumeration says of a brief that cannot be met.
struct Expected {
    cores: Vec<u64>,
    /// For each demand the figure at which, alone changed, it lets something through; infinite where
    /// something comes through only without it.
    enough: Vec<Option<f64>>,
}

fn expected(universe: &Universe) -> Expected {
    let full = universe.full();
    let mut sets = BTreeSet::new();
    let mut enough: Vec<Option<f64>> = vec![None; universe.demands.len()];
    universe.walk(|poured| {
        sets.insert(poured.keeps);
        let missing = full & !poured.keeps;
        if missing.is_power_of_two() {
            let at = missing.trailing_zeros() as usize;
            let (value, side) = universe.figure(universe.demands[at], poured);
            let value = if value.is_nan() { f64::INFINITY } else { value };
            enough[at] = Some(match (enough[at], side) {
                (Some(old), _) if old.is_infinite() => value,
                (Some(old), Side::Min) if value.is_finite() => old.max(value),
                (Some(old), Side::Max) => old.min(value),
                (Some(old), _) => old,
                (None, _) => value,
            });
        }
    });
    Expected { cores: irreducible(universe.demands.len(), &largest(&sets)), enough }
}

/// Seeds whose briefs are small enough, demand few enough things, and end so.
pub fn small(seed: u64, aims: Aims) -> Option<Brief> {
    let brief = seeded(seed, aims).brief();
    let universe = Universe::new(&brief);
    (universe.combinations() <= COMBINATIONS && universe.demands.len() <= 16).then_some(brief)
}

#[test]
fn conflicts_agree_with_enumeration() {
    let (counted, unproved) = (AtomicUsize::new(0), AtomicUsize::new(0));
    over_both_cores(some(3000..4000, 16), |seed| {
        let aims = [Aims::Nearest, Aims::Plain, Aims::Plain, Aims::Notes][(seed % 4) as usize];
        let Some(brief) = small(seed, aims) else { return Ok(()) };
        if solve(&brief, &Stop::default()).ending != Ending::Conflict {
            return Ok(());
        }
        counted.fetch_add(1, Ordering::Relaxed);
        check_conflict(&brief, &unproved)
    });
    // The test would pass on nothing at all.
    let (counted, unproved) = (counted.into_inner(), unproved.into_inner());
    assert!(counted * one_in(16) >= 60, "only {counted} briefs conflict");
    assert!(20 * unproved <= counted, "of {counted} conflicts {unproved} have something unproved");
}

fn check_conflict(brief: &Brief, unproved: &AtomicUsize) -> Result<(), String> {
    let universe = Universe::new(brief);
    let expected = expected(&universe);
    let found = conflict_of(brief, universe.demands.clone(), &Stop::default());
    let proved = found.enough.iter().all(|c| c.proved) && found.relaxed.as_ref().is_none_or(|r| r.proved);
    unproved.fetch_add(usize::from(!proved), Ordering::Relaxed);
    let bit = |d: &Demand| universe.demands.iter().position(|o| o == d).expect("a demand");
    let mut cores: Vec<u64> =
        found.cores.iter().map(|core| core.iter().fold(0, |set, d| set | 1 << bit(d))).collect();
    cores.sort_unstable();
    if !found.complete || cores != expected.cores {
        return Err(format!("cores {cores:?}, complete {}, not {:?}", found.complete, expected.cores));
    }
    for (at, demand) in universe.demands.iter().enumerate() {
        check_enough(brief, *demand, expected.enough[at], &found)?;
    }
    check_clash(&universe, &found)?;
    check_relaxed(&universe, &found)
}

/// Beside the rest of the first core a target comes no nearer to its limit than is said, and not to it. (Largest
/// pours outside the core bind the enumeration alone.)
fn check_clash(universe: &Universe, found: &Conflict) -> Result<(), String> {
    let Some(clash) = found.clash else { return Ok(()) };
    let Demand::Target(at, side) = clash.demand else { return Err(format!("{clash:?} is of no target")) };
    let bit = |d: &Demand| universe.demands.iter().position(|o| o == d).map_or(0, |at| 1 << at);
    let rest = found.cores[0].iter().filter(|d| **d != clash.demand).fold(0, |set: u64, d| set | bit(d));
    let target = &universe.brief.targets[at];
    let sign = if side == Side::Min { 1.0 } else { -1.0 };
    let mut nearest = f64::NEG_INFINITY;
    universe.walk(|poured| {
        let value = sign * poured.glass.value(universe.brief, target.measure);
        if rest & !poured.keeps == 0 && value > nearest {
            nearest = value;
        }
    });
    let limit = sign * target.limit(side).ok_or("a target without the limit")?;
    let said = sign * clash.nearest;
    if nearest <= said + SAME * said.abs() && said < limit {
        return Ok(());
    }
    Err(format!("{clash:?} of {:?}: {} was poured, {limit} is asked", found.cores[0], sign * nearest))
}

fn check_enough(
    brief: &Brief,
    demand: Demand,
    expected: Option<f64>,
    found: &Conflict,
) -> Result<(), String> {
    let own: Vec<&Change> = found.enough.iter().filter(|c| c.demand == demand).collect();
    let wrong = || Err(format!("enough of {demand:?}: {own:?}, not {expected:?}"));
    match (expected, own.as_slice()) {
        (None, []) => Ok(()),
        (Some(value), [one]) if value.is_infinite() => {
            if one.needed.is_none() {
                Ok(())
            } else {
                wrong()
            }
        }
        (Some(volume), all) if demand == Demand::Glass && !all.is_empty() => {
            let glass = brief.serve.glass.expect("a glass");
            let fits = all.iter().all(|c| match c.target.as_str() {
                "headroom" => same(c.needed.unwrap_or(f64::NAN), 100.0 - 100.0 * volume / glass.brim),
                _ => same(c.needed.unwrap_or(f64::NAN), volume / (1.0 - glass.headroom / 100.0)),
            });
            let both = if volume <= glass.brim { 2 } else { 1 };
            if fits && all.len() == both { Ok(()) } else { wrong() }
        }
        (Some(value), [one]) if one.needed.is_some_and(|n| same(n, value)) => Ok(()),
        // Enough, but not proved to be the smallest.
        (Some(value), [one]) if !one.proved && one.needed.is_some_and(|n| looser(one.side, n, value)) => {
            Ok(())
        }
        _ => wrong(),
    }
}

/// Whether a figure goes further than another.
fn looser(side: Side, figure: f64, than: f64) -> bool {
    if side == Side::Min { figure <= than } else { figure >= than }
}

fn relative(change: &Change) -> f64 {
    let size = if change.asked == 0.0 { 1.0 } else { change.asked.abs() };
    change.needed.map_or(f64::INFINITY, |n| (n - change.asked).abs() / size)
}

/// Of which ingredients how much makes this drink: the aim's, and half of the reference's base.
fn stays(brief: &Brief) -> Vec<(usize, f64)> {
    let mut all = vec![];
    if let Aim::Highest(Goal::Ingredient(at)) = brief.aim {
        all.push((at, brief.candidates[at].least));
    }
    for pour in brief.reference.iter().flat_map(|reference| &reference.pours) {
        let candidate = &brief.candidates[pour.candidate];
        if let (Role::Base, Step::Every(step)) = (candidate.role, candidate.step.clone()) {
            let half = (pour.amount / 2.0 / step - 1e-6).ceil() * step;
            all.push((
                pour.candidate,
                candidate.most.map_or(half, |most| most.min(half)).max(candidate.least),
            ));
        }
    }
    all.retain(|(at, _)| !brief.candidates[*at].out);
    all
}

/// The least sum of relative misses of targets over specs that keep every rule and stay the drink.
fn stretched(universe: &Universe, drink: &[(usize, f64)]) -> f64 {
    let rules = universe.demands.iter().enumerate().filter(|(_, d)| !d.is_target());
    let rules = rules.fold(0, |set, (at, _)| set | 1 << at);
    let mut least = f64::INFINITY;
    universe.walk(|poured| {
        let same = drink.iter().all(|(at, amount)| poured.amounts[*at] >= amount - 1e-9);
        if same && rules & !poured.keeps == 0 {
            least = least.min(universe.missed(poured));
        }
    });
    least
}

/// Every way out can be poured, keeps what has to be used and the drink itself, and is a way of its own.
fn check_routes(brief: &Brief, drink: &[(usize, f64)], found: &Conflict) -> Result<(), String> {
    for (nth, Route { relaxed, keeps }) in found.routes.iter().enumerate() {
        let possible = relaxed.changes.iter().fold(brief.clone(), |b, c| changed(&b, c));
        let pours: Vec<(usize, f64)> = relaxed.spec.pours.iter().map(|p| (p.candidate, p.amount)).collect();
        judge(&possible, &pours).map_err(|what| format!("at {:?}: {what}", relaxed.changes))?;
        let poured = |at: usize| pours.iter().filter(|(c, _)| *c == at).map(|(_, a)| a).sum::<f64>();
        if *keeps && drink.iter().any(|(at, least)| poured(*at) < least - 1e-9) {
            return Err(format!("{drink:?} is given up by {relaxed:?}"));
        }
        if *keeps && relaxed.changes.iter().any(|c| matches!(c.demand, Demand::Must(_))) && nth > 0 {
            return Err(format!("a must gives way in {relaxed:?}"));
        }
        let demands = |route: &Route| route.relaxed.changes.iter().map(|c| c.demand).collect::<Vec<_>>();
        let own = demands(&found.routes[nth]);
        if found.routes[..nth].iter().any(|before| demands(before) == own) {
            return Err(format!("twice the same way: {own:?}"));
        }
    }
    Ok(())
}

fn check_relaxed(universe: &Universe, found: &Conflict) -> Result<(), String> {
    let brief = universe.brief;
    let drink = stays(brief);
    check_routes(brief, &drink, found)?;
    let kept_least = stretched(universe, &drink);
    // One rule alone may be a smaller change than any of targets; what has to be used gives way last.
    let rule = |c: &&Change| !c.demand.is_target() && !matches!(c.demand, Demand::Must(_));
    let rules = found.enough.iter().filter(rule).map(relative);
    let mut least = rules.fold(kept_least, f64::min);
    if least.is_infinite() {
        return Ok(());
    }
    let only_targets = |r: &Relaxed| r.changes.iter().all(|c| c.demand.is_target());
    if !drink.is_empty() {
        // Beside the drink a rule may have to move further than alone.
        least = match &found.relaxed {
            Some(relaxed) if relaxed.total <= kept_least && !only_targets(relaxed) => relaxed.total,
            _ => kept_least,
        };
    }
    let Some(relaxed) = &found.relaxed else {
        return if least.is_finite() { Err(format!("not relaxed, {least} would do")) } else { Ok(()) };
    };
    let possible = relaxed.changes.iter().fold(brief.clone(), |b, c| changed(&b, c));
    let pours: Vec<(usize, f64)> = relaxed.spec.pours.iter().map(|p| (p.candidate, p.amount)).collect();
    judge(&possible, &pours).map_err(|what| format!("at {:?}: {what}", relaxed.changes))?;
    let fits = same(relaxed.total, least) || (!relaxed.proved && relaxed.total >= least);
    if least.is_finite() && !fits {
        return Err(format!("relaxed by {} ({:?}), {least} would do", relaxed.total, relaxed.changes));
    }
    if matches!(brief.aim, Aim::Nearest(_)) {
        return Ok(());
    }
    let best = enumerate(&kept(&possible)).into_iter().next().ok_or("nothing at the relaxed limits")?;
    let score = relaxed.spec.score;
    if same(score, best.score) { Ok(()) } else { Err(format!("score {score} relaxed, not {}", best.score)) }
}

#[test]
fn reach_agrees_with_enumeration() {
    let (ends, unproved) = (AtomicUsize::new(0), AtomicUsize::new(0));
    over_both_cores(some(3000..3200, 6), |seed| {
        let Some(brief) = small(seed, Aims::Plain) else { return Ok(()) };
        if solve(&brief, &Stop::default()).ending != Ending::Conflict {
            return Ok(());
        }
        let universe = Universe::new(&brief);
        let rules = universe.demands.iter().enumerate().filter(|(_, d)| !d.is_target());
        let rules = rules.fold(0, |set, (at, _)| set | 1 << at);
        let found = conflict_of(&brief, universe.demands.clone(), &Stop::default());
        for reach in &found.reach {
            let (mut min, mut max) = (f64::INFINITY, f64::NEG_INFINITY);
            universe.walk(|poured| {
                let value = poured.glass.value(&brief, reach.measure);
                if rules & !poured.keeps == 0 && !value.is_nan() {
                    (min, max) = (min.min(value), max.max(value));
                }
            });
            // What is found is exact where that is proved, and never beyond what is proved.
            let fits = |end: &End, value: f64, inwards: bool| match end.found {
                Some(found) if same(found, end.beyond) => same(found, value),
                Some(found) if inwards => found >= value && end.beyond <= value,
                Some(found) => found <= value && end.beyond >= value,
                None => value.is_infinite(),
            };
            ends.fetch_add(2, Ordering::Relaxed);
            let proved = |end: &End| end.found.is_none_or(|found| same(found, end.beyond));
            let open = usize::from(!proved(&reach.min)) + usize::from(!proved(&reach.max));
            unproved.fetch_add(open, Ordering::Relaxed);
            if !fits(&reach.min, min, true) || !fits(&reach.max, max, false) {
                return Err(format!("{reach:?}, not {min} to {max}"));
            }
        }
        Ok(())
    });
    let (ends, unproved) = (ends.into_inner(), unproved.into_inner());
    let of = one_in(6);
    assert!(
        ends * of >= 200 && (of > 1 || 20 * unproved <= ends),
        "{unproved} of {ends} ends are not proved"
    );
}

#[test]
fn who_is_in_play_agrees_with_enumeration() {
    over_both_cores(some(5000..5300, 6), |seed| {
        let plan = seeded(seed, [Aims::Nearest, Aims::Plain, Aims::Plain, Aims::Notes][(seed % 4) as usize]);
        let brief = plan.brief();
        let solved = solve(&brief, &Stop::default());
        let found = enumerate(&brief);
        let Some(best) = found.first() else { return Ok(()) };
        let play = in_play(&brief, &solved, &Stop::default()).ok_or("nothing was proved")?;
        let band = 0.05 * best.score.abs() * (1.0 + 1e-9);
        let near: Vec<_> = found.iter().filter(|f| (f.score - best.score).abs() <= band).collect();
        let uses = |at: usize| near.iter().filter(|f| f.pours.iter().any(|(c, _)| *c == at)).count();
        let name = |at: usize| brief.candidates[at].name.clone();
        let those = |test: &dyn Fn(usize) -> bool| {
            brief.usable().filter(|at| test(*at)).map(name).collect::<Vec<_>>()
        };
        let always = those(&|at| uses(at) == near.len());
        let never = those(&|at| uses(at) == 0);
        let sometimes = those(&|at| (1..near.len()).contains(&uses(at)));
        if (&play.always, &play.sometimes, &play.never) == (&always, &sometimes, &never) {
            Ok(())
        } else {
            Err(format!("{play:?}, not {always:?} {sometimes:?} {never:?}"))
        }
    });
}

/// A brief as its text.
pub fn written(text: &str) -> Brief {
    read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief
}

/// By hand: with 1 g a litre has 9.4 to 10.5 g of acid in 95 to 105 ml, with 2 g it has 18.6 and more. Between
/// them lies 1.5 g, half a step, which goes with liquids in half of their 10 ml.
#[test]
fn a_smaller_step_of_a_powder_would_do() {
    let brief = written(
        "title = 'sour water'\ncurrency = 'GBP'\n[serve]\nmethod = 'none'\n[aim]\nto = 0\nlowest = 'volume'\n\
         [targets]\nvolume = { min = 95, max = 105 }\nacid = { min = 14, max = 16 }\n\
         [[candidate]]\nname = 'water'\nrole = 'water'\npour = '10 ml'\n\
         [[candidate]]\nlarder = 'citric acid'\npour = '1 g'\n",
    );
    assert_eq!(conflict(&brief, &Stop::default()).steps, Steps { in_the_way: true, smaller: Some(5.0) });
}

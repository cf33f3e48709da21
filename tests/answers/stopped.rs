//! A search that is stopped: what it shows is pourable, what it bounds is bounded, and it says that it
//! is not complete.

use std::time::Duration;

use washline::brief::{Aim, Goal, Measure, Pour};
use washline::explain::demand::Demand;
use washline::explain::explain;
use washline::model::{Model, Objective};
use washline::read::read;
use washline::search::seek;
use washline::solve::{AsGood, Ending, SearchLimits, SearchMode, Solved, Stop, solve};

use crate::enumerator::{enumerate, judge};
use crate::exact::compare;
use crate::hard::CORNERS;
use crate::plan::Plan;
use crate::shelf::shelf;

/// A shelf that takes a while.
fn long() -> Plan {
    let mut plan = shelf(120, 1);
    plan.answer.alternatives = 40;
    plan
}

fn holds(plan: &Plan, solved: &Solved) {
    let brief = plan.brief();
    for spec in &solved.specs {
        let pours: Vec<(usize, f64)> = spec.pours.iter().map(|p| (p.candidate, p.amount)).collect();
        let (_, score) = judge(&brief, &pours).expect("a spec that can be poured");
        assert!((score - spec.score).abs() <= 1e-9 * score);
        assert!(solved.bound.is_some_and(|bound| bound <= spec.score * (1.0 + 1e-9)));
    }
}

#[test]
fn stopped_before_it_starts() {
    let stop = Stop::default();
    stop.raise();
    let solved = solve(&long().brief(), &stop);
    assert_eq!(solved.ending, Ending::Stopped);
    assert!(!solved.complete);
    holds(&long(), &solved);
}

#[test]
fn stopped_on_the_way() {
    let plan = long();
    let brief = plan.brief();
    let stop = Stop::default();
    let solved = std::thread::scope(|scope| {
        scope.spawn(|| {
            std::thread::sleep(Duration::from_millis(30));
            stop.raise();
        });
        solve(&brief, &stop)
    });
    // A fast machine may be done by then; what is shown has to hold either way.
    assert!(solved.ending == Ending::Found || !solved.complete);
    holds(&plan, &solved);
    // The true best, found without haste, is not below the bound.
    let mut best = plan;
    best.answer.alternatives = 0;
    best.aim = Aim::Lowest(Goal::Measure(Measure::Cost));
    let whole = solve(&best.brief(), &Stop::default());
    assert_eq!(whole.ending, Ending::Found);
    assert!(solved.bound.is_none_or(|bound| bound <= whole.specs[0].score * (1.0 + 1e-9)));
}

/// Where many points are equally good the quick way through the simplex comes back to where it was; the
/// search went on for ever, and no stop was seen.
#[test]
fn equally_good_points_do_not_send_it_round_in_circles() {
    let brief = read(include_bytes!("circles.toml"), &[]).expect("a sound brief").brief;
    let solved = solve(&brief, &Stop::default());
    compare(&brief, &solved, &enumerate(&brief)).expect("the answer of enumeration");
    let why = explain(&brief, &solved, &Stop::default());
    assert!(why.in_play.is_some() && why.sensitivity.is_some());
}

/// An answer without what is measured of it, where an undefined figure would not equal itself.
#[derive(Debug, PartialEq)]
struct Told {
    ending: Ending,
    complete: bool,
    bound: Option<f64>,
    specs: Vec<(f64, Vec<Pour>)>,
}

fn told(solved: &Solved) -> Told {
    let specs = solved.specs.iter().map(|spec| (spec.score, spec.pours.clone())).collect();
    Told { ending: solved.ending, complete: solved.complete, bound: solved.bound, specs }
}

/// The same effort, whatever it is enough for: the same answer, and nothing that the whole search
/// contradicts. What is called found although not everything was searched is the best.
#[test]
fn stopped_after_an_effort() {
    for seed in [1, 2, 5] {
        let brief = shelf(30, seed).brief();
        let whole = solve(&brief, &Stop::default());
        let best = whole.specs[0].score;
        for effort in [20_000, 200_000, 1_000_000, 4_000_000, 16_000_000] {
            let solved = solve(&brief, &Stop::after(effort));
            assert_eq!(told(&solved), told(&solve(&brief, &Stop::after(effort))));
            assert!(solved.bound.is_none_or(|bound| bound <= best * (1.0 + 1e-9)));
            if solved.ending == Ending::Found {
                assert_eq!(told(&solved).specs[0], told(&whole).specs[0]);
            }
            if solved.complete {
                assert_eq!(told(&solved), told(&whole));
            }
        }
    }
}

/// No corner goes on for ever: what is not proved is called stopped, with a spec and a bound.
#[test]
fn hard_corners_are_cut_off_with_a_bound() {
    for (name, make) in CORNERS {
        let solved = solve(&make(30, 1), &Stop::after(20_000_000));
        let scores: Vec<f64> = solved.specs.iter().map(|spec| spec.score).collect();
        match solved.ending {
            Ending::Stopped => {
                assert!(!solved.complete, "{name}");
                assert!(solved.bound.is_some_and(|b| scores.iter().all(|s| b <= s * (1.0 + 1e-9))), "{name}");
            }
            Ending::Found => assert!(!scores.is_empty(), "{name}"),
            Ending::Conflict => assert!(scores.is_empty() && solved.complete, "{name}"),
        }
    }
}

/// The mechanism behind `--time-limit`: once the flag is up nothing more is asked. Not a limit is followed, no
/// price, nothing behind a limit; and what was not looked at is not called proved.
#[test]
fn a_raised_flag_ends_the_reasons_too() {
    let raised = Stop::default();
    raised.raise();
    for plan in [shelf(30, 1), shelf(250, 1)] {
        let brief = plan.brief();
        let mut solved = solve(&brief, &Stop::after(16_000_000));
        // As if it had been proved just in time.
        solved.ending = Ending::Found;
        let why = explain(&brief, &solved, &raised);
        assert!(why.sensitivity.is_none() && why.in_play.is_none() && why.next.found.is_empty());
        assert_eq!(why.next.open, Demand::all(&brief));
    }
    // No shaken drink has that.
    let nothing = shelf(30, 1).with(Measure::Strength, 60.0, None);
    let brief = nothing.brief();
    let solved = Solved {
        ending: Ending::Conflict,
        specs: vec![],
        bound: None,
        complete: true,
        unrounded: None,
        as_good: AsGood::default(),
    };
    let conflict = explain(&brief, &solved, &raised).conflict.expect("a conflict, as far as it is known");
    assert!(!conflict.complete, "{conflict:?}");
}

/// Reasons are made of hundreds of searches: none of them sets out any more, and none calls that a proof.
#[test]
fn a_raised_flag_keeps_a_search_from_setting_out() {
    let raised = Stop::default();
    raised.raise();
    let brief = shelf(30, 1).brief();
    let model = Model::new(&brief);
    for quest in [SearchMode::Ordered, SearchMode::Least, SearchMode::Any] {
        let search_limits = SearchLimits { stop: &raised, nodes: u64::MAX };
        let found = seek(&model, &Objective::of(&model), quest, None, search_limits);
        assert!(found.nodes == 0 && !found.complete && found.entries.is_empty(), "{quest:?}: {found:?}");
        // Anything may be better.
        assert_eq!(found.bound, f64::NEG_INFINITY);
    }
}

/// A long shelf is explained where a change is near; of the rest it is said that it was not looked at.
#[test]
fn a_long_shelf_is_explained_in_part() {
    let mut plan = shelf(150, 3);
    plan.answer.alternatives = 0;
    let brief = plan.brief();
    let solved = solve(&brief, &Stop::default());
    assert_eq!(solved.ending, Ending::Found);
    let sensitivity = explain(&brief, &solved, &Stop::default()).sensitivity.expect("free pours");
    let used = sensitivity.prices.iter().filter(|p| p.used).count();
    let poured = solved.unrounded.as_ref().map_or(0, |free| free.pours.len());
    assert_eq!(used, poured, "what is used is always among them");
    assert_eq!(sensitivity.prices.len() + sensitivity.unasked, 150);
    // 60·60/150 of them.
    assert_eq!(sensitivity.prices.len(), 24);
    let order = |prices: &[usize]| prices.is_sorted();
    assert!(order(&sensitivity.prices.iter().map(|p| p.candidate).collect::<Vec<_>>()));
}

//! Published programs as briefs: every variable an ingredient that is poured, every row and the
//! objective a property of the serve. So a textbook's optimum is reached by our own model, our own
//! free pours and, where the variables are whole, our own search.

use washline::brief::{Aim, Brief, Goal, Measure, Per, Property, Role, Step, Target};
use washline::liquid::Label;
use washline::solve::{Ending, Stop, solve};

use crate::cases::{Case, Row, Sense, all};
use crate::plan::{Item, Plan};

/// Cases whose amounts are of the size of a drink, and how many of the program's units are a ml. None
/// with balance rows (a sum that is to be exactly nothing): a limit is met within a share of itself.
const POURABLE: [(&str, f64); 12] = [
    ("ampl_diet", 1.0),
    ("ampl_diet2_infeasible", 1.0),
    ("ampl_diet2a", 1.0),
    ("ampl_diet_equality", 1.0),
    ("blending_petfood_full", 1.0),
    ("blending_petfood_simplified", 1.0),
    ("glpk_plan_alloy", 10.0),
    ("ibm_alloy", 100.0),
    ("ibm_icecream", 1.0),
    ("lp_solve_sensitivity_doc", 1.0),
    ("stigler_1945", 0.01),
    ("wyndor_glass", 1.0),
];

/// The program as a brief; the last property is the objective.
fn brief(case: &Case, scale: f64) -> Brief {
    let rows = &case.rows;
    let property = |name: &str| Property { name: name.to_owned(), unit: "units".to_owned(), per: Per::Serve };
    let mut plan = Plan::of(case.names.iter().map(|name| ingredient(name)).collect());
    plan.pour = 1.0;
    plan.properties = rows.iter().map(|row| property(&row.name)).collect();
    plan.properties.push(property("objective"));
    let goal = Goal::Measure(Measure::Property(rows.len()));
    plan.aim = match case.sense {
        Sense::Min => Aim::Lowest(goal),
        Sense::Max => Aim::Highest(goal),
    };
    plan.answer.alternatives = 0;
    let finite = |bound: f64| bound.is_finite().then_some(bound);
    let per_litre = 1000.0 * scale;
    plan.targets = rows
        .iter()
        .enumerate()
        .map(|(at, row)| Target {
            measure: Measure::Property(at),
            min: finite(row.lower),
            max: finite(row.upper),
        })
        .filter(|target| target.min.is_some() || target.max.is_some())
        .collect();
    for (at, item) in plan.items.iter_mut().enumerate() {
        let coefficient =
            |row: &Row| row.coefficients.iter().filter(|(v, _)| *v == at).map(|(_, c)| c * per_litre).sum();
        item.carries = rows.iter().map(coefficient).collect();
        item.carries.push(case.costs[at] * per_litre);
        item.max = finite(case.upper[at] / scale);
    }
    let mut brief = plan.brief();
    for (at, candidate) in brief.candidates.iter_mut().enumerate() {
        assert!(case.lower[at] >= 0.0, "{}: amounts of less than nothing", case.name);
        candidate.must = case.lower[at] > 0.0;
        candidate.least = (case.lower[at] / scale).max(if case.integer[at] { 1.0 } else { 0.0 });
        candidate.step = if case.integer[at] { Step::Every(1.0) } else { Step::Free };
    }
    brief
}

fn ingredient(name: &str) -> Item {
    Item::liquid(name, Role::Lengthener, Label::default(), 0)
}

fn found<'a>(cases: &'a [Case], name: &str) -> &'a Case {
    cases.iter().find(|case| case.name == name).expect("a case")
}

#[track_caller]
fn near(name: &str, value: f64, verified: f64) {
    let close = (value - verified).abs() <= 1e-7 * verified.abs().max(1.0);
    assert!(close, "{name}: {value}, not {verified}");
}

/// Free pours. Sources and printed figures stand in the case files.
#[test]
fn textbook_optima_with_free_pours() {
    let cases = all();
    for (name, scale) in POURABLE {
        let case = found(&cases, name);
        // Only the free pours are asked for: the search for steps is stopped before it starts.
        let stop = Stop::default();
        stop.raise();
        let free = solve(&brief(case, scale), &stop).unrounded.map(|free| case.offset + free.score);
        match (case.verified, free) {
            (Some(verified), Some(free)) => near(name, free, verified),
            (expected, free) => assert_eq!(expected, free, "{name}"),
        }
    }
}

/// The search in steps: a diet in whole packages (119.30 in the book), and a pet food of 60 g of beef
/// and 40 g of jelly in 100 g (0.52), which whole grams can meet as well as free ones.
#[test]
fn textbook_optima_in_steps() {
    let cases = all();
    for name in ["ampl_diet2a_integer", "blending_petfood_full"] {
        let mut case = found(&cases, name).clone();
        case.integer.fill(true);
        let solved = solve(&brief(&case, 1.0), &Stop::default());
        assert_eq!(solved.ending, Ending::Found, "{name}");
        near(name, case.offset + solved.specs[0].score, case.verified.expect("an optimum"));
    }
    // The book's infeasible diet stays so in whole packages.
    let mut case = found(&cases, "ampl_diet2_infeasible").clone();
    case.integer.fill(true);
    assert_eq!(solve(&brief(&case, 1.0), &Stop::default()).ending, Ending::Conflict);
}

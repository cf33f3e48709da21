//! What must not change an answer: the order of the candidates, their names, candidates that cannot
//! be used, the currency's size, the units of the file. On seeded briefs small and large.

use std::fmt::Write as _;

use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed};
use rand::SeedableRng;
use rand::seq::SliceRandom;
use rand_pcg::Pcg64Mcg;
use washline::brief::{Aim, Brief, Goal, Measure, Nearest, Per, Pour, Role, Target};
use washline::liquid::{Form, Label};
use washline::read::read;
use washline::solve::{Solved, Spec, Stop, solve};

use crate::briefs::{Aims, seeded};
use crate::plan::{Item, Members, Plan};
use crate::shelf::shelf;

/// Relative difference of two scores that are the same.
const SAME: f64 = 1e-9;

fn config() -> Config {
    Config { cases: 60, failure_persistence: None, rng_seed: RngSeed::Fixed(20_261_125), ..Config::default() }
}

/// A small brief of any kind, or a shelf.
fn plan(seed: u64) -> Plan {
    if seed.is_multiple_of(8) { shelf(15, seed) } else { seeded(seed, Aims::Plain) }
}

/// An answer without indices: how it ended, and of every spec its score, cost and ingredients.
#[derive(Debug)]
struct Told {
    ending: String,
    specs: Vec<(f64, f64, Vec<String>)>,
}

fn told(brief: &Brief) -> Told {
    let solved = solve(brief, &Stop::default());
    let spec = |spec: &Spec| {
        let mut names: Vec<String> =
            spec.pours.iter().map(|p| brief.candidates[p.candidate].name.clone()).collect();
        names.sort();
        (spec.score, spec.served.cost, names)
    };
    Told { ending: format!("{:?}", solved.ending), specs: solved.specs.iter().map(spec).collect() }
}

fn near(a: f64, b: f64) -> bool {
    a == b || (a - b).abs() <= SAME * a.abs().max(b.abs()).max(1e-3)
}

/// The same, the scores `by_score` and the costs `by_cost` times as large.
fn agree(a: &Told, b: &Told, by_score: f64, by_cost: f64) -> Result<(), TestCaseError> {
    prop_assert_eq!(&a.ending, &b.ending);
    prop_assert_eq!(a.specs.len(), b.specs.len());
    for (a, b) in a.specs.iter().zip(&b.specs) {
        prop_assert!(near(a.0 * by_score, b.0) && near(a.1 * by_cost, b.1), "{a:?} and {b:?}");
        prop_assert_eq!(&a.2, &b.2);
    }
    Ok(())
}

/// The plan with its candidates in another order: `order[new] = old`.
fn reordered(plan: &Plan, order: &[usize]) -> Plan {
    let new = |old: usize| order.iter().position(|&o| o == old).expect("a place");
    let mut moved = plan.clone();
    moved.items = order.iter().map(|&old| plan.items[old].clone()).collect();
    for rule in &mut moved.proportions {
        (rule.of, rule.to) = (new(rule.of), new(rule.to));
    }
    for group in &mut moved.choose {
        if let Members::Among(all) = &mut group.members {
            for at in all.iter_mut() {
                *at = new(*at);
            }
        }
    }
    moved.aim = match plan.aim {
        Aim::Lowest(Goal::Ingredient(at)) => Aim::Lowest(Goal::Ingredient(new(at))),
        Aim::Highest(Goal::Ingredient(at)) => Aim::Highest(Goal::Ingredient(new(at))),
        other => other,
    };
    moved
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn the_order_of_candidates_does_not_matter(seed in 0_u64..100_000, shuffle in any::<u64>()) {
        let plan = plan(seed);
        let mut order: Vec<usize> = (0..plan.items.len()).collect();
        order.shuffle(&mut Pcg64Mcg::seed_from_u64(shuffle));
        agree(&told(&plan.brief()), &told(&reordered(&plan, &order).brief()), 1.0, 1.0)?;
    }

    /// New names that sort as the old ones: the same answer under them.
    #[test]
    fn names_do_not_matter(seed in 0_u64..100_000) {
        let plan = plan(seed);
        let mut renamed = plan.clone();
        for item in &mut renamed.items {
            item.name = format!("the {}, house's own", item.name);
        }
        let mut expected = told(&plan.brief());
        for (_, _, names) in &mut expected.specs {
            for name in names.iter_mut() {
                *name = format!("the {name}, house's own");
            }
        }
        agree(&expected, &told(&renamed.brief()), 1.0, 1.0)?;
    }

    /// One that is out, one that fits into no glass, one that would come in only at a higher price.
    #[test]
    fn candidates_that_cannot_be_used_do_not_matter(seed in 0_u64..100_000) {
        let plan = plan(seed);
        let mut more = plan.clone();
        let mut copy = plan.items[0].clone();
        (copy.name, copy.out, copy.must) = ("a copy".to_owned(), true, false);
        more.items.push(copy);
        let mut whole = Item::liquid("a bottle", Role::Lengthener, Label::default(), 100);
        (whole.min, whole.max) = (Some(5000.0), Some(5000.0));
        whole.carries = vec![0.0; plan.properties.len()];
        more.items.push(whole);
        prop_assume!(capped(&plan));
        agree(&told(&plan.brief()), &told(&more.brief()), 1.0, 1.0)?;
    }

    /// A dearer double of an ingredient changes nothing about the cheapest spec.
    #[test]
    fn a_dearer_double_does_not_matter(seed in 0_u64..100_000, at in any::<prop::sample::Index>()) {
        let mut plan = plan(seed);
        plan.aim = Aim::Lowest(Goal::Measure(Measure::Cost));
        plan.answer.alternatives = 0;
        // A drink that has to cost something may want the dearer one.
        plan.targets.retain(|t| !matches!(t.measure, Measure::Cost | Measure::PourCost));
        // Rules on counts and on the one ingredient speak of the double too: leave them out.
        plan.choose.clear();
        plan.proportions.clear();
        plan.most = None;
        let at = at.index(plan.items.len());
        prop_assume!(capped(&plan) && plan.items[at].label.form == Form::Liquid);
        // Two may pour more than one: the volume is to be the only bound.
        plan.items[at].max = None;
        let mut double = plan.items[at].clone();
        double.name += ", dearer";
        double.cents = double.cents * 2 + 1;
        double.must = false;
        plan.items.iter_mut().for_each(|item| item.must = false);
        let mut more = plan.clone();
        more.items.push(double);
        agree(&limited(&plan), &limited(&more), 1.0, 1.0)?;
    }

    /// Everything that is money, three times as large.
    #[test]
    fn the_currency_does_not_matter(seed in 0_u64..100_000) {
        let plan = plan(seed);
        let mut dear = plan.clone();
        dear.items.iter_mut().for_each(|item| item.cents *= 3);
        if let Some(menu) = &mut dear.menu {
            menu.price *= 3.0;
        }
        for target in dear.targets.iter_mut().filter(|t| t.measure == Measure::Cost) {
            target.min = target.min.map(|min| min * 3.0);
            target.max = target.max.map(|max| max * 3.0);
        }
        let money = matches!(plan.aim, Aim::Lowest(Goal::Measure(Measure::Cost)) | Aim::Highest(Goal::Measure(Measure::Cost)));
        agree(&told(&plan.brief()), &told(&dear.brief()), if money { 3.0 } else { 1.0 }, 3.0)?;
    }

    /// The file in centilitres, and in US fluid ounces.
    #[test]
    fn units_of_the_file_do_not_matter(seed in 0_u64..100_000) {
        let plan = plan(seed);
        let text = plan.toml();
        let meant = told(&plan.brief());
        for (unit, factor) in [("cl", 10.0), ("fl oz", 29.573_529_562_5)] {
            let other = in_units(&text, unit, factor);
            let reading = read(other.as_bytes(), &[]);
            prop_assert!(reading.is_ok(), "{reading:?}\n{other}");
            agree(&meant, &told(&reading.expect("checked").brief), 1.0, 1.0)?;
        }
    }

    /// Twice the drink: everything that counts what is in one serve doubled, and what is per litre kept.
    /// Doubling is exact in binary, so that even ties stay ties.
    #[test]
    fn twice_the_drink_is_twice_of_everything(seed in 0_u64..100_000) {
        let plan = plan(seed);
        let by_score = match plan.aim {
            Aim::Lowest(Goal::Measure(m)) | Aim::Highest(Goal::Measure(m)) if !of_a_serve(&plan, m) => 1.0,
            Aim::Nearest(Nearest::Middle) => 1.0,
            _ => 2.0,
        };
        agree(&told(&plan.brief()), &told(&doubled(&plan).brief()), by_score, 2.0)?;
    }

    /// Solving is a function: twice the same, to the last bit.
    #[test]
    fn twice_is_the_same(seed in 0_u64..100_000) {
        let brief = plan(seed).brief();
        let bits = |solved: &Solved| {
            let pours = |pours: &[Pour]| pours.iter().map(|p| (p.candidate, p.amount.to_bits())).collect::<Vec<_>>();
            let specs: Vec<_> = solved.specs.iter().map(|s| (s.score.to_bits(), pours(&s.pours))).collect();
            let free = solved.unrounded.as_ref().map(|s| (s.score.to_bits(), pours(&s.pours)));
            (specs, free, solved.bound.map(f64::to_bits))
        };
        let stop = Stop::default();
        prop_assert_eq!(bits(&solve(&brief, &stop)), bits(&solve(&brief, &stop)));
    }
}

/// Whether a measure counts what is in one serve.
fn of_a_serve(plan: &Plan, measure: Measure) -> bool {
    match measure {
        Measure::Property(at) => plan.properties[at].per == Per::Serve,
        Measure::Strength | Measure::Sugar | Measure::Sweetness | Measure::Acid | Measure::SugarAcid => false,
        Measure::Volume
        | Measure::Cost
        | Measure::PourCost
        | Measure::Energy
        | Measure::Ethanol
        | Measure::Melt
        | Measure::Level => true,
    }
}

/// The plan of a drink twice as large, from a jigger and a glass twice as large.
fn doubled(plan: &Plan) -> Plan {
    let mut twice = plan.clone();
    let double = |value: &mut Option<f64>| *value = value.map(|v| 2.0 * v);
    twice.pour *= 2.0;
    double(&mut twice.smallest);
    if let Some(glass) = &mut twice.glass {
        glass.brim *= 2.0;
    }
    for item in &mut twice.items {
        [&mut item.pour, &mut item.min, &mut item.max].into_iter().for_each(double);
    }
    for at in 0..twice.targets.len() {
        if of_a_serve(plan, twice.targets[at].measure) {
            let target = &mut twice.targets[at];
            [&mut target.min, &mut target.max].into_iter().for_each(double);
        }
    }
    twice.reference.iter_mut().for_each(|pour| pour.amount *= 2.0);
    for hold in &mut twice.hold {
        hold.within *= if of_a_serve(plan, hold.measure) { 2.0 } else { 1.0 };
    }
    twice
}

/// Whether something says how much the drink may be.
fn capped(plan: &Plan) -> bool {
    let most = |t: &Target| t.measure == Measure::Volume && t.max.is_some();
    plan.glass.is_some() || plan.targets.iter().any(most)
}

/// The best spec's score alone: a double may stand in for the original where both cost nothing.
fn limited(plan: &Plan) -> Told {
    let mut told = told(&plan.brief());
    told.specs.iter_mut().for_each(|(_, _, names)| names.clear());
    told
}

/// Every `… ml"` of a file in another unit.
fn in_units(text: &str, unit: &str, factor: f64) -> String {
    let mut out = String::new();
    for (at, piece) in text.split(" ml\"").enumerate() {
        if at > 0 {
            let _ = write!(out, " {unit}\"");
        }
        let number = piece.rfind(|c: char| !(c.is_ascii_digit() || c == '.')).map_or(0, |at| at + 1);
        match piece[number..].parse::<f64>() {
            Ok(ml) if text.split(" ml\"").count() > at + 1 => {
                out += &piece[..number];
                let _ = write!(out, "{:?}", ml / factor);
            }
            _ => out += piece,
        }
    }
    out
}

//! Corners of the figures and of the search: limits that touch or are missed by a hair, prices and amounts
//! far apart in size, liquids at the ends of what there is, aims at nothing. Each is enumerated by the second
//! physics; where a pencil knows more, that stands beside it.

use washline::brief::{Aim, Goal, Measure, Per, Property, Role};
use washline::liquid::{Form, Label, Method};
use washline::solve::{Ending, Solved, Stop, solve};

use crate::briefs::{Aims, seeded};
use crate::enumerator::enumerate;
use crate::exact::check;
use crate::glass;
use crate::plan::{Group, Item, Members, Plan};

/// The aim is the cost and the cost has to lie within a range: where that range is broken, no pivot costs
/// anything, and each ties with every other. The simplex went round in a circle here, and the search
/// asked it again for ever.
#[test]
fn a_plateau_of_equal_costs_is_searched_to_its_end() {
    let mut plan = seeded(57_730, Aims::Plain);
    let mut copy = plan.items[0].clone();
    (copy.name, copy.out, copy.must) = ("a copy".to_owned(), true, false);
    plan.items.push(copy);
    let mut whole = Item::liquid("a bottle", Role::Lengthener, Label::default(), 100);
    (whole.min, whole.max) = (Some(5000.0), Some(5000.0));
    plan.items.push(whole);
    check(&plan).expect("the enumerator's answer");
}

fn item(name: &str, role: Role, label: Label, cents: u32) -> Item {
    Item::liquid(name, role, label, cents)
}

fn spirit(strength: f64) -> Item {
    item("spirit", Role::Base, Label { strength, ..Label::default() }, 1400)
}

/// Spirit, lime, syrup and water, shaken, in 5 ml steps.
fn sour() -> Plan {
    let lime = item("lime", Role::Sour, Label { acid: 60.0, sugar: 10.0, ..Label::default() }, 350);
    let syrup = item("syrup", Role::Sweetener, Label { sugar: 620.0, ..Label::default() }, 210);
    let mut plan = Plan::of(vec![spirit(40.0), lime, syrup, item("water", Role::Water, Label::default(), 0)]);
    plan.method = Method::Shake;
    plan.with(Measure::Volume, 90.0, 130.0)
}

/// Measures whose limits are moved to the very value of a spec.
const MEASURES: [Measure; 8] = [
    Measure::Volume,
    Measure::Strength,
    Measure::Sugar,
    Measure::Acid,
    Measure::SugarAcid,
    Measure::Cost,
    Measure::Energy,
    Measure::Melt,
];

/// 40 ml of spirit, 20 of lime, 15 of syrup, 5 of water.
const SPEC: [(usize, f64); 4] = [(0, 40.0), (1, 20.0), (2, 15.0), (3, 5.0)];

/// What the spec measures, by the second physics.
fn measured(plan: &Plan, measure: Measure) -> f64 {
    let brief = plan.brief();
    glass::measure(&brief, SPEC).value(&brief, measure)
}

fn is_the_spec(solved: &Solved) -> bool {
    let best = solved.specs.first();
    best.is_some_and(|best| {
        best.pours.len() == SPEC.len() && best.pours.iter().all(|p| SPEC.contains(&(p.candidate, p.amount)))
    })
}

/// Least and most at the same value: each measure alone, then all at once, which only that one spec meets.
#[test]
fn limits_that_touch() {
    let mut all = sour();
    for measure in MEASURES {
        let value = measured(&sour(), measure);
        check(&sour().with(measure, value, value)).unwrap_or_else(|what| panic!("{measure:?}: {what}"));
        all = all.with(measure, value, value);
    }
    assert!(is_the_spec(&solve(&all.brief(), &Stop::default())));
    check(&all).expect("the one spec");
}

/// Within a thousand-millionth of a limit it is met, twice as far it is not (the contract: 1e-9, relative).
#[test]
fn a_limit_missed_by_a_hair() {
    let ratios = [Measure::Strength, Measure::Sugar, Measure::Acid];
    // The spec is the only one with these three measures at once: a pencil sees that three ratios of four
    // amounts leave one size, and the volume leaves one of those.
    let fixed = |plan: Plan| {
        ratios.into_iter().chain([Measure::Volume]).fold(plan, |plan, m| {
            let value = measured(&sour(), m);
            plan.with(m, value * (1.0 - 1e-6), value * (1.0 + 1e-6))
        })
    };
    assert!(is_the_spec(&solve(&fixed(sour()).brief(), &Stop::default())));
    for measure in MEASURES {
        let value = measured(&sour(), measure);
        for (by, met) in [(0.5e-9, true), (2e-9, false)] {
            let least = fixed(sour()).with(measure, value * (1.0 + by), None);
            let most = fixed(sour()).with(measure, None, value * (1.0 - by));
            for plan in [least, most] {
                let solved = solve(&plan.brief(), &Stop::default());
                assert_eq!(is_the_spec(&solved), met, "{measure:?} missed by {by}");
                assert!(met || solved.ending == Ending::Conflict, "{measure:?} missed by {by}");
                check(&plan).unwrap_or_else(|what| panic!("{measure:?} missed by {by}: {what}"));
            }
        }
    }
}

/// A penny and ten thousand pounds a bottle.
#[test]
fn prices_over_six_orders_of_magnitude() {
    for aim in [Measure::Cost, Measure::Strength] {
        let mut plan = sour().with(Measure::Strength, 8.0, 16.0).with(Measure::Acid, 5.0, 12.0);
        for (item, cents) in plan.items.iter_mut().zip([1_000_000, 1, 700, 0]) {
            item.cents = cents;
        }
        plan.items.push(item(
            "rare spirit",
            Role::Base,
            Label { strength: 60.0, ..Label::default() },
            90_000_000,
        ));
        plan.items.push(item("well spirit", Role::Base, Label { strength: 37.5, ..Label::default() }, 13));
        (plan.pour, plan.most) = (10.0, Some(4));
        plan.aim = Aim::Lowest(Goal::Measure(aim));
        check(&plan).expect("the enumerator's answer");
    }
}

/// 0.1 g of a powder beside half a litre of juice: a step of one is a two-thousandth of the other's amount.
#[test]
fn a_pinch_beside_half_a_litre() {
    let powder = |name: &str, label: Label, most: f64| {
        let mut powder = item(name, Role::Seasoning, Label { form: Form::Powder, ..label }, 900);
        (powder.pour, powder.max, powder.pack) = (Some(0.1), Some(most), 1000);
        powder
    };
    let mut juice =
        item("juice", Role::Lengthener, Label { sugar: 100.0, acid: 6.0, ..Label::default() }, 200);
    (juice.pour, juice.max) = (Some(25.0), Some(600.0));
    let mut spirit = spirit(40.0);
    spirit.max = Some(60.0);
    let acid = powder("acid", Label { acid: 1000.0, ..Label::default() }, 1.5);
    let sugar = powder("sugar", Label { sugar: 1000.0, ..Label::default() }, 0.8);
    let mut plan = Plan::of(vec![juice, spirit, acid, sugar]).with(Measure::Volume, 520.0, 560.0);
    plan.pour = 10.0;
    let plan =
        plan.with(Measure::Acid, 7.0, 7.6).with(Measure::Sugar, 90.0, 95.0).with(Measure::Strength, 2.0, 3.0);
    let solved = solve(&plan.brief(), &Stop::default());
    let pinch = solved.specs.first().and_then(|best| best.pours.iter().find(|p| p.candidate == 2));
    // By hand: 500 ml with 6 g/L are 3 g; 7 g/L of some 530 ml are 3.7 g.
    assert!(pinch.is_some_and(|p| (0.6..=1.1).contains(&p.amount)), "{pinch:?}");
    check(&plan).expect("the enumerator's answer");
}

/// Rectified spirit, beyond every fit of the melt; brine, heavier than its sugar says; and both at once.
#[test]
fn ninety_six_percent_and_brine() {
    let brine = Label { density: Some(1.15), ..Label::default() };
    for (method, melt) in [
        (Method::Shake, None),
        (Method::Stir, None),
        (Method::Build, None),
        (Method::None, None),
        (Method::Blend, Some(80.0)),
    ] {
        for aim in [Measure::Strength, Measure::Cost, Measure::Volume] {
            let mut plan = sour();
            (plan.method, plan.melt) = (method, melt);
            plan.items[0] = spirit(96.0);
            let mut drops = item("brine", Role::Seasoning, brine, 100);
            (drops.pour, drops.max) = (Some(0.8), Some(4.0));
            plan.items.push(drops);
            plan.items[3].max = Some(20.0);
            plan.aim = Aim::Highest(Goal::Measure(aim));
            check(&plan).unwrap_or_else(|what| panic!("{method:?} {aim:?}: {what}"));
        }
    }
}

/// Drinks without alcohol, asked for as such: a limit of nothing, that all meet or one breaks.
#[test]
fn drinks_of_no_strength() {
    for most in [0.0, 1e-12] {
        for aim in [Measure::Strength, Measure::Ethanol, Measure::Energy, Measure::SugarAcid, Measure::Cost] {
            let mut plan = sour().with(Measure::Strength, None, most).with(Measure::Acid, 4.0, 9.0);
            plan.aim = Aim::Lowest(Goal::Measure(aim));
            check(&plan).unwrap_or_else(|what| panic!("{aim:?} {most}: {what}"));
            plan.items[0].must = true;
            let solved = solve(&plan.brief(), &Stop::default());
            assert_eq!(solved.ending, Ending::Conflict, "a drink with spirit has no strength");
        }
    }
}

/// The same thing five times under other names: every order among them is the contract's, by name.
#[test]
fn candidates_that_are_all_the_same() {
    let mut plan = Plan::of(vec![]).with(Measure::Volume, 30.0, 30.0);
    for name in ["e", "c", "a", "d", "b"] {
        plan.items.push(item(name, Role::Lengthener, Label { sugar: 50.0, ..Label::default() }, 100));
    }
    plan.pour = 10.0;
    plan.answer.alternatives = 12;
    check(&plan).expect("the enumerator's answer");
    let brief = plan.brief();
    let solved = solve(&brief, &Stop::default());
    let sets: Vec<String> = solved
        .specs
        .iter()
        .map(|spec| {
            let mut names: Vec<&str> =
                spec.pours.iter().map(|p| brief.candidates[p.candidate].name.as_str()).collect();
            names.sort_unstable();
            names.concat()
        })
        .collect();
    // By hand: all cost the same, so fewer come first, then the names.
    assert_eq!(sets, ["a", "b", "c", "d", "e", "ab", "ac", "ad", "ae", "bc", "bd", "be", "cd"]);
}

/// Nothing to aim at: all is free, or what is aimed at is in nothing. The order is that of the ties.
#[test]
fn aims_at_nothing() {
    let mut free = sour().with(Measure::Strength, 10.0, 14.0);
    free.items.iter_mut().for_each(|item| item.cents = 0);
    check(&free).expect("the enumerator's answer");
    let mut absent = sour().with(Measure::Strength, 10.0, 14.0);
    absent.properties =
        vec![Property { name: "caffeine".to_owned(), unit: "mg".to_owned(), per: Per::Serve }];
    absent.items.iter_mut().for_each(|item| item.carries = vec![0.0]);
    for aim in
        [Aim::Lowest(Goal::Measure(Measure::Property(0))), Aim::Highest(Goal::Measure(Measure::Property(0)))]
    {
        absent.aim = aim;
        check(&absent).unwrap_or_else(|what| panic!("{aim:?}: {what}"));
    }
    let mut nothing = sour().with(Measure::Strength, 10.0, 14.0);
    nothing.items[1].max = Some(15.0);
    nothing.choose = vec![Group { members: Members::Among(vec![1]), min: None, max: Some(0) }];
    for aim in [Aim::Lowest(Goal::Ingredient(1)), Aim::Highest(Goal::Ingredient(1))] {
        nothing.aim = aim;
        check(&nothing).unwrap_or_else(|what| panic!("{aim:?}: {what}"));
        assert!(enumerate(&nothing.brief()).iter().all(|found| found.score == 0.0));
    }
}

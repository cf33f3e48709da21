//! The enumerator, its physics and the seeded briefs themselves, on questions that can be answered
//! with a pencil or a printed table.

use washline::brief::{Aim, Goal, Hold, Measure, Nearest, Pour, Proportion, Role};
use washline::liquid::{Form, Label, Method};

use crate::briefs::{Aims, seeded};
use crate::enumerator::{Found, enumerate};
use crate::glass;
use crate::plan::{Group, Item, Members, Plan};

#[track_caller]
fn near(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} within {tolerance}");
}

/// Names and amounts, in the brief's order.
fn card(plan: &Plan, found: &Found) -> String {
    let pours: Vec<String> =
        found.pours.iter().map(|&(at, amount)| format!("{amount} {}", plan.items[at].name)).collect();
    pours.join(" + ")
}

fn cards(plan: &Plan) -> Vec<String> {
    enumerate(&plan.brief()).iter().map(|found| card(plan, found)).collect()
}

fn liquid(name: &str, label: Label, cents: u32) -> Item {
    let mut item = Item::liquid(name, Role::Lengthener, label, cents);
    item.pack = 100;
    item
}

/// Still water at 1 p and tonic-like water at 2 p a millilitre, 20 ml of them in all.
fn two_waters() -> Plan {
    let items = vec![liquid("dear", Label::default(), 200), liquid("cheap", Label::default(), 100)];
    Plan::of(items).with(Measure::Volume, 20.0, 20.0)
}

#[test]
fn three_sets_in_the_order_of_their_cost() {
    let plan = two_waters();
    assert_eq!(cards(&plan), ["20 cheap", "5 dear + 15 cheap", "20 dear"]);
    let found = enumerate(&plan.brief());
    for (found, cost) in found.iter().zip([0.20, 0.25, 0.40]) {
        near(found.cost, cost, 1e-12);
        near(found.score, cost, 1e-12);
    }
}

#[test]
fn a_tie_goes_to_the_cheaper() {
    let mut plan = two_waters();
    plan.aim = Aim::Highest(Goal::Measure(Measure::Volume));
    assert_eq!(cards(&plan), ["20 cheap", "5 dear + 15 cheap", "20 dear"]);
    plan.items[1].cents = 200;
    // Now all cost the same: fewer ingredients first, then the names.
    assert_eq!(cards(&plan)[..2], ["20 cheap", "20 dear"]);
}

#[test]
fn every_rule_takes_out_what_it_says() {
    let mut most = two_waters();
    most.most = Some(1);
    assert_eq!(cards(&most), ["20 cheap", "20 dear"]);

    let mut must = two_waters();
    must.items[0].must = true;
    assert_eq!(cards(&must), ["5 dear + 15 cheap", "20 dear"]);

    let mut out = two_waters();
    out.items[1].out = true;
    assert_eq!(cards(&out), ["20 dear"]);

    let mut choose = two_waters();
    choose.choose = vec![Group { members: Members::Role(Role::Lengthener), min: Some(2), max: None }];
    assert_eq!(cards(&choose), ["5 dear + 15 cheap"]);

    let mut smallest = two_waters();
    smallest.smallest = Some(7.5);
    assert_eq!(cards(&smallest), ["20 cheap", "10 dear + 10 cheap", "20 dear"]);

    let mut capped = two_waters();
    capped.items[1].max = Some(12.0);
    assert_eq!(cards(&capped), ["10 dear + 10 cheap", "20 dear"]);

    let mut step = two_waters();
    step.items[0].pour = Some(2.5);
    step.items[1].pour = Some(2.5);
    assert_eq!(cards(&step), ["20 cheap", "2.5 dear + 17.5 cheap", "20 dear"]);

    let mut nothing = two_waters();
    nothing.items[0].min = Some(25.0);
    nothing.items[1].max = Some(15.0);
    assert!(cards(&nothing).is_empty());
}

#[test]
fn a_proportion_with_none_of_its_base_allows_none_of_the_other() {
    let mut at_most = two_waters();
    at_most.proportions = vec![Proportion { of: 1, to: 0, min: None, max: Some(1.0) }];
    assert_eq!(cards(&at_most), ["10 dear + 10 cheap", "20 dear"]);
    let mut at_least = two_waters();
    at_least.proportions = vec![Proportion { of: 0, to: 1, min: Some(0.5), max: None }];
    assert_eq!(cards(&at_least), ["10 dear + 10 cheap", "20 dear"]);
}

#[test]
fn the_glass_takes_its_brim_less_the_headroom() {
    let mut plan = two_waters();
    plan.targets.clear();
    plan.glass = Some(washline::brief::Glass { brim: 20.0, headroom: 5.0, ice: 0.0 });
    plan.aim = Aim::Highest(Goal::Measure(Measure::Volume));
    assert_eq!(cards(&plan)[0], "15 cheap");
}

/// European Pharmacopoeia / OIML R 22, densities at 20 °C: 0.94805 at 40 % vol, 0.97356 at 20 % vol,
/// 0.99820 for water. 100 ml come down to 20 % vol in 200 ml with 200 × 0.97356 - 100 × 0.94805 =
/// 99.907 g of water, 100.09 ml: half of it, 50 ml to 50 ml of spirit, is not quite enough.
#[test]
fn spirit_and_water_contract() {
    let mut spirit = liquid("spirit", Label { strength: 40.0, ..Label::default() }, 100);
    spirit.min = Some(50.0);
    spirit.max = Some(50.0);
    spirit.must = true;
    let mut water = liquid("water", Label::default(), 0);
    water.max = Some(60.0);
    let mut plan = Plan::of(vec![spirit, water]).with(Measure::Strength, None, 20.0);
    plan.pour = 1.0;
    plan.aim = Aim::Highest(Goal::Measure(Measure::Strength));
    let found = enumerate(&plan.brief());
    assert_eq!(card(&plan, &found[0]), "50 spirit + 51 water");
    // With 50 ml: (94.805 + 99.820)/2 g at 0.97356 would be 99.956 ml at 20 % vol; the strength is
    // 20 % vol by 20 ml of ethanol in 99.956 ml, to the density's last digit 20.009.
    let brief = plan.brief();
    let glass = glass::measure(&brief, [(0, 50.0), (1, 50.0)]);
    near(glass.volume, 99.956, 0.003);
    near(glass.value(&brief, Measure::Strength), 20.009, 0.001);
}

/// CRC Handbook, 102nd ed.: 10 % mass of sucrose is 1.0381 g/ml, so 10 g in 90 g of water (90.16 ml)
/// make 96.33 ml with 103.81 g/L.
#[test]
fn sugar_by_weight_takes_up_its_volume() {
    let mut sugar = Item::liquid(
        "sugar",
        Role::Sweetener,
        Label { form: Form::Powder, sugar: 1000.0, ..Label::default() },
        100,
    );
    sugar.pour = Some(0.5);
    sugar.max = Some(20.0);
    let brief = Plan::of(vec![sugar, liquid("water", Label::default(), 1)]).brief();
    let glass = glass::measure(&brief, [(0, 10.0), (1, 90.0 / 0.998_201_23)]);
    near(glass.volume, 96.33, 0.02);
    near(glass.value(&brief, Measure::Sugar), 103.81, 0.02);
    assert_eq!(glass.sums.poured, 90.0 / 0.998_201_23);
    // EU 1169/2011 Annex XIV: 4 kcal/g.
    near(glass.value(&brief, Measure::Energy), 40.0, 1e-12);
}

/// Arnold, *Liquid Intelligence* (2014) p. 123: without strength 0.203 shaken, 0.145 stirred, 0.24
/// built; at 30 % vol shaken -1.567 × 0.09 + 1.742 × 0.3 + 0.203 = 0.58457.
#[test]
fn ice_melts_by_the_method() {
    let spirit = liquid("spirit", Label { strength: 30.0, ..Label::default() }, 100);
    let mut plan = Plan::of(vec![liquid("water", Label::default(), 1), spirit]);
    for (method, melt) in
        [(Method::Shake, 20.3), (Method::Stir, 14.5), (Method::Build, 24.0), (Method::None, 0.0)]
    {
        plan.method = method;
        let glass = glass::measure(&plan.brief(), [(0, 100.0)]);
        near(glass.melt, melt, 1e-12);
        near(glass.volume, 100.0 + melt, 1e-9);
    }
    plan.method = Method::Shake;
    near(glass::measure(&plan.brief(), [(1, 100.0)]).melt, 58.457, 1e-9);
    plan.melt = Some(45.0);
    near(glass::measure(&plan.brief(), [(1, 100.0)]).melt, 45.0, 1e-12);
}

#[test]
fn money_by_pack_yield_and_menu() {
    let mut plan = two_waters();
    plan.items[0].yielded = 0.5;
    plan.menu = Some(washline::brief::Menu { price: 12.0, tax: 20.0 });
    let brief = plan.brief();
    // 5 ml at 2 p, half of it lost, and 15 ml at 1 p: 35 p of a net price of 10.00.
    let glass = glass::measure(&brief, [(0, 5.0), (1, 15.0)]);
    near(glass.value(&brief, Measure::Cost), 0.35, 1e-12);
    near(glass.value(&brief, Measure::PourCost), 3.5, 1e-12);
}

#[test]
fn nearest_counts_what_is_poured_differently() {
    let mut plan = two_waters();
    plan.aim = Aim::Nearest(Nearest::Reference);
    plan.reference = vec![Pour { candidate: 0, amount: 10.0 }, Pour { candidate: 1, amount: 5.0 }];
    let found = enumerate(&plan.brief());
    // Two specs are 5 ml away: 10 + 10 and 15 + 5; the cheaper is first.
    assert_eq!(card(&plan, &found[0]), "10 dear + 10 cheap");
    near(found[0].score, 5.0, 1e-12);
    plan.targets.clear();
    plan.hold = vec![Hold { measure: Measure::Volume, within: 0.0 }];
    assert_eq!(cards(&plan)[0], "10 dear + 5 cheap");
}

#[test]
fn the_middle_is_judged_over_the_half_width() {
    let mut plan = two_waters();
    plan.targets.clear();
    plan = plan.with(Measure::Volume, 10.0, 30.0).with(Measure::Cost, 0.10, 0.50);
    plan.aim = Aim::Nearest(Nearest::Middle);
    // The middles are 20 ml and 30 p: 10 of each hit both.
    let found = enumerate(&plan.brief());
    assert_eq!(card(&plan, &found[0]), "10 dear + 10 cheap");
    near(found[0].score, 0.0, 1e-12);
    // 20 ml of the cheap one are 10 p off over 20 p; 25 ml are 5 ml over 10 ml and 5 p over 20 p off.
    near(found[1].score, 0.5, 1e-12);
}

/// How the seeded briefs turn out: enough of them can be met, and enough cannot.
#[test]
fn seeded_briefs_are_a_fair_mix() {
    let met = |aims| (0..100).filter(|&seed| !enumerate(&seeded(seed, aims).brief()).is_empty()).count();
    for aims in [Aims::Plain, Aims::Nearest] {
        let count = met(aims);
        assert!((55..=85).contains(&count), "{aims:?}: {count} of 100 can be met");
    }
}

//! The main job checked from outside: published answers reached by solving a brief.

use washline::brief::{Aim, Brief, Goal, Measure, Role, Step};
use washline::liquid::{Form, Label, Method, energy, ethanol};
use washline::solve::{Ending, Solved, Stop, solve};

use crate::plan::{Item, Plan};

const SIXTY_FAHRENHEIT: f64 = (60.0 - 32.0) * 5.0 / 9.0;

#[track_caller]
fn near(what: &str, value: f64, published: f64, tolerance: f64) {
    assert!((value - published).abs() <= tolerance, "{what}: {value} is not {published} within {tolerance}");
}

fn liquid(name: &str, role: Role, label: Label) -> Item {
    Item::liquid(name, role, label, 100)
}

/// Always exactly so much of it.
fn fixed(mut item: Item, amount: f64) -> Item {
    (item.min, item.max, item.must) = (Some(amount), Some(amount), true);
    item
}

/// With any amounts at all.
fn freely(mut brief: Brief) -> Brief {
    for candidate in &mut brief.candidates {
        candidate.step = Step::Free;
        candidate.least = if candidate.must { candidate.least } else { 0.0 };
    }
    brief
}

/// How much of the candidate the best spec pours.
#[track_caller]
fn poured(brief: &Brief, solved: &Solved, name: &str) -> f64 {
    assert_eq!(solved.ending, Ending::Found);
    let at = brief.find(name).expect("a candidate");
    solved.specs[0].pours.iter().find(|p| p.candidate == at).map_or(0.0, |p| p.amount)
}

/// 100 ml of spirit, and as little water as brings it down.
fn dilution(from: f64, to: f64) -> Plan {
    let spirit = liquid("spirit", Role::Base, Label { strength: from, ..Label::default() });
    let mut water = liquid("water", Role::Water, Label::default());
    water.max = Some(500.0);
    let mut plan = Plan::of(vec![fixed(spirit, 100.0), water]).with(Measure::Strength, None, to);
    plan.pour = 0.1;
    plan.aim = Aim::Highest(Goal::Measure(Measure::Strength));
    plan
}

/// Densities at 20 °C in g/ml, European Pharmacopoeia / OIML R 22, as printed.
fn printed_density(percent: f64) -> f64 {
    match percent {
        0.0 => 0.998_20,
        20.0 => 0.973_56,
        30.0 => 0.962_21,
        40.0 => 0.948_05,
        50.0 => 0.930_14,
        60.0 => 0.909_11,
        80.0 => 0.859_27,
        95.0 => 0.811_38,
        _ => panic!("no printed density at {percent} % vol"),
    }
}

/// ml of water to 100 ml, by masses from the printed densities. They are rounded at 5 mg/L: over the
/// litre that 95 % vol becomes at 20 % vol that is 475 × 5e-6 + 100 × 5e-6 g, 0.003 ml.
fn by_printed_densities(from: f64, to: f64) -> f64 {
    (100.0 * from / to * printed_density(to) - 100.0 * printed_density(from)) / printed_density(0.0)
}

/// The same from the formula, at any temperature.
fn by_formula(from: f64, to: f64, celsius: f64) -> f64 {
    let density =
        |percent: f64| ethanol::density_at(ethanol::mass_fraction_at(percent / 100.0, celsius), celsius);
    (100.0 * from / to * density(to) - 100.0 * density(from)) / density(0.0)
}

/// US Gauging Manual, alcohol dilution table (read in a reprint): volumes of water to 100 volumes at
/// 60 °F, with half the last printed digit (and a tenth of it, as in `physics.rs`).
const GAUGING_MANUAL: [(f64, f64, f64, f64); 9] = [
    (95.0, 40.0, 144.0, 0.55),
    (95.0, 50.0, 95.9, 0.055),
    (60.0, 40.0, 51.4, 0.055),
    (50.0, 40.0, 25.6, 0.055),
    (40.0, 20.0, 100.0, 0.5),
    (95.0, 20.0, 382.0, 0.5),
    (80.0, 40.0, 104.0, 0.5),
    (40.0, 30.0, 33.5, 0.055),
    (50.0, 20.0, 150.6, 0.055),
];

/// A brief works at 20 °C and the table at 60 °F. So: the answer in 0.1 ml steps is the first step at
/// or over what the masses ask for at 20 °C; with free pours it is that amount itself; and moved by
/// what the formula gives between the two temperatures, it is the table's figure to its last digit.
#[test]
fn gauging_manual_by_solving() {
    for (from, to, table, digit) in GAUGING_MANUAL {
        let what = format!("water from {from} to {to} % vol");
        let brief = dilution(from, to).brief();
        let stepped = poured(&brief, &solve(&brief, &Stop::default()), "water");
        let asked = by_printed_densities(from, to);
        // 0.003 ml for the printed densities.
        assert!((-0.003..0.103).contains(&(stepped - asked)), "{what}: {stepped} for {asked}");
        near(
            &format!("{what}, in steps"),
            (stepped * 10.0).fract().min(1.0 - (stepped * 10.0).fract()),
            0.0,
            1e-6,
        );

        let brief = freely(brief);
        let free = poured(&brief, &solve(&brief, &Stop::default()), "water");
        near(&format!("{what}, free"), free, asked, 0.003);
        let warmth = by_formula(from, to, 20.0) - by_formula(from, to, SIXTY_FAHRENHEIT);
        near(&format!("{what}, at 60 °F"), free - warmth, table, digit);
        // And the two temperatures are close enough for a bar: a fifth of a per cent.
        assert!(warmth.abs() <= 0.002 * free, "{what}: {warmth} between 60 °F and 20 °C");
    }
}

/// A spirits trade body's guidance on energy labels in the European Union: a liqueur of 15 % vol with
/// 100 g/L of sugar has 123 kcal and 513 kJ in 100 ml. Here the liqueur is made from spirit, sugar
/// and water by solving for its strength, sugar and volume.
#[test]
fn energy_of_a_liqueur_by_solving() {
    let sugar = Item::liquid(
        "sugar",
        Role::Sweetener,
        Label { form: Form::Powder, sugar: 1000.0, ..Label::default() },
        100,
    );
    let spirit = liquid("spirit", Role::Base, Label { strength: 96.0, ..Label::default() });
    let plan = Plan::of(vec![spirit, sugar, liquid("water", Role::Water, Label::default())])
        .with(Measure::Volume, 100.0, 100.0)
        .with(Measure::Strength, 15.0, 15.0)
        .with(Measure::Sugar, 100.0, 100.0);
    let brief = freely(plan.brief());
    let solved = solve(&brief, &Stop::default());
    assert_eq!(solved.ending, Ending::Found);
    let served = &solved.specs[0].served;
    near("kcal", served.value(Measure::Energy), 123.0, 0.5);
    let drink = &served.drink;
    near("kJ", energy::kilojoule(drink.masses.ethanol, drink.sugars, drink.masses.acid), 513.0, 0.6);
    near("sugar", poured(&brief, &solved, "sugar"), 10.0, 1e-6);
    // 15 ml of ethanol stand in 15.625 ml of a 96 % vol spirit.
    near("spirit", poured(&brief, &solved, "spirit"), 15.625, 1e-6);
}

/// A sour of two ounces of spirit and three quarters each of lime and of syrup (1:1 by weight, 614.8
/// g/L), the book's proportions from memory; the book's lime has 60 g/L of acid. The lime's 17 g/L
/// of sugars are a food table's.
fn sour(method: Method) -> Plan {
    let items = vec![
        fixed(liquid("rum", Role::Base, Label { strength: 40.0, ..Label::default() }), 60.0),
        fixed(liquid("lime", Role::Sour, Label { sugar: 17.0, acid: 60.0, ..Label::default() }), 22.5),
        fixed(liquid("syrup", Role::Sweetener, Label { sugar: 614.8, ..Label::default() }), 22.5),
    ];
    let mut plan = Plan::of(items);
    plan.method = method;
    plan.pour = 2.5;
    plan
}

/// The family of shaken drinks in Arnold, *Liquid Intelligence* (2014) pp. 125-126 (as quoted): as
/// served 15.0 to 19.7 % vol, 5.0 to 8.9 g of sugar and 0.76 to 0.94 g of acid in 100 ml, each end
/// with half its last printed digit.
fn in_the_family(plan: Plan) -> Plan {
    plan.with(Measure::Strength, 14.95, 19.75).with(Measure::Sugar, 49.5, 89.5).with(
        Measure::Acid,
        7.55,
        9.45,
    )
}

#[test]
fn a_shaken_sour_lands_in_its_family() {
    let brief = in_the_family(sour(Method::Shake)).brief();
    let solved = solve(&brief, &Stop::default());
    assert_eq!(solved.ending, Ending::Found);
    assert_eq!(solved.specs[0].pours.len(), 3);
    // Without the ice it is far outside: the melt is what brings it in.
    let brief = in_the_family(sour(Method::None)).brief();
    assert_eq!(solve(&brief, &Stop::default()).ending, Ending::Conflict);
}

/// And the other way round: asked for the family's ranges and the strongest drink in them, the search
/// comes back with a sour. How strong it can be follows by hand: the least lime is 7.55/60 = 0.1258 of
/// the glass, the least syrup (49.5 - 0.1258 × 17)/614.8 = 0.0770. What is poured is 1/(1 + D) of the
/// glass; at A = 0.273 the fit gives D = 0.562, so 0.640 of the glass is poured, 0.437 of it rum, which
/// is A = 0.4 × 0.437/0.640 = 0.273 again: 17.5 % vol. A step of rum is 0.6 % vol, contraction 0.1.
#[test]
fn the_strongest_of_the_family() {
    let mut plan = in_the_family(sour(Method::Shake)).with(Measure::Volume, 150.0, 170.0);
    for item in &mut plan.items {
        (item.min, item.max, item.must) = (None, None, false);
    }
    plan.aim = Aim::Highest(Goal::Measure(Measure::Strength));
    let brief = plan.brief();
    let solved = solve(&brief, &Stop::default());
    let rum = poured(&brief, &solved, "rum");
    let lime = poured(&brief, &solved, "lime");
    let syrup = poured(&brief, &solved, "syrup");
    assert!((16.9..=17.65).contains(&solved.specs[0].score), "{}", solved.specs[0].score);
    // Rum to lime and syrup to lime, from the ends of the ranges.
    assert!((2.37..=3.93).contains(&(rum / lime)), "{rum} {lime} {syrup}");
    let (least, most) = ((60.0 * 49.5 / 9.45 - 17.0) / 614.8, (60.0 * 89.5 / 7.55 - 17.0) / 614.8);
    assert!((least..=most).contains(&(syrup / lime)), "{rum} {lime} {syrup}");
}

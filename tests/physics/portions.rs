//! Portions and drinks worked out by hand: the arithmetic around the physics.

use washline::liquid::{
    Dilution, Drink, Form, Label, LabelFault, Masses, Method, Portion, Stage, energy, ethanol, sucrose,
};

#[track_caller]
fn same(what: &str, value: f64, by_hand: f64) {
    assert!((value - by_hand).abs() <= 1e-9, "{what}: {value} is not {by_hand}");
}

/// EU 1169/2011, Annex XIV: 7, 4 and 3 kcal, and 29, 17 and 13 kJ, a gram.
#[test]
fn energy_adds_up() {
    same("kcal", energy::kcal(10.0, 20.0, 5.0), 70.0 + 80.0 + 15.0);
    same("kJ", energy::kilojoule(10.0, 20.0, 5.0), 290.0 + 340.0 + 65.0);
}

/// A litre of a liqueur of 20 % vol with 100 g of sugars, 50 g of polyols, 10 g of acid and 80 kcal from
/// cream.
#[test]
fn a_millilitre_of_a_liqueur_with_polyols() {
    let liqueur = Label {
        strength: 20.0,
        sugar: 100.0,
        polyols: 50.0,
        acid: 10.0,
        sweetness: 1.2,
        polyol_sweetness: 0.6,
        polyol_energy: 2.0,
        other_energy: 80.0,
        ..Label::default()
    };
    let portion = liqueur.portion().expect("a liqueur");
    same("ethanol", portion.masses.ethanol, 0.2 * ethanol::PURE);
    same("sweet solids", portion.masses.solids, 0.15);
    same("acid", portion.masses.acid, 0.01);
    same("sugars", portion.sugars, 0.1);
    same("sweetness", portion.sweet, 0.1 * 1.2 + 0.05 * 0.6);
    let kcal = 7.0 * 0.2 * 0.789_239_123_3 + 4.0 * 0.1 + 3.0 * 0.01 + 2.0 * 0.05 + 0.08;
    same("energy", portion.energy, kcal);
    same("poured", portion.poured, 1.0);
    same("strength", portion.strength, 0.2);
    same("mass", portion.mass, portion.masses.ethanol + portion.masses.water + 0.15 + 0.01);
}

/// A kilogram with 600 g of sugars, 300 g of polyols and 100 g of acid.
#[test]
fn a_gram_of_a_powder() {
    let powder = Label {
        form: Form::Powder,
        sugar: 600.0,
        polyols: 300.0,
        acid: 100.0,
        polyol_sweetness: 0.5,
        ..Label::default()
    };
    let portion = powder.portion().expect("a powder");
    let masses = Masses { solids: 0.9, acid: 0.1, ..Masses::default() };
    assert_eq!((portion.masses, portion.poured, portion.strength, portion.mass), (masses, 0.0, 0.0, 1.0));
    same("sugars", portion.sugars, 0.6);
    same("sweetness", portion.sweet, 0.6 + 0.15);
    same("energy", portion.energy, 4.0 * 0.6 + 3.0 * 0.1 + 2.4 * 0.3);
}

#[test]
fn a_powder_may_be_all_sugar_and_no_more() {
    let powder = |sugar, polyols| Label { form: Form::Powder, sugar, polyols, ..Label::default() }.portion();
    assert!(powder(1000.0, 0.0).is_ok());
    assert_eq!(powder(700.0, 400.0), Err(LabelFault::OverfullPowder(1.1)));
}

/// Pure spirit fills its millilitre with nothing to spare: it can be bottled.
#[test]
fn pure_spirit_needs_no_water() {
    let portion = Label { strength: 100.0, ..Label::default() }.portion().expect("spirit");
    same("water", portion.masses.water, 0.0);
}

/// A gram of sugar in a millilitre that weighs a gram leaves no room for water, which is not too heavy; but
/// the sugar alone takes 1/1.5519 ml (the sucrose polynomial at mass fraction 1: 998.20 + 553.71 kg/m³), and
/// nothing explains the rest.
#[test]
fn a_density_that_nothing_explains() {
    let Err(LabelFault::ImpossibleDensity(excess)) =
        (Label { sugar: 1000.0, density: Some(1.0), ..Label::default() }).portion()
    else {
        panic!("refused for its density");
    };
    assert!((excess - (1.0 - 1.0 / 1.5519)).abs() < 1e-4, "{excess}");
    same("the sugar alone", excess, 1.0 - 1.0 / sucrose::density(1.0));
}

#[test]
fn a_rule_of_the_ice_can_be_shifted() {
    assert_eq!(Dilution::Share(0.25).shifted(0.5), Dilution::Share(0.75));
    assert_eq!(Dilution::Share(0.25).shifted(-0.5), Dilution::Share(0.0));
    let rule = Dilution::of(Method::Shake, None).expect("a rule");
    for strength in [0.0, 0.2, 0.9] {
        same("more ice", rule.shifted(0.05).at(strength), rule.at(strength) + 0.05);
    }
}

/// Shaken: -1.567 A² + 1.742 A + 0.203, so its slope is -3.134 A + 1.742 up to the turning point.
#[test]
fn the_slope_of_a_rule_of_the_ice() {
    let rule = Dilution::of(Method::Shake, None).expect("a rule");
    same("at 20 % vol", rule.slope(0.2), 1.1152);
    same("before any spirit", rule.slope(0.0), 1.742);
    assert!(Dilution::Share(0.25).slope(0.2) == 0.0);
    for (method, poured, melt) in
        [(Method::Build, 100.0, 24.0), (Method::None, 100.0, 0.0), (Method::Stir, 100.0, 14.5)]
    {
        let water = Label::default().portion().expect("water");
        let drink = Drink::of([(&water, poured)], Dilution::of(method, None).expect("a rule"));
        same("melt of water", drink.melt, melt);
    }
}

/// Two portions of invented figures, 50 of one and 20 of the other, half as much water again from the ice.
#[test]
fn portions_add_up_to_a_drink() {
    let one = Portion {
        masses: Masses { ethanol: 0.3, water: 0.6, solids: 0.1, acid: 0.02 },
        excess: 0.04,
        poured: 1.0,
        worked: 1.0,
        stage: Stage::Made,
        heat: 0.0,
        strength: 0.4,
        sugars: 0.08,
        sweet: 0.09,
        energy: 2.5,
        mass: 1.02,
    };
    let two = Portion {
        masses: Masses { ethanol: 0.1, water: 0.7, solids: 0.3, acid: 0.05 },
        excess: 0.01,
        poured: 1.0,
        worked: 1.0,
        stage: Stage::Made,
        heat: 0.0,
        strength: 0.1,
        sugars: 0.2,
        sweet: 0.3,
        energy: 1.5,
        mass: 1.15,
    };
    let drink = Drink::of([(&one, 50.0), (&two, 20.0)], Dilution::Share(0.5));
    same("poured", drink.poured, 70.0);
    same("strength before the ice", drink.worked_strength, (20.0 + 2.0) / 70.0);
    same("melt", drink.melt, 35.0);
    same("ethanol", drink.masses.ethanol, 15.0 + 2.0);
    same("water", drink.masses.water, 30.0 + 14.0 + 35.0 * 0.998_201_23);
    same("solids", drink.masses.solids, 5.0 + 6.0);
    same("acid", drink.masses.acid, 1.0 + 1.0);
    same("sugars", drink.sugars, 4.0 + 4.0);
    same("sweetness", drink.sweet, 4.5 + 6.0);
    same("energy", drink.energy, 125.0 + 30.0);
    same("volume", drink.volume, drink.masses.volume() + 2.0 + 0.2);
    same("strength", drink.strength(), 100.0 * 17.0 / 0.789_239_123_3 / drink.volume);
}

/// An empty glass has no strength, and one that holds only powder no melt: never infinite, never by chance.
#[test]
fn empty_glasses_and_dry_ones() {
    let empty = Drink::of([], Dilution::Share(0.5));
    assert_eq!((empty.volume, empty.melt, empty.worked_strength), (0.0, 0.0, 0.0));
    assert!(empty.per_volume(1.0).is_nan() && empty.strength().is_nan());
    let powder = Label { form: Form::Powder, acid: 1000.0, ..Label::default() }.portion().expect("a powder");
    let dry = Drink::of([(&powder, 2.0)], Dilution::of(Method::Shake, None).expect("a rule"));
    assert_eq!((dry.melt, dry.worked_strength), (0.0, 0.0));
    // Acid alone: 0.597 ml a gram (CRC Handbook, 102nd ed.), whatever is added to it.
    same("volume", dry.volume, 2.0 * 0.597);
    let partial = dry.masses.partial_volumes();
    assert!([partial.ethanol, partial.water, partial.solids].iter().all(|v| v.is_finite()), "{partial:?}");
    same("acid", partial.acid, 0.597);
}

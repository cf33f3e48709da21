//! The data file against published figures, each with its source.

use super::tests::entry;
use super::*;
use crate::liquid::acid::Acid;

/// g of ethanol in 100 g.
fn alcohol_by_mass(entry: &Entry) -> f64 {
    let portion = entry.label.portion().expect("a liquid");
    100.0 * portion.masses.ethanol / portion.mass
}

#[test]
fn spirits_weigh_out_as_the_food_tables_say() {
    // USDA SR26 NDB 14051 and Canadian Nutrient File 2952 (40 % vol: 33.4), 2934 (47 % vol: 39.7).
    for (name, published) in [("vodka", 33.4), ("light rum", 33.4), ("gin", 33.4), ("gin 47%", 39.7)] {
        assert!((alcohol_by_mass(entry(name)) - published).abs() < 0.15, "{name}");
    }
}

#[test]
fn cassis_weighs_out_as_its_food_table_says() {
    // CIQUAL 1021: 41.0 g sugars and 12.3 g alcohol in 100 g. The density is ours.
    let cassis = entry("crème de cassis");
    let portion = cassis.label.portion().expect("a liquid");
    assert!((alcohol_by_mass(cassis) - 12.3).abs() < 0.1);
    assert!((100.0 * portion.sugars / portion.mass - 41.0).abs() < 0.3);
}

#[test]
fn port_weighs_more_than_its_alcohol_and_sugar_by_an_ordinary_extract() {
    // IVDP: 90 g/L at 1.018, 130 g/L at 1.034 g/ml. Dry extract of red wine: 15 to 35 g/L (from
    // memory), of which each gram displaces about 0.6 ml of water.
    let port = entry("ruby port");
    for (sugar, published) in [(90.0, 1.018), (130.0, 1.034)] {
        let bare = Label { sugar, acid: 0.0, density: None, ..port.label }.portion().expect("a liquid").mass;
        let extract = 1000.0 * (published - bare) / (1.0 - 0.6);
        assert!((15.0..35.0).contains(&extract), "{extract}");
    }
    let read = 1.018 + (port.label.sugar - 90.0) / 40.0 * 0.016;
    assert!((port.label.density.unwrap_or_default() - read).abs() < 0.0005);
}

#[test]
fn citrus_acid_lies_where_it_was_measured() {
    // Penniston 2008, J Endourol 22(3):567-570, fresh juices, citric by ion chromatography, mean and
    // SD: lemon 48.0, 3.82; lime 45.86, 6.86 (malic not measured); orange 9.10, 1.98.
    for (name, mean, sd) in
        [("lemon juice", 48.0, 3.82), ("lime juice", 45.86, 6.86), ("orange juice", 9.10, 1.98)]
    {
        let juice = entry(name);
        let range = juice.natural.acid.expect("a range");
        assert!((juice.label.acid - mean).abs() < 2.0 * sd, "{name}");
        assert!(range.min <= mean - 2.0 * sd + 0.5 && mean + 2.0 * sd <= range.max, "{name} {range:?}");
    }
}

#[test]
fn honey_is_as_sour_and_as_sweet_as_it_was_measured() {
    // White 1962, USDA Technical Bulletin 1261, n=490: total acid 29.1 meq/kg (8.7 to 59.5); fructose
    // 38.2, glucose 31.3, maltose 7.3, sucrose 1.3 %. USDA SR26: 339 g a cup of 236.6 ml.
    let honey = entry("honey");
    let density = honey.label.density.expect("a density");
    assert!((density - 339.0 / 236.588).abs() < 0.003);
    let citric = |meq: f64| meq / 1000.0 * Acid::Citric.equivalent() * density;
    let range = honey.natural.acid.expect("a range");
    assert!((honey.label.acid - citric(29.1)).abs() < 0.05);
    assert!((range.min - citric(8.7)).abs() < 0.1 && (range.max - citric(59.5)).abs() < 0.1);
    for (ours, percent) in [
        (honey.sugars.fructose, 38.2),
        (honey.sugars.glucose, 31.3),
        (honey.sugars.maltose, 7.3),
        (honey.sugars.sucrose, 1.3),
    ] {
        assert!((ours - percent * 10.0 * density).abs() < 4.0, "{percent} %: {ours}");
    }
}

#[test]
fn pure_acids_count_by_molar_mass_and_protons() {
    // g/mol: citric 192.12 (monohydrate 210.14), malic 134.09, tartaric 150.09, lactic 90.08,
    // ascorbic 176.12.
    let per_kilo = |molar: f64, protons: f64| 1000.0 * protons / molar * 192.12 / 3.0;
    for (name, molar, protons) in [
        ("citric acid", 192.12, 3.0),
        ("citric acid monohydrate", 210.14, 3.0),
        ("malic acid", 134.09, 2.0),
        ("tartaric acid", 150.09, 2.0),
        ("ascorbic acid", 176.12, 1.0),
    ] {
        assert!((entry(name).label.acid - per_kilo(molar, protons)).abs() < 1.0, "{name}");
    }
    let lactic = entry("lactic acid 88%").label;
    let grams = 0.88 * 1000.0 * lactic.density.expect("a density");
    assert!((lactic.acid - Acid::Lactic.as_citric(grams)).abs() < 1.0);
}

#[test]
fn syrups_hold_what_the_density_of_sugar_solutions_gives() {
    // CRC Handbook, 50 % sucrose: 1.2295 g/ml, so 614.8 g/L; two parts to one by Bubník and others.
    assert!((entry("sugar syrup 1:1").label.sugar - 500.0 * 1.2295).abs() < 0.2);
    let two_to_one = crate::liquid::sucrose::grams_per_litre(200.0 / 3.0);
    assert!((entry("sugar syrup 2:1").label.sugar - two_to_one).abs() < 0.1);
}

/// The food data of the USDA (SR Legacy and FNDDS, by food name): grams of sugars in 100 g. Densities are ours, and a
/// gram in a litre is rounded.
#[test]
fn juices_and_sauces_hold_the_sugar_of_the_food_tables() {
    for (name, published) in [
        ("watermelon juice", 6.2),
        ("carrot juice", 3.91),
        ("beetroot juice", 4.84),
        ("prune juice", 16.45),
        ("blackberry juice", 7.7),
        ("apricot nectar", 12.79),
        ("pear nectar", 15.16),
        ("guava nectar", 10.15),
        ("tamarind nectar", 12.7),
        ("mango purée", 13.66),
        ("peach purée", 8.39),
        ("condensed milk", 54.4),
        ("half and half", 4.13),
        ("whey", 5.14),
        ("rice drink", 5.28),
        ("root beer", 10.6),
        ("cream soda", 13.3),
        ("worcester-style sauce", 10.03),
        ("chocolate syrup", 49.65),
    ] {
        let portion = entry(name).label.portion().expect("a liquid");
        let ours = 100.0 * portion.sugars / portion.mass;
        assert!((ours - published).abs() < 0.01 * published + 0.05, "{name}: {ours:.2}");
    }
}

/// Phosphoric acid: 98.00 g/mol, two of three protons by the usual titration (the third is too weak): 10 % by mass.
#[test]
fn phosphoric_acid_counts_two_protons() {
    let label = entry("phosphoric acid 10%").label;
    let grams = 0.10 * 1000.0 * label.density.expect("a density");
    assert!((label.acid - Acid::Phosphoric.as_citric(grams)).abs() < 0.1, "{}", label.acid);
    assert!((Acid::Phosphoric.as_citric(1.0) - 2.0 / 98.0 * 192.12 / 3.0).abs() < 0.001);
}

fn within(name: &str, pick: fn(&Natural) -> Option<Range>, typical: fn(&Label) -> f64, min: f64, max: f64) {
    let entry = entry(name);
    let range = pick(&entry.natural).expect("a range");
    let typical = typical(&entry.label);
    assert!(min <= typical && typical <= max, "{name}: {typical}");
    assert!(min <= range.min && range.max <= max, "{name}: {range:?}");
}

fn sugar_within(name: &str, min: f64, max: f64) {
    within(name, |n| n.sugar, |l| l.sugar, min, max);
}

fn strength_within(name: &str, min: f64, max: f64) {
    within(name, |n| n.strength, |l| l.strength, min, max);
}

#[test]
fn wines_keep_within_their_legal_sugar() {
    // Regulation (EU) 251/2014: dry under 50, sweet 130 and over; 14.5 to under 22 % vol.
    sugar_within("dry vermouth", 0.0, 50.0);
    sugar_within("sweet vermouth", 130.0, f64::MAX);
    for name in ["dry vermouth", "blanc vermouth", "sweet vermouth", "quinquina"] {
        strength_within(name, 14.5, 22.0);
    }
    // Delegated Regulation (EU) 2019/33, Annex III.
    sugar_within("brut sparkling wine", 0.0, 12.0);
    sugar_within("extra dry sparkling wine", 12.0, 17.0);
    sugar_within("demi-sec sparkling wine", 32.0, 50.0);
    sugar_within("dry white wine", 0.0, 9.0);
    // IVDP: sweet port 90 to 130.
    sugar_within("ruby port", 90.0, 130.0);
    // Condado de Huelva specification, a neighbour of sherry.
    sugar_within("fino sherry", 0.0, 5.0);
    strength_within("fino sherry", 15.0, 17.0);
    sugar_within("cream sherry", 115.0, 140.0);
    sugar_within("pedro ximénez sherry", 150.0, f64::MAX);
}

#[test]
fn liqueurs_keep_their_legal_minima() {
    // Regulation (EC) 110/2008, Annex II.32: 15 % vol and 100 g/L of sugar; 70 g/L for cherry liqueur
    // on cherry spirit alone; egg liqueur 14 % vol and 150 g/L. Two entries are no liqueurs in law,
    // and their notes say so.
    let outside = ["bitter aperitif 11%", "sweetened apple spirit"];
    for entry in all().iter().filter(|e| e.group == Group::Liqueur) {
        let (strength, sugar) = match entry.name.as_str() {
            "cherry liqueur" => (15.0, 70.0),
            "egg liqueur" => (14.0, 150.0),
            "crème de cassis" => (15.0, 400.0),
            _ => (15.0, 100.0),
        };
        if outside.contains(&entry.name.as_str()) {
            assert!(entry.note.contains("no liqueur in law"), "{}", entry.name);
            continue;
        }
        strength_within(&entry.name, strength, 100.0);
        sugar_within(&entry.name, sugar, f64::MAX);
    }
}

#[test]
fn spirits_and_vinegars_keep_their_legal_minima() {
    // Regulation (EEC) 1576/89: rum 37.5, whisky 40 % vol.
    for rum in ["light rum", "aged rum", "overproof rum"] {
        strength_within(rum, 37.5, 100.0);
    }
    for whisky in ["blended whisky", "cask-strength whisky"] {
        strength_within(whisky, 40.0, 100.0);
    }
    // German vinegar ordinance: 5 g, wine vinegar 6 g of acetic acid in 100 ml.
    for (vinegar, acetic) in [("cider vinegar", 50.0), ("wine vinegar", 60.0)] {
        let range = entry(vinegar).natural.acid.expect("a range");
        assert!(range.min >= Acid::Acetic.as_citric(acetic) - 0.1, "{vinegar}");
    }
}

#[test]
fn energy_agrees_with_the_food_tables() {
    // kcal in 100 g: USDA SR26 NDB 01053, 01077, 01124, 19296, 12116; FoodData Central, whole egg.
    for (name, published) in [
        ("heavy cream", 345.0),
        ("whole milk", 61.0),
        ("egg white", 52.0),
        ("honey", 304.0),
        ("cream of coconut", 357.0),
        ("whole egg", 143.0),
        // FoodData Central (SR Legacy), by the names that the entries give.
        ("condensed milk", 320.7),
        ("half and half", 131.0),
        ("whey", 27.0),
        ("soy sauce", 53.0),
        ("fish sauce", 34.9),
        ("worcester-style sauce", 77.0),
    ] {
        let portion = entry(name).label.portion().expect("a liquid");
        let ours = 100.0 * portion.energy / portion.mass;
        assert!((ours - published).abs() < 0.04 * published, "{name}: {ours:.0}");
    }
    // Regulation (EU) 1169/2011, Annex XIV: polyols 2.4, erythritol 0 kcal/g.
    assert_eq!(entry("erythritol").label.portion().map(|p| p.energy), Ok(0.0));
    assert_eq!(entry("xylitol").label.portion().map(|p| p.energy), Ok(2.4));
}

//! Each threshold of the label facts from both sides, beside the article or source that it is from.

use super::*;

/// The label of 100 ml of something with these keys.
fn label(keys: &str) -> Label {
    let rest = format!("[[candidate]]\nname = \"it\"\nrole = \"modifier\"\n{keys}\n");
    let brief = brief("method = \"none\"\npour = \"free\"", &rest);
    made(&brief, &[("it", 100.0)], &serves(10.0)).label
}

fn said(keys: &str) -> String {
    label(keys).statements.join("\n")
}

/// UK guidance on low-alcohol descriptors (Department of Health, 2018): alcohol free up to 0.05, de-alcoholised up to
/// 0.5, low alcohol up to 1.2 % vol.
#[test]
fn uk_descriptors_end_where_the_guidance_says() {
    for (strength, alcohol_free, de_alcoholised, low) in [
        (0.05, true, false, false),
        (0.0501, false, true, true),
        (0.5, false, true, true),
        (0.501, false, false, true),
        (1.2, false, false, true),
        (1.201, false, false, false),
    ] {
        let said = said(&format!("strength = {strength}"));
        assert_eq!(said.contains("\"alcohol free\""), alcohol_free, "{strength}: {said}");
        assert_eq!(said.contains("\"de-alcoholised\""), de_alcoholised, "{strength}: {said}");
        assert_eq!(said.contains("\"low alcohol\""), low, "{strength}: {said}");
    }
}

/// 27 CFR 16.10: an alcoholic beverage has "not less than one-half of one percent of alcohol by volume".
#[test]
fn the_us_warning_begins_at_half_a_per_cent() {
    assert!(said("strength = 0.5").contains("27 CFR 16.21"));
    assert!(!said("strength = 0.499").contains("27 CFR 16.21"));
}

/// EU 1169/2011 Art. 9(1)(k): beverages of more than 1.2 % vol state their strength; Art. 16(4): those need no list of
/// ingredients.
#[test]
fn the_eu_states_a_strength_over_1_2() {
    assert!(said("strength = 1.2").contains("Up to 1.2 % vol the EU asks for no strength"));
    assert!(said("strength = 1.201").contains("Over 1.2 % vol the EU asks for no list"));
}

/// A descriptor and the warning go by the strongest make in a stated range (0 to 0.5 % vol), not by the typical one.
#[test]
fn a_stated_range_counts_at_its_upper_end() {
    let of = |max: f64| said(&format!("strength = {{ typical = 0, min = 0, max = {max} }}"));
    assert!(of(0.05).contains("\"alcohol free\"") && !of(0.05).contains("Makes of it differ"));
    let brewed = of(0.5);
    assert!(!brewed.contains("\"alcohol free\"") && brewed.contains("\"de-alcoholised\""), "{brewed}");
    assert!(brewed.contains("Makes of it differ: with the strongest it has 0.50 % vol"), "{brewed}");
    assert!(brewed.contains("27 CFR 16.21") && !of(0.49).contains("27 CFR 16.21"), "{brewed}");
    assert!(of(1.3).contains("Makes of it differ") && !of(1.3).contains("UK guidance"));
}

/// The larder's range is of makes; a bottle's own figure in the brief takes its place.
#[test]
fn a_strength_of_its_own_takes_the_place_of_the_range() {
    let of = |keys: &str| {
        let rest =
            format!("[[candidate]]\nlarder = \"ginger beer\"\n{keys}[[candidate]]\nlarder = \"water\"\n");
        let brief = brief("method = \"none\"\npour = \"free\"", &rest);
        made(&brief, &[("ginger beer", 50.0), ("water", 50.0)], &serves(10.0)).label
    };
    assert!((of("").strongest - 0.25).abs() < 0.001);
    assert!((of("strength = 0.04\n").strongest - 0.02).abs() < 0.001);
}

/// In a preparation a strong make is as strong as its share of it.
#[test]
fn a_range_reaches_into_preparations() {
    let rest = "[[candidate]]\nname = \"brew\"\nrole = \"lengthener\"\nout = true\n\
                strength = { typical = 0, min = 0, max = 0.5 }\n\
                [[candidate]]\nname = \"reduction\"\nrole = \"sweetener\"\n\
                made = { by = \"volume\", parts = { \"brew\" = 1, \"water\" = 1 } }\n";
    let brief = brief("method = \"none\"\npour = \"free\"", rest);
    let label = made(&brief, &[("reduction", 100.0)], &serves(10.0)).label;
    assert!(label.strength == 0.0 && (label.strongest - 0.25).abs() < 0.005, "{}", label.strongest);
}

/// EU 1169/2011 Annex XIV: polyols 10 kJ/g (2.4 kcal/g), erythritol 0. Fat has 37 kJ and 9 kcal, protein 17 kJ and 4
/// kcal, so that what stands in one sum has between 37/9 and 17/4 kJ a kcal; 4.184 is the calorie of ISO 80000-5.
#[test]
fn kilojoules_of_polyols_fat_and_protein() {
    let polyols = label("polyols = 100\npolyol_sweetness = 0.9").energy_per_100ml;
    assert!((polyols.kj - 100.0).abs() < 1e-6 && (polyols.kcal - 24.0).abs() < 1e-6, "{polyols:?}");
    let none = label("polyols = 100\npolyol_energy = 0").energy_per_100ml;
    assert_eq!((none.kj, none.kcal), (0.0, 0.0));
    let fat = label("other_energy = 900").energy_per_100ml;
    assert!((fat.kcal - 90.0).abs() < 1e-6);
    assert!((fat.kj / fat.kcal - 4.184).abs() < 1e-6, "{}", fat.kj);
    assert!((37.0 / 9.0..=17.0 / 4.0).contains(&(fat.kj / fat.kcal)));
}

/// The laxative statement is due over 10 % of added polyols by mass (EU 1169/2011 Annex III, 2.4).
#[test]
fn the_laxative_statement_begins_over_a_tenth() {
    // 100 ml of water weigh 99.82 g: of 110.9 g, 11.08 g are 9.99 %; of 110.92 g, 11.1 g are 10.007 %.
    let of = |grams: f64| {
        let rest = "[[candidate]]\nlarder = \"maltitol\"\n[[candidate]]\nlarder = \"water\"\n";
        let brief = brief("method = \"none\"\npour = \"free\"", rest);
        made(&brief, &[("maltitol", grams), ("water", 100.0)], &serves(100.0)).label.statements.join("\n")
    };
    assert!(!of(11.08).contains("laxative") && of(11.1).contains("laxative"));
    assert!(of(1.0).contains("with sweetener(s)"));
}

/// Water weighs 0.9982 g/ml at 20 °C (OIML R 22: 998.20 kg/m³), also the water that is added to a batch: with 100
/// serves of 50 ml at 40 % vol (0.94805 g/ml) the vessel weighs 4740 g and what the water weighs.
#[test]
fn added_water_weighs_as_water_does() {
    let brief = brief("method = \"stir\"", SPIRIT);
    let pours = [("spirit", 50.0)];
    let from_ice = made(&brief, &pours, &serves(100.0));
    let added = made(&brief, &pours, &Order { water: Water::Added, ..serves(100.0) });
    assert!((from_ice.vessel.weight - 5000.0 * 0.94805).abs() < 0.1, "{}", from_ice.vessel.weight);
    let water = to_f64(added.water);
    assert!(water > 2000.0 && (added.vessel.weight - from_ice.vessel.weight - water * 0.9982).abs() < 0.05);
}

/// Half a millilitre is a drop: no more than that is left to bottle, and a bottle that lacks no more is full. Common
/// practice, no source.
#[test]
fn a_drop_is_neither_left_over_nor_missing() {
    let bottles = |volume: f64| super::scaling::bottles(volume, 700.0);
    assert_eq!((bottles(1400.5).full, bottles(1400.5).last), (2.0, 0.0));
    assert_eq!((bottles(1400.6).full, bottles(1400.6).needed), (2.0, 3.0));
    assert!((bottles(1400.6).last - 0.6).abs() < 1e-9);
    assert_eq!((bottles(1399.5).full, bottles(1399.5).needed), (2.0, 2.0));
    assert_eq!((bottles(1399.4).full, bottles(1399.4).needed), (1.0, 2.0));
}

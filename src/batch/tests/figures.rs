//! Figures of a batch by hand, where a fault would pass for an answer.

use super::*;

/// Of a syrup four fifths of which reach a glass, 1000 ml are 1250 ml to be made; what goes in weighs what it weighs, water
/// 0.9982 g/ml at 20 °C (CRC Handbook).
#[test]
fn a_preparation_is_made_for_what_gets_lost_on_the_way() {
    let rest = "[[candidate]]\nname = \"sugar\"\nform = \"powder\"\nsugar = 1000\nprice = \"1.30 per 500 g\"\n\
                out = true\n[[candidate]]\nname = \"house syrup\"\nrole = \"sweetener\"\nyield = 0.8\n\
                made = { by = \"weight\", parts = { \"sugar\" = 3, \"water\" = 2 } }\n";
    let brief = brief("method = \"none\"", &format!("{SPIRIT}{rest}"));
    let batch = made(&brief, &[("spirit", 50.0), ("house syrup", 10.0)], &serves(100.0));
    let recipe = &batch.recipes[0];
    assert!((recipe.amount - 1250.0).abs() < 1e-9, "{}", recipe.amount);
    let weights: Vec<(f64, f64)> = recipe.parts.iter().map(|p| (to_f64(p.amount), p.weight)).collect();
    assert_eq!(weights[0].0, weights[0].1, "sugar is weighed");
    assert!((weights[1].1 - 0.9982 * weights[1].0).abs() < 0.01, "{weights:?}");
    assert!((weights[0].1 / weights[1].1 - 1.5).abs() < 0.01, "three to two: {weights:?}");
}

/// 100 serves of 50 ml and of 10 ml of a syrup of 600 g/L: 6000 ml are measured, 600 g of sugar are in it; water that is
/// added counts among what is measured.
#[test]
fn a_vessel_holds_what_went_in() {
    let brief = brief("method = \"stir\"", &format!("{SPIRIT}{SYRUP}"));
    let pours = [("spirit", 50.0), ("syrup", 10.0)];
    for water in [Water::FromIce, Water::Added] {
        let batch = made(&brief, &pours, &Order { water, ..serves(100.0) });
        let added = if water == Water::Added { to_f64(batch.water) } else { 0.0 };
        let vessel = &batch.vessel;
        assert!((vessel.parts - 6000.0 - added).abs() < 1e-6, "{water:?}: {}", vessel.parts);
        assert!((vessel.sugar * vessel.volume / 1000.0 - 600.0).abs() < 1e-6, "{water:?}: {}", vessel.sugar);
        assert!(
            (vessel.strength * vessel.volume / 100.0 - 2000.0).abs() < 1e-3,
            "{water:?}: {}",
            vessel.strength
        );
    }
}

/// What melts in a hundred glasses is a hundred times what melts in one.
#[test]
fn ice_in_the_glass_melts_by_the_serve() {
    let brief = brief("method = \"build\"\nserved = \"on ice\"\nglass = \"300 ml\"\nice = \"120 g\"", SPIRIT);
    let pours = [("spirit", 60.0)];
    let one = spec(&brief, &pours).served.drink.glass_melt;
    let batch = made(&brief, &pours, &serves(100.0));
    assert!(one > 1.0 && (batch.glass_water - 100.0 * one).abs() < 1e-6, "{one}: {}", batch.glass_water);
}

/// A serve from a batch with its water in is the serve that the spec makes, within what rounding moves.
#[test]
fn a_serve_from_a_batch_is_the_spec() {
    let brief = brief("method = \"stir\"", &format!("{SPIRIT}{SYRUP}"));
    let pours = [("spirit", 50.0), ("syrup", 10.0)];
    let one = spec(&brief, &pours).served.drink;
    let batch = made(&brief, &pours, &Order { water: Water::Added, ..serves(100.0) });
    let poured = batch.served_from(&brief).expect("nothing tops it up");
    let again = serve(&poured, &batch.pours()).drink;
    assert!((again.strength() - one.strength()).abs() < 0.02, "{} {}", again.strength(), one.strength());
    assert!((again.volume - one.volume).abs() < 0.05, "{} {}", again.volume, one.volume);
    assert!(one.melt > 10.0);
}

/// EU 1169/2011 Annex III 4.1: over 150 mg/L of caffeine are stated in mg per 100 ml.
#[test]
fn caffeine_is_stated_per_hundred_millilitres() {
    let said = |milligrams: u32, title: &str| {
        let text = format!(
            "title = \"{title}\"\n[serve]\nmethod = \"none\"\npour = \"free\"\n[properties]\n\
             caffeine = {{ unit = \"mg\", per = \"serve\" }}\n[targets]\nvolume = {{ min = 1, max = 1000 }}\n\
             [aim]\nlowest = \"strength\"\n[[candidate]]\nname = \"infusion\"\nrole = \"base\"\n\
             carries = {{ caffeine = {milligrams} }}\n"
        );
        let brief = read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief;
        made(&brief, &[("infusion", 100.0)], &serves(10.0)).label.statements.join("\n")
    };
    let high = said(400, "Test");
    assert!(high.contains("High caffeine content") && high.contains("(40.0 mg/100 ml)"), "{high}");
    // Drinks named after tea are let off; words that only contain it are not.
    assert!(!said(400, "Tea-time sour").contains("High caffeine"), "{}", said(400, "Tea-time sour"));
    assert!(said(400, "Steamer").contains("High caffeine"));
    let some = said(100, "Test");
    assert!(!some.contains("High caffeine") && some.contains("10.0 mg/100 ml"), "{some}");
    assert!(!said(0, "Test").contains("caffeine"));
}

/// Sugar is named beside a sweetener only where there is some.
#[test]
fn sugar_is_named_only_where_there_is_some() {
    let rest = "[[candidate]]\nlarder = \"vodka\"\n[[candidate]]\nlarder = \"maltitol\"\n\
                [[candidate]]\nlarder = \"apple juice\"\n";
    let brief = brief("method = \"none\"\npour = \"free\"", rest);
    let said = |pours: &[(&str, f64)]| made(&brief, pours, &serves(20.0)).label.statements.join("\n");
    let without = said(&[("vodka", 40.0), ("maltitol", 12.0)]);
    assert!(without.contains("with sweetener(s)") && !without.contains("with sugar(s)"), "{without}");
    assert!(said(&[("apple juice", 90.0), ("maltitol", 2.0)]).contains("with sugar(s)"));
}

//! Every format of one answer side by side, kept as snapshots; and what must hold for any answer.

mod batch;
mod blocks;

use super::text::{uncoloured, width};
use super::{Colour, Format, Look, fixture, write};
use crate::answer::{CheckAnswer, SpecAnswer, check_answer, spec_answer};
use crate::brief::{Aim, Brief, Goal, Measure, Nearest, Reference};
use crate::quantity::UnitSystem;
use crate::solve::{Ending, Solved};

const FORMATS: [Format; 4] = [Format::Text, Format::Json, Format::Markdown, Format::Csv];

fn answer() -> SpecAnswer {
    let brief = fixture::brief();
    spec_answer(&brief, &fixture::solved(&brief))
}

/// A check of a spec that misses the strength, is off the step, and has an ingredient without a price.
fn check() -> CheckAnswer {
    let mut brief = fixture::brief();
    brief.candidates[0].cost_per_unit = None;
    let given =
        fixture::spec(&brief, &[("aged rum", 47.0), ("lime juice", 25.0), ("bay leaf syrup, rich", 10.0)]);
    check_answer(&brief, &given.pours)
}

fn text(brief: &Brief, solved: &Solved) -> String {
    write(&spec_answer(brief, solved), Format::Text, Look::default())
}

#[test]
fn the_same_answer_in_every_format() {
    for format in FORMATS {
        insta::assert_snapshot!(format!("spec_{format:?}"), write(&answer(), format, Look::default()));
    }
}

#[test]
fn a_given_spec_in_every_format() {
    for format in FORMATS {
        insta::assert_snapshot!(format!("check_{format:?}"), write(&check(), format, Look::default()));
    }
}

#[test]
fn volumes_in_ounces() {
    let look = Look { units: UnitSystem::UsOunces, ..Look::default() };
    insta::assert_snapshot!(write(&answer(), Format::Text, look));
}

#[test]
fn stopped_and_conflict_in_text() {
    let brief = fixture::brief();
    let found = fixture::solved(&brief);
    let stopped = Solved { ending: Ending::Stopped, bound: Some(0.5), complete: false, ..found.clone() };
    insta::assert_snapshot!("stopped", text(&brief, &stopped));
    let nothing = Solved { specs: Vec::new(), bound: None, ..stopped };
    insta::assert_snapshot!("stopped_with_nothing", text(&brief, &nothing));
    let steps = Solved { ending: Ending::Conflict, specs: Vec::new(), bound: None, ..found };
    insta::assert_snapshot!("conflict_of_steps", text(&brief, &steps));
    insta::assert_snapshot!("conflict", text(&brief, &Solved { unrounded: None, ..steps }));
}

#[test]
fn every_aim_has_its_words() {
    let mut brief = fixture::brief();
    let pours = fixture::solved(&brief).specs[1].pours.clone();
    brief.reference = Some(Reference { pours });
    let aims = [
        Aim::Highest(Goal::Measure(Measure::Strength)),
        Aim::Lowest(Goal::Measure(Measure::Property(0))),
        Aim::Highest(Goal::Ingredient(0)),
        Aim::Lowest(Goal::Ingredient(5)),
        Aim::Nearest(Nearest::Reference),
        Aim::Nearest(Nearest::Middle),
    ];
    let lines: Vec<String> = aims
        .into_iter()
        .map(|aim| {
            brief.aim = aim;
            let mut solved = fixture::solved(&brief);
            for spec in &mut solved.specs {
                spec.score = check_answer(&brief, &spec.pours).spec.score;
            }
            let text = text(&brief, &solved);
            let keep = text.lines().skip_while(|l| !l.contains("brim.")).skip(1);
            keep.take_while(|l| !l.contains("glass")).filter(|l| !l.is_empty()).collect::<Vec<_>>().join("\n")
        })
        .collect();
    insta::assert_snapshot!(lines.join("\n"));
}

#[test]
fn json_has_the_fields_of_the_contract_in_its_order() {
    let text = write(&answer(), Format::Json, Look::default());
    let json: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let keys =
        |value: &serde_json::Value| value.as_object().expect("an object").keys().cloned().collect::<Vec<_>>();
    assert_eq!(
        keys(&json),
        [
            "format",
            "title",
            "currency",
            "outcome",
            "aim",
            "best",
            "bound",
            "alternatives",
            "complete",
            "unrounded",
            "in_play",
            "sensitivity",
            "service",
            "cautions"
        ]
    );
    assert_eq!(
        keys(&json["best"]),
        ["pours", "melt", "score", "served", "margins", "change", "contributions"]
    );
    assert_eq!(
        keys(&json["best"]["served"]),
        [
            "volume",
            "strength",
            "sugar",
            "sweetness",
            "acid",
            "sugar_acid",
            "cost",
            "pour_cost",
            "energy",
            "ethanol",
            "melt",
            "caffeine"
        ]
    );
    assert_eq!(keys(&json["best"]["pours"][0]), ["ingredient", "amount", "unit", "cost"]);
    assert_eq!(keys(&json["best"]["margins"][0]), ["target", "side", "limit", "value", "margin"]);
    assert_eq!(keys(&json["alternatives"][0]["change"][0]), ["ingredient", "by"]);
    assert_eq!(json["format"], 1);
    assert_eq!(json["outcome"], "found");
    // Without a menu there is no pour cost.
    assert!(json["best"]["served"]["pour_cost"].is_null());
}

#[test]
fn json_figures_are_the_measured_ones_to_the_last_bit() {
    let brief = fixture::brief();
    let solved = fixture::solved(&brief);
    let text = write(&spec_answer(&brief, &solved), Format::Json, Look::default());
    let json: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    for (spec, shown) in
        solved.specs.iter().zip([&json["best"], &json["alternatives"][0], &json["alternatives"][1]])
    {
        for measure in [Measure::Volume, Measure::Strength, Measure::Sugar, Measure::Acid, Measure::Cost] {
            assert_eq!(shown["served"][measure.keyword()].as_f64(), Some(spec.served.value(measure)));
        }
    }
}

#[test]
fn a_given_spec_is_held_against_targets_and_rules() {
    let json: serde_json::Value =
        serde_json::from_str(&write(&check(), Format::Json, Look::default())).expect("JSON");
    assert_eq!(json["meets"], false);
    let missed: Vec<&str> =
        json["misses"].as_array().expect("a list").iter().filter_map(|m| m["target"].as_str()).collect();
    // 47 ml of 40 % vol rum in some 120 ml is far over 11 % vol; the rum has no price.
    assert!(missed.contains(&"strength") && missed.contains(&"cost"), "{missed:?}");
    let rules: Vec<&str> =
        json["misses"].as_array().expect("a list").iter().filter_map(|m| m["rule"].as_str()).collect();
    assert_eq!(rules, ["aged rum: 47 ml is not a whole number of 2.5 ml steps"]);
    assert!(json["spec"]["pours"][0]["cost"].is_null());
}

#[test]
fn text_stays_within_80_columns_whatever_the_names() {
    let mut brief = fixture::brief();
    brief.title = "Sour ".repeat(60);
    brief.candidates[0].name = "rum".repeat(70);
    brief.candidates[2].name = "酸橙汁".repeat(30);
    brief.candidates[3].name = "verjus\u{1b}[31m\n\u{202e} of the year".to_owned();
    brief.properties[0].name = "a property with a very long name indeed".to_owned();
    brief.properties[0].unit = "thousandths of a drop".to_owned();
    let solved = renamed(&brief);
    for units in [UnitSystem::Metric, UnitSystem::UsOunces] {
        let answer = spec_answer(&brief, &solved);
        let look = Look { units, ..Look::default() };
        let check = check_answer(&brief, &solved.specs[0].pours);
        for line in (write(&answer, Format::Text, look) + &write(&check, Format::Text, look)).lines() {
            assert!(width(line) <= 80, "{} columns: {line}", width(line));
            assert!(!line.contains(['\u{1b}', '\u{202e}']), "{line}");
            assert!(!line.ends_with(' '), "{line:?}");
        }
    }
}

/// The fixture's answer for a brief whose names have been changed: pours go by index.
fn renamed(brief: &Brief) -> Solved {
    let mut solved = fixture::solved(&fixture::brief());
    for spec in solved.specs.iter_mut().chain(&mut solved.unrounded) {
        spec.served = crate::brief::serve(brief, &spec.pours);
    }
    solved
}

#[test]
fn colour_adds_nothing_but_colour() {
    let plain = write(&answer(), Format::Text, Look::default());
    let styled = write(&answer(), Format::Text, Look { colour: Colour::Styled, ..Look::default() });
    assert_ne!(plain, styled);
    assert_eq!(uncoloured(&styled), plain);
}

#[test]
fn the_fixture_is_a_possible_answer() {
    let brief = fixture::brief();
    for spec in &fixture::solved(&brief).specs {
        let check = check_answer(&brief, &spec.pours);
        assert!(check.meets, "{:?}", check.misses);
    }
}

//! The data file against itself and against the physics.

use std::collections::{BTreeMap, BTreeSet};

use super::folded::folded;
use super::*;
use crate::liquid::Form;

pub(super) fn entry(name: &str) -> &'static Entry {
    find(name).unwrap_or_else(|| panic!("no {name}"))
}

fn ranges(entry: &Entry) -> Vec<(&'static str, f64, Range)> {
    let natural = entry.natural;
    let polyols = entry.label.polyols > 0.0;
    let sweetness = if polyols { entry.label.polyol_sweetness } else { entry.label.sweetness };
    [
        ("strength", entry.label.strength, natural.strength),
        ("sugar", entry.label.sugar, natural.sugar),
        ("acid", entry.label.acid, natural.acid),
        ("caffeine", entry.caffeine, entry.caffeine_range),
        (
            "sweetness",
            sweetness,
            Some(entry.sweetness).filter(|_| !polyols || entry.sweetness != SUCROSE.spread),
        ),
    ]
    .into_iter()
    .filter_map(|(what, typical, range)| Some((what, typical, range?)))
    .collect()
}

/// Every combination of the ends of the natural ranges.
fn corners(entry: &Entry) -> Vec<Label> {
    let ends = |typical: f64, range: Option<Range>| range.map_or(vec![typical], |r| vec![r.min, r.max]);
    let (label, natural) = (entry.label, entry.natural);
    let mut all = Vec::new();
    for strength in ends(label.strength, natural.strength) {
        for sugar in ends(label.sugar, natural.sugar) {
            for acid in ends(label.acid, natural.acid) {
                all.push(Label { strength, sugar, acid, ..label });
            }
        }
    }
    all
}

#[test]
fn the_larder_is_stocked_and_whole() {
    assert!(all().len() >= 230, "{}", all().len());
    let marks = shelf::TEXT.lines().filter(|line| line.trim() == "[[entry]]").count();
    assert_eq!(all().len(), marks);
    assert!(toml::from_str::<toml::Table>(shelf::TEXT).is_ok(), "the file is one TOML document");
}

#[test]
fn names_are_lower_case_and_each_belongs_to_one_entry() {
    let mut seen = BTreeMap::new();
    for entry in all() {
        for name in std::iter::once(&entry.name).chain(&entry.also) {
            assert_eq!(*name, name.to_lowercase());
            if let Some(other) = seen.insert(folded(name), &entry.name) {
                panic!("`{name}` finds both {other} and {}", entry.name);
            }
            assert_eq!(find(name), Some(entry), "{name}");
        }
    }
}

#[test]
fn the_names_that_briefs_lean_on_exist() {
    for name in ["lime juice", "sugar, white", "water", "citric acid", "verjus", "aged rum"] {
        assert_eq!(entry(name).name, name);
    }
    assert_eq!(entry("sugar, white").label.form, Form::Powder);
    assert_eq!(entry("citric acid").label.form, Form::Powder);
}

#[test]
fn groups_stand_together_in_order() {
    assert!(all().is_sorted_by_key(|entry| entry.group));
    for (at, (group, ..)) in Group::ALL.into_iter().enumerate() {
        assert_eq!(group as usize, at, "each finds its own words");
        assert!(all().iter().any(|entry| entry.group == group), "{group:?}");
    }
}

#[test]
fn every_composition_can_exist_at_every_corner_of_its_ranges() {
    for entry in all() {
        assert!(entry.label.portion().is_ok(), "{}", entry.name);
        for label in corners(entry) {
            assert!(label.portion().is_ok(), "{}: {label:?}", entry.name);
        }
    }
}

#[test]
fn ranges_are_in_order_and_hold_the_typical_value() {
    for entry in all() {
        for (what, typical, range) in ranges(entry) {
            assert!(range.min <= typical && typical <= range.max, "{} {what}", entry.name);
            assert!(range.min >= 0.0, "{} {what}", entry.name);
        }
    }
}

#[test]
fn every_range_and_every_figure_says_what_it_rests_on() {
    for entry in all() {
        let label = entry.label;
        for (figure, value, range) in [
            (Figure::Strength, label.strength, entry.natural.strength),
            (Figure::Sugar, label.sugar, entry.natural.sugar),
            (Figure::Acid, label.acid, entry.natural.acid),
            (Figure::Caffeine, entry.caffeine, entry.caffeine_range),
            (Figure::Density, label.density.unwrap_or_default(), None),
            (Figure::Polyols, label.polyols, None),
        ] {
            let rests = entry.provenance(figure);
            assert!(value == 0.0 || rests.is_some_and(|r| r.typical.is_some()), "{} {figure:?}", entry.name);
            let stated = rests.is_some_and(|r| r.range.is_some());
            assert_eq!(stated, range.is_some(), "{} {figure:?}", entry.name);
        }
    }
}

#[test]
fn an_entry_without_a_source_owns_up_to_it() {
    for entry in all() {
        let free = ["none", "computed", "a pure substance", "twice the"];
        let named = entry.references().next().is_some();
        assert!(named || free.iter().any(|word| entry.source.starts_with(word)), "{}", entry.name);
        if entry.source.starts_with("none") {
            assert!(!entry.judged.is_empty(), "{}", entry.name);
        }
    }
}

/// They are shown in a sentence: each is a word, and no fraction that a comma has torn apart.
#[test]
fn kinds_of_acid_are_words() {
    for entry in all().iter().filter(|entry| !entry.acids.is_empty()) {
        let words = |kind: &str| kind.starts_with(|c: char| c.is_alphabetic());
        assert!(entry.acids.split(", ").all(words), "{}: {}", entry.name, entry.acids);
    }
}

/// Another tool asks for them by the word, so each is written in one way, and none says that there is
/// nothing to say.
#[test]
fn notes_are_a_few_plain_words() {
    let plain = |note: &String| !note.is_empty() && note.chars().all(|c| c.is_lowercase() || c == ' ');
    for entry in all() {
        assert!(entry.notes.iter().all(plain), "{}: {:?}", entry.name, entry.notes);
        let several = BTreeSet::from_iter(&entry.notes);
        assert!(several.len() == entry.notes.len() && several.len() <= 4, "{}", entry.name);
        assert!(!entry.notes.iter().any(|note| note == "neutral"), "{}", entry.name);
    }
    let words: BTreeSet<&String> = all().iter().flat_map(|entry| &entry.notes).collect();
    let plural = |word: &&&String| words.contains(&format!("{word}s"));
    assert_eq!(words.iter().find(plural), None, "a word and its plural");
    assert_eq!(entry("gin").notes[0], "juniper");
    assert!(entry("water").notes.is_empty());
}

#[test]
fn every_reference_is_leaned_on() {
    for short in references().keys() {
        assert!(all().iter().any(|entry| entry.source.contains(short)), "{short}");
    }
}

#[test]
fn the_attribution_stands_in_the_data_file_too() {
    for line in ATTRIBUTION.lines() {
        assert!(shelf::TEXT.contains(&format!("# {line}\n")), "{line}");
    }
    for short in ["CoFID 2021", "BLS 4.0", "CIQUAL 2020", "CIQUAL 2025"] {
        let licence = &references()[short];
        assert!(licence.contains("Licence") || licence.contains("CC BY"), "{short}");
    }
}

#[test]
fn the_kinds_of_sugar_add_up() {
    for entry in all() {
        let (total, sugar) = (entry.sugars.total(), entry.label.sugar);
        // Rounding of each kind in the tables: 2 % and half a gram.
        assert!((total - sugar).abs() <= 0.02 * sugar + 0.5, "{}: {total} of {sugar}", entry.name);
    }
}

#[test]
fn words_find_entries_whole_words_first() {
    let gin = search(&["gin"]);
    assert_eq!(gin[0].name, "gin");
    assert!(gin.iter().any(|entry| entry.name == "ginger beer"));
    assert!(search(&["citrus sour"]).iter().all(|e| e.group == Group::Citrus && e.role == Role::Sour));
    assert_eq!(search(&["syrup", "demerara"]).len(), 2);
    assert_eq!(search(&["brandy"])[0].name, "brandy");
    assert!(search(&["anvil"]).is_empty());
    assert_eq!(search::<&str>(&[]).len(), all().len());
}

#[test]
fn slips_of_the_pen_find_what_was_meant() {
    let meant = |text| closest(text).map(|entry| entry.name.as_str());
    assert_eq!(meant("lime jiuce"), Some("lime juice"));
    assert_eq!(meant("Cachaca"), Some("cachaça"));
    assert_eq!(meant("navy rum, overproof"), None);
    assert_eq!(meant("overprof rum"), Some("overproof rum"));
    assert_eq!(meant("creme de menthe"), Some("crème de menthe"));
    assert_eq!(meant("rum"), Some("light rum"));
    assert_eq!((meant("brandy"), meant("brandi")), (Some("brandy"), Some("brandy")));
    assert_eq!(meant("anvil shavings"), None);
    assert_eq!(meant("  "), None);
}

#[test]
fn what_asks_for_care_is_tagged() {
    use Handling as H;
    for entry in all() {
        let label = entry.label;
        let has = |h| entry.handling.contains(&h);
        assert_eq!(has(Handling::Overproof), label.strength >= 57.0, "{}", entry.name);
        assert_eq!(has(Handling::Carbonated), carbonated(entry), "{}", entry.name);
        if label.form == Form::Powder && label.polyols > 0.0 {
            assert_eq!(has(Handling::Polyol), entry.solid == Solid::Polyol, "{}", entry.name);
        }
        if entry.name.contains("egg") && entry.group == Group::Dairy {
            let care = if entry.name.starts_with("pasteurised") { H::PasteurisedEgg } else { H::RawEgg };
            assert!(has(care) && entry.allergens == [Allergen::Eggs], "{}", entry.name);
        }
    }
}

fn carbonated(entry: &Entry) -> bool {
    matches!(entry.group, Group::Beer | Group::Soda) || entry.name.contains("sparkling")
}

//! A batch in every format, and what must hold for any.

use super::{FORMATS, fixture};
use crate::answer::{BatchAnswer, batch_answer};
use crate::batch::{Order, Size, Water, batch};
use crate::quantity::UnitSystem;
use crate::render::text::width;
use crate::render::{Format, Look, write};
use crate::solve::Ending;

pub(super) fn order() -> Order {
    Order {
        size: Size::Serves(24.0),
        water: Water::FromIce,
        bottle: Some(700.0),
        pour_cost: Some(18.0),
        waste: 0.0,
    }
}

pub(super) fn answer(brief: &crate::brief::Brief, order: &Order) -> BatchAnswer {
    let spec = fixture::solved(&fixture::brief()).specs[2].clone();
    let made = batch(brief, &spec, order).expect("a batch");
    batch_answer(brief, &spec, 2, Ending::Found, &made)
}

#[test]
fn a_batch_in_every_format() {
    for format in FORMATS {
        let text = write(&answer(&fixture::brief(), &order()), format, Look::default());
        insta::assert_snapshot!(format!("batch_{format:?}"), text);
    }
}

#[test]
fn json_has_the_fields_of_the_contract_in_its_order() {
    let text = write(&answer(&fixture::brief(), &order()), Format::Json, Look::default());
    let json: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let keys = |value: &serde_json::Value, count: usize| {
        value.as_object().expect("an object").keys().take(count).cloned().collect::<Vec<_>>()
    };
    assert_eq!(keys(&json, 8), ["format", "title", "serves", "volume", "lines", "water", "cost", "label"]);
    assert_eq!(
        keys(&json["lines"][0], 7),
        ["ingredient", "amount", "unit", "packs", "pack", "left_over", "cost"]
    );
    assert_eq!(
        keys(&json["label"], 6),
        ["strength", "units_of_alcohol", "us_standard_drinks", "energy_per_100ml", "allergens", "statements"]
    );
}

#[test]
fn text_stays_within_80_columns_whatever_the_names() {
    let mut brief = fixture::brief();
    brief.title = "Sour ".repeat(60);
    brief.candidates[0].name = "rum".repeat(70);
    brief.candidates[3].name = "酸橙汁\u{1b}[31m\u{202e}".repeat(30);
    if let Some(price) = &mut brief.candidates[0].price {
        price.pack_text = format!("700{}ml", " ".repeat(200));
        price.amount *= rust_decimal::Decimal::from(90_000_000);
    }
    for serves in [1.0, 24.0, 90_000.0] {
        for units in [UnitSystem::Metric, UnitSystem::UsOunces] {
            let answer = answer(&brief, &Order { size: Size::Serves(serves), ..order() });
            let text = write(&answer, Format::Text, Look { units, ..Look::default() });
            for line in text.lines() {
                assert!(width(line) <= 80, "{} columns: {line}", width(line));
                assert!(!line.contains(['\u{1b}', '\u{202e}']), "{line}");
                assert!(!line.ends_with(' '), "{line:?}");
            }
        }
    }
}

/// 50 ml of a bottled spirit within 49 to 51 ml, off by 1 ml (standard deviation) by hand: 68.27 % of a normal
/// distribution lie within one. A batch is measured once, so there all of them do; what is topped up by hand is not asked.
#[test]
fn the_hand_vanishes_in_a_batch() {
    let text = "title = \"Test\"\n[serve]\nmethod = \"none\"\npour = \"2.5 ml\"\n[targets]\nvolume = { min = 49, max = 51 }\n\
                [aim]\nlowest = \"strength\"\n[variation]\npour_error = \"1 ml\"\n\
                [[candidate]]\nname = \"spirit\"\nrole = \"base\"\nstrength = 40\n";
    let of = |text: &str| {
        let brief = crate::read::read(text.as_bytes(), &[]).unwrap_or_else(|f| panic!("{f:#?}")).brief;
        let pours: Vec<_> = (0..brief.candidates.len())
            .map(|candidate| crate::brief::Pour { candidate, amount: 50.0 / brief.candidates.len() as f64 })
            .collect();
        let served = crate::brief::serve(&brief, &pours);
        let hand = crate::explain::variation::within_all(&brief, &pours).found;
        let spec = crate::solve::Spec { pours, served, score: 0.0 };
        let made = batch(&brief, &spec, &order()).expect("a batch");
        (hand, batch_answer(&brief, &spec, 0, Ending::Found, &made).within_all)
    };
    let (hand, batched) = of(text);
    assert!((hand - 0.6827).abs() < 0.015, "{hand}");
    assert_eq!(batched, Some(1.0));
    let topped =
        format!("{text}[[candidate]]\nname = \"fizz\"\nrole = \"lengthener\"\nhandling = [\"carbonated\"]\n");
    assert_eq!(of(&topped).1, None);
}

//! What a run does not need it does not read. One test, for the larder is read once a process.

use washline::answer::explained;
use washline::brief::Origin;
use washline::explain::explain;
use washline::larder;
use washline::read::{read, schema};
use washline::render::{Format, Look, write};
use washline::solve::{Stop, solve};

const OWN: &str = r#"
title    = "Sour of the house"
currency = "GBP"
[serve]
method = "shake"
pour   = "2.5 ml"
[targets]
volume   = { min = 90, max = 110 }
strength = { min = 12, max = 14 }
acid     = { min = 7, max = 8.5 }
[aim]
lowest = "cost"
[[candidate]]
name     = "river gin"
role     = "base"
strength = 41
price    = "19.50 per 700 ml"
[[candidate]]
name  = "pressed lemon"
role  = "sour"
acid  = 55
sugar = 24
price = "0.22 per 25 ml"
[[candidate]]
name  = "pear syrup"
role  = "sweetener"
sugar = 600
price = "3.10 per 1 l"
"#;

/// The whole way from the bytes of a brief to the text of its answer.
fn answered(bytes: &[u8]) -> (usize, String) {
    let brief = read(bytes, &[]).expect("a brief without findings").brief;
    let named: usize = brief.candidates.iter().filter(|c| matches!(c.origin, Origin::Larder { .. })).count();
    let stop = Stop::default();
    let solved = solve(&brief, &stop);
    let answer = explained(&brief, &solved, &explain(&brief, &solved, &stop));
    (named, write(&answer, Format::Text, Look::default()))
}

#[test]
fn the_larder_is_read_only_as_far_as_it_is_named() {
    assert!(schema().is_object());
    assert_eq!(larder::opened(), None, "the schema reads the larder");

    let (named, text) = answered(OWN.as_bytes());
    assert!(text.contains("river gin") && named == 0, "{text}");
    assert_eq!(larder::opened(), None, "a brief with figures of its own reads the larder");

    // The control: the count does rise, by what is named and no more.
    let one =
        OWN.replacen("name     = \"river gin\"\nrole     = \"base\"\nstrength = 41", "larder = \"gin\"", 1);
    let (named, text) = answered(one.as_bytes());
    assert!(text.contains("gin") && named == 1, "{text}");
    assert_eq!(larder::opened(), Some(1));

    // Looking for words reads all of it.
    assert!(!larder::search(&["rum"]).is_empty());
    assert_eq!(larder::opened(), Some(larder::all().len()));
}

//! Flavour notes: what a brief may ask of them, and what its answers say.

use washline::answer::spec_answer;
use washline::brief::{Aim, Brief, Resolution};
use washline::read::{Setting, read};
use washline::solve::{Ending, Stop, solve};

const BRIEF: &str = r#"
title = "Notes"
currency = "GBP"
[serve]
method = "none"
pour = "5 ml"
most = 3
[targets]
volume = { min = 60, max = 90 }
strength = { min = 8, max = 25 }
[aim]
lowest = "cost"
[[candidate]]
name = "pear spirit"
role = "base"
strength = 40
notes = ["Pear", "oak"]
price = "20 per 700 ml"
max = "40 ml"
[[candidate]]
name = "grain spirit"
role = "base"
strength = 40
price = "10 per 700 ml"
max = "40 ml"
[[candidate]]
name = "honey water"
role = "sweetener"
sugar = 300
notes = ["honey"]
price = "8 per 1 l"
max = "40 ml"
[[candidate]]
name = "lemon water"
role = "sour"
acid = 20
notes = ["citrus", "zest"]
price = "4 per 1 l"
max = "40 ml"
[[candidate]]
name = "water"
role = "water"
price = "0 per 1 l"
max = "60 ml"
"#;

fn brief(settings: &[(&str, &str)]) -> Brief {
    let settings: Vec<Setting> = settings
        .iter()
        .map(|(key, value)| Setting { key: (*key).to_owned(), value: (*value).to_owned() })
        .collect();
    read(BRIEF.as_bytes(), &settings).unwrap_or_else(|findings| panic!("{findings:#?}")).brief
}

/// The best spec's notes with what they come from, and its score.
fn best(brief: &Brief) -> (f64, Vec<(String, Vec<String>)>) {
    let solved = solve(brief, &Stop::default());
    assert_eq!(solved.ending, Ending::Found);
    let best = spec_answer(brief, &solved).best.expect("a spec");
    (best.score, best.notes.into_iter().map(|line| (line.note, line.from)).collect())
}

fn told(notes: &[(&str, &[&str])]) -> Vec<(String, Vec<String>)> {
    let own = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
    notes.iter().map(|(note, from)| ((*note).to_owned(), own(from))).collect()
}

/// By hand: three ingredients carry pear (spirit), honey and citrus, and that is all there is room for. Letter case
/// does not matter.
#[test]
fn as_many_notes_as_there_is_room_for_are_covered() {
    let asked = brief(&[("aim.highest", "{ notes = [\"pear\", \"honey\", \"citrus\"] }")]);
    assert_eq!((asked.aim, asked.resolution), (Aim::Notes, Resolution::By(0.5)));
    let (score, notes) = best(&asked);
    assert_eq!(score, 3.0);
    let all: [(&str, &[&str]); 3] =
        [("pear", &["pear spirit"]), ("honey", &["honey water"]), ("citrus", &["lemon water"])];
    assert_eq!(notes, told(&all));
}

/// By hand: of two ingredients one has to be a spirit, and the lemon water alone carries two of the notes.
#[test]
fn what_carries_more_comes_before_what_carries_less() {
    let aim = ("aim.highest.notes", "[\"honey\", \"citrus\", \"zest\", \"smoke\"]");
    let asked = brief(&[aim, ("serve.most", "2"), ("candidate.grain spirit.must", "true")]);
    let (score, notes) = best(&asked);
    assert_eq!(score, 2.0);
    let all: [(&str, &[&str]); 4] =
        [("honey", &[]), ("citrus", &["lemon water"]), ("zest", &["lemon water"]), ("smoke", &[])];
    assert_eq!(notes, told(&all));
}

/// With `to = 0` cost decides among those that cover as many: grain spirit is cheaper than pear spirit.
#[test]
fn ties_are_broken_by_cost_where_every_difference_matters() {
    // What spirit and water lose in volume has room.
    let aim = ("aim.highest.notes", "[\"honey\", \"citrus\"]");
    let asked = brief(&[aim, ("aim.to", "0"), ("targets.volume.min", "59")]);
    let solved = solve(&asked, &Stop::default());
    let names: Vec<&str> =
        solved.specs[0].pours.iter().map(|p| asked.candidates[p.candidate].name.as_str()).collect();
    assert_eq!(names, ["grain spirit", "lemon water", "honey water"]);
    // By hand: at 8 % in 60 ml 12 ml of spirit are wanted, so 15; the dearer honey water as little as can be, and of
    // the lemon water no more than its 40 ml: 15 + 5 + 40.
    let amounts: Vec<f64> = solved.specs[0].pours.iter().map(|p| p.amount).collect();
    assert_eq!(amounts, [15.0, 40.0, 5.0]);
}

/// `[[choose]] note` is shown as well, and whatever else is aimed for.
#[test]
fn a_note_that_is_chosen_is_told_too() {
    let text = format!("{BRIEF}[[choose]]\nnote = \"honey\"\nmin = 1\n");
    let asked = read(text.as_bytes(), &[]).expect("a brief").brief;
    let (_, notes) = best(&asked);
    let all: [(&str, &[&str]); 1] = [("honey", &["honey water"])];
    assert_eq!(notes, told(&all));
    assert_eq!(asked.notes.aimed, Vec::<String>::new());
}

//! `washline sweep`, as a user runs it.

use serde_json::Value;
use unicode_width::UnicodeWidthStr;

use super::run::washline;
use crate::effort::some;

const DEMO: &str = "problems-demo/low-strength.toml";
const STRENGTH: &str = "targets.strength.max";

/// Water at a price that moves, and at 6.00 for 100 ml; 20 ml of them. Any of the two spirits may be in it.
const BY_HAND: &str = r#"
currency = "GBP"
[serve]
method = "none"
pour = "5 ml"
[targets]
volume = { min = 19, max = 21 }
[aim]
lowest = "cost"
[[candidate]]
name = "moving"
price = "5.00 per 100 ml"
[[candidate]]
name = "still"
price = "6.00 per 100 ml"
"#;

fn sweep(file: &str, over: &str, steps: &str) -> Value {
    washline(["sweep", file, "--over", over, "--steps", steps, "--format", "json"]).go().json(0)
}

fn by_hand(arguments: &[&str]) -> Value {
    let all = [&["sweep", "-", "--format", "json"][..], arguments].concat();
    washline(all).input(BY_HAND).go().json(0)
}

/// The answer with one value set; nothing where the brief's limits then stand the wrong way round.
fn solved(key: &str, value: &Value) -> Value {
    let setting = format!("{key}={value}");
    // A curve follows the aim alone: every difference matters.
    let run = washline(["spec", DEMO, "--set", &setting, "--set", "aim.to=0", "--format", "json"]).go();
    if run.status == 2 {
        assert!(run.err.contains("[min-over-max]"), "{}", run.err);
        return Value::Null;
    }
    serde_json::from_str(&run.out).expect("JSON")
}

/// The names of the best spec of an answer; none where there is none.
fn best(answer: &Value) -> Vec<&str> {
    if answer["best"].is_null() { vec![] } else { names(&answer["best"]["pours"]) }
}

fn names(pours: &Value) -> Vec<&str> {
    let all = pours.as_array().expect("pours").iter();
    all.filter_map(|p| p.as_str().or(p["ingredient"].as_str())).collect()
}

fn list<'a>(value: &'a Value, key: &str) -> &'a Vec<Value> {
    value[key].as_array().expect("a list")
}

#[test]
fn every_switch_is_confirmed_by_solving_on_both_sides() {
    let answer = sweep(DEMO, &format!("{STRENGTH}=8..10"), "5");
    assert_eq!((answer["over"].as_str(), list(&answer, "points").len()), (Some(STRENGTH), 5));
    assert!(!list(&answer, "switches").is_empty());
    for switch in some(list(&answer, "switches"), 6) {
        let (before, at) = (solved(STRENGTH, &switch["before"]), solved(STRENGTH, &switch["at"]));
        assert_eq!(best(&before), names(&switch["from"]), "before {}", switch["at"]);
        assert_eq!(best(&at), names(&switch["to"]), "at {}", switch["at"]);
        assert_ne!(names(&switch["from"]), names(&switch["to"]));
        let number = |key: &str| switch[key].as_f64().expect("a number");
        assert!((number("at") - number("before")).abs() <= 1e-9 * number("at"), "{switch}");
    }
}

#[test]
fn every_point_is_what_the_brief_gives_there() {
    let answer = sweep(DEMO, &format!("{STRENGTH}=7..13"), "7");
    for (at, point) in some(list(&answer, "points").iter().enumerate(), 3) {
        assert_eq!(point["at"].as_f64(), Some(7.0 + at as f64));
        // Under 8 the limits of this brief stand the wrong way round.
        if at == 0 {
            assert_eq!((&point["outcome"], &point["spec"]), (&Value::from("conflict"), &Value::Null));
            continue;
        }
        let alone = solved(STRENGTH, &point["at"]);
        assert_eq!(alone["outcome"], point["outcome"]);
        for key in ["pours", "served", "score"] {
            assert_eq!(alone["best"][key], point["spec"][key], "{}", point["at"]);
        }
    }
    let first = &list(&answer, "switches")[0];
    assert_eq!(names(&first["from"]), Vec::<&str>::new());
    assert!((first["at"].as_f64().expect("a number") - 8.0).abs() <= 1.0);
}

/// By hand: 20 ml of the cheaper water; the price that moves passes 6.00 for 100 ml at 6.00.
#[test]
fn a_price_moves_by_its_money_and_switches_where_two_are_even() {
    for (range, from, to) in [("4..8", "moving", "still"), ("8..4", "still", "moving")] {
        let over = format!("candidate.moving.price={range}");
        let answer = by_hand(&["--over", &over, "--steps", "6"]);
        assert_eq!(answer["pack"], "100 ml");
        let [switch] = list(&answer, "switches").as_slice() else { panic!("{answer}") };
        assert_eq!((names(&switch["from"]), names(&switch["to"])), (vec![from], vec![to]));
        for side in ["at", "before"] {
            let value = switch[side].as_f64().expect("a number");
            assert!((value - 6.0).abs() <= 6.0 * 3e-9, "{side} {value}");
        }
        for point in list(&answer, "points") {
            let (at, score) =
                (point["at"].as_f64().expect("a price"), point["score"].as_f64().expect("a cost"));
            assert!((score - 0.2 * at.min(6.0)).abs() < 1e-12, "{point}");
        }
    }
}

/// By hand: a spirit of 40 % vol cannot make a drink of more than that.
#[test]
fn what_no_spec_meets_is_a_point_and_a_switch() {
    let brief = BY_HAND.replace("name = \"still\"", "name = \"still\"\nstrength = 40");
    let arguments =
        ["sweep", "-", "--format", "json", "--over", "targets.strength.min=38..42", "--steps", "5"];
    let answer = washline(arguments).input(brief.as_str()).go().json(0);
    let outcomes: Vec<&str> = list(&answer, "points").iter().filter_map(|p| p["outcome"].as_str()).collect();
    assert_eq!(outcomes, ["found", "found", "found", "conflict", "conflict"]);
    let [switch] = list(&answer, "switches").as_slice() else { panic!("{answer}") };
    assert_eq!((names(&switch["from"]), names(&switch["to"])), (vec!["still"], vec![]));
    assert!((switch["at"].as_f64().expect("a number") - 40.0).abs() <= 40.0 * 3e-9, "{switch}");
    let nothing = ["sweep", "-", "--over", "targets.strength.min=50..60", "--steps", "3"];
    let text = washline(nothing).input(brief).go().answered(1);
    assert!(text.contains("no spec meets the brief at any of these points"), "{text}");
}

#[test]
fn counts_move_in_whole_numbers() {
    let answer = sweep(DEMO, "serve.most=3..6", "33");
    let at: Vec<f64> = list(&answer, "points").iter().filter_map(|p| p["at"].as_f64()).collect();
    assert_eq!(at, [3.0, 4.0, 5.0, 6.0]);
    // Four groups want one each: three ingredients are too few for this brief, and that is a point as well.
    assert_eq!(list(&answer, "points")[0]["outcome"], "conflict");
    assert!(names(&list(&answer, "switches")[0]["from"]).is_empty());
    for switch in list(&answer, "switches") {
        let number = |key: &str| switch[key].as_f64().expect("a number");
        assert_eq!((number("at").fract(), number("at") - number("before")), (0.0, 1.0));
    }
}

/// By hand: of a spirit that may be poured up to so many ml in steps of 5 ml, nothing can be poured under
/// 5 ml; from 5 ml on it is the cheaper of two, and from 20 ml on it is alone.
#[test]
fn where_not_one_pour_has_room_the_drink_goes_without() {
    let brief = BY_HAND.replace("5.00 per", "1.00 per");
    let run = |over: &str| {
        let over = ["sweep", "-", "--format", "json", "--over", over, "--steps", "6"];
        washline(over).input(brief.as_str()).go().json(0)
    };
    let answer = run("candidate.moving.max=0..25");
    assert_eq!(answer["unit"], "ml");
    let set = |point: &'_ Value| {
        let mut set: Vec<String> = names(&point["spec"]["pours"]).into_iter().map(str::to_owned).collect();
        set.sort();
        set
    };
    let sets: Vec<Vec<String>> = list(&answer, "points").iter().map(set).collect();
    let both = vec!["moving", "still"];
    assert_eq!(sets[..3], [vec!["still"], both.clone(), both.clone()]);
    assert_eq!(sets[3..], [both, vec!["moving"], vec!["moving"]]);
    let at: Vec<f64> = list(&answer, "switches").iter().filter_map(|s| s["at"].as_f64()).collect();
    // A whole number of steps is whole within a millionth of a step.
    assert!(at.len() == 2 && (at[0] - 5.0).abs() < 1e-5 && (at[1] - 20.0).abs() < 1e-5, "{at:?}");
    let alone = "candidate.moving.must=true";
    let refused = ["sweep", "-", "--set", alone, "--over", "candidate.moving.max=0..25"];
    let said = washline(refused).input(brief.as_str()).go().refused();
    assert!(said.contains("no amount of \"moving\" is possible"), "{said}");
}

/// Whoever sets the value that the text shows gets the new set of ingredients.
#[test]
fn the_values_in_the_text_are_on_the_new_side() {
    for range in some(["8..10", "10..8"], 2) {
        let over = format!("{STRENGTH}={range}");
        let answer = sweep(DEMO, &over, "5");
        let text = washline(["sweep", DEMO, "--over", &over, "--steps", "5"]).go().answered(0);
        let shown: Vec<Value> = text
            .lines()
            .filter_map(|line| line.trim_start().strip_prefix("- At "))
            .filter_map(|rest| rest.split_whitespace().next()?.parse::<f64>().ok().map(Value::from))
            .collect();
        assert_eq!(shown.len(), list(&answer, "switches").len(), "{text}");
        for (value, switch) in some(shown.iter().zip(list(&answer, "switches")), 6) {
            assert_eq!(best(&solved(STRENGTH, value)), names(&switch["to"]), "at {value}");
        }
    }
}

#[test]
fn every_value_has_its_unit() {
    for (over, unit) in [
        ("targets.strength.max=9..10", "% vol"),
        ("candidate.fino sherry.price=8..9", "GBP per 750 ml"),
        ("candidate.citric acid.max=0.2..0.4", "g"),
        ("candidate.\"fino sherry\".max=20..30", "ml"),
        ("candidate.fino sherry.strength=15..16", "% vol"),
        ("candidate.quince cordial.sugar=480..500", "g/L"),
        ("menu.price=8..9", "GBP"),
        ("serve.melt=40..45", "%"),
        ("serve.most=6..7", ""),
        ("variation.pour_error=1..2", "ml"),
        ("choose.sour.max=2..3", ""),
    ] {
        assert_eq!(sweep(DEMO, over, "2")["unit"], unit, "{over}");
    }
}

#[test]
fn every_format_gives_the_same_twice_and_text_fits_80_columns() {
    let looks = [("text", "ml"), ("text", "oz"), ("json", "ml"), ("markdown", "oz"), ("csv", "ml")];
    for (format, units) in some(looks, 5) {
        let over = format!("{STRENGTH}=7..11");
        let run = || {
            let arguments =
                ["sweep", DEMO, "--over", &over, "--steps", "5", "--format", format, "--units", units];
            washline(arguments).go().answered(0)
        };
        let text = run();
        assert_eq!(text, run(), "{format}");
        if format == "text" {
            let wide: Vec<&str> = text.lines().filter(|line| line.width() > 80).collect();
            assert!(wide.is_empty(), "{wide:?}");
        }
    }
}

#[test]
fn the_sheet_has_a_row_a_point_and_a_row_a_switch() {
    let over = format!("{STRENGTH}=8..10");
    let json = sweep(DEMO, &over, "3");
    let sheet =
        washline(["sweep", DEMO, "--over", &over, "--steps", "3", "--format", "csv"]).go().answered(0);
    let of = |what: &str| sheet.lines().filter(|line| line.starts_with(what)).count();
    assert_eq!((of("point,"), of("switch,")), (3, list(&json, "switches").len()));
}

#[test]
fn a_sweep_goes_with_swaps_and_settings() {
    let demo = "problems-demo/sweetener-swap.toml";
    let arguments = [
        "sweep",
        demo,
        "--swap",
        "sugar syrup 1:1=agave syrup",
        "--set",
        "hold.sweetness=9",
        "--over",
        "hold.strength=0.4..1.4",
        "--steps",
        "3",
        "--format",
        "json",
    ];
    let answer = washline(arguments).go().json(0);
    for point in list(&answer, "points").iter().filter(|p| p["outcome"] == "found") {
        assert!(names(&point["spec"]["pours"]).contains(&"agave syrup"));
    }
}

#[test]
fn what_cannot_be_swept_is_refused() {
    for (over, steps, part) in [
        ("targets.strength.max", "5", "names no value and two ends"),
        ("targets.strength.max=8", "5", "names no value and two ends"),
        ("targets.strength.max=8...16", "5", "names no value and two ends"),
        ("targets.strength.max=a..b", "5", "names no value and two ends"),
        ("targets.strength.max=nan..inf", "5", "names no value and two ends"),
        ("targets.strength.max=8..8", "5", "goes nowhere"),
        ("targets.strength.max=8..16", "1", "--steps 1 is not possible"),
        ("targets.strength.max=8..16", "10001", "--steps 10001 is not possible"),
        ("targets.strength.max=8..16", "18446744073709551615", "is not possible"),
        ("targets.strenght.max=8..16", "5", "is nothing that is measured"),
        ("targets.strength.max=-4..16", "5", "in --over"),
        ("title=1..2", "5", "takes no number"),
        ("serve.method=1..2", "5", "takes no number"),
        ("serve.most=1.5..4", "5", "takes whole numbers"),
        ("candidate.bay syrup.price=1..2", "5", "is no price yet"),
        ("candidate.nobody.price=1..2", "5", "is no price yet"),
        ("candidate.nobody.max=1..2", "5", "there is no candidate `nobody`"),
        ("candidate.quince cordial.acid.max=8..20", "3", "is below the typical 12"),
        ("choose.bse.max=1..2", "2", "did you mean \"base\"?"),
        ("targets.strength.max=1..7", "5", "is to be at least 8"),
    ] {
        let said = washline(["sweep", DEMO, "--over", over, "--steps", steps]).go().refused();
        assert!(said.contains(part), "{over} {steps}: {part} is not in\n{said}");
    }
}

#[test]
fn no_time_stops_a_sweep_with_status_3() {
    let over = format!("{STRENGTH}=8..16");
    let arguments = ["sweep", DEMO, "--over", &over, "--time-limit", "0"];
    let text = washline(arguments).go().answered(3);
    assert!(text.contains("Stopped before the end"), "{text}");
}

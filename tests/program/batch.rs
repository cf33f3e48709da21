//! `washline batch`, and answers that are written to files.

use std::fs;

use serde_json::Value;
use unicode_width::UnicodeWidthStr;

use super::run::washline;

const DEMO: &str = "problems-demo/low-strength.toml";
const SPRITZ: &str = "problems-demo/spritz.toml";
const STIRRED: &str = "problems-demo/stirred-budget.toml";

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap_or_else(|| panic!("{value} is no list"))
}

fn brief(rest: &str) -> String {
    format!(
        "title = \"=Tea, and \\\"more\\\"\"\ncurrency = \"JPY\"\n[serve]\nmethod = \"none\"\n[targets]\n\
         volume = {{ min = 50, max = 50.5 }}\n[aim]\nlowest = \"cost\"\n[[candidate]]\nname = \"-wine\"\nstrength = 12\n\
         price = \"1500 per 750 ml\"\n{rest}"
    )
}

#[test]
fn a_batch_is_the_best_spec_times_its_serves() {
    let best = washline(["spec", DEMO, "--format", "json"]).go().json(0)["best"].clone();
    let batch = washline(["batch", DEMO, "--serves", "60", "--format", "json"]).go().json(0);
    assert_eq!((&batch["format"], &batch["serves"]), (&Value::from(1), &Value::from(60)));
    for (pour, line) in list(&best["pours"]).iter().zip(list(&batch["lines"])) {
        assert_eq!((&line["ingredient"], &line["unit"]), (&pour["ingredient"], &pour["unit"]));
        let exact = 60.0 * number(&pour["amount"]);
        assert!((number(&line["amount"]) - exact).abs() <= 0.005 * exact, "{line}");
    }
    let water = 60.0 * number(&best["melt"]);
    assert!((number(&batch["water"]) - water).abs() <= 2.5);
    let strength = number(&best["served"]["strength"]);
    assert!((number(&batch["label"]["strength"]) - strength).abs() < 0.005 * strength);
    assert!((number(&batch["cost"]) - 60.0 * number(&best["served"]["cost"])).abs() < 0.5);
    assert!(number(&batch["label"]["units_of_alcohol"]) > 0.5);
    assert!(
        number(&batch["label"]["energy_per_100ml"]["kj"])
            > 4.0 * number(&batch["label"]["energy_per_100ml"]["kcal"])
    );
    assert_eq!(batch["label"]["allergens"], serde_json::json!(["sulphites"]));
}

/// What melts in the shaker and what melts in the glass are both still to come, and make up the water of the spec.
#[test]
fn ice_in_the_glass_is_told_apart_from_the_ice_that_works() {
    let best = washline(["spec", SPRITZ, "--format", "json"]).go().json(0)["best"].clone();
    let batch = washline(["batch", SPRITZ, "--serves", "10", "--format", "json"]).go().json(0);
    let (worked, glass) = (number(&batch["water"]), number(&batch["water_in_glass"]));
    assert!(worked > 100.0 && glass > 10.0, "{worked} and {glass}");
    assert!((worked + glass - 10.0 * number(&best["melt"])).abs() <= 0.5, "{worked} and {glass}");
    assert_eq!(number(&batch["spec"]["melt"]), number(&best["melt"]));
}

/// Worked by hand with the constants of the CRC Handbook (heat of fusion 333.55 J/g, water 4.196 J/(g K)): 60 ml of
/// tea taken for water are shaken with 12.18 ml (0.203 of them, Arnold's rule without alcohol). Put into the batch
/// and poured at 5 °C over ice, 72.18 ml × 0.9982 g/ml × 4.196 × 5 / 333.55 melt 4.53 g.
#[test]
fn what_was_diluted_ahead_meets_the_ice_in_the_glass_from_the_fridge() {
    let brief = "title = \"Tea\"\ncurrency = \"GBP\"\n[serve]\nmethod = \"shake\"\nserved = \"on ice\"\nglass = \"200 ml\"\n[targets]\n\
                 volume = { min = 60, max = 90 }\n[aim]\nlowest = \"cost\"\n[[candidate]]\nname = \"tea\"\nmin = \"60 ml\"\n\
                 max = \"60 ml\"\nprice = \"1.00 per 1 l\"\n";
    let asked = ["batch", "-", "--serves", "100", "--dilute"];
    let batch = washline(asked.iter().chain(&["--format", "json"])).input(brief).go().json(0);
    assert!((number(&batch["water"]) - 1218.0).abs() <= 2.5, "{}", batch["water"]);
    let melt = number(&batch["water_in_glass"]) / 100.0;
    assert!((melt - 4.53 / 0.9982).abs() < 0.02, "{melt}");
    assert!(
        (number(&batch["served"]["volume"]) - (72.18 + 4.54)).abs() < 0.1,
        "{}",
        batch["served"]["volume"]
    );
    let said = washline(asked).input(brief).go().answered(0);
    assert!(said.contains("over ice into a 200 ml glass"), "{said}");
    assert!(!said.contains("without ice"), "{said}");
}

/// By hand: 40 ml of gin (0.948 g/ml at 40 % vol, OIML R 22) that come from the fridge and not from the shelf bring
/// 15 K less, at 4.15 J/(g K) (Perry, ethyl alcohol, 33 % by mass) some 2,360 J: 7.1 g of ice less. The tonic on top
/// is as cold as it was.
#[test]
fn gin_from_the_fridge_melts_less_of_the_ice_in_the_glass() {
    let melted = |more: &[&str]| {
        let asked = ["batch", "problems-demo/highball.toml", "--serves", "12", "--format", "json"];
        let batch = washline(asked.iter().chain(more)).go().json(0);
        let gin = list(&batch["lines"]).iter().find(|l| l["ingredient"] == "gin").expect("gin").clone();
        assert_eq!(number(&gin["amount"]), 480.0);
        number(&batch["water_in_glass"]) / 12.0
    };
    let less = (melted(&[]) - melted(&["--dilute"])) * 0.9982;
    let by_hand = 40.0 * 0.948 * 4.15 * 15.0 / 333.55;
    assert!((less - by_hand).abs() < 0.15, "{less} g, by hand {by_hand}");
}

#[test]
fn packs_and_costs_of_the_lines_agree_with_their_sums() {
    let batch = washline(["batch", STIRRED, "--serves", "45", "--format", "json"]).go().json(0);
    let cost: f64 = list(&batch["lines"]).iter().map(|l| number(&l["cost"])).sum();
    assert!((cost - number(&batch["cost"])).abs() < 1e-9);
    for line in list(&batch["lines"]) {
        let size: f64 =
            line["pack"].as_str().and_then(|p| p.strip_suffix(" ml")).expect("ml").parse().expect("a size");
        let left = number(&line["packs"]) * size - number(&line["amount"]);
        assert!((number(&line["left_over"]) - left).abs() < 1e-6 && left >= 0.0 && left < size, "{line}");
    }
    let menu = &batch["costing"]["menu"];
    let net = 11.5 / 1.2;
    let serve = number(&batch["cost"]) / 45.0;
    assert!((number(&menu["pour_cost"]) - 100.0 * serve / net).abs() < 1e-9);
    assert!((number(&menu["gross_profit"]) - (net - serve)).abs() < 1e-9);
    assert!((number(&batch["costing"]["needed"]["price"]) - serve / 0.2 * 1.2).abs() < 1e-9);
}

#[test]
fn a_volume_is_that_of_the_vessel_with_and_without_the_water() {
    let make = |extra: &[&str]| {
        let arguments = ["batch", DEMO, "--make", "10 l", "--bottle", "700 ml", "--format", "json"];
        washline(arguments.iter().chain(extra)).go().json(0)
    };
    let (mix, drink) = (make(&[]), make(&["--dilute"]));
    for batch in [&mix, &drink] {
        assert!((number(&batch["volume"]) - 10_000.0).abs() < 25.0, "{}", batch["volume"]);
        assert_eq!(
            (&batch["bottles"]["full"], &batch["bottles"]["needed"]),
            (&Value::from(14), &Value::from(15))
        );
    }
    assert_eq!((&mix["water_from"], &drink["water_from"]), (&Value::from("ice"), &Value::from("added")));
    assert!(number(&mix["serves"]) > number(&drink["serves"]));
    assert!(number(&mix["mix"]["strength"]) > number(&drink["mix"]["strength"]) + 1.0);
    assert!((number(&drink["mix"]["strength"]) - number(&drink["label"]["strength"])).abs() < 0.01);
}

#[test]
fn an_alternative_is_the_one_that_spec_lists() {
    let spec = washline(["spec", DEMO, "--format", "json"]).go().json(0);
    let batch =
        washline(["batch", DEMO, "--serves", "10", "--alternative", "2", "--format", "json"]).go().json(0);
    let names = |pours: &Value| list(pours).iter().map(|p| p["ingredient"].clone()).collect::<Vec<_>>();
    assert_eq!(names(&batch["lines"]), names(&spec["alternatives"][1]["pours"]));
    assert_eq!(batch["alternative"], 2);
    let few = brief("");
    let said = washline(["batch", "-", "--serves", "10", "--alternative", "3"]).input(few).go().refused();
    assert!(said.contains("this brief has no alternatives"), "{said}");
}

#[test]
fn text_fits_80_columns_and_every_output_names_the_cautions() {
    for file in [DEMO, STIRRED] {
        for units in ["ml", "oz"] {
            let text =
                washline(["batch", file, "--serves", "60", "--dilute", "--units", units]).go().answered(0);
            let wide: Vec<&str> = text.lines().filter(|line| line.width() > 80).collect();
            assert!(wide.is_empty(), "{file}: {wide:?}");
        }
        for format in ["text", "json", "markdown", "csv"] {
            let full = ["batch", file, "--serves", "60", "--full", "--format", format];
            let run = || washline(full).go().answered(0);
            let said = run();
            assert_eq!(said, run());
            let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
            for part in ["Allergens: sulphites", "competent person", "No shelf life is promised", "1169/2011"]
            {
                assert!(said.contains(part), "{file} {format}: {part}");
            }
        }
    }
}

/// A4 at ten points holds some sixty lines of about a hundred characters.
#[test]
fn the_prep_card_prints_on_one_page() {
    for file in [DEMO, STIRRED] {
        let card =
            washline(["batch", file, "--serves", "60", "--dilute", "--format", "markdown"]).go().answered(0);
        let lines: usize = card.lines().filter(|l| !l.is_empty()).map(|l| l.width().div_ceil(100)).sum();
        assert!(lines <= 62, "{file}: {lines} lines");
    }
}

#[test]
fn no_cell_of_the_sheet_runs_and_yen_have_no_decimals() {
    let sheet =
        washline(["batch", "-", "--serves", "7", "--format", "csv"]).input(brief("")).go().answered(0);
    assert!(sheet.contains("\"'=Tea, and \"\"more\"\"\""), "{sheet}");
    assert!(sheet.contains(",'-wine,"), "{sheet}");
    let columns = |line: &str| {
        let mut quoted = false;
        1 + line
            .chars()
            .filter(|c| {
                quoted ^= *c == '"';
                *c == ',' && !quoted
            })
            .count()
    };
    assert!(sheet.lines().all(|line| columns(line) == 11), "{sheet}");
    let text = washline(["batch", "-", "--serves", "7"]).input(brief("")).go().answered(0);
    assert!(text.contains("700 JPY for what is used, 100 JPY a serve; 1500 JPY for the packs."), "{text}");
}

#[test]
fn a_brief_without_an_answer_has_no_batch() {
    let file = "problems-demo/too-much.toml";
    let batch = washline(["batch", file, "--serves", "10"]).go().answered(1);
    assert_eq!(batch, washline(["spec", file]).go().answered(1));
}

#[test]
fn orders_that_cannot_be_are_refused() {
    let runs: [(&[&str], &str); 10] = [
        (&[], "--make"),
        (&["--serves", "0"], "0"),
        (&["--serves", "-4"], "-4"),
        (&["--make", "10 kg"], "is a weight"),
        (&["--make", "0 l"], "is nothing"),
        (&["--make", "20 serves"], "--serves 20"),
        (&["--make", "10 ml"], "less than one serve"),
        (&["--make", "900000 l"], "more than 100000 litres"),
        (&["--serves", "9", "--bottle", "big"], "--bottle"),
        (&["--serves", "9", "--make", "1 l"], "cannot be used with"),
    ];
    for (arguments, part) in runs {
        let said = washline(["batch", DEMO].iter().chain(arguments)).go().refused();
        assert!(said.contains(part), "{arguments:?}: {said}");
    }
}

#[test]
fn an_answer_is_written_whole_and_over_nothing_unless_forced() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("card.md");
    let file = path.to_str().expect("a plain path");
    let write = |extra: &[&str]| {
        let arguments = ["batch", DEMO, "--serves", "60", "--format", "markdown", "--write", file];
        washline(arguments.iter().chain(extra)).variable("CLICOLOR_FORCE", "1").go()
    };
    let first = write(&[]);
    assert_eq!((first.status, first.out.as_str()), (0, ""), "{first:?}");
    assert_eq!(first.err, format!("Wrote {file}.\n"));
    let card = washline(["batch", DEMO, "--serves", "60", "--format", "markdown"]).go().answered(0);
    assert_eq!(fs::read_to_string(&path).expect("the card"), card);
    fs::write(&path, "mine").expect("a file");
    let said = write(&[]).refused();
    assert!(said.contains("it exists already") && said.contains("--force"), "{said}");
    assert_eq!(fs::read_to_string(&path).expect("the card"), "mine");
    assert_eq!(write(&["--force"]).status, 0);
    assert_eq!(fs::read_to_string(&path).expect("the card"), card);
    assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 1);
}

#[test]
fn spec_and_check_write_files_too() {
    let folder = tempfile::tempdir().expect("a folder");
    let runs: [(&str, &[&str]); 2] =
        [("a.txt", &["spec", DEMO]), ("b.txt", &["check", DEMO, "30 ml aged rum"])];
    for (name, arguments) in runs {
        let path = folder.path().join(name);
        let shown = washline(arguments).go();
        let run = washline(arguments.iter().chain(&["--write", path.to_str().expect("a plain path")]))
            .variable("CLICOLOR_FORCE", "1")
            .go();
        assert_eq!((run.status, run.out.as_str()), (shown.status, ""));
        assert_eq!(fs::read_to_string(&path).expect("the answer"), shown.out);
    }
    let lost = folder.path().join("no/such/file.txt");
    let said = washline(["spec", DEMO, "--write", lost.to_str().expect("a plain path")]).go().refused();
    assert!(said.contains("there is no such folder"), "{said}");
}

#[test]
fn stopped_at_once_is_said() {
    let run = washline(["batch", DEMO, "--serves", "10", "--time-limit", "0"]).go();
    assert_eq!(run.status, 3, "{run:?}");
    assert!(run.out.contains("Stopped before any spec was found"), "{}", run.out);
}

/// A drink that nobody should make: one of everything that asks for care.
#[test]
fn no_caution_is_missing_in_any_output() {
    let candidates = [
        ("egg white", "raw egg"),
        ("heavy cream", "curdle"),
        ("lime juice", "changes within hours"),
        ("citric acid", "guard your eyes"),
        ("overproof rum", "open fire"),
        ("quinquina", "quinine"),
        ("aromatic bitters", "botanicals"),
        ("maltitol", "polyols"),
        ("soda water", "holds gas"),
    ];
    let mut text =
        "[serve]\nmethod = \"shake\"\npour = \"5 ml\"\n[targets]\nvolume = { min = 10, max = 300 }\n\
                    [aim]\nlowest = \"volume\"\n"
            .to_owned();
    for (name, _) in &candidates {
        for piece in ["[[candidate]]\nlarder = \"", name, "\"\nmust = true\n"] {
            text += piece;
        }
    }
    text += "[[candidate]]\nname = \"glycerine\"\nhandling = [\"glycerol\"]\nsugar = 0\npolyols = 1000\nmust = true\n";
    let line = candidates
        .iter()
        .map(|(name, _)| {
            format!("5 {} {name}", if matches!(*name, "citric acid" | "maltitol") { "g" } else { "ml" })
        })
        .collect::<Vec<_>>()
        .join(", ")
        + ", 5 ml glycerine";
    for format in ["text", "json", "markdown", "csv"] {
        let runs: [&[&str]; 3] = [
            &["spec", "-", "--format", format],
            &["check", "-", &line, "--format", format],
            &["batch", "-", "--serves", "40", "--format", format],
        ];
        for arguments in runs {
            let run = washline(arguments).input(text.clone()).go();
            let said = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
            let parts = candidates.iter().map(|(_, part)| *part);
            for part in parts.chain(["glycerol", "Allergens: ", "milk (", "eggs (", "competent person"]) {
                assert!(said.contains(part), "{arguments:?}: {part} is not in\n{}{}", run.out, run.err);
            }
        }
    }
}

#[test]
fn waste_is_mixed_on_top_and_told() {
    let run = washline(["batch", STIRRED, "--serves", "57", "--waste", "5", "--format", "json"]).go().json(0);
    assert_eq!(number(&run["serves"]), 57.0);
    assert!((number(&run["serves_mixed"]) - 60.0).abs() < 1e-9, "{}", run["serves_mixed"]);
    let text = washline(["batch", STIRRED, "--serves", "57", "--waste", "5 %"]).go().out;
    assert!(text.contains("a batch of 57 serves, 5 % of the mix allowed for waste"), "{text}");
    for wrong in ["60", "-1", "some"] {
        let refused = washline(["batch", STIRRED, "--serves", "57", &format!("--waste={wrong}")]).go();
        assert!(refused.status == 2 && refused.err.contains("from 0 to 50"), "{refused:?}");
    }
}

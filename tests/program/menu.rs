//! `washline menu`: one table, what changes, the shelf, the order, and what is wrong with any of it.

use std::fs;
use std::path::Path;

use serde_json::Value;

use super::run::washline;

const DEMO: &str = "problems-demo/menu";
const SALES: &str = "problems-demo/menu/sales.csv";

/// A small drink of two bottles, of its own money.
fn brief(title: &str, rum: &str) -> String {
    format!(
        "title = \"{title}\"\ncurrency = \"GBP\"\n[menu]\nserves = 10\n[serve]\nmethod = \"none\"\npour = \"5 ml\"\n\
         [targets]\nvolume = {{ min = 95, max = 105 }}\nstrength = {{ min = 15, max = 25 }}\n[aim]\nlowest = \"cost\"\n\
         [[candidate]]\nname = \"rum\"\nstrength = 40\nrole = \"base\"\nprice = \"{rum} per 700 ml\"\n\
         [[candidate]]\nname = \"tonic\"\nsugar = 0\nprice = \"1.00 per 1 l\"\n"
    )
}

fn folder(files: &[(&str, String)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    files.iter().for_each(|(name, text)| fs::write(folder.path().join(name), text).expect("a file"));
    folder
}

fn menu(folder: &Path, more: &[&str]) -> super::run::Run {
    washline(["menu", "."].iter().chain(more)).folder(folder)
}

fn names(list: &Value) -> Vec<&str> {
    list.as_array().expect("a list").iter().map(|one| one.as_str().expect("a name")).collect()
}

#[test]
fn every_drink_stands_in_the_table_as_its_own_spec_has_it() {
    let answer = washline(["menu", DEMO, "--format", "json"]).go().json(0);
    let drinks = answer["drinks"].as_array().expect("drinks");
    assert_eq!(drinks.len(), 6);
    for drink in drinks {
        let file = drink["file"].as_str().expect("a file");
        let alone = washline(["spec", file, "--format", "json"]).go().json(0);
        for key in ["pours", "served", "score", "within_all"] {
            assert_eq!(drink["spec"][key], alone["best"][key], "{file} {key}");
        }
        assert_eq!(drink["title"], alone["title"]);
        assert!(drink["proved"].as_bool().expect("a truth"));
    }
    let text = washline(["menu", DEMO]).go().answered(0);
    assert!(drinks.iter().all(|drink| text.contains(drink["title"].as_str().expect("a title"))), "{text}");
    assert!(text.contains("Proved of each") && text.lines().all(|line| line.chars().count() <= 80), "{text}");
}

#[test]
fn every_format_ends_alike_and_twice_the_same() {
    for format in ["text", "json", "markdown", "csv"] {
        let run = || {
            washline(["menu", DEMO, "--shelf", "12", "--serves-from", SALES, "--format", format])
                .go()
                .answered(0)
        };
        assert_eq!(run(), run(), "{format}");
    }
    let csv = washline(["menu", DEMO, "--format", "csv"]).go().answered(0);
    assert_eq!(csv.lines().count(), 7);
    assert!(csv.starts_with("what,drink,file,outcome,proved,spec,cost,"));
}

#[test]
fn the_page_has_every_drink_and_fetches_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let page = folder.path().join("menu.html");
    let page = page.to_str().expect("a path");
    let run = washline(["menu", DEMO, "--shelf", "fewest", "--serves-from", SALES, "--report", page]).go();
    assert_eq!(run.status, 0, "{}", run.err);
    let page = fs::read_to_string(page).expect("a page");
    for title in ["River sour", "Quay daisy", "Orchard cooler", "Ferryman", "Low tide", "Night boat"] {
        assert!(page.contains(title), "{title}");
    }
    assert!(page.contains("default-src 'none'") && !page.contains("http://") && !page.contains("src="));
    let ids: Vec<&str> = page.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    let mut once = ids.clone();
    once.sort_unstable();
    once.dedup();
    assert_eq!(once.len(), ids.len(), "{ids:?}");
}

#[test]
fn a_brief_that_fails_is_a_row_and_the_others_stand() {
    let impossible = brief("Nothing", "17.50").replace("max = 25", "max = 25 }\nacid = { min = 5");
    let folder = folder(&[
        ("a.toml", brief("Rum and tonic", "17.50")),
        ("b.toml", "title = \"Broken\"\n[serve]\nmethod = \"shaken\"\n".to_owned()),
        ("c.toml", impossible),
        ("house.toml", "[[candidate]]\nname = \"rum\"\nstrength = 40\n".to_owned()),
    ]);
    let run = menu(folder.path(), &["--format", "json"]).go();
    assert_eq!(run.status, 1);
    assert!(run.err.contains("b.toml:3:"), "{}", run.err);
    let answer: Value = serde_json::from_str(&run.out).expect("JSON");
    let outcomes: Vec<&str> = answer["drinks"]
        .as_array()
        .expect("drinks")
        .iter()
        .map(|d| d["outcome"].as_str().expect("a word"))
        .collect();
    assert_eq!(outcomes, ["found", "refused", "conflict"]);
    assert!(answer["drinks"][1]["reason"].as_str().expect("a reason").starts_with("line 3: "));
    assert!(!answer["drinks"][2]["conflict"]["cores"].as_array().expect("cores").is_empty());
    let text = menu(folder.path(), &[]).go();
    assert_eq!(text.status, 1);
    assert!(
        text.out.contains("What is in the way") && text.out.contains("its brief cannot be read"),
        "{}",
        text.out
    );
}

/// By hand: 15 % vol of 95 ml are 35.6 ml of rum at 40 %, 40 ml in steps of 5; with 55 ml of tonic they shrink to under
/// 95 ml, so 60 ml go in.
#[test]
fn another_price_and_a_missing_bottle_are_told_of_each_drink() {
    let with_gin = brief("Gin too", "17.50")
        + "[[candidate]]\nname = \"gin\"\nrole = \"base\"\nstrength = 40\nprice = \"21 per 700 ml\"\n";
    let folder = folder(&[("a.toml", brief("Rum and tonic", "17.50")), ("b.toml", with_gin)]);
    let answer = menu(folder.path(), &["--price", "rum=28", "--format", "json"]).go().json(0);
    let what_if = &answer["what_if"];
    assert_eq!(what_if["changed"].as_array().expect("drinks").len(), 2);
    let first = &what_if["changed"][0];
    let rum = first["drink"]["spec"]["pours"][0]["amount"].as_f64().expect("ml");
    let dearer = first["dearer"].as_f64().expect("money");
    assert_eq!(rum, 40.0);
    assert!((dearer - rum * (28.0 - 17.5) / 700.0).abs() < 1e-9, "{dearer}");
    assert_eq!(what_if["changed"][1]["drink"]["spec"]["pours"][0]["ingredient"], "gin");

    let answer = menu(folder.path(), &["--without", "rum", "--format", "json"]).go().json(0);
    let changed = &answer["what_if"]["changed"];
    assert_eq!(changed[0]["drink"]["outcome"], "conflict");
    assert_eq!(changed[1]["drink"]["spec"]["pours"][0]["ingredient"], "gin");
    let text = menu(folder.path(), &["--without", "rum"]).go().answered(0);
    assert!(text.contains("cannot be made any more") && text.contains("way out"), "{text}");

    // The gin takes over where it costs no more: at 21.
    let answer = menu(folder.path(), &["--price", "rum=?", "--format", "json"]).go().json(0);
    let switches = answer["prices"][0]["drinks"][1]["switches"].as_array().expect("switches");
    let at: Vec<f64> = switches.iter().map(|switch| switch["at"].as_f64().expect("money")).collect();
    assert!(at.iter().any(|at| (at - 21.0).abs() < 0.01), "{at:?}");
    let same = answer["prices"][0]["drinks"][0]["switches"].as_array().expect("switches").len();
    assert_eq!(same, 0);
}

#[test]
fn what_has_to_be_used_is_told_and_what_the_house_makes_of_it_goes_too() {
    let made = brief("Syrup", "17.50").replace("max = 25 }", "max = 25 }\nsugar = { min = 20, max = 60 }")
        + "[[candidate]]\nname = \"sugar\"\nform = \"powder\"\nsugar = 1000\nprice = \"1 per 1 kg\"\nout = true\n\
           [[candidate]]\nname = \"syrup\"\nmade = { by = \"weight\", parts = { sugar = 1, water = 1 } }\n";
    let must = brief("Rum only", "17.50").replace("role = \"base\"", "role = \"base\"\nmust = true");
    let folder = folder(&[("a.toml", made), ("b.toml", must)]);
    let changed = |name: &str| {
        let answer = menu(folder.path(), &["--without", name, "--format", "json"]).go().json(0);
        answer["what_if"]["changed"].as_array().expect("drinks").clone()
    };
    let without_sugar = changed("sugar");
    assert_eq!((without_sugar.len(), &without_sugar[0]["drink"]["outcome"]), (1, &Value::from("conflict")));
    let barred: Vec<Value> = changed("rum").iter().map(|drink| drink["barred"].clone()).collect();
    assert_eq!(barred, [Value::Null, Value::from("rum")]);
}

/// By hand: 10 serves of 40 ml rum are 400 ml, less than a bottle; 60 ml of tonic are 600 ml, less than a litre.
#[test]
fn an_order_counts_packs_stock_and_what_spoils() {
    let stocked = brief("Rum and tonic", "17.50").replace(
        "price = \"1.00 per 1 l\"",
        "price = \"1.00 per 1 l\"\nkeeps_days = 2\nleast_order = 6\nstock = \"100 ml\"",
    );
    let folder =
        folder(&[("a.toml", stocked), ("sold.csv", "drink;serves\nrum and TONIC;6\na;4\n".to_owned())]);
    let run = menu(folder.path(), &["--serves-from", "sold.csv", "--format", "json"]).go().json(0);
    let lines = run["order"]["buy"]["lines"].as_array().expect("lines");
    let line = |name: &str| lines.iter().find(|line| line["bottle"] == name).expect("a line");
    let (rum, tonic) = (line("rum"), line("tonic"));
    let of = |line: &Value| ["need", "packs", "left"].map(|key| line[key].as_f64().expect("a figure"));
    assert_eq!(of(rum), [400.0, 1.0, 300.0]);
    assert_eq!(tonic["need"].as_f64(), Some(600.0));
    // Opened afresh every two days, four times a week; six are the fewest that come, and two of them stay closed.
    assert_eq!((tonic["packs"].as_u64(), tonic["from_stock"].as_f64()), (Some(6), Some(100.0)));
    let need = tonic["need"].as_f64().expect("ml");
    assert_eq!(tonic["spoiled"].as_f64(), Some(4000.0 - (need - 100.0)));
    assert_eq!(tonic["left"].as_f64(), Some(2000.0));
    assert_eq!(run["order"]["buy"]["spend"].as_f64(), Some(17.5 + 6.0));
    assert_eq!(run["order"]["drinks"][0]["serves"].as_f64(), Some(10.0));
}

#[test]
fn sales_that_cannot_be_used_are_told_row_by_row() {
    let sold = "drink,serves\nRum and tonik,6\nRum and tonic,lots\n";
    let folder = folder(&[("a.toml", brief("Rum and tonic", "17.50")), ("sold.csv", sold.to_owned())]);
    let said = menu(folder.path(), &["--serves-from", "sold.csv"]).go().refused();
    for words in
        ["sold.csv:2:1", "sold.csv:3:1", "did you mean \"Rum and tonic\"?", "`lots` is no number of serves"]
    {
        assert!(said.contains(words), "{words}: {said}");
    }
    let said = menu(folder.path(), &["--serves-from", "none.csv"]).go().refused();
    assert!(said.contains("cannot read none.csv"), "{said}");
}

#[test]
fn drinks_that_do_not_agree_are_told_with_their_places() {
    let dollars = brief("Third", "17.50").replace("GBP", "USD");
    let files = [("a.toml", brief("Same", "17.50")), ("b.toml", brief("Same", "19")), ("c.toml", dollars)];
    let folder = folder(&files);
    let run = menu(folder.path(), &[]).go();
    assert_eq!(run.status, 0, "the table stands: {}", run.err);
    for words in
        ["b.toml:1:", "is called \"Same\", too", "rum is 17.50 per 700 ml in", "c.toml:2:", "counts in USD"]
    {
        assert!(run.err.contains(words), "{words}: {}", run.err);
    }
    let said = menu(folder.path(), &["--shelf", "2"]).go().refused();
    assert!(said.contains("rum is 17.50") && said.contains("counts in USD"), "{said}");
}

#[test]
fn a_shelf_too_small_is_told_and_the_fewest_are_shown() {
    let answer = washline(["menu", DEMO, "--shelf", "3", "--format", "json"]).go().json(1);
    let shelf = &answer["shelf"];
    assert_eq!((shelf["fits"].as_bool(), shelf["asked"].as_u64()), (Some(false), Some(3)));
    assert_eq!(shelf["fewest"], shelf["count"]);
    let fewest = washline(["menu", DEMO, "--shelf", "fewest", "--format", "json"]).go().json(0);
    assert_eq!(fewest["shelf"]["as_good"], shelf["as_good"]);
    // Every drink is measured again and keeps its brief on that shelf.
    let bottles = names(&fewest["shelf"]["as_good"][0]);
    for drink in fewest["shelf"]["drinks"].as_array().expect("drinks") {
        assert!(drink["worse"].as_f64().is_none_or(|worse| worse <= 5.0 + 1e-6), "{drink}");
    }
    assert_eq!(bottles.len(), fewest["shelf"]["count"].as_u64().expect("a count") as usize);
}

#[test]
fn what_the_command_line_has_wrong_is_told() {
    for (more, words) in [
        (&["--shelf", "few"][..], "write fewest, or how many bottles"),
        (&["--price", "rum"], "NAME=PRICE"),
        (&["--price", "rhum agricole=20"], "no drink of this menu knows"),
        (&["--without", "aged ram"], "did you mean \"aged rum\"?"),
        (&["--pour-cost", "0"], "a percentage over 0"),
        (&["--as", "mps", "--shelf", "9"], "cannot be used with"),
    ] {
        let said = washline(["menu", DEMO].iter().chain(more)).go().refused();
        assert!(said.contains(words), "{words}: {said}");
    }
    let folder = tempfile::tempdir().expect("a folder");
    let said = washline(["menu".as_ref(), folder.path().as_os_str()]).go().refused();
    assert!(said.contains("there is no brief in"), "{said}");
    let serveless = brief("No serves", "17.50").replace("[menu]\nserves = 10\n", "");
    let folder = self::folder(&[("a.toml", serveless)]);
    let said = menu(folder.path(), &["--shelf", "3"]).go().refused();
    assert!(said.contains("how many serves of No serves go out in a week?"), "{said}");
}

#[test]
fn the_program_of_a_menu_is_written_for_solvers() {
    let mps = washline(["menu", DEMO, "--as", "mps"]).go().answered(0);
    assert!(mps.contains("open_lemon_juice") && mps.contains("d6_good") && mps.ends_with("ENDATA\n"));
    let lp = washline(["menu", DEMO, "--as", "lp"]).go().answered(0);
    assert!(lp.contains("Minimize") && lp.trim_end().ends_with("End"));
}

//! A given spec against the rules of a brief, and what asks for care in it.

use washline::answer::{CheckAnswer, Miss, check_answer};
use washline::read::{read, spec_line};

/// The answer to `check` on this brief and line.
#[track_caller]
fn check(brief: &str, line: &str) -> CheckAnswer {
    let reading = read(brief.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}"));
    let pours = spec_line::read(line, &reading.brief).unwrap_or_else(|findings| panic!("{findings:#?}"));
    check_answer(&reading.brief, &pours)
}

/// A brief around these keys of `[serve]` and these candidates and rules.
fn brief(serve: &str, rest: &str) -> String {
    format!(
        "title = \"Test\"\n[serve]\n{serve}\n[targets]\nvolume = {{ min = 1, max = 500 }}\n[aim]\nlowest = \"strength\"\n{rest}"
    )
}

/// Two plain candidates, with further keys for the first.
fn two(keys: &str) -> String {
    format!(
        "[[candidate]]\nname = \"spirit\"\nrole = \"base\"\nstrength = 40\n{keys}\n\
         [[candidate]]\nname = \"sour, green\"\nrole = \"sour\"\nacid = 50\n"
    )
}

fn rules(brief: &str, line: &str) -> Vec<String> {
    let answer = check(brief, line);
    let rule = |miss: &Miss| match miss {
        Miss::Rule { rule } => Some(rule.clone()),
        Miss::Target { .. } => None,
    };
    answer.misses.iter().filter_map(rule).collect()
}

#[test]
fn a_spec_within_all_rules_meets() {
    let brief =
        brief("method = \"none\"\npour = \"2.5 ml\"", &two("min = \"10 ml\"\nmax = \"50 ml\"\nmust = true"));
    let answer = check(&brief, "40 ml spirit, 22.5 ml sour, green");
    assert!(answer.meets && answer.misses.is_empty());
}

#[test]
fn every_rule_of_a_pour_is_looked_at() {
    let serve = "method = \"none\"\npour = \"2.5 ml\"\nsmallest = \"5 ml\"";
    let both = two("max = \"50 ml\"\nmust = true");
    assert_eq!(
        rules(&brief(serve, &both), "41 ml spirit"),
        ["spirit: 41 ml is not a whole number of 2.5 ml steps"]
    );
    assert_eq!(
        rules(&brief(serve, &both), "2.5 ml spirit"),
        ["spirit: 2.5 ml is under its smallest pour of 5 ml"]
    );
    assert_eq!(
        rules(&brief(serve, &both), "60 ml spirit"),
        ["spirit: 60 ml is over its largest pour of 50 ml"]
    );
    assert_eq!(
        rules(&brief(serve, &both), "25 ml sour, green"),
        ["spirit has to be used, but is not poured"]
    );
    assert_eq!(rules(&brief(serve, &two("out = true")), "25 ml spirit"), ["spirit is out, but is poured"]);
}

#[test]
fn every_rule_of_a_spec_is_looked_at() {
    let both = two("");
    let line = "40 ml spirit, 20 ml sour, green";
    assert_eq!(
        rules(&brief("method = \"none\"\nmost = 1", &both), line),
        ["2 ingredients, at most 1 are allowed"]
    );
    let choose = |limit: &str| format!("{both}[[choose]]\nrole = \"sour\"\n{limit}\n");
    assert_eq!(rules(&brief("method = \"none\"", &choose("min = 1")), "40 ml spirit").len(), 1);
    assert_eq!(rules(&brief("method = \"none\"", &choose("max = 0")), line).len(), 1);
    let ratio =
        |limit: &str| format!("{both}[[proportion]]\nof = \"spirit\"\nto = \"sour, green\"\n{limit}\n");
    assert_eq!(
        rules(&brief("method = \"none\"", &ratio("max = 1.5")), line),
        ["spirit to sour, green is 2, at most 1.5 allowed"]
    );
    assert_eq!(
        rules(&brief("method = \"none\"", &ratio("min = 3")), line),
        ["spirit to sour, green is 2, at least 3 asked for"]
    );
    // 25 to 20 is 1.25: within 1.2 to 1.3, and at the edge of 1.25; of something to nothing there is no end.
    for limit in ["min = 1.2\nmax = 1.3", "max = 1.25", "min = 1.25"] {
        let rules = rules(&brief("method = \"none\"", &ratio(limit)), "25 ml spirit, 20 ml sour, green");
        assert!(rules.is_empty(), "{limit}: {rules:?}");
    }
    assert_eq!(
        rules(&brief("method = \"none\"", &ratio("max = 1.5")), "40 ml spirit"),
        ["spirit to sour, green is without limit, at most 1.5 allowed"]
    );
    let glass = rules(&brief("method = \"none\"\nglass = \"60 ml\"\nheadroom = 10", &both), line);
    assert_eq!(glass.len(), 1);
    assert!(glass[0].ends_with("is more than the 60 ml glass holds with 10 % of it left free"), "{glass:?}");
}

fn cautions(brief: &str, line: &str) -> String {
    check(brief, line).cautions.join("\n")
}

#[test]
fn a_plain_drink_asks_for_nothing() {
    let brief = brief("method = \"none\"", &two(""));
    assert_eq!(cautions(&brief, "25 ml spirit, 25 ml sour, green"), "");
}

#[test]
fn a_strong_serve_states_grams_and_units() {
    let brief = brief("method = \"none\"", &two(""));
    // 80 ml of 40 % vol are 32 ml of ethanol: 3.2 UK units of 10 ml, 25.3 g at 0.78924 g/ml.
    let said = cautions(&brief, "80 ml spirit");
    assert!(said.contains("25.3 g of ethanol, 3.2 UK units"), "{said}");
    assert!(said.contains("local rules"), "{said}");
    assert!(!cautions(&brief, "60 ml spirit").contains("ethanol"));
}

#[test]
fn the_melt_of_a_rule_is_an_estimate_and_an_exact_one_is_not() {
    let by_rule = brief("method = \"shake\"", &two(""));
    // 0.05 ml per ml poured: 3 ml on 60.
    assert!(cautions(&by_rule, "30 ml spirit, 30 ml sour, green").contains("give or take 3 ml"));
    // 2.5 ml of 40 % vol in 100 ml are 1 % vol before the ice: the fit starts at 10.
    assert!(
        cautions(&by_rule, "2.5 ml spirit, 97.5 ml sour, green")
            .contains("fitted on drinks of 10 to 45 % vol")
    );
    assert!(!cautions(&by_rule, "30 ml spirit, 30 ml sour, green").contains("fitted on"));
    let exact = brief("method = \"shake\"\nmelt = { typical = 40, exact = true }", &two(""));
    assert!(!cautions(&exact, "30 ml spirit, 30 ml sour, green").contains("estimate"));
    // A figure of her own varies as the rule does, or as she says.
    let given = |melt: &str| brief(&format!("method = \"shake\"\nmelt = {melt}"), &two(""));
    assert!(cautions(&given("40"), "30 ml spirit, 30 ml sour, green").contains("give or take 3 ml"));
    let spread = given("{ typical = 40, spread = 2 }");
    assert!(cautions(&spread, "50 ml spirit, 50 ml sour, green").contains("give or take 2 ml"));
}

#[test]
fn what_is_served_from_the_freezer_is_told_with_its_temperature() {
    let at = |degrees: f64| brief("method = \"none\"", &two(&format!("temperature = {degrees:?}\n")));
    let said = cautions(&at(-18.0), "60 ml spirit, 20 ml sour, green");
    assert!(said.contains("°C in the glass") && !said.contains("Freezes before"), "{said}");
    // A spirit of 40 % vol freezes at -23 °C (Lange's Handbook, table 5.13: -23.6 at 40.5 % vol).
    let said = cautions(&at(-30.0), "60 ml spirit");
    assert!(said.contains("spirit at about -23 °C"), "{said}");
    assert!(!cautions(&brief("method = \"none\"", &two("")), "60 ml spirit").contains("°C in the glass"));
    let short = brief("method = \"build\"\nserved = \"on ice\"\nice = \"20 g\"", &two(""));
    assert!(cautions(&short, "60 ml spirit, 40 ml sour, green").contains("by the first sip"));
}

#[test]
fn allergens_and_handling_come_with_the_ingredients() {
    let larder = "[[candidate]]\nlarder = \"egg white\"\n[[candidate]]\nlarder = \"fino sherry\"\n\
                  [[candidate]]\nlarder = \"tonic water\"\n";
    let brief = brief("method = \"shake\"", larder);
    let said = cautions(&brief, "20 ml egg white, 30 ml fino sherry, 50 ml tonic water");
    for part in ["eggs (egg white)", "sulphites (fino sherry)", "raw egg", "quinine", "never shake"] {
        assert!(said.contains(part), "{part} is not in\n{said}");
    }
    assert!(!cautions(&brief, "50 ml fino sherry").contains("egg"));
}

#[test]
fn caffeine_counts_from_150_mg_per_litre() {
    // EU 1169/2011 Annex III, 4.1: more than 150 mg/L.
    let rest = "[properties]\ncaffeine = { unit = \"mg\", per = \"serve\" }\n\
                [[candidate]]\nname = \"infusion\"\nrole = \"lengthener\"\ncarries = { caffeine = 151 }\n\
                [[candidate]]\nname = \"weak infusion\"\nrole = \"lengthener\"\ncarries = { caffeine = 149 }\n";
    let brief = brief("method = \"none\"", rest);
    assert!(cautions(&brief, "100 ml infusion").contains("151 mg of caffeine per litre"));
    assert!(!cautions(&brief, "100 ml weak infusion").contains("caffeine"));
}

#[test]
fn the_larder_knows_caffeine_without_a_property() {
    let brief = brief("method = \"none\"", "[[candidate]]\nlarder = \"espresso\"\n");
    assert!(cautions(&brief, "50 ml espresso").contains("caffeine per litre"));
}

#[test]
fn polyols_count_from_a_tenth_of_the_drink() {
    // EU 1169/2011 Annex III, 2.4: more than 10 % added polyols.
    let rest = format!("{}[[candidate]]\nlarder = \"erythritol\"\n", two(""));
    let brief = brief("method = \"none\"", &rest);
    // 100 ml of water and acid weigh about 102 g.
    assert!(cautions(&brief, "100 ml sour, green, 12 g erythritol").contains("over 10 % of the drink"));
    assert!(!cautions(&brief, "100 ml sour, green, 11 g erythritol").contains("over 10 % of the drink"));
}

#[test]
fn a_syrup_beyond_saturation_may_crystallise() {
    // Sucrose in water at 20 °C: 66.7 % by mass. 2:1 is 66.67 %, 5:2 is 71.4 %.
    let syrup = |sugar: u32, water: u32| {
        format!(
            "{}[[candidate]]\nname = \"syrup\"\nrole = \"sweetener\"\n\
             made = {{ by = \"weight\", parts = {{ \"sugar, white\" = {sugar}, \"water\" = {water} }} }}\n",
            two("")
        )
    };
    assert!(
        cautions(&brief("method = \"none\"", &syrup(5, 2)), "20 ml syrup").contains("syrup may crystallise")
    );
    assert!(!cautions(&brief("method = \"none\"", &syrup(2, 1)), "20 ml syrup").contains("crystallise"));
}

#[test]
fn guesses_of_the_larder_are_named_until_the_brief_gives_the_figure() {
    let brief_of = |keys: &str| {
        brief("method = \"none\"", &format!("[[candidate]]\nlarder = \"fino sherry\"\n{keys}\n"))
    };
    assert!(cautions(&brief_of(""), "50 ml fino sherry").contains("fino sherry (acid)"));
    assert!(!cautions(&brief_of("acid = 4.5"), "50 ml fino sherry").contains("(acid)"));
}

#[test]
fn a_spec_line_takes_the_longest_name_any_case_and_any_unit() {
    let rest = "[[candidate]]\nname = \"sour\"\nrole = \"sour\"\nacid = 40\n[[candidate]]\nname = \"sour, green\"\n\
                role = \"sour\"\nacid = 50\n[[candidate]]\nlarder = \"citric acid\"\n";
    let reading = read(brief("method = \"none\"", rest).as_bytes(), &[]).expect("a brief");
    let pours = |line: &str| {
        let pours = spec_line::read(line, &reading.brief).unwrap_or_else(|f| panic!("{line}: {f:#?}"));
        pours.iter().map(|p| (p.candidate, p.amount)).collect::<Vec<_>>()
    };
    assert_eq!(pours("25 ml Sour, Green, 2 cl sour, 0.5 g citric acid"), [(1, 25.0), (0, 20.0), (2, 0.5)]);
    assert_eq!(pours("25ml sour; 1 barspoon sour, green,"), [(0, 25.0), (1, 5.0)]);
    // A bare number is ml, and g for powders.
    assert_eq!(pours("25 sour\n0.5 citric acid"), [(0, 25.0), (2, 0.5)]);
    for nothing in [
        "",
        " , ;",
        "25 ml",
        "sour",
        "25 ml sourdough",
        "99999999999 ml sour",
        "-1 ml sour",
        "nan ml sour",
        "inf sour",
        "1.2.3 ml sour",
        "1e10 ml sour",
        "é",
    ] {
        assert!(spec_line::read(nothing, &reading.brief).is_err(), "{nothing}");
    }
}

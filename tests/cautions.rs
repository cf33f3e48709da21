//! What asks for care, from where on and in which words: each threshold from both sides.

mod cautions {
    pub mod every;
}

use washline::answer::check_answer;
use washline::explain::cautions::cautions;
use washline::read::{read, spec_line};
use washline::solve::{Stop, solve};

/// A brief around these keys of `[serve]` and these further tables.
fn brief(serve: &str, rest: &str) -> String {
    format!(
        "title = \"Test\"\n[serve]\n{serve}\n[targets]\nvolume = {{ min = 1, max = 500 }}\n[aim]\nlowest = \"strength\"\n{rest}"
    )
}

/// The larder entries of these names.
fn larder(names: &[&str]) -> String {
    names.iter().map(|name| format!("[[candidate]]\nlarder = \"{name}\"\n")).collect()
}

/// What is said of a spec that is not shaken or stirred.
#[track_caller]
fn said(rest: &str, line: &str) -> String {
    let text = brief("method = \"none\"", rest);
    let reading = read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}"));
    let pours = spec_line::read(line, &reading.brief).unwrap_or_else(|findings| panic!("{findings:#?}"));
    check_answer(&reading.brief, &pours).cautions.join("\n")
}

/// What is said of the best spec and its alternatives.
#[track_caller]
fn said_of_all(text: &str, alternatives: usize) -> Vec<String> {
    let brief = read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief;
    let solved = solve(&brief, &Stop::default());
    assert_eq!(solved.specs.len(), 1 + alternatives, "{solved:#?}");
    cautions(&brief, &solved.specs)
}

/// EU 1169/2011 Annex II lists what has to be named; what only some makes hold is told apart from it, and each
/// allergen once.
#[test]
fn allergens_of_some_makes_are_told_apart() {
    let both = larder(&["irish cream", "almond liqueur"]);
    let cream = said(&both, "50 ml irish cream");
    assert!(
        cream.contains("Allergens: milk (irish cream); in some makes: sulphites (irish cream)."),
        "{cream}"
    );
    let almond = said(&both, "50 ml almond liqueur");
    assert!(almond.contains("Allergens in some makes: nuts (almond liqueur)."), "{almond}");
    let together = said(&both, "20 ml irish cream, 20 ml almond liqueur");
    let words =
        "Allergens: milk (irish cream); in some makes: nuts (almond liqueur), sulphites (irish cream).";
    assert!(together.contains(words), "{together}");
    // In a preparation it is in there all the same.
    let made = "[[candidate]]\nname = \"orgeat of the house\"\nrole = \"sweetener\"\n\
                made = { by = \"volume\", parts = { \"almond liqueur\" = 1, \"water\" = 1 } }\n";
    let made = said(made, "20 ml orgeat of the house");
    assert!(made.contains("in some makes: nuts (orgeat of the house)"), "{made}");
    assert!(!said(&larder(&["water"]), "20 ml water").contains("Allergens"));
}

/// The volume of a liquid with alcohol and sugar in it is less certain from 20 % vol with 100 g/L on, and from
/// 10 % vol with 200 g/L: our own judgement of the published densities, no source.
#[test]
fn strong_and_sweet_together_are_less_certain() {
    let of = |strength: f64, sugar: f64| {
        let keys = format!("strength = {strength}\nsugar = {sugar}\n");
        let text = format!("[[candidate]]\nname = \"cordial\"\nrole = \"modifier\"\n{keys}");
        said(&text, "50 ml cordial").contains("Strong and sweet together")
    };
    assert!(of(25.0, 150.0) && of(20.5, 101.0) && of(12.0, 250.0) && of(10.5, 201.0));
    assert!(!of(25.0, 90.0) && !of(15.0, 150.0) && !of(19.5, 150.0) && !of(10.5, 199.0) && !of(5.0, 300.0));
    assert!(!of(40.0, 0.0) && !of(0.0, 600.0));
}

/// Water keeps 66.7 % of sucrose by mass dissolved at 20 °C; other sugars, powders and what the larder knows to
/// stay liquid are not meant.
#[test]
fn only_sucrose_syrups_are_said_to_crystallise() {
    let own = |keys: &str| format!("[[candidate]]\nname = \"own\"\nrole = \"sweetener\"\n{keys}\n");
    let crystals = |rest: &str, line: &str| said(rest, line).contains("crystallise");
    // 900 g in a litre of some 1330 g (density tables of sucrose solutions): 67.6 %; 850 g of 1314 g: 64.7 %.
    assert!(crystals(&own("sugar = 900"), "20 ml own"));
    assert!(!crystals(&own("sugar = 850"), "20 ml own"));
    assert!(!crystals(&own("sugar = 900\nsweetness = 0.8"), "20 ml own"));
    assert!(!crystals(&own("form = \"powder\"\nsugar = 1000\nmax = \"50 g\""), "20 g own"));
    assert!(!crystals(&larder(&["honey"]), "20 ml honey"));
    assert!(!crystals(&larder(&["sugar, white"]), "20 g sugar, white"));
}

/// Equal titratable acid is not equal sourness: said where an acid of another kind brings a good part of it,
/// a tenth by common practice, no source.
#[test]
fn another_acid_counts_from_a_tenth_of_the_acid_on() {
    let rest = format!(
        "{}[[candidate]]\nname = \"gin of the house\"\nrole = \"base\"\nstrength = 40\n\
         [reference]\n\"gin of the house\" = \"50 ml\"\n\"lime juice\" = \"20 ml\"\n",
        larder(&["lime juice", "verjus", "tartaric acid"])
    );
    let another = |line: &str| said(&rest, line).contains("Equal titratable acid is not equal sourness");
    assert!(!another("50 ml gin of the house, 20 ml lime juice"));
    assert!(another("50 ml gin of the house, 20 ml verjus"));
    // 20 ml of lime juice bring 1.2 g of acid and a little: 0.05 g of another are less than a tenth, 0.3 g are more.
    assert!(!another("50 ml gin of the house, 20 ml lime juice, 0.05 g tartaric acid"));
    assert!(another("50 ml gin of the house, 20 ml lime juice, 0.3 g tartaric acid"));
    // Sour by a powder alone, of a gram and less: shares count, not grams.
    assert!(another("50 ml gin of the house, 0.05 g tartaric acid"));
}

/// The statement is due over 150 mg/L (EU 1169/2011 Annex III, 4.1), and not at it.
#[test]
fn caffeine_of_just_150_mg_per_litre_asks_for_nothing() {
    let rest = "[properties]\ncaffeine = { unit = \"mg\", per = \"serve\" }\n\
                [[candidate]]\nname = \"infusion\"\nrole = \"lengthener\"\ncarries = { caffeine = 150 }\n";
    assert!(!said(rest, "1000 ml infusion").contains("caffeine"));
    assert!(said(&rest.replace("150", "150.01"), "1000 ml infusion").contains("caffeine"));
}

/// What the larder guesses of caffeine matters to a brief that counts it.
#[test]
fn a_guess_of_caffeine_is_named_where_caffeine_counts() {
    let counted = format!(
        "[properties]\ncaffeine = {{ unit = \"mg\", per = \"serve\" }}\n{}",
        larder(&["irish cream"])
    );
    assert!(said(&counted, "50 ml irish cream").contains("caffeine"));
    assert!(!said(&larder(&["irish cream"]), "50 ml irish cream").contains("caffeine"));
}

/// Two spirits, of which one is chosen, shaken by a rule.
fn either(other: &str) -> String {
    let rest = format!(
        "[[candidate]]\nname = \"mild spirit\"\nrole = \"base\"\nstrength = 30\n\
         [[candidate]]\nname = \"{other}\"\nrole = \"base\"\nstrength = 65\nhandling = [\"overproof\"]\n\
         [[choose]]\nrole = \"base\"\nmin = 1\nmax = 1\n[answer]\nalternatives = 1\n"
    );
    brief("method = \"shake\"\npour = \"60 ml\"", &rest)
        .replace("volume = { min = 1,", "volume = { min = 50,")
}

/// 60 ml of 30 % vol are 14.2 g of ethanol, 60 ml of 65 % vol 30.8 g: the alternative is a strong serve, and said to be
/// it; that its melt is an estimate has been said of the best already.
#[test]
fn what_an_alternative_alone_asks_for_is_said_of_it() {
    let all = said_of_all(&either("Strong spirit"), 1);
    let of_one: Vec<&String> = all.iter().filter(|text| text.starts_with("Alternative 1: ")).collect();
    assert_eq!(of_one.len(), 1, "{all:#?}");
    assert!(of_one[0].starts_with("Alternative 1: a strong serve: 30.8 g of ethanol"), "{all:#?}");
    assert_eq!(all.iter().filter(|text| text.contains("estimate")).count(), 1, "{all:#?}");
    let handled = "In alternatives: strong spirit: burns with a flame";
    assert!(all.iter().any(|text| text.starts_with(handled)), "{all:#?}");
    assert_eq!(
        all.last().map(String::as_str),
        Some("Check all of this with your local rules and a competent person.")
    );
}

/// A name in capitals stays one within a sentence.
#[test]
fn capitals_of_a_name_stay() {
    let all = said_of_all(&either("XO spirit"), 1);
    assert!(all.iter().any(|text| text.starts_with("In alternatives: XO spirit: burns")), "{all:#?}");
}

/// An estimate of the melt breaks no rule: nobody has to be asked about it.
#[test]
fn a_melt_alone_sends_nobody_to_the_rules() {
    let text = brief(
        "method = \"shake\"\npour = \"60 ml\"",
        "[[candidate]]\nname = \"mild spirit\"\nrole = \"base\"\nstrength = 30\n[answer]\nalternatives = 0\n",
    );
    let all = said_of_all(&text.replace("volume = { min = 1,", "volume = { min = 50,"), 0);
    assert!(all.len() == 1 && all[0].contains("estimate"), "{all:#?}");
}

/// What is said of the best spec of this brief about how it is built.
#[track_caller]
fn built(serve: &str, targets: &str, aim: &str, rest: &str) -> String {
    let text = format!(
        "title = \"Test\"\ncurrency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"2.5 ml\"\n{serve}\n[targets]\n{targets}\n[aim]\n{aim}\n\
         {rest}\n[answer]\nalternatives = 0\n"
    );
    said_of_all(&text, 0).join("\n")
}

const CITRIC: &str = "[[candidate]]\nname = \"citric acid\"\nform = \"powder\"\nacid = 1000\npour = \"0.1 g\"\nmax = \"2 g\"\n\
                      price = \"9 per 1 kg\"\n";
const LEMON: &str = "[[candidate]]\nlarder = \"lemon juice\"\nprice = \"9 per 1 l\"\n";
const SPIRIT: &str =
    "[[candidate]]\nname = \"spirit\"\nrole = \"base\"\nstrength = 40\nprice = \"20 per 700 ml\"\n";
const WATER: &str = "[[candidate]]\nlarder = \"water\"\nprice = \"0 per 1 l\"\n";

/// A sour of a powder alone, and the line that asks for citrus forbids it. Common practice, no source.
#[test]
fn a_sour_without_citrus_is_named_with_the_line_that_forbids_it() {
    let targets =
        "volume = { min = 90, max = 100 }\nstrength = { min = 14, max = 16 }\nacid = { min = 7, max = 8 }";
    let shelf = format!("{SPIRIT}{WATER}{CITRIC}{LEMON}");
    let absurd = built("", targets, "lowest = \"cost\"", &shelf);
    assert!(absurd.contains("A sour with no citrus in it"), "{absurd}");
    assert!(absurd.contains("`[[choose]]`, `among = [\"lemon juice\"]`, `min = 1`"), "{absurd}");
    let forbidden = format!("{shelf}[[choose]]\namong = [\"lemon juice\"]\nmin = 1\n");
    // A step of juice among the powder is citrus, if little.
    let kept = built("", targets, "lowest = \"cost\"", &forbidden);
    assert!(!kept.contains("no citrus"), "{kept}");
    // Under 4 g/L it is no sour, and a drink of juice alone has its citrus.
    let mild = targets.replace("acid = { min = 7, max = 8 }", "acid = { min = 3, max = 3.9 }");
    assert!(!built("", &mild, "lowest = \"cost\"", &shelf).contains("no citrus"));
    let offered = built("", targets, "lowest = \"cost\"", &format!("{SPIRIT}{WATER}{CITRIC}"));
    assert!(offered.contains("`larder = \"lemon juice\"`"), "{offered}");
}

/// Less base than 30 ml, unless the brief says how little it wants. Common practice, no source.
#[test]
fn little_base_is_named_with_the_line_that_forbids_it() {
    let of = |strength: &str, keys: &str| {
        let targets = format!("volume = {{ min = 90, max = 100 }}\nstrength = {{ min = {strength} }}");
        built("", &targets, "lowest = \"cost\"", &format!("{SPIRIT}{keys}{WATER}"))
    };
    // 92.5 ml of spirit and water shrink to some 92.2: 27.5 ml of spirit make 11.9 % vol of them, 30 ml 13.0.
    assert!(of("11.5", "").contains("Only 27.5 ml of base (spirit)"), "{}", of("11.5", ""));
    assert!(of("11.5", "").contains("`min = \"30 ml\"`"));
    assert!(!of("11.5", "min = \"30 ml\"\n").contains("of base"));
    assert!(!of("12.5", "").contains("of base"), "30 ml are enough");
    assert!(!of("11.5", "min = \"20 ml\"\n").contains("of base"), "somebody chose that");
}

/// Three pours of 2.5 ml, and the smallest pour that forbids them. Common practice, no source.
#[test]
fn traces_are_named_with_the_line_that_forbids_them() {
    let three = ["a", "b", "c"].map(|name| {
        format!("[[candidate]]\nname = \"{name} liqueur\"\nrole = \"modifier\"\nsugar = 300\nmust = true\n")
    });
    let shelf = format!("{SPIRIT}{WATER}{}", three.concat());
    let targets = "volume = { min = 90, max = 100 }\nstrength = { min = 14, max = 16 }";
    let absurd = built("", targets, "lowest = \"sugar\"", &shelf);
    let words = "Traces of a liqueur, b liqueur and c liqueur: 2.5 ml or less of each.";
    assert!(absurd.contains(words) && absurd.contains("`smallest = \"5 ml\"`"), "{absurd}");
    let kept = built("smallest = \"5 ml\"", targets, "lowest = \"sugar\"", &shelf);
    assert!(!kept.contains("Traces"), "{kept}");
    let two = shelf
        .replace("name = \"c liqueur\"\nrole = \"modifier\"", "name = \"c bitters\"\nrole = \"bitters\"");
    assert!(!built("", targets, "lowest = \"sugar\"", &two).contains("Traces"), "bitters come by the dash");
}

/// A drink as small as the aim likes, and the target that forbids it.
#[test]
fn a_volume_that_nothing_holds_is_named_with_the_line_that_forbids_it() {
    let of = |volume: &str| {
        let targets = format!("{volume}\nstrength = {{ min = 14, max = 16 }}");
        built("", &targets, "lowest = \"cost\"", &format!("{SPIRIT}{WATER}"))
    };
    let open = of("volume = { max = 120 }");
    assert!(open.contains("Nothing holds the volume") && open.contains("`volume = { min = 90, max = 120 }`"));
    assert!(!of("volume = { min = 90, max = 120 }").contains("Nothing holds"));
}

/// The melt rule was made on drinks of 10 to 45 % vol before the ice (Arnold, *Liquid Intelligence*, 2014; the band
/// from memory), and what lies outside says so, on either side.
#[test]
fn the_band_of_the_melt_rule_ends_where_it_was_fitted() {
    let of = |strength: f64| {
        let keys = format!("[[candidate]]\nname = \"it\"\nrole = \"base\"\nstrength = {strength}\n");
        let text = brief("method = \"shake\"", &keys);
        let reading = read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}"));
        let pours = spec_line::read("60 ml it", &reading.brief).expect("a line");
        check_answer(&reading.brief, &pours).cautions.join("\n")
    };
    let outside = |strength: f64| of(strength).contains("10 to 45 % vol");
    assert!(outside(9.9) && !outside(10.1) && !outside(44.9) && outside(45.1), "{}", of(9.9));
}

/// Water keeps 66.7 % of sucrose by mass dissolved at 20 °C (Bubník and Kadlec, 1995): 2:1 by weight is 66.67 %, just
/// under it; 66.8 % lies over it. At Brix 66.6 and 66.8 the answer differs.
#[test]
fn crystals_begin_at_the_solubility_of_sucrose() {
    let of = |brix: f64| {
        let keys = format!("[[candidate]]\nname = \"own\"\nrole = \"sweetener\"\nbrix = {brix}\n");
        said(&keys, "20 ml own").contains("crystallise")
    };
    assert!(!of(66.6) && !of(66.69) && of(66.71) && of(66.8));
}

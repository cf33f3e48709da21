//! The JSON Schema says of a brief what the reader says, as far as a schema can.

use std::fs;
use std::path::{Path, PathBuf};

use jsonschema::Validator;
use serde_json::Value;
use washline::read::{codes, house_schema, read, schema, starter};

fn validator() -> Validator {
    jsonschema::validator_for(&schema()).expect("a schema")
}

/// A TOML text as JSON, the way an editor shows it to a schema.
fn json(text: &str) -> Option<Value> {
    serde_json::to_value(toml::from_str::<toml::Table>(text).ok()?).ok()
}

fn files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut files: Vec<_> =
        fs::read_dir(folder).expect("a folder").map(|e| e.expect("an entry").path()).collect();
    files.retain(|path| path.extension().is_some_and(|e| e == "toml"));
    files.sort();
    files
}

#[test]
fn every_good_brief_fits_the_schema() {
    let validator = validator();
    let briefs = [files("tests/good"), files("problems-demo"), files("problems-demo/menu")].concat();
    let mut texts: Vec<(String, String)> = briefs
        .iter()
        .filter(|path| !path.ends_with("house.toml"))
        .map(|path| (path.display().to_string(), fs::read_to_string(path).expect("text")))
        .collect();
    texts.push(("the starter".to_owned(), starter().to_owned()));
    assert!(texts.len() >= 4);
    for (name, text) in texts {
        let instance = json(&text).expect("TOML");
        let faults: Vec<_> = validator.iter_errors(&instance).map(|e| e.to_string()).collect();
        assert!(faults.is_empty(), "{name}: {faults:?}");
    }
}

#[test]
fn the_demo_house_fits_the_schema_of_a_house_and_no_brief_does() {
    let validator = jsonschema::validator_for(&house_schema()).expect("a schema");
    let text =
        |name: &str| fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(name)).expect("text");
    assert!(validator.is_valid(&json(&text("problems-demo/house.toml")).expect("TOML")));
    assert!(!validator.is_valid(&json(&text("problems-demo/from-the-house.toml")).expect("TOML")));
}

#[test]
fn every_bad_brief_that_a_schema_can_refuse_is_refused() {
    // What these codes mean depends on names, on sums or on several keys at once.
    let beyond = [
        codes::NO_HOUSE,
        codes::UNKNOWN_HOUSE,
        codes::OTHER_CURRENCY,
        codes::NOTHING_BROUGHT,
        codes::LEFT_OUT,
        codes::UNKNOWN_NOTE,
        codes::KEPT_WITHOUT,
        codes::KEPT_WITHOUT,
        codes::NO_CURRENCY,
        codes::NO_CANDIDATES,
        codes::DUPLICATE_NAME,
        codes::UNKNOWN_LARDER,
        codes::UNKNOWN_NAME,
        codes::RESERVED_NAME,
        codes::PROPERTY_UNIT,
        codes::FORM,
        codes::MIN_OVER_MAX,
        codes::IMPOSSIBLE,
        codes::IMPOSSIBLE_RANGE,
        codes::NO_AMOUNT,
        codes::NO_BOUND,
        codes::NO_PRICE,
        codes::MADE_OF_NOTHING,
        codes::PREP_CYCLE,
        codes::POWDER_BY_VOLUME,
        codes::UNCOUNTED_SOLIDS,
        codes::NO_FIGURES,
        codes::NO_MENU,
        codes::NO_REFERENCE,
        codes::NOT_HELD,
        codes::NO_MIDDLE,
        codes::TOO_FEW,
        codes::SAME_INGREDIENT,
        codes::MUST_AND_OUT,
        codes::TOO_MANY_MUSTS,
        codes::NO_STEPS,
        codes::WRONG_UNIT,
    ];
    let validator = validator();
    let mut refused = 0;
    for path in files("tests/bad") {
        let bytes = fs::read(&path).expect("a file");
        let Some(instance) = std::str::from_utf8(&bytes).ok().and_then(json) else { continue };
        let Err(findings) = read(&bytes, &[]) else { continue };
        if findings.iter().all(|f| beyond.contains(&f.code)) {
            continue;
        }
        assert!(!validator.is_valid(&instance), "the schema lets {} pass", path.display());
        refused += 1;
    }
    assert!(refused >= 10, "only {refused} files were put to the schema");
}

#[test]
fn every_key_says_what_it_is_for() {
    fn walk(value: &Value, path: &str, lacking: &mut Vec<String>) {
        for (key, inner) in value.get("properties").and_then(Value::as_object).into_iter().flatten() {
            let figure = path.contains("FigureTo");
            if inner.get("description").is_none() && !figure {
                lacking.push(format!("{path}.{key}"));
            }
            walk(inner, &format!("{path}.{key}"), lacking);
        }
    }
    let schema = schema();
    let mut lacking = Vec::new();
    walk(&schema, "", &mut lacking);
    for (name, definition) in schema["$defs"].as_object().expect("definitions") {
        walk(definition, name, &mut lacking);
    }
    assert!(lacking.is_empty(), "{lacking:?}");
    assert_eq!(schema["additionalProperties"], Value::Bool(false));
}

#[test]
fn quantities_of_the_schema_are_those_of_the_reader() {
    let validator = validator();
    let mut brief = json(include_str!("good/own-figures.toml")).expect("TOML");
    let mut fits = |quantity: &str| {
        brief["serve"]["glass"] = quantity.into();
        validator.is_valid(&brief)
    };
    for text in [
        "160 ml",
        "16cl",
        "1.6 dl",
        "0.2 L",
        "5 fl oz",
        "5 imp fl oz",
        "6 oz",
        "1e2 ml",
        ".5 l",
        "160",
        "3 dashes",
        "1/4 oz",
        "1 1/2 oz",
        "¾ oz",
        "1 ¾ fl oz",
        "1½",
    ] {
        assert!(washline::quantity::Amount::parse(text, washline::quantity::Unit::Ml).is_ok(), "{text}");
        assert!(fits(text), "the schema refuses {text}");
    }
    for text in
        ["", "ml", "-5 ml", "1,5 ml", "5 furlongs", "1 2 ml", "inf ml", "1/0 ml", "1/ ml", "1.5 1/2 ml"]
    {
        assert!(washline::quantity::Amount::parse(text, washline::quantity::Unit::Ml).is_err(), "{text}");
        assert!(!fits(text), "the schema lets \"{text}\" pass");
    }
}

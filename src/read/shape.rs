//! Walks the tables of a text along the JSON Schema: unknown and missing keys, wrong kinds, unknown
//! words, numbers out of range. What cannot be used is cut out, so that the rest can be read.

use std::ops::Range;

use serde_json::Value;
use toml::Spanned;
use toml::de::{DeArray, DeString, DeTable, DeValue};

use super::codes;
use super::findings::{Findings, guess_key, one_line};
use super::text::Kind;

/// Words of the trade that people write for keys of ours.
const ALSO: [(&str, &str); 22] = [
    ("abv", "strength"),
    ("alcohol", "strength"),
    ("proof", "strength"),
    ("vol", "strength"),
    ("alc", "strength"),
    ("sugars", "sugar"),
    ("plato", "sugar"),
    ("brix", "sugar"),
    ("tartness", "acid"),
    ("sourness", "acid"),
    ("price", "cost"),
    ("calories", "energy"),
    ("kcal", "energy"),
    ("dilution", "melt"),
    ("sweet", "sweetness"),
    ("acidity", "acid"),
    ("ta", "acid"),
    ("ingredient", "candidate"),
    ("ingredients", "candidate"),
    ("candidates", "candidate"),
    ("proportions", "proportion"),
    ("target", "targets"),
];

/// The key of ours that people mean by a word of the trade, where it is one of those that are known here.
pub fn also(word: &str, known: &dyn Fn(&str) -> bool) -> Option<&'static str> {
    let folded = word.trim().to_lowercase();
    ALSO.iter().find(|(other, ours)| *other == folded && known(ours)).map(|(_, ours)| *ours)
}

/// Keeps of a document what has the shape of what it is.
pub fn keep<'i>(document: DeTable<'i>, schema: &Value, kind: Kind, findings: &mut Findings) -> DeTable<'i> {
    let mut walk = Walk { root: schema, findings };
    walk.table(document, 0..0, schema, &Spot { kind, ..Spot::default() })
}

/// Where the walk stands.
#[derive(Debug, Default, Clone)]
struct Spot {
    /// The last key.
    key: String,
    /// The keys within the innermost table that has a header: `cost.max`.
    name: String,
    /// All keys, dotted.
    path: String,
    /// What the value here is for.
    about: String,
    /// Whether it is one of several under its key.
    listed: bool,
    /// What the document is.
    kind: Kind,
}

impl Spot {
    fn below(&self, key: &str) -> Self {
        let path = if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) };
        let name = if self.has_header() { key.to_owned() } else { format!("{}.{key}", self.name) };
        Self { key: key.to_owned(), name, path, about: String::new(), listed: false, kind: self.kind }
    }

    fn item(&self, at: usize) -> Self {
        Self { path: format!("{}.{at}", self.path), listed: true, ..self.clone() }
    }

    /// Whether a table here stands under a header of its own, `[serve]` or `[[candidate]]`.
    fn has_header(&self) -> bool {
        self.listed || !self.path.contains('.')
    }

    /// What the table here is called.
    fn table_name(&self) -> String {
        match (self.path.as_str(), self.listed) {
            ("", _) if self.kind == Kind::House => "a house".to_owned(),
            ("", _) => "a brief".to_owned(),
            (_, true) => format!("[[{}]]", self.key),
            (path, false) if self.has_header() => format!("[{path}]"),
            _ => format!("`{}`", shown(&self.name)),
        }
    }
}

struct Walk<'a> {
    root: &'a Value,
    findings: &'a mut Findings,
}

impl<'a> Walk<'a> {
    fn value<'i>(
        &mut self,
        value: Spanned<DeValue<'i>>,
        schema: &'a Value,
        spot: &Spot,
    ) -> Option<Spanned<DeValue<'i>>> {
        let spot = &Spot { about: self.about(schema, spot), ..spot.clone() };
        let schema = self.resolved(schema);
        let place = value.span();
        let Some(branch) = self.branch(schema, value.get_ref()) else {
            self.wrong_type(value.get_ref(), place, schema, spot);
            return None;
        };
        let kept = match value.into_inner() {
            DeValue::Table(table) => DeValue::Table(self.table(table, place.clone(), branch, spot)),
            DeValue::Array(array) => DeValue::Array(self.array(array, branch, spot)),
            DeValue::String(text) => self.text(text, &place, branch, spot)?,
            number @ (DeValue::Integer(_) | DeValue::Float(_)) => {
                self.number(number, &place, branch, spot)?
            }
            other => other,
        };
        Some(Spanned::new(place, kept))
    }

    fn resolved(&self, schema: &'a Value) -> &'a Value {
        let pointer = schema.get("$ref").and_then(Value::as_str).and_then(|r| r.strip_prefix('#'));
        pointer.and_then(|p| self.root.pointer(p)).unwrap_or(schema)
    }

    /// The part of a schema that a value of this kind has to meet.
    fn branch(&self, schema: &'a Value, value: &DeValue<'_>) -> Option<&'a Value> {
        let kinds = kinds(value);
        if schema.get("type").is_some() {
            return types(schema).any(|t| kinds.contains(&t)).then_some(schema);
        }
        let branches = schema.get("anyOf").and_then(Value::as_array)?;
        branches.iter().map(|b| self.resolved(b)).find(|b| types(b).any(|t| kinds.contains(&t)))
    }

    fn wrong_type(&mut self, value: &DeValue<'_>, place: Range<usize>, schema: &'a Value, spot: &Spot) {
        let mut wanted: Vec<&str> = types(schema).map(kind_name).collect();
        for branch in schema.get("anyOf").and_then(Value::as_array).into_iter().flatten() {
            wanted.extend(types(self.resolved(branch)).map(kind_name));
        }
        let name = shown(&spot.name);
        let what = format!("`{name}` takes {}, and this is {}", wanted.join(" or "), kind_of(value));
        let number = "write a number such as 12.5, without quotes";
        let other = "compare it with the schema: `washline schema`";
        let help = match spot.about.as_str() {
            "" if wanted.contains(&"a number") => number,
            "" => other,
            about => about,
        };
        self.findings.error(codes::WRONG_TYPE, place, what, help);
        self.findings.spoil(&spot.path);
    }

    fn array<'i>(&mut self, array: DeArray<'i>, schema: &'a Value, spot: &Spot) -> DeArray<'i> {
        let Some(items) = schema.get("items") else { return array };
        array
            .into_iter()
            .enumerate()
            .filter_map(|(at, item)| self.value(item, items, &spot.item(at)))
            .collect()
    }

    fn table<'i>(
        &mut self,
        table: DeTable<'i>,
        place: Range<usize>,
        schema: &'a Value,
        spot: &Spot,
    ) -> DeTable<'i> {
        let properties = schema.get("properties").and_then(Value::as_object);
        let rest = schema.get("additionalProperties").filter(|s| s.is_object());
        let mut kept = DeTable::new();
        let mut seen = Vec::new();
        for (key, value) in table {
            let below = Spot { about: spot.about.clone(), ..spot.below(key.get_ref()) };
            let known = properties.and_then(|p| p.get(key.get_ref().as_ref())).or(rest);
            let Some(known) = known else {
                self.unknown_key(&key, schema, spot);
                continue;
            };
            seen.push(below.key.clone());
            if let Some(value) = self.value(value, known, &below) {
                kept.insert(key, value);
            }
        }
        self.missing_keys(&seen, place, schema, spot);
        kept
    }

    fn unknown_key(&mut self, key: &Spanned<DeString<'_>>, schema: &Value, spot: &Spot) {
        let known: Vec<&str> = schema
            .get("properties")
            .and_then(Value::as_object)
            .into_iter()
            .flatten()
            .map(|(k, _)| k.as_str())
            .collect();
        let word = key.get_ref().as_ref();
        let meant = also(word, &|ours| known.contains(&ours))
            .or_else(|| self.findings.closest(word, known.iter().copied()));
        let help = guess_key(meant, || format!("the keys here are {}", known.join(", ")));
        if let Some(meant) = meant {
            self.findings.spoil(spot.below(meant).path);
        }
        let what = format!("`{}` is no key of {}", shown(word), spot.table_name());
        self.findings.error(codes::UNKNOWN_KEY, key.span(), what, help);
    }

    fn missing_keys(&mut self, seen: &[String], place: Range<usize>, schema: &'a Value, spot: &Spot) {
        let required = schema.get("required").and_then(Value::as_array);
        for key in required.into_iter().flatten().filter_map(Value::as_str) {
            let below = spot.below(key);
            if seen.iter().any(|s| s == key) || self.findings.is_spoiled(&below.path) {
                continue;
            }
            self.findings.spoil(&below.path);
            let known = schema.get("properties").and_then(|p| p.get(key));
            let help = known.map(|k| format!("{key}: {}", self.about(k, &below))).unwrap_or_default();
            if spot.path.is_empty() {
                self.findings.placeless(codes::MISSING_KEY, format!("there is no `{key}`"), help);
            } else {
                let what = format!("{} has no `{key}`", spot.table_name());
                self.findings.error(codes::MISSING_KEY, place.clone(), what, help);
            }
        }
    }

    /// What a value is for, with the words that may stand there.
    fn about(&self, schema: &'a Value, spot: &Spot) -> String {
        let resolved = self.resolved(schema);
        let own = [schema, resolved].into_iter().map(description).find(|text| !text.is_empty());
        let words = words(resolved);
        let words = (!words.is_empty()).then(|| format!("one of {}", words.join(", ")));
        let parent = (spot.name.contains('.') && !spot.about.is_empty()).then(|| spot.about.clone());
        parent.into_iter().chain(own.map(in_a_sentence)).chain(words).collect::<Vec<_>>().join("; ")
    }

    fn text<'i>(
        &mut self,
        text: DeString<'i>,
        place: &Range<usize>,
        schema: &Value,
        spot: &Spot,
    ) -> Option<DeValue<'i>> {
        let words = words(schema);
        if words.is_empty() || words.contains(&text.as_ref()) {
            return Some(DeValue::String(text));
        }
        let all = words.join(", ");
        let help = match self.findings.closest(&text, words.iter().copied()) {
            Some(meant) => format!("did you mean \"{meant}\"? The words here are {all}"),
            None => format!("the words here are {all}"),
        };
        let what = format!("`{}` cannot be \"{}\"", shown(&spot.name), shown(&text));
        self.findings.error(codes::UNKNOWN_WORD, place.clone(), what, help);
        self.findings.spoil(&spot.path);
        None
    }

    fn number<'i>(
        &mut self,
        value: DeValue<'i>,
        place: &Range<usize>,
        schema: &Value,
        spot: &Spot,
    ) -> Option<DeValue<'i>> {
        let (number, written) = number(&value);
        let Some(fault) = out_of_range(number, schema) else { return Some(value) };
        let what = format!("`{}` is {}: {fault}", shown(&spot.name), shown(&written));
        let help = if spot.about.is_empty() { "write a number such as 12.5" } else { &spot.about };
        self.findings.error(codes::OUT_OF_RANGE, place.clone(), what, help);
        self.findings.spoil(&spot.path);
        None
    }
}

/// Why a number cannot stand here, if it cannot.
fn out_of_range(number: f64, schema: &Value) -> Option<String> {
    let bound = |key: &str| schema.get(key).and_then(Value::as_f64);
    if !number.is_finite() {
        return Some("that is no amount of anything".to_owned());
    }
    let faults = [
        bound("minimum").filter(|b| number < *b).map(|b| format!("it has to be {b} or more")),
        bound("exclusiveMinimum").filter(|b| number <= *b).map(|b| format!("it has to be over {b}")),
        bound("maximum").filter(|b| number > *b).map(|b| format!("it has to be {b} or less")),
        bound("exclusiveMaximum").filter(|b| number >= *b).map(|b| format!("it has to be under {b}")),
    ];
    faults.into_iter().flatten().next()
}

/// A number and how it is written.
pub fn number(value: &DeValue<'_>) -> (f64, String) {
    match value {
        DeValue::Float(float) => (float.as_str().parse().unwrap_or(f64::NAN), float.as_str().to_owned()),
        DeValue::Integer(integer) => {
            let parsed = i128::from_str_radix(integer.as_str(), integer.radix());
            (parsed.map_or(f64::INFINITY, |i| i as f64), integer.to_string())
        }
        _ => (f64::NAN, String::new()),
    }
}

/// At most so much of a piece of the user's text as fits into a sentence, on one line.
pub fn shown(text: &str) -> String {
    one_line(text, 60)
}

/// A text whose first word goes on in a sentence: capitals stay where a name or symbol has them.
fn in_a_sentence(text: &str) -> String {
    let mut letters = text.chars();
    match (letters.next(), letters.next()) {
        (Some(first), Some(second)) if !second.is_uppercase() => {
            first.to_lowercase().chain([second]).chain(letters).collect()
        }
        _ => text.to_owned(),
    }
}

fn description(schema: &Value) -> &str {
    schema.get("description").and_then(Value::as_str).unwrap_or_default()
}

fn words(schema: &Value) -> Vec<&str> {
    schema.get("enum").and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_str).collect()
}

fn types(schema: &Value) -> impl Iterator<Item = &str> {
    let kinds: Vec<&str> = match schema.get("type") {
        Some(Value::String(kind)) => vec![kind],
        Some(Value::Array(kinds)) => kinds.iter().filter_map(Value::as_str).collect(),
        _ => Vec::new(),
    };
    kinds.into_iter()
}

/// The names that JSON Schema has for the kind of a value.
fn kinds(value: &DeValue<'_>) -> &'static [&'static str] {
    match value {
        DeValue::String(_) => &["string"],
        DeValue::Integer(_) => &["integer", "number"],
        DeValue::Float(_) => &["number"],
        DeValue::Boolean(_) => &["boolean"],
        DeValue::Datetime(_) => &[],
        DeValue::Array(_) => &["array"],
        DeValue::Table(_) => &["object"],
    }
}

fn kind_name(kind: &str) -> &'static str {
    match kind {
        "string" => "text in quotes",
        "integer" => "a whole number",
        "number" => "a number",
        "boolean" => "true or false",
        "array" => "a list [ … ]",
        _ => "a table { … }",
    }
}

fn kind_of(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) => "a number",
        DeValue::Float(_) => "a number with decimals",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date or time",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

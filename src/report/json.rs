//! JSON: the contract's objects, numbers not rounded.

use serde::Serialize;

use super::Exporter;
use super::gather::{BatchAnswer, CheckAnswer, LarderAnswer, SpecAnswer, SubstitutesAnswer};

/// Writes JSON.
pub struct Json;

impl Exporter for Json {
    fn spec(&self, answer: &SpecAnswer) -> String {
        object(answer)
    }

    fn substitutes(&self, answer: &SubstitutesAnswer) -> String {
        object(answer)
    }

    fn check(&self, answer: &CheckAnswer) -> String {
        object(answer)
    }

    fn batch(&self, answer: &BatchAnswer) -> String {
        object(answer)
    }

    fn larder(&self, answer: &LarderAnswer) -> String {
        object(answer)
    }
}

/// One indented object and a line end. What is not finite is written as `null` by `serde_json`.
fn object(answer: &impl Serialize) -> String {
    // Plain structs with string keys cannot fail to be written; should one ever, it is said in JSON too.
    let text = serde_json::to_string_pretty(answer)
        .unwrap_or_else(|error| format!("{{ \"fault\": {} }}", serde_json::Value::from(error.to_string())));
    text + "\n"
}

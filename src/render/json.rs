//! JSON: the contract's objects, numbers not rounded.

use serde::Serialize;
use serde_json::Value;

/// One indented object and a line end. What is not finite is written as `null` by `serde_json`.
pub(super) fn object(answer: &impl Serialize) -> String {
    let text = serde_json::to_value(answer).and_then(|mut value| {
        without_negative_zero(&mut value);
        serde_json::to_string_pretty(&value)
    });
    // Plain structs with string keys cannot fail to be written; should one ever, it is said in JSON too.
    let text = text.unwrap_or_else(|error| format!("{{ \"fault\": {} }}", Value::from(error.to_string())));
    text + "\n"
}

/// A zero below zero is rounding, and no figure of a drink.
fn without_negative_zero(value: &mut Value) {
    match value {
        Value::Number(number) if number.as_f64() == Some(0.0) && number.is_f64() => *value = Value::from(0.0),
        Value::Array(items) => items.iter_mut().for_each(without_negative_zero),
        Value::Object(entries) => entries.values_mut().for_each(without_negative_zero),
        _ => {}
    }
}

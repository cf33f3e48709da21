//! Quantities and steps in the unit that their place asks for.

use crate::brief::Step;
use crate::quantity::{Amount, Unit};
use crate::read::codes;
use crate::read::file::{At, Quantity};
use crate::read::findings::Findings;

/// The finest step that a bar's scale or pipette can show, in ml or g; common practice, no source.
const FINEST: f64 = 0.001;

/// An amount in `unit`; `of` says in messages what it is an amount of.
pub fn amount(written: &At<Quantity>, unit: Unit, of: &str, findings: &mut Findings) -> Option<f64> {
    let text = match &written.value {
        Quantity::Number(number) => return Some(*number),
        Quantity::Text(text) => text,
    };
    match Amount::parse(text, unit) {
        Ok(amount) if amount.unit == unit => Some(amount.value),
        Ok(amount) => {
            let what =
                format!("{of} is counted in {}, and this is in {}", unit.symbol(), amount.unit.symbol());
            findings.error(codes::WRONG_UNIT, written.place(), what, unit_help(unit));
            None
        }
        Err(fault) => {
            findings.error(codes::BAD_QUANTITY, written.place(), fault.what, fault.help);
            None
        }
    }
}

fn unit_help(unit: Unit) -> &'static str {
    match unit {
        Unit::Ml => "liquids are poured by volume: write it in ml",
        Unit::G => "powders are weighed: write it in g",
    }
}

/// A pour step in `unit`, or `free`.
pub fn step(written: &At<Quantity>, unit: Unit, of: &str, findings: &mut Findings) -> Option<Step> {
    if matches!(&written.value, Quantity::Text(text) if text.trim() == "free") {
        return Some(Step::Free);
    }
    let step = amount(written, unit, of, findings)?;
    if step < FINEST {
        let what = format!("a pour step of {step} {} cannot be measured", unit.symbol());
        let help = format!("give {FINEST} {} or more, or \"free\" for any amount", unit.symbol());
        findings.error(codes::OUT_OF_RANGE, written.place(), what, help);
        return None;
    }
    Some(Step::Every(step))
}

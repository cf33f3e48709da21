//! Quantities and steps in the unit that their place asks for.

use std::ops::Range;
use std::sync::Arc;

use crate::brief::{Brief, Jigger, Pour, Step};
use crate::quantity::{Amount, Unit};
use crate::read::codes;
use crate::read::file::{self, At, Quantity, Short};
use crate::read::findings::Findings;
use crate::read::shape::shown;

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

/// The pours of a table of amounts; `unknown` says what is wrong with a name that the brief does not have.
pub fn pours(
    amounts: &[(At<String>, At<Quantity>)],
    brief: &Brief,
    findings: &mut Findings,
    unknown: impl Fn(&At<String>, &mut Findings),
) -> Option<Vec<Pour>> {
    let mut pours = Vec::new();
    for (name, written) in amounts {
        let Some(candidate) = brief.find(name) else {
            unknown(name, findings);
            return None;
        };
        let unit = brief.candidates[candidate].unit();
        let amount = amount(written, unit, &format!("\"{}\"", shown(name)), findings)?;
        pours.push(Pour { candidate, amount });
    }
    Some(pours)
}

fn unit_help(unit: Unit) -> &'static str {
    match unit {
        Unit::Ml => "liquids are poured by volume: write it in ml",
        Unit::G => "powders are weighed: write it in g",
    }
}

/// A pour step in `unit`, `free`, or what jiggers measure.
pub fn step(
    written: &At<Short<Quantity, file::Pour>>,
    unit: Unit,
    of: &str,
    findings: &mut Findings,
) -> Option<Step> {
    let at = |quantity: &Quantity| At { value: quantity.clone(), place: written.place() };
    match &written.value.0 {
        file::Pour::Step(Quantity::Text(text)) if text.trim() == "free" => Some(Step::Free),
        file::Pour::Step(Quantity::Text(text)) if word(text).is_some() => {
            let sizes = sizes(word(text)?);
            let read = |size: &String| amount(&at(&Quantity::Text(size.clone())), unit, of, findings);
            let whole: Vec<f64> = sizes.iter().map(read).collect::<Option<_>>()?;
            // The line inside a jigger is at half of it.
            let halves: Vec<f64> = whole.iter().flat_map(|size| [*size, size / 2.0]).collect();
            jigger(&halves, written, unit, findings)
        }
        file::Pour::Step(quantity) => {
            let step = amount(&at(quantity), unit, of, findings)?;
            fine_enough(step, written.place(), unit, findings).then_some(Step::Every(step))
        }
        file::Pour::List(list) => {
            let read = |size: &At<Quantity>| {
                let amount = amount(size, unit, of, findings)?;
                fine_enough(amount, size.place(), unit, findings).then_some(amount)
            };
            let measures: Vec<f64> = list.iter().map(read).collect::<Option<_>>()?;
            jigger(&measures, written, unit, findings)
        }
    }
}

/// What stands behind the word `jigger`.
fn word(text: &str) -> Option<&str> {
    let (word, rest) = text.trim().split_once(|c: char| c.is_whitespace())?;
    (word.eq_ignore_ascii_case("jigger") || word.eq_ignore_ascii_case("jiggers")).then_some(rest.trim())
}

/// The sizes of `15/25/40`, `25/50 ml` or `1/2, 3/4, 1 oz`: between strokes, or between commas where there are any.
/// The unit at the end is that of all that have none.
fn sizes(text: &str) -> Vec<String> {
    let between = if text.contains(',') { ',' } else { '/' };
    let is_unit = |c: char| c.is_alphabetic();
    let last = text.rsplit(between).next().unwrap_or_default();
    let unit = last.find(is_unit).map_or("", |at| &last[at..]);
    let size = |part: &str| {
        if part.contains(is_unit) { part.trim().to_owned() } else { format!("{} {unit}", part.trim()) }
    };
    text.split(between).map(size).collect()
}

/// Whether a bar could measure so little; a finding where it could not.
fn fine_enough(step: f64, place: Range<usize>, unit: Unit, findings: &mut Findings) -> bool {
    if step < FINEST {
        let what = format!("a pour step of {step} {} cannot be measured", unit.symbol());
        let help = format!("give {FINEST} {} or more, or \"free\" for any amount", unit.symbol());
        findings.error(codes::OUT_OF_RANGE, place, what, help);
    }
    step >= FINEST
}

/// What measures of these sizes pour: a step where every multiple of the least can be.
fn jigger(
    sizes: &[f64],
    written: &At<Short<Quantity, file::Pour>>,
    unit: Unit,
    findings: &mut Findings,
) -> Option<Step> {
    if sizes.is_empty() {
        let help = "list what the jiggers measure: pour = [\"15 ml\", \"20 ml\", \"25 ml\"]";
        findings.error(codes::OUT_OF_RANGE, written.place(), "there is no amount in this list", help);
        return None;
    }
    let least = sizes.iter().copied().fold(f64::INFINITY, f64::min);
    if !fine_enough(least, written.place(), unit, findings) {
        return None;
    }
    let Some(jigger) = Jigger::of(sizes) else {
        let what = "these amounts have no common measure";
        let help = "write all of them in one unit, and to no more digits than a jigger shows";
        findings.error(codes::OUT_OF_RANGE, written.place(), what, help);
        return None;
    };
    Some(if jigger.is_step() { Step::Every(jigger.unit()) } else { Step::Jigger(Arc::new(jigger)) })
}

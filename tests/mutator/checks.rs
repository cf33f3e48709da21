//! What has to hold of any input, whoever made it: the seeded accidents beside this file, the inputs kept in
//! `corpus/`, and the fuzzer (`tests/fuzz`).

use washline::quantity::{Amount, Currency, Price, Unit};
use washline::read::{Axis, Changes, Reading, Setting, Swap, read, read_changed, spec_line, starter};

use washline::brief::Brief;
use washline::finding::Finding;

use super::run::{known, sound, usable};

/// A file is read or refused; what is read can be worked with, what is refused is told.
pub fn file(bytes: &[u8]) -> Result<(), String> {
    reading(read(bytes, &[]), bytes).map_err(|what| format!("{what}\n{}", bytes.escape_ascii()))
}

/// The same of a file with settings and swaps.
pub fn changed(bytes: &[u8], changes: &Changes) -> Result<(), String> {
    reading(read_changed(bytes, changes), bytes).map_err(|what| format!("{what}\n{changes:?}"))
}

/// Settings and swaps, a line each: `key=value`, or `+old=new` for a swap.
pub fn changes(text: &str) -> Changes {
    let mut changes = Changes::default();
    for line in text.lines() {
        let (left, right) = line.split_once('=').unwrap_or((line, ""));
        match left.strip_prefix('+') {
            Some(old) => changes.swaps.push(Swap { old: old.to_owned(), new: right.to_owned() }),
            None => changes.settings.push(Setting { key: left.to_owned(), value: right.to_owned() }),
        }
    }
    changes
}

fn reading(reading: Result<Reading, Vec<Finding>>, bytes: &[u8]) -> Result<(), String> {
    match reading {
        Ok(reading) => sound(&reading.warnings, bytes).and_then(|()| usable(&reading.brief)),
        Err(findings) if findings.is_empty() => Err("refused without a word".to_owned()),
        Err(findings) => known(&findings).and_then(|()| sound(&findings, bytes)),
    }
}

/// A word is an amount, a price, a currency, or refused with words.
pub fn word(word: &str) -> Result<(), String> {
    for unit in [Unit::Ml, Unit::G] {
        match Amount::parse(word, unit) {
            Ok(amount) if !amount.value.is_finite() || amount.value < 0.0 => {
                return Err(format!("{word:?} is {amount:?}"));
            }
            Err(fault) if fault.what.is_empty() || fault.help.is_empty() => {
                return Err(format!("{word:?}: no words"));
            }
            _ => {}
        }
    }
    match Price::parse(word) {
        Ok(price) if !price.per_unit().is_finite() || price.per_unit() < 0.0 => {
            return Err(format!("{word:?} is {price:?}"));
        }
        Err(fault) if fault.what.is_empty() || fault.help.is_empty() => {
            return Err(format!("{word:?}: no words"));
        }
        _ => {}
    }
    match Currency::parse(word) {
        Ok(currency) if currency.code().len() != 3 => Err(format!("{word:?} is {currency:?}")),
        _ => Ok(()),
    }
}

/// The brief that lines and keys are tried on.
pub fn plain() -> Brief {
    read(starter().as_bytes(), &[]).expect("the starter brief").brief
}

/// The line of a spec is pours, or refused with a place in it.
pub fn line(brief: &Brief, line: &str) -> Result<(), String> {
    match spec_line::read(line, brief) {
        Ok(pours) if pours.iter().any(|p| !p.amount.is_finite() || p.amount < 0.0) => {
            Err(format!("{line:?} is {pours:?}"))
        }
        Ok(_) => Ok(()),
        Err(findings) => sound(&findings, line.as_bytes()),
    }
}

/// A key to sweep is refused, or takes any figure or refuses it.
pub fn key(key: &str) -> Result<(), String> {
    let bytes = starter().as_bytes();
    match Axis::of(bytes, &Changes::default(), key) {
        Ok(axis) => {
            for value in [0.0, -1.0, 7.0, 1e-300, 1e300, f64::MAX] {
                if let Err(findings) = axis.at(bytes, value) {
                    sound(&findings, bytes)?;
                }
            }
            Ok(())
        }
        Err(findings) => sound(&findings, bytes),
    }
}

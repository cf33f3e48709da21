//! What stands there of an ingredient, and how it is bought and kept.

use crate::brief::{Stock, Stored};
use crate::quantity::{Amount, NotAQuantity, Unit};
use crate::read::codes;
use crate::read::file::{At, Candidate};
use crate::read::findings::Findings;

/// What a pack is called.
const PACKS: [&str; 13] =
    ["", "bottle", "bottles", "pack", "packs", "can", "cans", "keg", "kegs", "box", "boxes", "jar", "jars"];

/// As an ingredient states it.
pub fn stated(written: &At<Candidate>, findings: &mut Findings) -> Stored {
    let stock = written.stock.as_ref().map(|text| {
        stock(text).unwrap_or_else(|fault| {
            findings.error(codes::BAD_QUANTITY, text.place(), fault.what, fault.help);
            Stock::default()
        })
    });
    Stored {
        stock: stock.unwrap_or_default(),
        keeps_days: written.keeps_days.as_ref().map(|days| days.value),
        least_order: written.least_order.as_ref().map(|packs| packs.value),
    }
}

/// `2 bottles` or `1.4 l`.
fn stock(text: &str) -> Result<Stock, NotAQuantity> {
    let at = text.find(char::is_alphabetic).unwrap_or(text.len());
    let (count, word) = text.split_at(at);
    if PACKS.contains(&word.trim().to_lowercase().as_str()) {
        return Ok(Stock::Packs(Amount::parse(count, Unit::Ml)?.value));
    }
    let help = "write \"2 bottles\", or an amount, \"1.4 l\"";
    Amount::parse(text, Unit::Ml).map(Stock::Amount).map_err(|fault| NotAQuantity::new(fault.what, help))
}

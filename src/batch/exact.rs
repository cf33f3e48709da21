//! Exact decimals beside floats: money and packs are counted in decimals.

use rust_decimal::Decimal;
use serde::ser::{Serialize, Serializer};

/// An exact amount of money; JSON has the nearest number to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Money(pub Decimal);

impl Serialize for Money {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        nearest(&self.0, serializer)
    }
}

/// Writes the nearest number to an exact one.
pub fn nearest<S: Serializer>(value: &Decimal, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_f64(to_f64(*value))
}

/// Writes a whole number without a decimal point.
#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands fields over by reference")]
pub(crate) fn count<S: Serializer>(value: &f64, serializer: S) -> Result<S::Ok, S::Error> {
    // Every whole number up to here is a float of its own.
    let whole = value.fract() == 0.0 && (0.0..9e15).contains(value);
    if whole { serializer.serialize_u64(*value as u64) } else { serializer.serialize_f64(*value) }
}

/// The nearest float to a decimal. A decimal's text is always a float's text, so nothing is lost but
/// what a float cannot hold.
pub fn to_f64(value: Decimal) -> f64 {
    value.to_string().parse().unwrap_or(f64::NAN)
}

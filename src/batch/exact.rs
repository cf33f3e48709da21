//! Exact decimals beside floats: money and packs are counted in decimals.

use rust_decimal::Decimal;

/// The nearest float to a decimal. A decimal's text is always a float's text, so nothing is lost but
/// what a float cannot hold.
pub fn to_f64(value: Decimal) -> f64 {
    value.to_string().parse().unwrap_or(f64::NAN)
}

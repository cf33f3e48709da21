//! What a unit in the glass costs.

use crate::liquid::Form;
use crate::quantity::{Currency, Price, Unit};
use crate::read::codes;
use crate::read::file::{At, Candidate};
use crate::read::findings::Findings;

/// Money per ml or g beyond this is a slip of the pen.
const DEAREST: f64 = 1e9;

/// The stated price and what it makes of one ml (powder: g) in the glass. `density` in g/ml. The sign of the
/// `currency` may stand before the money.
pub fn stated(
    written: &At<Candidate>,
    form: Form,
    density: f64,
    currency: Option<&Currency>,
    findings: &mut Findings,
) -> Option<(Price, f64)> {
    let at = written.price.as_ref()?;
    let price = match Price::parse_in(at, currency) {
        Ok(price) => price,
        Err(fault) => {
            findings.error(codes::BAD_PRICE, at.place(), fault.what, fault.help);
            return None;
        }
    };
    let per_unit = match (form, price.pack.unit) {
        (Form::Liquid, Unit::Ml) | (Form::Powder, Unit::G) => price.per_unit(),
        (Form::Liquid, Unit::G) => price.per_unit() * density,
        (Form::Powder, Unit::Ml) => {
            let what = "a powder is bought by weight, and this price is for a volume";
            findings.error(codes::WRONG_UNIT, at.place(), what, "write it like \"9.00 per 1 kg\"");
            return None;
        }
    };
    let cost = per_unit / yielded(written);
    if cost.is_finite() && cost <= DEAREST {
        return Some((price, cost));
    }
    let what = "the price is for a pack of which next to nothing reaches a glass";
    findings.error(codes::BAD_PRICE, at.place(), what, "check the pack and the yield");
    None
}

/// The share of what is bought that reaches a glass.
pub fn yielded(written: &At<Candidate>) -> f64 {
    written.yielded.as_ref().map_or(1.0, |share| share.value)
}

//! What a unit in the glass costs.

use crate::brief::Candidate;
use crate::liquid::Form;
use crate::quantity::{Currency, NotAQuantity, Price, Unit};
use crate::read::codes;
use crate::read::file::{self, At};
use crate::read::findings::Findings;

/// Money per ml or g beyond this is a slip of the pen.
const DEAREST: f64 = 1e9;

/// Gives a candidate the price that is stated for it, and what that makes of one ml (powder: g) in the glass. The sign of
/// the `currency` may stand before the money.
pub fn state(
    candidate: &mut Candidate,
    written: &At<file::Candidate>,
    currency: Option<&Currency>,
    findings: &mut Findings,
) {
    let Some(at) = &written.price else { return };
    match priced(candidate, at, currency) {
        Ok((price, cost)) => (candidate.price, candidate.cost_per_unit) = (Some(price), Some(cost)),
        Err((code, fault)) => findings.error(code, at.place(), fault.what, fault.help),
    }
}

fn priced(
    candidate: &Candidate,
    text: &str,
    currency: Option<&Currency>,
) -> Result<(Price, f64), (&'static str, NotAQuantity)> {
    let price = Price::parse_in(text, currency).map_err(|fault| (codes::BAD_PRICE, fault))?;
    let per_unit = match (candidate.label.form, price.pack.unit) {
        (Form::Liquid, Unit::Ml) | (Form::Powder, Unit::G) => price.per_unit(),
        (Form::Liquid, Unit::G) => price.per_unit() * candidate.portion.mass,
        (Form::Powder, Unit::Ml) => {
            let what = "a powder is bought by weight, and this price is for a volume";
            return Err((codes::WRONG_UNIT, NotAQuantity::new(what, "write it like \"9.00 per 1 kg\"")));
        }
    };
    let cost = per_unit / candidate.yielded;
    if cost.is_finite() && cost <= DEAREST {
        return Ok((price, cost));
    }
    let what = "the price is for a pack of which next to nothing reaches a glass";
    Err((codes::BAD_PRICE, NotAQuantity::new(what, "check the pack and the yield")))
}

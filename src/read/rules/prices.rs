//! Is every price there that something depends on, and a currency for them?

use std::collections::BTreeSet;

use crate::brief::{Brief, Candidate, Measure, Origin};
use crate::read::codes;
use crate::read::file::{At, File, listed};
use crate::read::findings::Findings;
use crate::read::shape::shown;

/// Checks prices and the currency.
pub fn check(file: &File, brief: &Brief, findings: &mut Findings) {
    currency(file, findings);
    if brief.asks_for_cost() {
        prices(file, brief, findings);
    }
}

fn currency(file: &File, findings: &mut Findings) {
    if file.currency.is_some() || findings.is_spoiled("currency") {
        return;
    }
    let menu = file.menu.as_ref().and_then(|menu| menu.price.as_ref()).map(At::place);
    let prices = listed(file.candidate.as_ref()).iter().filter_map(|c| c.price.as_ref()).map(At::place);
    if let Some(place) = menu.into_iter().chain(prices).min_by_key(|place| place.start) {
        let help = "put currency = \"GBP\" (or another ISO 4217 code) at the top";
        findings.error(codes::NO_CURRENCY, place, "there is a price, and no currency", help);
    }
}

/// Whoever may be used needs a price; a held cost needs those of the reference, too.
fn prices(file: &File, brief: &Brief, findings: &mut Findings) {
    let held = brief.hold.iter().any(|h| matches!(h.measure, Measure::Cost | Measure::PourCost));
    let reference = brief.reference.iter().filter(|_| held).flat_map(|r| &r.pours).map(|pour| pour.candidate);
    let needed: BTreeSet<usize> = brief.usable().chain(reference).collect();
    for at in needed {
        let (Some(candidate), Some(written)) =
            (brief.candidates.get(at), listed(file.candidate.as_ref()).get(at))
        else {
            continue;
        };
        let spoiled = written.price.is_some() || findings.is_spoiled(&format!("candidate.{at}.price"));
        if candidate.cost_per_unit.is_some() || spoiled {
            continue;
        }
        let place = written.name_place();
        let (what, help) = lacking(candidate);
        findings.error(codes::NO_PRICE, place, what, help);
    }
}

fn lacking(candidate: &Candidate) -> (String, String) {
    let name = shown(&candidate.name);
    let Origin::Made(preparation) = &candidate.origin else {
        let help = "give it a price: price = \"14.50 per 700 ml\"";
        return (format!("\"{name}\" has no price, and the brief asks for the cost"), help.to_owned());
    };
    let parts: Vec<String> = preparation
        .parts
        .iter()
        .filter(|part| part.price.is_none() && part.name != "water")
        .map(|part| format!("\"{}\"", shown(&part.name)))
        .collect();
    let what = format!("what \"{name}\" costs is not known: no price for {}", parts.join(", "));
    let help =
        "list the part as a [[candidate]] with its price (and out = true), or price the preparation itself";
    (what, help.to_owned())
}

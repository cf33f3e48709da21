//! A brief of a family alone: what such a drink measures, and what it needs, at least in tasteable pours.

use super::names::Found;
use super::shelf::{Ask, Offer, Stock};
use super::text::{OF_ALL, Text, unit, upper_first};
use super::{Wish, aim};
use crate::brief::Role;
use crate::finding::Finding;
use crate::larder::{Family, Need};
use crate::quantity::number::trimmed;

/// Writes a brief of a family.
///
/// # Errors
/// When no family is asked for, the house is wrong, or nothing on the shelf does what the family needs.
pub fn skeleton(wish: &Wish) -> Result<String, Vec<Finding>> {
    let Some(family) = wish.family else {
        let what = "there is neither a drink nor a family to begin with";
        let help =
            "give --from \"50 ml aged rum, 25 ml lime juice, 20 ml sugar syrup 1:1\", or --family sour";
        return Err(vec![Finding::placeless("nothing-to-begin-with", what, help)]);
    };
    let stock = Stock::open(wish.at.as_ref().map(|at| &at.house))?;
    let ask = Ask { priced: false, caffeine_free: wish.caffeine_free, not: &wish.without };
    let shelves: Vec<(Need, Vec<Offer>)> =
        family.needs.iter().map(|need| (*need, shelf(&stock, *need, family, ask))).collect();
    let offered = shelves.iter().flat_map(|(_, offers)| offers);
    let names: Vec<&str> = offered.map(|offer| offer.what.name()).collect();
    let aim = wish.aim.as_deref().map(|words| aim::line(words, &names, &wish.notes));
    let aim = aim.transpose().map_err(|fault| vec![fault])?;
    let lacking: Vec<Finding> =
        shelves.iter().filter(|(_, offers)| offers.is_empty()).map(|(need, _)| nothing(*need)).collect();
    if !lacking.is_empty() {
        return Err(lacking);
    }
    let priced = shelves.iter().flat_map(|(_, offers)| offers).all(|offer| offer.priced);
    let mut text = Text(String::new());
    let title = upper_first(&family.called());
    text.0.push_str(&format!("# {title}: {}.\n", family.about));
    text.0.push_str("# The ranges and least pours are common practice, with no source: wide enough for most of its kind.\n\n");
    text.head(&title, wish);
    text.serve((wish.method.unwrap_or(family.method), None), "2.5 ml", None, wish);
    targets(&mut text, wish, family);
    match (&aim, priced) {
        (Some(aim), _) => text.aim(aim, OF_ALL),
        (None, true) => text.aim("lowest = \"cost\"", OF_ALL),
        (None, false) => {
            text.aim("nearest = \"middle\"", "of the ranges above; with prices: lowest = \"cost\"");
        }
    }
    for (need, offers) in &shelves {
        offers.iter().for_each(|offer| candidate(&mut text, *need, offer));
        text.choose(&format!("{} has this", family.called()), need.role, Some(need.most));
    }
    Ok(text.0)
}

/// The house's own of a role that the family would take; else the ordinary ones of the larder.
fn shelf(stock: &Stock, need: Need, family: &Family, ask: Ask<'_>) -> Vec<Offer> {
    let ordinary: Vec<Offer> = need
        .shelf
        .iter()
        .filter_map(|name| {
            let found = if stock.find(name).is_some() { Found::House } else { Found::Larder };
            stock.offer(&found((*name).to_owned()))
        })
        .filter(|offer| ask.takes(offer))
        .collect();
    let at_home = |offer: &Offer| matches!(offer.what, Found::House(_));
    let of_house: Vec<Offer> = stock
        .names()
        .into_iter()
        .filter(|name| {
            stock.find(name).is_some_and(|c| c.role == need.role && !c.out && fits(c.label.strength, family))
        })
        .filter_map(|name| stock.offer(&Found::House(name)))
        .filter(|offer| ask.takes(offer) && !ordinary.contains(offer))
        // What else a house has of a role may be anything; citrus, sugar and bases are alike enough.
        .filter(|_| matches!(need.role, Role::Base | Role::Sour | Role::Sweetener | Role::Bitters))
        .collect();
    let mut offers: Vec<Offer> = ordinary.iter().filter(|o| at_home(o)).cloned().chain(of_house).collect();
    if offers.is_empty() {
        offers = ordinary.into_iter().take(3).collect();
    }
    offers
}

/// A family without alcohol takes nothing that has some.
fn fits(strength: f64, family: &Family) -> bool {
    strength <= 1.0 || !family.ranges.iter().any(|(m, _, most)| m.keyword() == "strength" && *most < 1.0)
}

fn nothing(need: Need) -> Finding {
    let what = format!("neither the house nor the ordinary shelf has a {} for this", need.role.keyword());
    Finding::placeless("nothing-brought", what, "write one down in the house, or leave out what forbids it")
}

fn targets(text: &mut Text, wish: &Wish, family: &Family) {
    text.table("[targets]", "what such a drink usually measures in the glass, after the ice");
    for (measure, least, most) in family.ranges {
        let most = match (measure.keyword(), wish.lighter) {
            ("strength", Some(lighter)) => most.min(lighter),
            _ => *most,
        };
        let least = least.min(most);
        text.line(&format!("{} = {{ min = {least}, max = {most} }}", measure.keyword()), unit(*measure));
    }
    if let Some(most) = wish.under {
        text.line(&format!("cost = {{ max = {most} }}"), "a serve, in the house's money");
    }
}

fn candidate(text: &mut Text, need: Need, offer: &Offer) {
    text.candidate(&offer.what, &format!("a {} for it", need.role.keyword()));
    if need.role == Role::Bitters {
        text.line("pour = \"0.8 ml\"", "by the dash");
        text.line("max = \"2.4 ml\"", "more would be all one tastes");
    } else {
        let least = trimmed(need.least, 1);
        text.line(&format!("min = \"{least} ml\""), "less is not tasted in such a drink");
    }
}

//! A batch in words: sentences that text and Markdown share.

use super::method::over_ice;
use super::{counted, figure, finer, listed, method_sentences, unit};
use crate::answer::{BatchAnswer, BatchLine, BuyLine, Gauge, Margin, Moved};
use crate::batch::{Money, Place, Recipe, Water};
use crate::brief::Side;
use crate::liquid::ethanol;
use crate::quantity::{Amount, Currency, Unit, UnitSystem, number};
use crate::tolerance;

/// One row of what the rounding moved: name, unit, before, after, difference.
pub type MovedRow = [String; 5];

/// `60 serves`; where a volume was asked for, the whole ones: `85 serves (and part of one)`.
pub fn serves(answer: &BatchAnswer) -> String {
    let whole = answer.serves.round();
    if (answer.serves - whole).abs() < tolerance::WHOLE {
        return counted(whole as usize, "serve");
    }
    // Nobody serves a part of one.
    format!("{} (and part of one)", counted(answer.serves.floor() as usize, "serve"))
}

/// The heading: what, how many, and which spec where it is not the best.
pub fn heading(answer: &BatchAnswer) -> String {
    let which = match answer.alternative {
        0 => String::new(),
        n => format!(" (alternative {n})"),
    };
    let waste = 1.0 - answer.serves / answer.serves_mixed;
    let waste = if waste > tolerance::WHOLE {
        format!(", {} % of the mix allowed for waste", number::trimmed(100.0 * waste, 1))
    } else {
        String::new()
    };
    format!("{}{which}: a batch of {}{waste}", answer.title, serves(answer))
}

/// A weight that is read off a scale: `1402 g`, `37.5 g`, `6.05 g`.
pub fn weight(grams: f64) -> String {
    let digits = match grams {
        g if g >= 100.0 => 0,
        g if g >= 10.0 => 1,
        _ => 2,
    };
    format!("{} g", number::fixed(grams, digits))
}

/// The weight beside an amount that is measured by volume: `or 1139 g`.
pub fn weight_beside(amount: Amount, grams: f64) -> Option<String> {
    (amount.unit == Unit::Ml).then(|| format!("or {}", weight(grams)))
}

/// What the water is called that stands in for the ice.
const WATER: &str = "water, for the melt of the ice";

/// What goes into the vessel: names, amounts, and what they weigh.
pub fn into_vessel(answer: &BatchAnswer) -> Vec<(&str, Amount, f64)> {
    let still = answer.lines.iter().filter(|l| l.place == Place::Vessel);
    let mut lines: Vec<(&str, Amount, f64)> =
        still.map(|l| (l.ingredient.as_str(), l.amount(), l.weight)).collect();
    if answer.water_from == Water::Added && answer.water > 0.0 {
        lines.push((WATER, Amount::ml(answer.water), answer.water * ethanol::WATER));
    }
    lines
}

/// What stands in the vessel, what it fills, what is still to come, and how a serve is made of it.
pub fn vessel_sentences(answer: &BatchAnswer, units: UnitSystem) -> Vec<String> {
    let said = [
        Some(vessel(answer, units)),
        bottles(answer, units),
        water(answer, units),
        Some(one_serve(answer, units)),
        in_service(answer),
    ];
    said.into_iter().flatten().collect()
}

/// How often a serve of it holds: a batch is measured once, so no hand is off in it.
fn in_service(answer: &BatchAnswer) -> Option<String> {
    let share = answer.within_all.filter(|_| !answer.spec.margins.is_empty())?;
    let on_ice = answer.water_from == Water::FromIce && answer.water > 0.0;
    let rest = if on_ice { "fruit, kitchen and ice" } else { "fruit and kitchen" };
    Some(format!(
        "In service {} of 100 serves of it stay inside everything: in a batch the hand's error vanishes, what {rest} \
         bring does not.",
        number::fixed((100.0 * share).floor(), 0)
    ))
}

/// A volume that nobody has to measure; in litres from one on, to three digits: `9.99 l`.
fn ml(value: f64, units: UnitSystem) -> String {
    if value >= 1000.0 && units == UnitSystem::Metric {
        return format!("{} l", number::trimmed(value / 1000.0, if value < 10_000.0 { 2 } else { 1 }));
    }
    number::pour_about(Amount::ml(value), units)
}

/// Its volume, weight and strength.
fn vessel(answer: &BatchAnswer, units: UnitSystem) -> String {
    let mix = &answer.mix;
    let shrunk = mix.parts - mix.volume;
    let less = if shrunk >= 0.5 {
        format!(
            ", {} less than its liquids measure: spirit, sugar and water shrink into each other",
            ml(shrunk, units)
        )
    } else {
        String::new()
    };
    let strength = number::fixed(mix.strength, 1);
    let topped_up = answer.lines.iter().any(|line| line.place == Place::Glass);
    let state = match (answer.water_from, topped_up) {
        (Water::FromIce, _) if answer.water > 0.0 => "undiluted",
        (_, true) => "before it is topped up",
        (_, false) if answer.water_in_glass > 0.0 => "before it meets the ice in the glass",
        (_, false) => "ready to serve",
    };
    format!("Together {} ({}), {strength} % vol {state}{less}.", ml(mix.volume, units), weight(mix.weight))
}

/// The water that the ice brings, where it is not in the vessel.
fn water(answer: &BatchAnswer, units: UnitSystem) -> Option<String> {
    let worked = (answer.water_from == Water::FromIce && answer.water > 0.0).then(|| ml(answer.water, units));
    let glass = (answer.water_in_glass >= 0.5).then(|| ml(answer.water_in_glass, units));
    Some(match (worked, glass) {
        (Some(worked), Some(glass)) => format!(
            "Still to come from the ice: about {worked} of water in the making, and {glass} in the glasses, over all \
             serves. --dilute adds the first to the batch instead."
        ),
        (Some(worked), None) => format!(
            "Still to come from the ice: about {worked} of water in all. --dilute adds it to the batch instead."
        ),
        (None, Some(glass)) => {
            format!("Still to come from the ice in the glasses: about {glass} of water over all serves.")
        }
        (None, None) => return None,
    })
}

/// The bottles.
fn bottles(answer: &BatchAnswer, units: UnitSystem) -> Option<String> {
    let bottles = answer.bottles.as_ref()?;
    let size = number::pour(Amount::ml(bottles.size), units);
    let full = format!("{} of {size}", counted(bottles.full as usize, "bottle"));
    let last = ml(bottles.last, units);
    Some(match (bottles.full > 0.0, bottles.last > 0.0) {
        (true, true) => format!("Fills {full}, and one more with {last}."),
        (true, false) => format!("Fills {full}."),
        (false, _) => format!("Fills one bottle of {size} with {last}."),
    })
}

/// Said where the search did not come to its end.
pub const UNPROVED: &str =
    "Made of the best spec found before the search was stopped, which is not proved to be the best.";

/// How the amounts were rounded.
pub const ROUNDING: &str = "Amounts stand in steps that can be measured: 5 ml from 500 ml on and 1 g from 100 g on; \
                            below, the next finer step that moves none by more than 0.5 %, down to 0.05 ml and 0.01 g.";

/// How one serve is made of it.
fn one_serve(answer: &BatchAnswer, units: UnitSystem) -> String {
    let pour = number::pour(Amount::ml((answer.mix.per_serve * 10.0).round() / 10.0), units);
    let gas: Vec<String> =
        answer.lines.iter().filter(|l| l.place == Place::Glass).map(|l| each(answer, l, units)).collect();
    if answer.water_from == Water::FromIce {
        let top = if gas.is_empty() {
            String::new()
        } else {
            " What tops it up never goes into the batch.".to_owned()
        };
        return format!(
            "One serve: {pour} of the mix. {}{top}",
            method_sentences(&answer.frame, &answer.one, units)
        );
    }
    let top = if gas.is_empty() {
        String::new()
    } else {
        format!("; top with {}, never in the batch", listed(&gas))
    };
    let glass = answer.frame.glass.map_or_else(
        || "the glass".to_owned(),
        |g| format!("a {} glass", number::pour(Amount::ml(g.brim), units)),
    );
    let volume = ml(answer.served.get("volume"), units);
    if answer.water_in_glass > 0.0 {
        let (ice, melt) = (over_ice(&answer.frame), ml(answer.water_in_glass / answer.serves_mixed, units));
        return format!(
            "One serve: {pour} of it, cold from the fridge,{ice} into {glass}{top}: {volume} in the glass by the \
             first sip, {melt} of it from that ice."
        );
    }
    format!(
        "One serve: {pour} of it, ice-cold and without ice, into {glass}{top}: {volume} in the glass. No ice \
         cools it any more: chill batch and glass."
    )
}

fn each(answer: &BatchAnswer, line: &BatchLine, units: UnitSystem) -> String {
    let amount = Amount { value: line.exact / answer.serves_mixed, ..line.amount() };
    format!("{} {}", number::pour(amount, units), line.ingredient)
}

/// How much of a house preparation is made.
pub fn preparation(line: &Recipe, units: UnitSystem) -> String {
    let lost = if line.loss > 0.0 {
        format!(", {} % lost on the way made up for", number::trimmed(line.loss, 1))
    } else {
        String::new()
    };
    format!(
        "{}: {} needed{lost}",
        line.name,
        number::pour_about(Amount { value: line.amount, unit: line.unit }, units)
    )
}

/// The figures that the rounding moved, one digit finer than elsewhere. The difference is that of the
/// figures as they are shown, so that the reader's own subtraction agrees.
pub fn moved(answer: &BatchAnswer, units: UnitSystem) -> Vec<MovedRow> {
    let row = |m: &Moved| {
        let gauge = answer.frame.gauge(&m.measure).filter(|_| !m.spec.is_nan())?;
        let fine = Gauge { digits: gauge.digits + 1, ..gauge.clone() };
        let (spec, batch) = (figure(&fine, m.spec, units), figure(&fine, m.batch, units));
        let digits = batch.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        let by =
            batch.parse::<f64>().ok().zip(spec.parse::<f64>().ok()).map(|(after, before)| after - before);
        let by = by.map_or_else(String::new, |by| number::signed(by, digits));
        Some([gauge.label.clone(), unit(gauge, units).to_owned(), spec, batch, by])
    };
    answer.moved.iter().filter_map(row).collect()
}

/// Targets that the rounding has broken.
pub fn misses(answer: &BatchAnswer, units: UnitSystem) -> Option<String> {
    let one = |m: &Margin| {
        let gauge = answer.frame.gauge(&m.target)?;
        let side = if m.side == Side::Min { "under" } else { "over" };
        Some(format!("{} is {side} its limit by {}", gauge.label, finer(gauge, m.margin.abs(), units)))
    };
    let all: Vec<String> = answer.misses.iter().filter_map(one).collect();
    let all = (!all.is_empty()).then(|| all.join(", "))?;
    Some(if answer.water_from == Water::Added && answer.water_in_glass > 0.0 {
        format!(
            "From the fridge over ice it lies outside the brief: {all}. It is warmer than what comes from working \
             ice, so more melts: put less water into the batch, or serve it colder."
        )
    } else {
        format!("The rounding has carried it outside the brief: {all}. Another size may round better.")
    })
}

/// What is bought of one thing: `3 x 700 ml`, or how much where there is no price.
pub fn packs(line: &BuyLine) -> String {
    match (line.packs, &line.pack) {
        (Some(count), Some(pack)) => format!("{count} x {pack}"),
        _ => need(line),
    }
}

/// How much of it is used up.
pub fn need(line: &BuyLine) -> String {
    about(line.need, line.unit)
}

/// What is left of the packs.
pub fn left_over(line: &BuyLine) -> String {
    line.left_over.map_or_else(|| "no pack known".to_owned(), |left| about(left, line.unit))
}

fn about(value: f64, unit: Unit) -> String {
    let digits = usize::from(value > 0.0 && value < 10.0);
    format!("{} {}", number::fixed(value, digits), unit.symbol())
}

/// The money, a sentence each.
pub fn money(answer: &BatchAnswer) -> Vec<String> {
    let (costing, money) = (&answer.costing, &answer.money);
    let write = |amount: Money| money.write(amount.0);
    if answer.currency == Currency::NONE {
        return vec!["The brief knows no price, so nothing is said of its cost.".to_owned()];
    }
    let mut said = Vec::new();
    if !costing.unpriced.is_empty() {
        said.push(format!("Without {}, of which the brief knows no price:", listed(&costing.unpriced)));
    }
    said.push(format!(
        "{} for what is used, {} a serve; {} for the packs.",
        write(costing.used),
        write(costing.per_serve),
        write(costing.spend)
    ));
    if let Some(menu) = &costing.menu {
        said.push(format!(
            "At {} on the menu, {} without tax: pour cost {} %, gross profit {} a serve.",
            write(menu.price),
            write(menu.net),
            number::fixed(menu.pour_cost, 1),
            write(menu.gross_profit)
        ));
    }
    if let Some(needed) = &costing.needed {
        let tax = if needed.tax > 0.0 {
            format!("with {} % tax", number::trimmed(needed.tax, 2))
        } else {
            "before any tax".to_owned()
        };
        said.push(format!(
            "A pour cost of {} % needs a menu price of {} {tax}.",
            number::trimmed(needed.pour_cost, 2),
            money.write_at_least(needed.price.0)
        ));
    }
    said
}

/// The figures of the label, in one line.
pub fn label(answer: &BatchAnswer) -> String {
    let label = &answer.label;
    format!(
        "{} % vol; a serve has {} UK units of alcohol, {} US standard drinks; 100 ml have {} kJ / {} kcal.",
        number::fixed(label.strength, 1),
        number::fixed(label.units_of_alcohol, 1),
        number::fixed(label.us_standard_drinks, 1),
        number::fixed(label.energy_per_100ml.kj, 0),
        number::fixed(label.energy_per_100ml.kcal, 0)
    )
}

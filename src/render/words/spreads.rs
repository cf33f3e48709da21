//! What moves all serves together, what moves each, and what stands still: one sentence each.

use super::{listed, share_words, upper_first};
use crate::explain::variation::{Lots, Ranged, Service};
use crate::quantity::number;

/// `pours off by 1 ml (standard deviation: common practice, give your own as pour_error), 0.48 ml for the bitters`
pub fn hand_words(service: &Service) -> String {
    let off = service.hand.iter().filter(|off| off.error > 0.0);
    if off.clone().next().is_none() {
        return "exact pours".to_owned();
    }
    let stated = if service.stated { "" } else { ": common practice, give your own as pour_error" };
    let share = || number::percent(service.pour_share, 1);
    let fixed = || format!("{} ml", number::trimmed(service.pour_error, 2));
    let bar = match (service.pour_error > 0.0, service.pour_share > 0.0) {
        (true, true) => format!("{} and {} of what is poured", fixed(), share()),
        (false, true) => format!("{} of what is poured", share()),
        _ => fixed(),
    };
    // What is poured otherwise is told by itself.
    let other = off.filter(|off| matches!(off.poured, Some("dash")) && service.poured != off.poured);
    let other: Vec<String> = other
        .map(|off| {
            format!(
                ", {} by the dash by {} {}",
                off.ingredient,
                number::trimmed(off.error, 2),
                off.unit.symbol()
            )
        })
        .collect();
    format!("pours off by {bar} (standard deviation{stated}){}", other.concat())
}

/// `lemon juice differs from lot to lot in its natural range`; what each kind of range is between.
pub fn drawn_words(service: &Service) -> String {
    let kinds = [
        ("serve", "from serve to serve"),
        ("lot", "from lot to lot"),
        ("season", "from season to season"),
        ("make", "from bottle to bottle"),
    ];
    let told = kinds.iter().filter_map(|(between, words)| {
        let names = names(service.drawn.iter().filter(|one| one.between == *between));
        let differ = if names.len() == 1 { "differs" } else { "differ" };
        (!names.is_empty()).then(|| format!("{} {differ} {words}", listed(&names)))
    });
    let told: Vec<String> = told.collect();
    if told.is_empty() { "every ingredient as it typically is".to_owned() } else { told.join(", ") }
}

/// Each ingredient once.
fn names<'s>(lines: impl Iterator<Item = &'s Ranged>) -> Vec<&'s str> {
    let mut names: Vec<&str> = vec![];
    for line in lines {
        if !names.contains(&line.ingredient.as_str()) {
            names.push(&line.ingredient);
        }
    }
    names
}

/// Tonight's limes apart from the hand: `With typical lime juice 62 of 100 serves stay inside, …`
pub fn lots_sentence(lots: &Lots) -> String {
    let many = |share: f64| match number::fixed(share * lots.lots as f64, 0) {
        none if none == "0" => "none".to_owned(),
        some => some,
    };
    // A level that no lot reaches says that of all above it.
    let first = lots.good.iter().position(|good| good.share <= 0.0).unwrap_or(lots.good.len());
    let good = lots.good.iter().take(first + 1);
    let good = good.map(|good| format!("{} with {} of 100 serves inside", many(good.share), good.level));
    let good: Vec<String> = good.collect();
    let [low, high] = lots.middle.map(share_words);
    upper_first(&format!(
        "tonight's {} move all serves together: with typical ones {} stay inside, and the rest is the hand and the ice. Of \
         {} lots {}; nine in ten lie between {low} and {high}.",
        listed(&lots.ingredients),
        share_words(lots.typical),
        lots.lots,
        good.join(", "),
    ))
}

/// What stands still although makes differ, as a question: `Fino sherry (strength 15 to 17 % vol)`.
pub fn makes_sentence(service: &Service) -> Option<String> {
    let any = service.any_make?;
    let asked: Vec<String> = service.held.iter().map(make).collect();
    Some(format!(
        "Held at one figure, since bottles of a make are alike and only makes differ: {}. What does your label say? Over \
         all makes {} would stay inside.",
        asked.join(", "),
        share_words(any)
    ))
}

/// `fino sherry strength 15 to 17 % vol`
fn make(line: &Ranged) -> String {
    let digits = 1 + usize::from(line.range[1] < 10.0);
    let [low, high] = line.range.map(|end| number::trimmed(end, digits));
    format!("{} {} {low} to {high} {}", line.ingredient, line.figure, line.unit)
}

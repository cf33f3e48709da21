//! What was swapped, what is held, and what each ingredient brings, in words and figures.

use super::{figure, listed, upper_first};
use crate::answer::{Frame, Gauge, HeldLine, SpecLine, SwapLine, Turn};
use crate::brief::Measure;
use crate::explain::contribution::{Contribution, Source};
use crate::quantity::{UnitSystem, number};
use crate::read::HeldBy;

/// `aged rum goes out`
pub fn goes(names: &[String]) -> String {
    format!("{} {} out", listed(names), if names.len() == 1 { "goes" } else { "go" })
}

/// `verjus comes in`
pub fn comes(names: &[String]) -> String {
    format!("{} {} in", listed(names), if names.len() == 1 { "comes" } else { "come" })
}

/// What goes out and comes in, what is held, what to aim for and what was left out.
pub fn swap_sentences(frame: &Frame, swap: &SwapLine, units: UnitSystem) -> Vec<String> {
    let turned = format!("{}, {}.", goes(&swap.out), comes(&swap.coming));
    let mut sentences = vec![upper_first(&turned)];
    sentences.extend(held_sentence(frame, swap, units));
    if let Some(aim) = &swap.aim_set_aside {
        sentences.push(format!(
            "The aim is the least change from the reference; the brief's own ({aim}) is set aside."
        ));
    }
    if !swap.proportions_left_out.is_empty() {
        let left_out = listed(&swap.proportions_left_out);
        sentences.push(format!("Left out with what goes out: the proportion of {left_out}."));
    }
    sentences
}

/// `Held at the reference's own values: strength 17.2 ± 0.5 % vol, …`
fn held_sentence(frame: &Frame, swap: &SwapLine, units: UnitSystem) -> Option<String> {
    let text = |held: &HeldLine| {
        let gauge = frame.gauge(&held.target)?;
        let value = figure(gauge, held.value, units);
        let within = super::limit(gauge, held.within, units);
        let unit = super::unit(gauge, units);
        Some(format!("{} {value} ± {within} {unit}", gauge.label).trim_end().to_owned())
    };
    let held: Vec<String> = swap.held.iter().filter_map(text).collect();
    let why = if swap.held_by == HeldBy::Custom { " (as usual: the brief has no [hold])" } else { "" };
    (!held.is_empty()).then(|| format!("Held at the reference's own values{why}: {}.", held.join(", ")))
}

/// The figures that ingredients bring, in the order in which figures are shown: the limited ones, and those that
/// tell the most.
pub fn brought<'f>(frame: &'f Frame, spec: &SpecLine) -> Vec<&'f Gauge> {
    const TELLING: [Measure; 6] = [
        Measure::Volume,
        Measure::Strength,
        Measure::Sugar,
        Measure::Sweetness,
        Measure::Acid,
        Measure::Cost,
    ];
    let known = |g: &&Gauge| {
        spec.contributions
            .iter()
            .map(|line| line.share.get(&g.key))
            .any(|share| !share.is_nan() && share != 0.0)
    };
    frame.gauges.iter().filter(|g| g.limited() || TELLING.contains(&g.measure)).filter(known).collect()
}

/// A share of a figure; nothing where it is nothing.
pub fn share(gauge: &Gauge, value: f64, units: UnitSystem) -> String {
    if value == 0.0 { String::new() } else { figure(gauge, value, units) }
}

/// By how much a figure moved: `+1.5`, `-0.3`. It is the difference of the figures as they are shown, so
/// that the reader's own subtraction agrees.
pub fn moved(gauge: &Gauge, before: f64, after: f64, units: UnitSystem) -> String {
    let shown = |value: f64| figure(gauge, value, units).parse::<f64>().unwrap_or(f64::NAN);
    let digits = figure(gauge, 0.0, units).split_once('.').map_or(0, |(_, decimals)| decimals.len());
    number::signed(shown(after) - shown(before), digits)
}

/// What went out with what it brought to the reference, and what came in with what it brings now.
pub fn came_and_went<'a>(
    reference: &'a SpecLine,
    spec: &'a SpecLine,
    units: UnitSystem,
) -> Vec<(String, &'a Contribution)> {
    let turned = |turn: Turn, of: &'a SpecLine, word: &'static str| {
        let names = spec.change.iter().filter(move |c| c.turn == turn);
        names.filter_map(move |change| {
            let line = of
                .contributions
                .iter()
                .find(|l| l.source == Source::Pour && l.ingredient == change.ingredient)?;
            let pour = of.pours.iter().find(|p| p.ingredient == change.ingredient)?;
            Some((format!("{word}: {} {}", number::pour(pour.amount(), units), line.ingredient), line))
        })
    };
    turned(Turn::Out, reference, "out").chain(turned(Turn::In, spec, "in")).collect()
}

/// `Sugar 7.9 g in the glass, as sweet as 9.4 g of sucrose.`; nothing where both are the same.
pub fn sweetness_sentence(spec: &SpecLine) -> Option<String> {
    let sugar: f64 = spec.contributions.iter().map(|line| line.grams.sugar).sum();
    let sweet: f64 = spec.contributions.iter().map(|line| line.grams.sweetness).sum();
    let (sugar_text, sweet_text) = (number::fixed(sugar, 1), number::fixed(sweet, 1));
    (sugar_text != sweet_text)
        .then(|| format!("{sugar_text} g of sugar in the glass, as sweet as {sweet_text} g of sucrose."))
}

//! Why the answer is as it is, in words: conflicts, changes that are enough, who is in play.

use super::{figures, listed, moves, score_text, spaced, upper_first, worse_words};
use crate::answer::{ConflictLine, Frame, Gauge, Item, NextLine, SpecAnswer};
use crate::brief::Side;
use crate::explain::in_play::InPlay;
use crate::explain::loosen::{Change, Knob};
use crate::quantity::{Amount, Unit, UnitSystem, number};
use crate::tolerance;

/// More decimals than this are never shown.
const FINEST: usize = 6;

/// A demand in words: `strength at most 8 % vol`, or the rule.
pub fn item(frame: &Frame, item: &Item, units: UnitSystem) -> String {
    match item {
        Item::Rule { rule } => rule.clone(),
        Item::Target { target, side, limit } => {
            let bound = bound(*side);
            match frame.gauge(target) {
                Some(gauge) => format!("{} {bound} {}", gauge.label, asked(gauge, *limit, units)),
                None => format!("{target} {bound} {}", number::trimmed(*limit, 3)),
            }
        }
    }
}

fn bound(side: Side) -> &'static str {
    match side {
        Side::Min => "at least",
        Side::Max => "at most",
    }
}

fn asked(gauge: &Gauge, limit: f64, units: UnitSystem) -> String {
    spaced(figures::limit(gauge, limit, units), figures::unit(gauge, units))
}

/// Towards what a figure is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Rounded {
    Down,
    Up,
}

/// A number rounded to one side, with as many decimals as it takes to tell it from `from`.
pub(super) fn rounded(value: f64, from: f64, digits: usize, to: Rounded) -> String {
    let at = |digits: usize| {
        let scale = 10_f64.powi(i32::try_from(digits).unwrap_or(0));
        // What is a hair beyond a round figure is that figure: limits are met within a margin.
        let hair = 1e-9 * (value * scale).abs();
        match to {
            Rounded::Down => (value * scale + hair).floor() / scale,
            Rounded::Up => (value * scale - hair).ceil() / scale,
        }
    };
    let enough = (digits..=FINEST).find(|d| (at(*d) - from).abs() > 1e-9 * from.abs());
    let digits = enough.unwrap_or(FINEST);
    number::trimmed(at(digits), digits)
}

/// A measure's figure rounded to one side, with its unit.
fn measure(gauge: &Gauge, value: f64, from: f64, to: Rounded, units: UnitSystem) -> String {
    let unit = figures::unit(gauge, units);
    if unit == "oz" && gauge.unit == "ml" {
        return spaced(rounded(number::in_ounces(value), number::in_ounces(from), 2, to), unit);
    }
    spaced(rounded(value, from, gauge.digits, to), unit)
}

/// Why there is no spec: what the first core allows at the most.
fn conflict_sentence(frame: &Frame, conflict: &ConflictLine, units: UnitSystem) -> Option<String> {
    let clash = conflict.clash.as_ref()?;
    let Item::Target { target, side, limit } = &clash.item else { return None };
    let gauge = frame.gauge(target)?;
    let (verb, to) = if *side == Side::Min { ("pass", Rounded::Up) } else { ("get under", Rounded::Down) };
    let reached = measure(gauge, clash.nearest, *limit, to, units);
    let beside: Vec<String> = clash.beside.iter().map(|i| item(frame, i, units)).collect();
    let demand = format!("{} {} is asked for", bound(*side), asked(gauge, *limit, units));
    let label = &gauge.label;
    Some(if beside.is_empty() {
        format!("{} cannot {verb} {reached} with these ingredients: {demand}.", upper_first(label))
    } else {
        format!("With {}, {label} cannot {verb} {reached}: {demand}.", listed(&beside))
    })
}

/// Why there is no spec: what cannot be reached at all, else what the first core allows.
pub fn clash_sentences(frame: &Frame, conflict: &ConflictLine, units: UnitSystem) -> Vec<String> {
    let reach = reach_sentences(frame, conflict, units);
    if reach.is_empty() { conflict_sentence(frame, conflict, units).into_iter().collect() } else { reach }
}

/// What no spec of these ingredients and rules can reach, whatever the other targets are.
fn reach_sentences(frame: &Frame, conflict: &ConflictLine, units: UnitSystem) -> Vec<String> {
    let mut sentences = vec![];
    for reach in &conflict.reach {
        let Some(gauge) = frame.gauge(&reach.target) else { continue };
        let label = upper_first(&gauge.label);
        let (least, most) = (reach.min.beyond, reach.max.beyond);
        if let Some(limit) = gauge.min
            && !tolerance::meets_min(most, limit)
        {
            let reached = measure(gauge, most, limit, Rounded::Up, units);
            let limit = asked(gauge, limit, units);
            sentences.push(format!(
                "{label} cannot pass {reached} with these ingredients and rules: at least {limit} is asked for."
            ));
        }
        if let Some(limit) = gauge.max
            && !tolerance::meets_max(least, limit)
        {
            let reached = measure(gauge, least, limit, Rounded::Down, units);
            let limit = asked(gauge, limit, units);
            sentences.push(format!(
                "{label} cannot get under {reached} with these ingredients and rules: at most {limit} is asked for."
            ));
        }
    }
    sentences
}

/// A core in one line.
pub fn core_words(frame: &Frame, core: &[Item], units: UnitSystem) -> String {
    let items: Vec<String> = core.iter().map(|i| item(frame, i, units)).collect();
    items.join("; ")
}

/// Every single change that would be enough, in one sentence.
pub fn alone(answer: &SpecAnswer, conflict: &ConflictLine, units: UnitSystem) -> Option<String> {
    let others = conflict.enough.iter().filter(|change| conflict.relax != [(*change).clone()]);
    let changes: Vec<String> = others.map(|change| need(&answer.frame, change, units)).collect();
    (!changes.is_empty()).then(|| format!("Enough alone as well: {}.", changes.join("; or ")))
}

/// Whether steps are in the way, and what would do.
pub fn steps_sentence(conflict: &ConflictLine, units: UnitSystem) -> Option<String> {
    if !conflict.steps.in_the_way {
        return None;
    }
    Some(match conflict.steps.smaller {
        Some(step) => {
            let step = number::pour(Amount::ml(step), units);
            format!(
                "Free amounts would do, so only the pour steps are in the way: steps of {step} would be enough."
            )
        }
        None => {
            "Free amounts would do, so only the pour steps are in the way; none of the usual smaller steps \
                 was found to be enough."
                .to_owned()
        }
    })
}

/// A change in words: `strength at most 15.6 % vol (asked: 8)`.
pub fn need(frame: &Frame, need: &Change, units: UnitSystem) -> String {
    match need_parts(frame, need, units) {
        (text, Some(asked)) => format!("{text} (asked: {asked})"),
        (text, None) => text,
    }
}

/// Changes in words.
pub fn needs(frame: &Frame, needs: &[Change], units: UnitSystem) -> Vec<String> {
    needs.iter().map(|one| need(frame, one, units)).collect()
}

/// A change and what is asked now: `strength at most 15.6 % vol`, `8`.
fn need_parts(frame: &Frame, need: &Change, units: UnitSystem) -> (String, Option<String>) {
    let (target, bound) = (&need.target, bound(need.side));
    let Some(needed) = need.needed else {
        return (format!("no limit {bound} on {}", label(frame, need)), None);
    };
    let to = if need.side == Side::Min { Rounded::Down } else { Rounded::Up };
    let plain = |digits: usize| rounded(needed, need.asked, digits, to);
    let asked = |digits: usize| Some(number::trimmed(need.asked, digits));
    let amount = |value: f64, unit| number::pour(Amount { value, unit }, units);
    match need.knob {
        Knob::Target => match frame.gauge(&need.gauge) {
            Some(gauge) => {
                let figure = measure(gauge, needed, need.asked, to, units);
                (format!("{} {bound} {figure}", gauge.label), Some(figures::limit(gauge, need.asked, units)))
            }
            None => (format!("{target} {bound} {}", plain(3)), None),
        },
        Knob::Hold => {
            let unit = frame.gauge(&need.gauge).map_or("", |g| g.unit.as_str());
            let figure = spaced(plain(2), unit);
            (format!("{} within {figure} of the reference", label(frame, need)), asked(3))
        }
        Knob::Headroom => (format!("{} % of the glass left free", plain(1)), asked(1)),
        Knob::Glass => {
            (format!("a glass of {}", amount(needed.ceil(), Unit::Ml)), Some(amount(need.asked, Unit::Ml)))
        }
        Knob::Most => (format!("{bound} {} ingredients", plain(0)), asked(0)),
        Knob::Choose => {
            let group = target.strip_prefix("choose ").unwrap_or(target);
            if needed == 0.0 && need.side == Side::Min {
                return (format!("no {group} at all"), asked(0));
            }
            (format!("{bound} {} of {group}", plain(0)), asked(0))
        }
        Knob::Proportion => (format!("{target} {bound} {}", plain(3)), asked(3)),
        Knob::Ingredient(_) if needed == 0.0 => (format!("{target} left out (it has to be used)"), None),
        Knob::Ingredient(unit) => {
            (format!("{bound} {} of {target}", amount(needed, unit)), Some(amount(need.asked, unit)))
        }
    }
}

/// What is limited: a figure, or what the brief calls it.
fn label<'a>(frame: &'a Frame, need: &'a Change) -> &'a str {
    frame.gauge(&need.gauge).map_or(need.target.as_str(), |g| g.label.as_str())
}

/// Who is in every, some and no spec near the best.
pub fn in_play_sentences(answer: &SpecAnswer, in_play: &InPlay) -> Vec<String> {
    let further = |name: &&String| {
        answer.alternatives.iter().flat_map(|spec| &spec.pours).any(|pour| pour.ingredient == **name)
    };
    let further: Vec<&str> = in_play.never.iter().filter(further).map(String::as_str).collect();
    let further = (!further.is_empty()).then(|| {
        format!(
            "In alternatives that are over {} % worse: {}.",
            number::trimmed(in_play.within, 2),
            listed(&further)
        )
    });
    let within = number::trimmed(in_play.within, 2);
    let line =
        |head: String, names: &[String]| (!names.is_empty()).then(|| format!("{head}: {}.", listed(names)));
    [
        line(format!("In every spec at most {within} % worse"), &in_play.always),
        line("In some of those, not in all".to_owned(), &in_play.sometimes),
        line("In none of those".to_owned(), &in_play.never),
        further,
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Whether what waits behind a looser limit is better by as much as is shown.
pub fn shows(answer: &SpecAnswer, best: f64, next: &NextLine, units: UnitSystem) -> bool {
    worse_words(answer, best, next.score, units).is_some()
}

/// What a looser limit brings: `acid at least 5.95 g/L (asked: 6.5): 0.82 GBP, 0.01 GBP cheaper; …`
pub fn next(answer: &SpecAnswer, best: f64, next: &NextLine, units: UnitSystem) -> String {
    let change = need(&answer.frame, &next.need, units);
    let score = score_text(&answer.aim, &answer.frame, next.score, units);
    let worth = worse_words(answer, best, next.score, units);
    let worth = worth.unwrap_or_else(|| "better by less than is shown".to_owned());
    format!("{change}: {score}, {worth}; {}", moves(&next.change, units))
}

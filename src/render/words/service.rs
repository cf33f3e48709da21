//! How sure a spec is, in words.

use super::spreads::{drawn_words, hand_words, lots_sentence, makes_sentence};
use super::{figure, label, listed, score_text, spaced, span, unit, upper_first};
use crate::answer::{Frame, SpecAnswer};
use crate::brief::{HoldFor, Side};
use crate::explain::variation::certainty::{Blame, Certainty, Narrow};
use crate::explain::variation::{Kind, Missed, Part, Service, TargetService};
use crate::quantity::{UnitSystem, number};

/// A cause that mends less than this share of another's is no match for it.
const NO_MATCH: f64 = 1.0 / 3.0;
/// Where no kind of cause alone mends this share, none is named.
const NAMED: f64 = 0.2;
/// Causes with less of the variance than this are not listed.
const LISTED: f64 = 0.05;

/// `93 of 100 serves stay inside everything; most of the rest are too sour, from the lime juice itself,
/// not from the hand.`
pub fn service_sentence(frame: &Frame, service: &Service) -> String {
    let share = service.within_all.found;
    let inside = inside(share, service.draws);
    match &service.most_missed {
        None => format!("{inside}."),
        Some(missed) => {
            let how = complaint(frame, &missed.target, missed.side);
            let rest = if missed.of_misses > 0.5 {
                format!("most of the rest are {how}")
            } else {
                format!("the rest are most often {how}")
            };
            let rest = if share <= 0.0 { rest.replace("the rest", "them") } else { rest };
            format!("{inside}; {rest}{}.", blamed(missed))
        }
    }
}

/// `93 of 100 serves stay inside everything`, never rounded to all or none.
fn inside(share: f64, draws: usize) -> String {
    let stay = if (100.0 * share).round() <= 1.0 { "stays" } else { "stay" };
    let serves = match share {
        s if s >= 1.0 => format!("All of {} simulated serves", number::grouped(draws)),
        s if s <= 0.0 => format!("None of {} simulated serves", number::grouped(draws)),
        s => upper_first(&of_100(s)) + " serves",
    };
    format!("{serves} {stay} inside everything")
}

/// Serves of a hundred, never rounded to all or none.
pub fn of_100(share: f64) -> String {
    match (100.0 * share).round() {
        _ if share >= 1.0 => "all serves".to_owned(),
        _ if share <= 0.0 => "no serve".to_owned(),
        h if h >= 100.0 => "more than 99 of 100".to_owned(),
        h if h < 1.0 => "fewer than 1 of 100".to_owned(),
        h => format!("{} of 100", number::fixed(h, 0)),
    }
}

/// So many of a hundred serves, never rounded to all or none: `14`, `over 99`.
pub fn hundredths(share: f64) -> String {
    match (100.0 * share).round() {
        h if share < 1.0 && h >= 100.0 => "over 99".to_owned(),
        h if share > 0.0 && h < 1.0 => "under 1".to_owned(),
        h => number::fixed(h, 0),
    }
}

/// `holds in 14 of 100`
pub fn holds_in(share: f64) -> String {
    format!("holds in {} of 100", hundredths(share))
}

/// What a serve is that misses a side: `too sour`, `too weak`, `over the most caffeine`.
pub fn complaint(frame: &Frame, target: &str, side: Side) -> String {
    let low = side == Side::Min;
    let known = |under: &str, over: &str| if low { under.to_owned() } else { over.to_owned() };
    match target {
        "volume" => known("too small", "too large"),
        "strength" => known("too weak", "too strong"),
        "sugar" | "sweetness" => known("not sweet enough", "too sweet"),
        "acid" => known("not sour enough", "too sour"),
        "sugar_acid" => known("too sour for their sugar", "too sweet for their acid"),
        "cost" | "pour_cost" => known("too cheap", "too dear"),
        "energy" => known("short of energy", "too rich in energy"),
        "ethanol" => known("short of alcohol", "over the most alcohol"),
        "melt" => known("short of melt water", "too watery"),
        other => {
            let label = label(frame, other);
            if low { format!("short of {label}") } else { format!("over the most {label}") }
        }
    }
}

/// `, from the lime juice itself, not from the hand`
fn blamed(missed: &Missed) -> String {
    let kinds = [
        (Kind::Composition, missed.by_compositions),
        (Kind::Pour, missed.by_pours),
        (Kind::Ice, missed.by_ice),
    ];
    let Some((kind, most)) = kinds.into_iter().max_by(|a, b| a.1.total_cmp(&b.1)) else {
        return String::new();
    };
    if missed.at_rest {
        return ", as the spec itself is".to_owned();
    }
    if most < NAMED {
        return ", from many small things at once".to_owned();
    }
    let first = missed.mended.iter().find(|cause| cause.cause == kind).and_then(|c| c.ingredient.as_deref());
    let no_match = |share: f64| share < NO_MATCH * most;
    match (kind, first) {
        (Kind::Composition, Some(name)) => {
            let hand = if no_match(missed.by_pours) { ", not from the hand" } else { "" };
            format!(", from the {name} itself{hand}")
        }
        (Kind::Pour, Some(name)) => {
            let natural = if no_match(missed.by_compositions) && missed.by_compositions > 0.0 {
                ", not from what is in the bottles"
            } else {
                ""
            };
            format!(", from the hand, the pour of {name} first{natural}")
        }
        (Kind::Ice, _) => ", from the ice".to_owned(),
        (Kind::Composition, None) => ", from the ingredients themselves".to_owned(),
        (Kind::Pour, None) => ", from the hand".to_owned(),
    }
}

/// A share as a percentage that is never rounded to all or none.
pub fn share_words(share: f64) -> String {
    let tenths = (1000.0 * share).round();
    match share {
        s if s < 1.0 && tenths >= 1000.0 => "over 99.9 %".to_owned(),
        s if s > 0.0 && tenths < 1.0 => "under 0.1 %".to_owned(),
        s => number::percent(s, usize::from(tenths % 1000.0 != 0.0)),
    }
}

/// What a target's values vary with: `the ice 41 %, pouring aged rum 22 %`.
pub fn varies_with(target: &TargetService) -> String {
    let causes = target.varies_with.iter().filter(|cause| cause.share >= LISTED).take(3);
    let texts: Vec<String> =
        causes.map(|cause| format!("{} {}", cause_words(cause), number::percent(cause.share, 0))).collect();
    texts.join(", ")
}

/// A cause: `pouring aged rum`, `lime juice itself`, `the ice`.
pub fn cause_words(cause: &Part) -> String {
    match (cause.cause, cause.ingredient.as_deref()) {
        (Kind::Pour, Some(name)) => format!("pouring {name}"),
        (Kind::Composition, Some(name)) => format!("{name} itself"),
        (_, _) => "the ice".to_owned(),
    }
}

/// How the check was made and how far it can be trusted.
pub fn service_basis(service: &Service) -> Vec<String> {
    let [low, high] = service.within_all.interval();
    let hand = hand_words(service);
    let ice = if service.melt_within > 0.0 {
        format!(
            ", the ice give or take {} % of what is poured",
            number::fixed(100.0 * service.melt_within, 0)
        )
    } else {
        String::new()
    };
    let mut texts = vec![format!(
        "{} serves were drawn: {}, {hand}{ice}. The share is {}, between {} and {} with 95 % confidence.",
        number::grouped(service.draws),
        drawn_words(service),
        share_words(service.within_all.found),
        share_words(low),
        share_words(high)
    )];
    texts.extend(service.lots.as_ref().map(lots_sentence));
    texts.extend(makes_sentence(service));
    if !service.judged.is_empty() {
        let judged: Vec<String> =
            service.judged.iter().map(|j| format!("{} ({}: {})", j.ingredient, j.figure, j.basis)).collect();
        texts.push(format!(
            "Ranges that are no published figure: {}. Give your own where you have measured.",
            judged.join(", ")
        ));
    }
    texts
}

/// What is sure, what that costs, or what stands against it.
pub fn certainty_sentences(answer: &SpecAnswer, certainty: &Certainty, units: UnitSystem) -> Vec<String> {
    let mut texts = vec![];
    match (&answer.best, answer.proof.hold) {
        (Some(best), HoldFor::Share(asked)) => {
            texts.extend(share_found(answer, asked, best.score, certainty, units));
        }
        (Some(best), _) => texts.extend(worst_found(answer, best.score, certainty, units)),
        (None, HoldFor::Share(asked)) => texts.extend(share_missed(answer, asked, certainty, units)),
        (None, _) => texts.extend(worst_missed(answer, certainty, units)),
    }
    texts
}

fn share_found(
    answer: &SpecAnswer,
    asked: f64,
    score: f64,
    certainty: &Certainty,
    units: UnitSystem,
) -> Vec<String> {
    let mut texts = vec![];
    if let Some(fresh) = answer.service.as_ref().and_then(|service| service.fresh) {
        let [low, high] = fresh.interval();
        texts.push(format!(
            "The spec was chosen by these serves ({} asked for). In as many others, that it was not chosen by, {} \
             stay inside: between {} and {} with 95 % confidence.",
            share_words(asked),
            share_words(fresh.found),
            share_words(low),
            share_words(high)
        ));
    }
    if let Some((typical, within)) = certainty.typical_score.zip(certainty.typical_within) {
        let [here, there] =
            [score, typical].map(|score| score_text(&answer.aim, &answer.frame, score, units));
        texts.push(if here == there {
            format!("That costs nothing: without asking for it the best reaches {there} as well.")
        } else {
            format!(
                "What that costs: {here} instead of {there}; of the serves of the spec that reaches {there}, {} stay \
                 inside.",
                share_words(within)
            )
        });
    }
    texts
}

fn share_missed(answer: &SpecAnswer, asked: f64, certainty: &Certainty, units: UnitSystem) -> Vec<String> {
    let Some((typical, within)) = certainty.typical_score.zip(certainty.typical_within) else {
        return vec![];
    };
    let asked = share_words(asked);
    let none = if answer.complete {
        format!("The brief can be met, but in no spec by {asked} of the serves.")
    } else {
        format!("The brief can be met; no spec was found that {asked} of the serves stay inside with.")
    };
    let score = |score: f64| score_text(&answer.aim, &answer.frame, score, units);
    let (best, within) = (score(typical), share_words(within));
    let most = certainty.most_within.zip(certainty.most_within_score).map(|(most, at)| {
        format!(" The most that any spec looked at reaches is {}, at {}.", share_words(most), score(at))
    });
    vec![format!(
        "{none}{} The best without asking for it reaches {best}, and {within} of its serves stay inside. Ask for less, \
         widen the ranges of the targets, or measure what varies and give narrower figures.",
        most.unwrap_or_default()
    )]
}

fn worst_found(answer: &SpecAnswer, score: f64, certainty: &Certainty, units: UnitSystem) -> Vec<String> {
    let frame = &answer.frame;
    let reach = certainty.reach.iter().filter_map(|reach| {
        let gauge = frame.gauge(&reach.target)?;
        let reach = span(figure(gauge, reach.min, units), &figure(gauge, reach.max, units));
        Some(format!("{} {}", gauge.label, spaced(reach, unit(gauge, units))))
    });
    let reach: Vec<String> = reach.collect();
    let mut texts =
        vec![format!("Whatever the ingredients hold within their natural ranges: {}.", reach.join(", "))];
    if let Some(typical) = certainty.typical_score {
        let text = |score: f64| score_text(&answer.aim, frame, score, units);
        let (here, there) = (text(score), text(typical));
        texts.push(if here == there {
            format!("Certainty costs nothing: the best for the typical composition reaches {there} as well.")
        } else {
            format!("What certainty costs: {here} instead of {there} for the typical composition.")
        });
        let known: Vec<String> = certainty
            .known
            .iter()
            .filter(|known| text(known.score) != here)
            .map(|known| format!("{} exactly: {}", known.ingredient, text(known.score)))
            .collect();
        if !known.is_empty() {
            texts.push(format!("What it would bring to know {}.", known.join("; ")));
        }
    }
    texts
}

fn worst_missed(answer: &SpecAnswer, certainty: &Certainty, units: UnitSystem) -> Vec<String> {
    let Some(typical) = certainty.typical_score else {
        return vec!["Not even for the typical composition.".to_owned()];
    };
    let typical = score_text(&answer.aim, &answer.frame, typical, units);
    let mut texts = vec![format!(
        "For the typical composition it can be met ({typical}); for every composition in the natural ranges it \
         cannot."
    )];
    if certainty.blame.is_empty() {
        texts.push("No ingredient's spread was found to blame.".to_owned());
    }
    texts.extend(certainty.blame.iter().map(blame));
    texts
}

/// `It can be met once you know lime juice more closely: acid 53.4 to 59.1 g/L, now 32 to 75.`
fn blame(blame: &Blame) -> String {
    let several = blame.ingredients.len() > 1;
    let ranges: Vec<String> = blame.ranges.iter().map(|range| narrow(range, several)).collect();
    let together = if several { " together" } else { "" };
    let measure = if blame.share <= 0.0 { "exactly".to_owned() } else { "more closely".to_owned() };
    upper_first(&format!(
        "it can be met once {}{together} {} known {measure}: {}. Measure yours, and give what you find.",
        listed(&blame.ingredients),
        if several { "are" } else { "is" },
        ranges.join("; ")
    ))
}

fn narrow(range: &Narrow, name: bool) -> String {
    let digits = if range.unit == "% vol" { 1 } else { 1 + usize::from(range.now[1] < 10.0) };
    let [low, high] = range.needed.map(|x| number::fixed(x, digits));
    let [now_low, now_high] = range.now.map(|x| number::trimmed(x, digits));
    let of = if name { format!("{} ", range.ingredient) } else { String::new() };
    let needed = span(low, &high);
    format!("{of}{} {needed} {}, now {now_low} to {now_high}", range.figure, range.unit)
}

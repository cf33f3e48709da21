//! The composition of one ingredient: the larder's figures, and what the brief says over them.

use super::spread;
use crate::brief::{Natural, Range};
use crate::larder::Entry;
use crate::liquid::{Form, Label, LabelFault, Portion, sucrose};
use crate::quantity::number::trimmed;
use crate::read::codes;
use crate::read::file::{At, Candidate, Figure, Keyword, Short};
use crate::read::findings::Findings;
use crate::read::shape::shown;

/// A composition with its natural ranges, and what one unit brings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Composition {
    /// Typical figures.
    pub label: Label,
    /// Natural ranges.
    pub natural: Natural,
    /// What one ml or g brings.
    pub portion: Portion,
}

impl Composition {
    /// Water: what stands in for a composition that could not be read.
    pub fn water() -> Self {
        let label = Label::default();
        Self { label, natural: Natural::default(), portion: label.portion().unwrap_or_default() }
    }
}

/// The composition that a candidate states, over that of its larder entry.
pub fn stated(written: &At<Candidate>, entry: Option<&Entry>, findings: &mut Findings) -> Composition {
    let mut label = entry.map_or_else(Label::default, |e| e.label);
    let varies = spread::varies(written, entry);
    let mut natural = entry.map_or_else(Natural::default, |entry| spread::drawn(varies, entry));
    form(written, entry, &mut label, findings);
    figures(written, &mut label, &mut natural, findings);
    others(written, &mut label);
    let portion = portion(written, &label, findings);
    if portion.is_some() {
        corners(written, &label, &natural, findings);
    }
    Composition { label, natural, portion: portion.unwrap_or(Composition::water().portion) }
}

fn form(written: &At<Candidate>, entry: Option<&Entry>, label: &mut Label, findings: &mut Findings) {
    if let Some(form) = &written.form {
        if let Some(entry) = entry.filter(|e| e.label.form != form.0) {
            let what = format!("\"{}\" of the larder is no {}", entry.name, form.0.word());
            let help = "leave form out, or state the composition yourself without larder";
            findings.error(codes::FORM, form.place(), what, help);
            return;
        }
        label.form = form.0;
    }
    if label.form == Form::Powder {
        powder_keys(written, findings);
    }
}

fn powder_keys(written: &At<Candidate>, findings: &mut Findings) {
    let strength = written.strength.as_ref().filter(|strength| strength.typical > 0.0);
    for (place, what, help) in [
        (strength.map(At::place), "a powder has no strength", "leave strength out, or make it a liquid"),
        (written.brix.as_ref().map(At::place), "brix is a measure of liquids", "give sugar in g per kg"),
        (
            written.density.as_ref().map(At::place),
            "a powder's density is not used",
            "leave density out: a powder is weighed",
        ),
    ] {
        if let Some(place) = place {
            findings.error(codes::FORM, place, what, help);
        }
    }
}

/// Strength, sugar or brix, acid: each a number, or a typical value with its range.
fn figures(written: &At<Candidate>, label: &mut Label, natural: &mut Natural, findings: &mut Findings) {
    if let Some(figure) = &written.strength {
        (label.strength, natural.strength) = figure_of(figure, "strength", findings);
    }
    if let (Some(_), Some(brix)) = (&written.sugar, &written.brix) {
        let what = "sugar and brix say the same thing";
        findings.error(codes::SUGAR_TWICE, brix.place(), what, "keep one of the two");
    }
    if let Some(figure) = &written.sugar {
        (label.sugar, natural.sugar) = figure_of(figure, "sugar", findings);
    } else if let Some(figure) = written.brix.as_ref().filter(|_| label.form == Form::Liquid) {
        let (typical, range) = figure_of(figure, "brix", findings);
        let sugar = sucrose::grams_per_litre;
        label.sugar = sugar(typical);
        natural.sugar = range.map(|r| Range { min: sugar(r.min), max: sugar(r.max) });
    }
    if let Some(figure) = &written.acid {
        (label.acid, natural.acid) = figure_of(figure, "acid", findings);
    }
    // The larder's density belongs to the larder's strength and sugar: with others it is computed anew.
    let changed = written.strength.is_some() || written.sugar.is_some() || written.brix.is_some();
    if changed || written.polyols.is_some() {
        label.density = None;
    }
    if let (Some(density), Form::Liquid) = (&written.density, label.form) {
        label.density = Some(density.value);
    }
}

fn figure_of<const MOST: u32>(
    figure: &At<Short<f64, Figure<MOST>>>,
    name: &str,
    findings: &mut Findings,
) -> (f64, Option<Range>) {
    let typical = figure.typical;
    if figure.min.is_none() && figure.max.is_none() {
        return (typical, None);
    }
    let range = Range { min: figure.min.unwrap_or(typical), max: figure.max.unwrap_or(typical) };
    if range.min <= typical && typical <= range.max {
        return (typical, Some(range));
    }
    let what = if range.min > typical {
        format!("the least {name} of {} is above the typical {typical}", range.min)
    } else {
        format!("the greatest {name} of {} is below the typical {typical}", range.max)
    };
    findings.error(
        codes::MIN_OVER_MAX,
        figure.place(),
        what,
        "put min at or below typical, and max at or above it",
    );
    (typical, None)
}

fn others(written: &At<Candidate>, label: &mut Label) {
    let over = |value: &Option<At<f64>>, figure: &mut f64| {
        if let Some(value) = value {
            *figure = value.value;
        }
    };
    over(&written.sweetness, &mut label.sweetness);
    over(&written.polyols, &mut label.polyols);
    over(&written.polyol_sweetness, &mut label.polyol_sweetness);
    over(&written.polyol_energy, &mut label.polyol_energy);
    over(&written.other_energy, &mut label.other_energy);
}

fn portion(written: &At<Candidate>, label: &Label, findings: &mut Findings) -> Option<Portion> {
    let fault = match label.portion() {
        Ok(portion) => return Some(portion),
        Err(fault) => fault,
    };
    let (what, help) = words(fault, label);
    let sugar = written.sugar.as_ref().map(At::place).or(written.brix.as_ref().map(At::place));
    let contents =
        sugar.or(written.strength.as_ref().map(At::place)).or(written.acid.as_ref().map(At::place));
    let density = written.density.as_ref().map(At::place);
    let place = match fault {
        LabelFault::Heavier(_) | LabelFault::ImpossibleDensity(_) => density.or(contents),
        LabelFault::Overfull(_) | LabelFault::OverfullPowder(_) => contents,
    };
    let place = place.unwrap_or_else(|| written.name_place());
    findings.error(codes::IMPOSSIBLE, place, what, help);
    None
}

/// Why no such ingredient can exist, in words with the figures.
fn words(fault: LabelFault, label: &Label) -> (String, String) {
    match fault {
        LabelFault::Overfull(filled) => (
            format!(
                "its alcohol, sugar and acid do not fit: they alone fill {} ml of each ml",
                trimmed(filled, 3)
            ),
            "check the figures: strength in % vol, sugar and acid in g/L; g per 100 g of sugar is brix"
                .to_owned(),
        ),
        LabelFault::Heavier(weight) => (
            format!(
                "its alcohol, sugar and acid alone weigh {} g/ml, more than its density of {} g/ml",
                trimmed(weight, 3),
                trimmed(label.density.unwrap_or(f64::NAN), 3)
            ),
            "check the density, or leave it out: it is computed from the rest".to_owned(),
        ),
        LabelFault::ImpossibleDensity(_) => (
            format!(
                "no liquid with these contents has a density of {} g/ml",
                trimmed(label.density.unwrap_or(f64::NAN), 3)
            ),
            match (Label { density: None, ..*label }).portion() {
                Ok(portion) => format!("these contents make about {} g/ml", trimmed(portion.mass, 3)),
                Err(_) => "leave it out: it is computed from the rest".to_owned(),
            },
        ),
        LabelFault::OverfullPowder(weight) => (
            format!("its sugar and polyols weigh {} g per g of the powder", trimmed(weight, 3)),
            "sugar and polyols of a powder are in g per kg: 1000 at most".to_owned(),
        ),
    }
}

/// The ends of the natural ranges have to be possible, too, in every combination.
fn corners(written: &At<Candidate>, label: &Label, natural: &Natural, findings: &mut Findings) {
    for corner in 0..8_u8 {
        let end = |bit: u8, range: Option<Range>, typical: f64| {
            range.map_or(typical, |r| if corner & bit == 0 { r.min } else { r.max })
        };
        let extreme = Label {
            strength: end(1, natural.strength, label.strength),
            sugar: end(2, natural.sugar, label.sugar),
            acid: end(4, natural.acid, label.acid),
            ..*label
        };
        let Err(fault) = extreme.portion() else { continue };
        let (what, _) = words(fault, &extreme);
        let what = format!(
            "at the ends of its natural ranges \"{}\" cannot exist: {what}",
            shown(written.name.as_ref().or(written.larder.as_ref()).map_or("", |n| n.as_str()))
        );
        findings.error(codes::IMPOSSIBLE_RANGE, written.name_place(), what, "narrow the ranges");
        return;
    }
}

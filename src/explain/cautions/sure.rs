//! How far the figures can be trusted: melt, density, crystals, judged figures.

use std::collections::BTreeSet;

use super::{Caution, Topic, listed};
use crate::brief::{Brief, Candidate, Measure, Origin};
use crate::larder::{self, Basis, Figure};
use crate::liquid::{Dilution, Method, Portion, melt, sucrose};
use crate::quantity::number;
use crate::simulate::melt_reaches;
use crate::solve::Spec;

/// From this strength (% vol) and this sugar (g/L) on, both together, the four-mass volume is less
/// certain than the figures shown: see [`crate::liquid::Masses::volume`].
const STRONG_AND_SWEET: [(f64, f64); 2] = [(20.0, 100.0), (10.0, 200.0)];

/// The melt is an estimate: what that does to the strength, what it rests on, and whether the rule was
/// fitted on drinks like this one.
pub fn estimate(brief: &Brief, spec: &Spec) -> Option<Caution> {
    let (working, glass) = melt_reaches(brief);
    let drink = &spec.served.drink;
    // Two errors that have nothing to do with each other.
    let water = (working * drink.worked).hypot(glass * drink.poured);
    if water <= 0.0 {
        return None;
    }
    let strength = drink.strength() * water / drink.volume;
    let effect = if strength >= 0.05 {
        format!(" ({} % vol of strength)", number::fixed(strength, 1))
    } else {
        String::new()
    };
    let text = format!(
        "The water from the ice is an estimate, give or take {} ml{effect}{}{} Weigh a few and give `melt` your \
         own figure.",
        number::fixed(water, usize::from(water < 1.0)),
        outside_the_fit(brief, drink.worked_strength),
        rests_on(brief)
    );
    Some(Caution { topic: Topic::Melt, text })
}

/// What the estimate rests on.
fn rests_on(brief: &Brief) -> &'static str {
    match (brief.serve.melt.is_some(), brief.serve.melting().glass.is_some(), brief.serve.method) {
        (true, false, _) => ": your own figure, with a spread.",
        (true, true, _) => ": your own figure for the working ice, a heat balance for the ice in the glass.",
        (false, false, _) => ". The rule is from memory of its book.",
        (false, true, Method::Build | Method::None) => {
            ". It is a heat balance of the drink at 0 °C; its error is judged."
        }
        (false, true, _) => {
            ". The rule of the working ice is from memory of its book; the ice in the glass is a heat balance, its \
             error judged."
        }
    }
}

/// What is to be said where the rule was not fitted on drinks like this one.
fn outside_the_fit(brief: &Brief, worked_strength: f64) -> String {
    let fitted = (melt::FITTED.0..=melt::FITTED.1).contains(&worked_strength);
    if fitted || !matches!(brief.serve.dilution, Dilution::Fit { .. }) {
        return String::new();
    }
    format!(
        ", and less sure still here: the rule was fitted on drinks of 10 to 45 % vol before the ice, and this one \
         has {}",
        number::fixed(100.0 * worked_strength, 1)
    )
}

/// Where the volume is less certain than the figures shown.
pub fn density(spec: &Spec) -> Option<Caution> {
    let drink = &spec.served.drink;
    let (strength, sugar) = (drink.strength(), drink.per_volume(1000.0 * drink.sugars));
    STRONG_AND_SWEET.iter().any(|(s, g)| strength > *s && sugar > *g).then(|| Caution {
        topic: Topic::Density,
        text: "Strong and sweet together: volume and strength are computed to about 0.4 % of their value."
            .to_owned(),
    })
}

/// Sucrose syrups that hold more than water keeps dissolved at 20 °C. Honey and its like are bought as
/// they are and stay liquid for other reasons, so larder entries are not looked at.
pub fn crystals(candidates: &[&Candidate]) -> Option<Caution> {
    let share = |p: &Portion| p.masses.solids / (p.masses.solids + p.masses.water);
    let sucrose_syrup = |c: &Candidate| {
        c.portion.poured > 0.0 && c.label.sweetness == 1.0 && !matches!(c.origin, Origin::Larder { .. })
    };
    let over = |c: &Candidate| sucrose_syrup(c) && share(&c.portion) > sucrose::SOLUBILITY;
    let names: Vec<&str> = candidates.iter().filter(|c| over(c)).map(|c| c.name.as_str()).collect();
    (!names.is_empty()).then(|| Caution {
        topic: Topic::Crystals,
        text: format!(
            "More sugar than water keeps dissolved at 20 °C (66.7 % by mass): {} may crystallise.",
            listed(&names)
        ),
    })
}

/// Figures that the answer leans on and that are a guess: the typical values, as the answer is for them.
pub fn judged(brief: &Brief, candidates: &[&Candidate]) -> Option<Caution> {
    let sweetness = brief.target(Measure::Sweetness).is_some();
    let counts = |figure: Figure| match figure {
        Figure::Strength | Figure::Sugar | Figure::Acid | Figure::Polyols | Figure::Density => true,
        Figure::Split | Figure::Sweetness | Figure::PolyolSweetness => sweetness,
        Figure::Caffeine => brief.properties.iter().any(|p| p.name == "caffeine"),
    };
    let guesses: Vec<String> = candidates
        .iter()
        .filter_map(|c| {
            let figures: BTreeSet<Figure> = guessed(c).into_iter().filter(|f| counts(*f)).collect();
            let words: Vec<&str> = figures.into_iter().map(Figure::words).collect();
            (!words.is_empty()).then(|| format!("{} ({})", c.name, listed(&words)))
        })
        .collect();
    (!guesses.is_empty()).then(|| Caution {
        topic: Topic::Judged,
        text: format!(
            "Judged or from memory in the larder: {}. Give your own figures where you have them.",
            guesses.join(", ")
        ),
    })
}

/// Which typical figures of an ingredient are guesses; of a preparation, those of its parts.
fn guessed(candidate: &Candidate) -> Vec<Figure> {
    match &candidate.origin {
        Origin::Brief => Vec::new(),
        // Figures that the brief gives itself are not in `judged` any more.
        Origin::Larder { entry, judged } => {
            let still = |f: &Figure| judged.iter().any(|j| j.starts_with(&format!("{}:", f.words())));
            of_entry(entry).into_iter().filter(still).collect()
        }
        Origin::Made(made) => made.parts.iter().flat_map(|part| of_entry(&part.name)).collect(),
    }
}

fn of_entry(name: &str) -> Vec<Figure> {
    let guess = |basis: Option<Basis>| matches!(basis, Some(Basis::Weak | Basis::Judgement | Basis::Memory));
    let provenance = larder::find(name).map_or(&[][..], |entry| entry.provenance.as_slice());
    provenance.iter().filter(|p| guess(p.typical)).map(|p| p.figure).collect()
}

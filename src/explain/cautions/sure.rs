//! How far the figures can be trusted: melt, density, crystals, judged figures.

use super::{Caution, Topic, listed};
use crate::brief::{Brief, Candidate, Origin};
use crate::larder;
use crate::liquid::{Dilution, Method, Portion, melt, sucrose};
use crate::quantity::number;
use crate::solve::Spec;

/// From this strength (% vol) and this sugar (g/L) on, both together, the four-mass volume is less
/// certain than the figures shown: see [`crate::liquid::Masses::volume`].
const STRONG_AND_SWEET: [(f64, f64); 2] = [(20.0, 100.0), (10.0, 200.0)];

pub fn cautions(brief: &Brief, spec: &Spec) -> Vec<Caution> {
    let drink = [estimate(brief, spec), density(spec), judged(brief, spec)];
    drink.into_iter().flatten().chain(crystals(brief, spec)).collect()
}

/// The melt of a rule is an estimate: what that does to the strength, and whether the rule was
/// fitted on drinks like this one.
fn estimate(brief: &Brief, spec: &Spec) -> Option<Caution> {
    if brief.serve.melt.is_some() || matches!(brief.serve.method, Method::None | Method::Blend) {
        return None;
    }
    let drink = &spec.served.drink;
    let water = melt::UNCERTAINTY * drink.poured;
    let strength = drink.strength() * water / drink.volume;
    let mut text =
        format!("The water from the ice is an estimate, give or take {} ml", number::fixed(water, 0),);
    if strength >= 0.05 {
        text += &format!(" ({} % vol of strength)", number::fixed(strength, 1));
    }
    let outside = !(melt::FITTED.0..=melt::FITTED.1).contains(&drink.poured_strength);
    if matches!(brief.serve.dilution, Dilution::Fit { .. }) && outside {
        text += &format!(
            "; less sure still here, as the rule was fitted on drinks of 10 to 45 % vol before the ice and this \
             one has {}",
            number::fixed(100.0 * drink.poured_strength, 1)
        );
    }
    Some(Caution { topic: Topic::Melt, text: text + ". Weigh a few and give `melt` your own figure." })
}

fn density(spec: &Spec) -> Option<Caution> {
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
fn crystals(brief: &Brief, spec: &Spec) -> Option<Caution> {
    let share = |p: &Portion| p.masses.solids / (p.masses.solids + p.masses.water);
    let sucrose_syrup = |c: &Candidate| {
        c.portion.poured > 0.0 && c.label.sweetness == 1.0 && !matches!(c.origin, Origin::Larder { .. })
    };
    let over = |c: &Candidate| sucrose_syrup(c) && share(&c.portion) > sucrose::SOLUBILITY;
    let names: Vec<&str> = spec
        .pours
        .iter()
        .map(|p| &brief.candidates[p.candidate])
        .filter(|c| over(c))
        .map(|c| c.name.as_str())
        .collect();
    (!names.is_empty()).then(|| Caution {
        topic: Topic::Crystals,
        text: format!(
            "More sugar than water keeps dissolved at 20 °C (66.7 % by mass): {} may crystallise.",
            listed(&names)
        ),
    })
}

fn judged(brief: &Brief, spec: &Spec) -> Option<Caution> {
    let names: Vec<&str> = spec
        .pours
        .iter()
        .map(|p| &brief.candidates[p.candidate])
        .filter(|c| leans(c))
        .map(|c| c.name.as_str())
        .collect();
    (!names.is_empty()).then(|| Caution {
        topic: Topic::Judged,
        text: format!(
            "Some larder figures are judgement or from memory: {}. `washline larder --sources` says which; \
             measure your own.",
            listed(&names)
        ),
    })
}

fn leans(candidate: &Candidate) -> bool {
    match &candidate.origin {
        Origin::Brief => false,
        Origin::Larder { judged, .. } => !judged.is_empty(),
        Origin::Made(made) => {
            made.parts.iter().any(|p| larder::find(&p.name).is_some_and(|e| !e.judged.is_empty()))
        }
    }
}

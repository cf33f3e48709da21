//! What has to be said of a drink, each with the rule that asks for it.
//!
//! Read: EU 1169/2011 Annex XII (strength), Annex III on caffeine, the naming of quinine and caffeine;
//! 27 CFR 19.356, 4.32(e), part 16; 21 U.S.C. 321(qq) as told by several pages; the UK descriptors as
//! told by several pages. From memory: the article and annex numbers of the rest of EU 1169/2011.

use super::label::Label;
use super::scaling::Vessel;
use crate::brief::{Allergen, Brief, Candidate, Handling, Served};
use crate::larder::{self, Solid};
use crate::quantity::number::fixed;
use crate::solve::Spec;
use crate::tolerance;

/// Over this strength, % vol, a drink has its strength on the label (EU 1169/2011 Art. 9(1)(k)).
const STATED_OVER: f64 = 1.2;
/// From this strength, % vol, US bottles bear the health warning (27 CFR 16.10).
const WARNED_FROM: f64 = 0.5;
/// Caffeine from which its statement is due, mg/L (EU 1169/2011 Annex III, 4.1).
const HIGH_CAFFEINE: f64 = 150.0;
/// Share of added polyols, by mass, from which the laxative statement is due (EU 1169/2011 Annex III, 2.4).
const MANY_POLYOLS: f64 = 0.10;
/// UK low-alcohol descriptors, % vol, in guidance of the Department of Health (2018).
const ALCOHOL_FREE: f64 = 0.05;
const DEALCOHOLISED: f64 = 0.5;
const LOW_ALCOHOL: f64 = 1.2;

/// The last word on everything here.
pub const CHECK: &str = "Check all of this with your local rules and a competent person.";

/// Everything that has to be said; `vessel` is what a bottle of the batch holds.
pub fn of(brief: &Brief, spec: &Spec, served: &Served, label: &Label, vessel: &Vessel) -> Vec<String> {
    let used: Vec<&Candidate> = spec.pours.iter().map(|p| &brief.candidates[p.candidate]).collect();
    let mut said = vec![strength(label)];
    said.extend(in_the_bottle(label, vessel));
    said.extend(descriptor(label));
    said.extend(stronger_makes(brief, spec, label));
    said.extend(allergens(label));
    said.extend(us_allergens(label));
    said.extend(some_makes(label));
    said.extend(caffeine(brief, label));
    said.extend(sweeteners(brief, spec, served));
    said.extend(allulose(brief, spec));
    said.extend(quinine(&used));
    said.extend(warning(label));
    said.push(CHECK.to_owned());
    said
}

fn strength(label: &Label) -> String {
    let figure = fixed(label.strength, 1);
    if label.strength > STATED_OVER {
        return format!(
            "{figure} % vol as served, at 20 °C: on a label to one decimal and right to 0.3 % vol (EU 1169/2011 \
             Annex XII; 1.5 with fruit or plants steeped in it; US spirits 0.3, 27 CFR 19.356). Over 1.2 % vol \
             the EU asks for no list of ingredients or nutrition table (Art. 16(4); wine has its own rules)."
        );
    }
    format!(
        "{figure} % vol as served, at 20 °C. Up to 1.2 % vol the EU asks for no strength on a label, but for a \
         list of ingredients and a nutrition table (EU 1169/2011 Art. 9 and 16)."
    )
}

/// A mix that has not met its ice or its soda yet is stronger than the drink: its bottle has to say so.
fn in_the_bottle(label: &Label, vessel: &Vessel) -> Option<String> {
    let figure = fixed(vessel.strength, 1);
    (figure != fixed(label.strength, 1)).then(|| {
        format!("What stands in the vessel has {figure} % vol: mark its bottle so, and \"not diluted\".")
    })
}

/// Which of the UK's low-alcohol descriptors a strength, % vol, allows.
fn low_alcohol(strength: f64) -> Option<&'static str> {
    if tolerance::meets_max(strength, ALCOHOL_FREE) {
        Some("\"alcohol free\" (0.05 % vol or less)")
    } else if tolerance::meets_max(strength, DEALCOHOLISED) {
        Some(
            "\"low alcohol\" (1.2 % vol or less), or \"de-alcoholised\" (0.5 % vol or less) only for what has \
             had its alcohol taken out",
        )
    } else if tolerance::meets_max(strength, LOW_ALCOHOL) {
        Some("\"low alcohol\" (1.2 % vol or less)")
    } else {
        None
    }
}

/// A descriptor has to hold for whatever make is poured, so it goes by the strongest.
fn descriptor(label: &Label) -> Option<String> {
    low_alcohol(label.strongest).map(|words| {
        format!(
            "UK guidance on low-alcohol descriptors (Department of Health, 2018) lets it be called {words}; never \
             \"non-alcoholic\" beside a name that is known for alcohol. The strength is stated with it."
        )
    })
}

/// Where a stronger make than the typical one changes what may or must be said.
fn stronger_makes(brief: &Brief, spec: &Spec, label: &Label) -> Option<String> {
    let (typical, most) = (label.strength, label.strongest);
    let warned = |strength| tolerance::meets_min(strength, WARNED_FROM);
    let as_said = low_alcohol(typical) == low_alcohol(most)
        && warned(typical) == warned(most)
        && (typical > STATED_OVER) == (most > STATED_OVER);
    if as_said {
        return None;
    }
    let stronger = |at: &usize| larder::strongest(brief, *at) > brief.candidates[*at].label.strength;
    let names: Vec<&str> = spec
        .pours
        .iter()
        .map(|pour| pour.candidate)
        .filter(stronger)
        .map(|at| brief.candidates[at].name.as_str())
        .collect();
    Some(format!(
        "Makes of {} differ: with the strongest it has {} % vol, and what is said of a weak drink has to hold for \
         that. State your bottle's strength in the brief, and it goes by that.",
        names.join(", "),
        fixed(most, 2)
    ))
}

fn allergens(label: &Label) -> Option<String> {
    let names: Vec<&str> = label.allergens.iter().map(|a| a.keyword()).collect();
    (!names.is_empty()).then(|| {
        let sulphites = if label.allergens.contains(&Allergen::Sulphites) {
            " Sulphites count from 10 mg/L in the drink, which is not worked out here; US wine labels name them \
             from 10 ppm (27 CFR 4.32(e))."
        } else {
            ""
        };
        format!(
            "Contains {} (EU 1169/2011 Annex II): to be told for every drink, also by the glass (Art. 44).{sulphites}",
            names.join(", ")
        )
    })
}

fn us_allergens(label: &Label) -> Option<String> {
    let names: Vec<&str> = label.us_allergens.iter().map(|a| a.keyword()).collect();
    let wheat = if label.allergens.contains(&Allergen::Gluten) {
        " Wheat stands for its gluten: leave it out if the cereal is another."
    } else {
        ""
    };
    let text = format!("Contains {} (US major food allergens, 21 U.S.C. 321(qq)).{wheat}", names.join(", "));
    (!names.is_empty()).then_some(text)
}

fn some_makes(label: &Label) -> Option<String> {
    let one = |(name, groups): &(String, Vec<Allergen>)| {
        format!("{name} ({})", groups.iter().map(|g| g.keyword()).collect::<Vec<_>>().join(", "))
    };
    let all: Vec<String> = label.may_hold.iter().map(one).collect();
    (!all.is_empty())
        .then(|| format!("Some makes hold further allergens, read the bottle: {}.", all.join("; ")))
}

/// Drinks based on coffee or tea are let off where their name says so.
fn caffeine(brief: &Brief, label: &Label) -> Option<String> {
    let per_100 = fixed(label.caffeine / 10.0, 1);
    let words: Vec<String> =
        brief.title.to_lowercase().split(|c: char| !c.is_alphabetic()).map(str::to_owned).collect();
    let told = words.iter().any(|w| matches!(w.as_str(), "coffee" | "tea"));
    if label.caffeine > HIGH_CAFFEINE && !told {
        return Some(format!(
            "\"High caffeine content. Not recommended for children or pregnant or breast-feeding women \
             ({per_100} mg/100 ml)\", beside the name: over 150 mg/L (EU 1169/2011 Annex III, 4.1). The US \
             regulator has objected to caffeine added to alcohol (FDA, 2010)."
        ));
    }
    if label.caffeine_at_most > HIGH_CAFFEINE && !told {
        return Some(format!(
            "Contains caffeine, {per_100} mg/100 ml by typical figures and up to {} by the strongest: over 15 the \
             EU asks for \"High caffeine content\" and its warning beside the name (EU 1169/2011 Annex III, 4.1).",
            fixed(label.caffeine_at_most / 10.0, 0)
        ));
    }
    (per_100 != "0.0" && label.caffeine > 0.0).then(|| {
        format!(
            "Contains caffeine, {per_100} mg/100 ml; where it is added as a flavouring it is named: \"flavouring \
             (caffeine)\" (EU 1169/2011 Annex VII D)."
        )
    })
}

/// Glycerol, gum and allulose are no sweeteners of the additives list, so nothing of it is said of them.
fn sweeteners(brief: &Brief, spec: &Spec, served: &Served) -> Option<String> {
    let drink = &served.drink;
    let solids = larder::solids(brief, &spec.pours);
    if !solids.keys().any(|solid| solid.is_sweetener()) {
        return None;
    }
    let name = if drink.sugars > 0.0 {
        "\"with sweetener(s)\" beside the name; \"with sugar(s) and sweetener(s)\" where sugar was added to it, \
         not where it is a fruit's own"
    } else {
        "\"with sweetener(s)\" beside the name"
    };
    let polyols = solids.get(&Solid::Polyol).copied().unwrap_or_default();
    let laxative = if polyols > MANY_POLYOLS * drink.masses.total() {
        ". And \"excessive consumption may produce laxative effects\": over 10 % polyols (2.4)"
    } else {
        ""
    };
    Some(format!("{name} (EU 1169/2011 Annex III, 2.1 and 2.2){laxative}."))
}

fn allulose(brief: &Brief, spec: &Spec) -> Option<String> {
    larder::solids(brief, &spec.pours).contains_key(&Solid::Allulose).then(|| {
        "Allulose is counted as US labels may (FDA guidance of 2020: no sugars, 0.4 kcal/g); EU 1169/2011 Annex \
         XIV has no such factor. It is no authorised novel food in the EU (from memory): ask before you pour it \
         there."
            .to_owned()
    })
}

fn quinine(used: &[&Candidate]) -> Option<String> {
    used.iter().any(|c| c.handling.contains(&Handling::Quinine)).then(|| {
        "Contains quinine, to be named where it is a flavouring: \"flavouring (quinine)\" (EU 1169/2011 Annex \
         VII D)."
            .to_owned()
    })
}

fn warning(label: &Label) -> Option<String> {
    tolerance::meets_min(label.strongest, WARNED_FROM)
        .then(|| "Bottled for sale in the US it bears the government warning (27 CFR 16.21).".to_owned())
}

//! The track of a drink: where it stood in sugar and acid, what was said of it there, and where it stands now.

use super::Stand;
use crate::brief::{Brief, Measure, Pour, Tasted, poured, serve};
use crate::read::KeptSpec;
use crate::scenario::tasters::is_code;
use crate::solve::Spec;
use crate::tolerance;

/// A place on the track.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct TrackPoint {
    /// `reference`, `kept`, `tasted` or `best`.
    pub kind: Stand,
    /// What it is called.
    pub name: String,
    /// Whether it is a glass of a flight, beside the way of the drink.
    #[serde(skip)]
    pub glass: bool,
    /// When it was kept, or tasted; nothing of the reference and the best.
    pub date: Option<String>,
    /// Sugar in the glass, g/L.
    pub sugar: f64,
    /// Acid in the glass, g/L.
    pub acid: f64,
    /// What was said of it, one a tasting.
    pub tastings: Vec<Tasted>,
}

/// Whether two specs pour the same, in whatever order.
pub fn same_pours(brief: &Brief, one: &[Pour], other: &[Pour]) -> bool {
    let apart = |at: usize| (poured(one, at) - poured(other, at)).abs() > tolerance::UNUSED;
    !(0..brief.candidates.len()).any(apart)
}

/// Everything that was said of a spec.
pub fn tastings(brief: &Brief, pours: &[Pour]) -> Vec<Tasted> {
    let same = |tasted: &&Tasted| same_pours(brief, &tasted.pours, pours);
    brief.tasted.iter().filter(same).cloned().collect()
}

/// Specs that were tasted and are not among those that have a name: number of the first tasting, pours.
pub fn nameless<'b>(brief: &'b Brief, named: &[&[Pour]]) -> Vec<(usize, &'b Tasted)> {
    let mut found: Vec<(usize, &Tasted)> = vec![];
    for (at, tasted) in brief.tasted.iter().enumerate() {
        let known = named.iter().any(|pours| same_pours(brief, pours, &tasted.pours))
            || found.iter().any(|(_, other)| same_pours(brief, &other.pours, &tasted.pours));
        if !known {
            found.push((at + 1, tasted));
        }
    }
    found
}

/// The track; nothing of a drink of which nothing was kept or tasted.
pub fn track(brief: &Brief, kept: &[KeptSpec], best: Option<&Spec>) -> Vec<TrackPoint> {
    if kept.is_empty() && brief.tasted.is_empty() {
        return vec![];
    }
    let point = |kind: Stand, name: String, date: Option<String>, pours: &[Pour]| {
        let served = serve(brief, pours);
        let (sugar, acid) = (served.value(Measure::Sugar), served.value(Measure::Acid));
        let glass = kind == Stand::Kept && is_code(&name);
        TrackPoint { kind, name, glass, date, sugar, acid, tastings: tastings(brief, pours) }
    };
    let reference = brief.reference.as_ref();
    let mut all: Vec<TrackPoint> =
        reference.iter().map(|r| point(Stand::Reference, "reference".to_owned(), None, &r.pours)).collect();
    let dated = |date: &str| (!date.is_empty()).then(|| date.to_owned());
    let mut between: Vec<TrackPoint> =
        kept.iter().map(|one| point(Stand::Kept, one.name.clone(), dated(&one.date), &one.pours)).collect();
    let named: Vec<&[Pour]> = kept
        .iter()
        .map(|one| one.pours.as_slice())
        .chain(reference.map(|reference| reference.pours.as_slice()))
        .chain(best.map(|best| best.pours.as_slice()))
        .collect();
    let tasted = nameless(brief, &named);
    between.extend(tasted.into_iter().map(|(number, tasted)| {
        point(Stand::Tasted, format!("tasting {number}"), tasted.date.clone(), &tasted.pours)
    }));
    // In the order of their days, as far as these are known; else as they stand in the brief.
    between.sort_by(|a, b| a.date.cmp(&b.date));
    all.extend(between);
    all.extend(best.map(|best| point(Stand::Best, "best now".to_owned(), None, &best.pours)));
    all.retain(|point| point.sugar.is_finite() && point.acid.is_finite());
    all
}

//! Natural ranges that a result leans on and that are judgement or from memory.

use crate::brief::{Brief, Candidate, Natural, Origin, Pour, Range};
use crate::larder::{self, Basis, Figure};
use crate::liquid::Label;

/// A range that is less than sourced.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Lean {
    /// Which candidate.
    #[serde(skip)]
    pub candidate: usize,
    /// Its name.
    pub ingredient: String,
    /// The figure that varies: `acid`.
    pub figure: &'static str,
    /// What its range rests on: `judgement`.
    pub basis: &'static str,
}

/// Every such range of the poured ingredients, each once.
pub fn leans(brief: &Brief, pours: &[Pour]) -> Vec<Lean> {
    let mut found: Vec<Lean> = vec![];
    for pour in pours {
        let candidate = &brief.candidates[pour.candidate];
        for (figure, ..) in varying(candidate, candidate.natural) {
            if let Some(basis) = basis(brief, candidate, figure, brief.candidates.len()) {
                found.push(Lean {
                    candidate: pour.candidate,
                    ingredient: candidate.name.clone(),
                    figure: figure.words(),
                    basis,
                });
            }
        }
    }
    found
}

/// The figures that have a range, what they typically are, and the range.
pub fn varying(
    candidate: &Candidate,
    natural: Natural,
) -> impl Iterator<Item = (Figure, f64, Range)> + use<> {
    let label = &candidate.label;
    let all = [
        (Figure::Strength, label.strength, natural.strength),
        (Figure::Sugar, label.sugar, natural.sugar),
        (Figure::Acid, label.acid, natural.acid),
    ];
    all.into_iter().filter_map(|(figure, typical, range)| {
        let range = range.filter(|range| range.max > range.min)?;
        Some((figure, typical, range))
    })
}

/// A composition with one of these figures at another value.
pub fn moved(label: &Label, figure: Figure, value: f64) -> Label {
    match figure {
        Figure::Strength => Label { strength: value, ..*label },
        Figure::Sugar => Label { sugar: value, ..*label },
        _ => Label { acid: value, ..*label },
    }
}

/// What is weak about a range; nothing where it is sourced, or the brief's own. `depth` ends chains of
/// preparations.
fn basis(brief: &Brief, candidate: &Candidate, figure: Figure, depth: usize) -> Option<&'static str> {
    match &candidate.origin {
        Origin::Larder { entry, judged } => {
            // What the brief gives itself has been taken out of these words.
            let warned = format!("{} range:", figure.words());
            judged.iter().any(|words| words.starts_with(&warned)).then(|| of_entry(entry, figure)).flatten()
        }
        Origin::Made(made) if depth > 0 => made.parts.iter().find_map(|part| match brief.find(&part.name) {
            Some(at) => basis(brief, &brief.candidates[at], figure, depth - 1),
            None => of_entry(&part.name, figure),
        }),
        Origin::Brief | Origin::Made(_) => None,
    }
}

fn of_entry(name: &str, figure: Figure) -> Option<&'static str> {
    larder::find(name)?.provenance(figure)?.range.and_then(Basis::warning)
}

//! What is published of the pH of juices and wines, and the pH of a drink that is made of them.

use super::carried::{Source, parts};
use crate::brief::{Brief, Origin, Pour, Served};
use crate::liquid::acid::Acid;
use crate::liquid::ph::Ions;

/// An ingredient whose pH is known beside its acid.
struct Known {
    /// The entries of the larder.
    names: &'static [&'static str],
    /// Its acids, by their shares in a titration.
    acids: &'static [(Acid, f64)],
    /// Its pH from to; nothing: it is the pure acid, with nothing that takes it up.
    ph: Option<(f64, f64)>,
}

/// Published ranges. Juices: US FDA, *Approximate pH of Foods and Food products* (2003 and later), read in public
/// copies; the shares of acids are the larder's. Wines and what is made of them: 2.9 to 3.8, from memory. The shares
/// of tartaric acid in wines are judgement.
static KNOWN: [Known; 13] = [
    known(
        &["lemon juice", "bottled lemon juice"],
        &[(Acid::Citric, 0.95), (Acid::Malic, 0.05)],
        Some((2.0, 2.6)),
    ),
    known(
        &["lime juice", "bottled lime juice"],
        &[(Acid::Citric, 0.67), (Acid::Malic, 0.33)],
        Some((2.0, 2.35)),
    ),
    known(&["grapefruit juice"], &[(Acid::Citric, 1.0)], Some((3.0, 3.75))),
    known(
        &["orange juice", "blood orange juice"],
        &[(Acid::Citric, 0.8), (Acid::Malic, 0.2)],
        Some((3.3, 4.19)),
    ),
    known(&["pineapple juice"], &[(Acid::Citric, 0.75), (Acid::Malic, 0.25)], Some((3.3, 3.6))),
    known(&["apple juice"], &[(Acid::Malic, 1.0)], Some((3.35, 4.0))),
    known(&["pomegranate juice"], &[(Acid::Citric, 1.0)], Some((2.93, 3.2))),
    known(
        &[
            "fino sherry",
            "oloroso sherry",
            "cream sherry",
            "dry vermouth",
            "blanc vermouth",
            "sweet vermouth",
            "quinquina",
            "dry white wine",
            "red wine",
            "rosé wine",
            "sweet white wine",
            "brut sparkling wine",
            "extra dry sparkling wine",
            "demi-sec sparkling wine",
            "white port",
            "ruby port",
            "tawny port",
            "madeira",
            "marsala",
        ],
        &[(Acid::Tartaric, 0.7), (Acid::Malic, 0.3)],
        Some((2.9, 3.8)),
    ),
    known(&["citric acid", "citric acid monohydrate"], &[(Acid::Citric, 1.0)], None),
    known(&["malic acid"], &[(Acid::Malic, 1.0)], None),
    known(&["tartaric acid"], &[(Acid::Tartaric, 1.0)], None),
    known(&["lactic acid 88%"], &[(Acid::Lactic, 1.0)], None),
    known(&["phosphoric acid 10%"], &[(Acid::Phosphoric, 1.0)], None),
];

const fn known(
    names: &'static [&'static str],
    acids: &'static [(Acid, f64)],
    ph: Option<(f64, f64)>,
) -> Known {
    Known { names, acids, ph }
}

/// A pH, as well as it can be known without a meter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ph {
    /// In the middle.
    pub value: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// So much of a drink's acid may be of unknown kind: it is left out. Our own judgement, no source.
const UNKNOWN: f64 = 0.05;
/// What alcohol, sugar and cold do to the constants and to a meter, pH to either side. Our own judgement, no source.
const BESIDE: f64 = 0.15;

/// The pH of a served drink; nothing where it has no acid to speak of, or where the kinds of its acids or what
/// buffers them are not known.
pub fn ph(brief: &Brief, pours: &[Pour], served: &Served) -> Option<Ph> {
    let all = 1000.0 * served.drink.masses.acid;
    let litres = served.drink.volume / 1000.0;
    if !(all > 0.0 && litres > 0.0 && all / 1000.0 / litres > 0.2) {
        return None;
    }
    let mut unknown = 0.0;
    let mut sour: Vec<(&Known, f64, f64)> = vec![];
    for pour in pours {
        for (known, per_unit, share) in sources(brief, pour.candidate) {
            let grams = 1000.0 * pour.amount * share * per_unit;
            match known {
                Some(known) => sour.push((known, pour.amount * share, per_unit)),
                None => unknown += grams,
            }
        }
    }
    if unknown > UNKNOWN * all || sour.is_empty() {
        return None;
    }
    let at = |end: f64| mixed(&sour, end).map(|ions| ions.over(litres).ph());
    let (low, value, high) = (at(0.0)?, at(0.5)?, at(1.0)?);
    Some(Ph { value, low: low.min(value) - BESIDE, high: high.max(value) + BESIDE })
}

/// All ions of sour things, mol, each at the same place of its range of pH.
fn mixed(sour: &[(&Known, f64, f64)], place: f64) -> Option<Ions> {
    let mut all = Ions::default();
    for (known, amount, per_unit) in sour {
        // g in one ml are kg/L: so many g/L.
        let titratable = 1000.0 * per_unit;
        let ions = if let Some((low, high)) = known.ph {
            Ions::of_juice(known.acids, titratable, low + place * (high - low))?
        } else {
            let protons = titratable / Acid::Citric.equivalent();
            let part = |(acid, share): &(Acid, f64)| (*acid, share * protons / acid.protons());
            Ions { acids: known.acids.iter().map(part).collect(), alkali: 0.0 }
        };
        all.add(&ions, amount / 1000.0);
    }
    Some(all)
}

/// What brings acid into one ml (or g) of a candidate: what is known of its kind, g of acid in one ml of it, and how
/// much of it there is.
fn sources(brief: &Brief, candidate: usize) -> Vec<(Option<&'static Known>, f64, f64)> {
    let of = |entry: &str| KNOWN.iter().find(|known| known.names.contains(&entry));
    let own = |at: usize| {
        let candidate = &brief.candidates[at];
        let acid = candidate.portion.masses.acid;
        match &candidate.origin {
            _ if acid <= 0.0 => None,
            Origin::Larder { entry, .. } => Some((of(entry), acid)),
            Origin::Brief | Origin::Made(_) => Some((None, acid)),
        }
    };
    match &brief.candidates[candidate].origin {
        Origin::Made(made) => parts(brief, made)
            .filter_map(|(share, part)| {
                let (known, acid) = match part {
                    Source::Candidate(at) => own(at)?,
                    Source::Entry(entry) => (of(&entry.name), entry.label.acid / 1000.0),
                };
                (acid > 0.0).then_some((known, acid, share))
            })
            .collect(),
        _ => own(candidate).map(|(known, acid)| (known, acid, 1.0)).into_iter().collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::larder::find;

    #[test]
    fn everything_that_is_known_stands_in_the_larder() {
        for name in KNOWN.iter().flat_map(|known| known.names) {
            assert!(find(name).is_some_and(|entry| entry.name == *name), "{name}");
        }
        for known in &KNOWN {
            let all: f64 = known.acids.iter().map(|(_, share)| share).sum();
            assert!((all - 1.0).abs() < 1e-12, "{:?}", known.names);
        }
    }
}

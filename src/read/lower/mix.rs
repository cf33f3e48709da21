//! Mass balance: what a mixture of parts is made of, per ml or, where all parts are powders, per g.

use crate::brief::{Candidate, Natural, Range};
use crate::liquid::{Form, Label, Masses, energy, ethanol};
use crate::read::file::By;

/// A mixture.
#[derive(Debug, Clone, PartialEq)]
pub struct Mixture {
    /// Its figures, as a label would state them.
    pub label: Label,
    /// How much of each part (ml, or g of a powder) is in one ml (or g) of it.
    pub amounts: Vec<f64>,
    /// Share of its mass, 0 to 1, that came in with powders and is neither sugar nor acid.
    pub uncounted: f64,
}

/// What the parts bring together.
#[derive(Debug, Default)]
struct Sum {
    masses: Masses,
    excess: f64,
    poured: f64,
    weight: f64,
    powder: f64,
    uncounted: f64,
    sugars: f64,
    sugars_sweet: f64,
    polyols: f64,
    polyols_sweet: f64,
    polyols_energy: f64,
    other_energy: f64,
}

/// Mixes parts, each so many by weight or by volume. `None` where they come to nothing.
pub fn mix(by: By, parts: impl Iterator<Item = (f64, Label)> + Clone) -> Option<Mixture> {
    let total: f64 = parts.clone().map(|(share, _)| share).sum();
    let mut sum = Sum::default();
    let mut amounts = Vec::new();
    for (share, label) in parts {
        amounts.push(sum.add(by, share / total, &label)?);
    }
    let size = if sum.poured > 0.0 { sum.masses.volume() + sum.excess } else { sum.powder };
    if !size.is_finite() || size <= 0.0 {
        return None;
    }
    for amount in &mut amounts {
        *amount /= size;
    }
    Some(Mixture { label: sum.label(size), amounts, uncounted: sum.uncounted / sum.weight })
}

impl Sum {
    /// Adds a part and tells how much of it that is, in ml (powder: g).
    fn add(&mut self, by: By, share: f64, label: &Label) -> Option<f64> {
        let portion = label.portion().ok()?;
        let amount = match (by, label.form) {
            (By::Weight, Form::Liquid) => share / portion.mass,
            (By::Weight, Form::Powder) | (By::Volume, _) => share,
        };
        self.masses.add(amount, &portion.masses);
        self.excess += amount * portion.excess;
        self.poured += amount * portion.poured;
        self.weight += amount * portion.mass;
        if label.form == Form::Powder {
            self.powder += amount;
            self.uncounted += amount * (1.0 - portion.masses.total()).max(0.0);
        }
        let (sugars, polyols) = (amount * label.sugar / 1000.0, amount * label.polyols / 1000.0);
        self.sugars += sugars;
        self.sugars_sweet += sugars * label.sweetness;
        self.polyols += polyols;
        self.polyols_sweet += polyols * label.polyol_sweetness;
        self.polyols_energy += polyols * label.polyol_energy;
        self.other_energy += amount * label.other_energy;
        amount.is_finite().then_some(amount)
    }

    /// The figures of a mixture of this size (ml, or g).
    fn label(&self, size: f64) -> Label {
        let ratio = |above: f64, below: f64, none: f64| if below > 0.0 { above / below } else { none };
        let liquid = self.poured > 0.0;
        Label {
            form: if liquid { Form::Liquid } else { Form::Powder },
            strength: 100.0 * self.masses.ethanol / ethanol::PURE / size,
            sugar: 1000.0 * self.sugars / size,
            polyols: 1000.0 * self.polyols / size,
            acid: 1000.0 * self.masses.acid / size,
            // Where no part carries an excess volume, the masses alone fill the millilitre.
            density: (liquid && self.excess != 0.0).then(|| self.masses.total() / size),
            sweetness: ratio(self.sugars_sweet, self.sugars, 1.0),
            polyol_sweetness: ratio(self.polyols_sweet, self.polyols, 0.0),
            polyol_energy: ratio(self.polyols_energy, self.polyols, energy::POLYOLS),
            other_energy: self.other_energy / size,
            ..Label::default()
        }
    }
}

/// The natural ranges of a mixture: each figure with all parts at that figure's lower or upper end.
pub fn natural(by: By, parts: &[(f64, Candidate)], typical: &Label) -> Natural {
    let ends = |range: fn(&Natural) -> Option<Range>, set: fn(&mut Label, f64), get: fn(&Label) -> f64| {
        parts.iter().any(|(_, part)| range(&part.natural).is_some()).then(|| {
            let end = |pick: fn(Range) -> f64| {
                let extreme = parts.iter().map(|(share, part)| {
                    let mut label = part.label;
                    if let Some(range) = range(&part.natural) {
                        set(&mut label, pick(range));
                    }
                    (*share, label)
                });
                mix(by, extreme).map_or(get(typical), |mixture| get(&mixture.label))
            };
            let (low, high) = (end(|r| r.min), end(|r| r.max));
            Range { min: low.min(get(typical)), max: high.max(get(typical)) }
        })
    };
    Natural {
        strength: ends(|n| n.strength, |l, x| l.strength = x, |l| l.strength),
        sugar: ends(|n| n.sugar, |l, x| l.sugar = x, |l| l.sugar),
        acid: ends(|n| n.acid, |l, x| l.acid = x, |l| l.acid),
    }
}

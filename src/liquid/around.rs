//! Compositions near a typical one, fast: a service check asks for tens of thousands of them.

use super::{Form, Label, LabelFault, Masses, PartialVolumes, Portion};

/// A typical composition from which others are a short step away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Around {
    label: Label,
    typical: Portion,
    partial: PartialVolumes,
}

/// How many steps are taken before the long way is gone; three to five are what it takes.
const STEPS: usize = 12;
/// How near to a millilitre is near enough, ml.
const FULL: f64 = 1e-13;

impl Around {
    /// A typical composition with its portion.
    pub fn new(label: Label, typical: Portion) -> Self {
        Self { label, typical, partial: typical.masses.partial_volumes() }
    }

    /// What one unit brings with another strength (% vol), sugar and acid (g/L, powder: g/kg): the
    /// same as [`Label::portion`], within rounding.
    ///
    /// # Errors
    /// When no such liquid or powder can exist.
    pub fn at(&self, strength: f64, sugar: f64, acid: f64) -> Result<Portion, LabelFault> {
        let label = Label { strength, sugar, acid, ..self.label };
        if label.form == Form::Powder || label.density.is_some() {
            return label.portion();
        }
        match self.filled(label.dry()) {
            Some(masses) => Ok(label.portion_of(masses, 0.0, 1.0, masses.total())),
            None => label.portion(),
        }
    }

    /// The water that fills the millilitre: from the typical water along the typical partial volumes.
    /// They hardly differ between compositions of one ingredient, so each step leaves a hundredth of
    /// the error or less.
    fn filled(&self, dry: Masses) -> Option<Masses> {
        let typical = &self.typical.masses;
        let more = Masses {
            ethanol: dry.ethanol - typical.ethanol,
            water: 0.0,
            solids: dry.solids - typical.solids,
            acid: dry.acid - typical.acid,
        };
        let mut water = typical.water - self.partial.of(&more) / self.partial.water;
        for _ in 0..STEPS {
            if !(0.0..=1.2).contains(&water) {
                return None;
            }
            let masses = Masses { water, ..dry };
            let off = masses.volume() - 1.0;
            if off.abs() < FULL {
                return Some(masses);
            }
            water -= off / self.partial.water;
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_step_ends_where_the_long_way_does() {
        let labels = [
            Label { strength: 40.0, sugar: 2.0, ..Label::default() },
            Label { strength: 17.0, sugar: 150.0, acid: 4.0, ..Label::default() },
            Label { sugar: 16.0, acid: 56.0, density: Some(1.0348), ..Label::default() },
            Label { sugar: 880.0, ..Label::default() },
            Label { form: Form::Powder, acid: 1000.0, ..Label::default() },
        ];
        for label in labels {
            let around = Around::new(label, label.portion().expect("a liquid"));
            for (more, times) in [(0.0, 1.0), (3.0, 0.8), (-3.0, 1.1), (8.0, 0.5), (0.0, 1.2)] {
                let strength = if label.strength > 0.0 { label.strength + more } else { 0.0 };
                let (sugar, acid) = (label.sugar * times, label.acid * times);
                let other = Label { strength, sugar, acid, ..label };
                match (around.at(strength, sugar, acid), other.portion()) {
                    (Ok(short), Ok(long)) => {
                        if label.form == Form::Liquid && label.density.is_none() {
                            assert!(around.filled(other.dry()).is_some(), "not by the short way: {other:?}");
                        }
                        assert!((short.masses.water - long.masses.water).abs() < 1e-12, "{other:?}");
                        assert_eq!(
                            Portion { masses: long.masses, mass: long.mass, heat: long.heat, ..short },
                            long
                        );
                    }
                    (short, long) => assert_eq!(short.is_err(), long.is_err(), "{other:?}"),
                }
            }
        }
    }
}

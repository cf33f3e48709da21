//! Ingredients that may go into the drink.

use std::sync::Arc;

use super::words::words;
use super::{Jigger, Natural, Range, Spread, Stored};
use crate::liquid::{Label, Portion, Stage};
use crate::quantity::{Amount, Price, Unit};
use crate::tolerance::WHOLE;

words! {
    /// What an ingredient does in a drink; also the order in which a card lists them.
    Role {
        /// The spirit or its stand-in.
        Base = "base",
        /// Liqueurs, vermouths and their like.
        Modifier = "modifier",
        /// What brings acid.
        Sour = "sour",
        /// What brings sweetness.
        Sweetener = "sweetener",
        /// Bitters.
        Bitters = "bitters",
        /// Long, weak liquids.
        Lengthener = "lengthener",
        /// Salt, tinctures, small things.
        Seasoning = "seasoning",
        /// Egg, cream, gum: what changes the feel.
        Texture = "texture",
        /// Water.
        Water = "water",
    }
}

words! {
    /// The groups of Regulation (EU) No 1169/2011, Annex II, under its names.
    Allergen {
        /// Cereals containing gluten.
        Gluten = "gluten",
        /// Crustaceans.
        Crustaceans = "crustaceans",
        /// Eggs.
        Eggs = "eggs",
        /// Fish.
        Fish = "fish",
        /// Peanuts.
        Peanuts = "peanuts",
        /// Soybeans.
        Soybeans = "soybeans",
        /// Milk, lactose included.
        Milk = "milk",
        /// Tree nuts.
        Nuts = "nuts",
        /// Celery.
        Celery = "celery",
        /// Mustard.
        Mustard = "mustard",
        /// Sesame seeds.
        Sesame = "sesame",
        /// Sulphur dioxide and sulphites over 10 mg/kg or 10 mg/L.
        Sulphites = "sulphites",
        /// Lupin.
        Lupin = "lupin",
        /// Molluscs.
        Molluscs = "molluscs",
    }
}

words! {
    /// What asks for care when an ingredient is handled, kept or served; it calls up a caution.
    Handling {
        /// Raw egg.
        RawEgg = "raw egg",
        /// Egg that was pasteurised.
        PasteurisedEgg = "pasteurised egg",
        /// Milk or cream that spoils.
        Dairy = "dairy",
        /// Fresh juice that spoils.
        FreshJuice = "fresh juice",
        /// Acid strong enough to burn.
        ConcentratedAcid = "concentrated acid",
        /// Spirit that burns with a flame at room temperature.
        Overproof = "overproof",
        /// Quinine.
        Quinine = "quinine",
        /// Botanicals, essential oils, tinctures.
        Botanical = "botanical",
        /// Glycerol.
        Glycerol = "glycerol",
        /// Polyols: laxative in quantity.
        Polyol = "polyol",
        /// Carbon dioxide under pressure.
        Carbonated = "carbonated",
    }
}

/// In which amounts an ingredient is measured out.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// Whole multiples of this many ml (powder: g).
    Every(f64),
    /// What these jiggers measure, alone or together.
    Jigger(Arc<Jigger>),
    /// Any amount.
    Free,
}

impl Step {
    /// ml (or g) of which every amount is a whole multiple; `None` where any amount may be poured.
    pub fn unit(&self) -> Option<f64> {
        match self {
            Self::Every(step) => Some(*step),
            Self::Jigger(jigger) => Some(jigger.unit()),
            Self::Free => None,
        }
    }

    /// The least amount that can be measured, ml (or g): 0 where any may be poured.
    pub fn least(&self) -> f64 {
        match self {
            Self::Every(step) => *step,
            Self::Jigger(jigger) => f64::from(jigger.least()) * jigger.unit(),
            Self::Free => 0.0,
        }
    }

    /// The least amount that can be measured and is at least `amount`, over zero where there are steps.
    pub fn up(&self, amount: f64) -> f64 {
        match self {
            Self::Free => amount,
            Self::Every(step) => (amount / step - WHOLE).ceil().max(1.0) * step,
            Self::Jigger(jigger) => jigger.up((amount / jigger.unit() - WHOLE).max(1.0)) * jigger.unit(),
        }
    }

    /// The greatest amount that can be measured and is at most `amount`; 0 where there is none.
    pub fn down(&self, amount: f64) -> f64 {
        match self {
            Self::Free => amount,
            Self::Every(step) => (amount / step + WHOLE).floor() * step,
            Self::Jigger(jigger) => jigger.down(amount / jigger.unit() + WHOLE) * jigger.unit(),
        }
    }

    /// Whether an amount can be measured.
    pub fn measures(&self, amount: f64) -> bool {
        let Some(unit) = self.unit() else { return true };
        let units = amount / unit;
        (units - units.round()).abs() <= WHOLE
            && match self {
                Self::Jigger(jigger) => jigger.measures(units.round()),
                Self::Every(_) | Self::Free => true,
            }
    }
}

/// Where an ingredient's composition comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum Origin {
    /// The brief states it.
    Brief,
    /// The larder entry of this name; keys of the brief may override it.
    Larder {
        /// The entry's name.
        entry: String,
        /// Which of its figures are judgement or from memory, in words; empty where all are sourced.
        judged: Vec<String>,
    },
    /// Made in house.
    Made(Preparation),
}

/// A preparation: what goes into one litre (or, all parts being powders, one kilogram) of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Preparation {
    /// Raw parts, nested preparations already taken apart, loss included.
    pub parts: Vec<Part>,
    /// Share of the output that is lost, in %.
    pub loss: f64,
}

/// One raw part of a preparation.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// How much of it goes into one ml (or g) of the finished preparation.
    pub per_unit: Amount,
    /// What it costs, if known.
    pub price: Option<Price>,
    /// The share of what is bought that reaches the preparation.
    pub yielded: f64,
    /// Grams per ml of a liquid part (1 for powders): for packs sold by weight.
    pub density: f64,
}

/// One ingredient.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// Unique name.
    pub name: String,
    /// What it does in the drink.
    pub role: Role,
    /// Typical composition.
    pub label: Label,
    /// Natural ranges.
    pub natural: Natural,
    /// How it differs from pour to pour.
    pub spread: Spread,
    /// What one ml (or g) brings, from the typical composition.
    pub portion: Portion,
    /// Properties per litre (powder: per kg), in the order of the brief's properties.
    pub carries: Vec<f64>,
    /// What a pack costs.
    pub price: Option<Price>,
    /// The share of what is bought that reaches a glass, over 0 and up to 1.
    pub yielded: f64,
    /// Money per ml (or g) in the glass; `None` where no price is known.
    pub cost_per_unit: Option<f64>,
    /// Pour step.
    pub step: Step,
    /// Least when used at all, ml or g, a whole number of steps.
    pub least: f64,
    /// Most, ml or g, a whole number of steps; `None`: the volume target is the bound.
    pub most: Option<f64>,
    /// It has to be used.
    pub must: bool,
    /// Known, for the reference, but not to be used.
    pub out: bool,
    /// Whether it is made with the rest or tops the drink up: where ice does work, it stands in the label.
    pub stage: Stage,
    /// Allergens of Annex II that it carries.
    pub allergens: Vec<Allergen>,
    /// What asks for care.
    pub handling: Vec<Handling>,
    /// What it smells and tastes of, in the user's own words: counted, never tasted.
    pub notes: Vec<String>,
    /// Where the composition comes from.
    pub origin: Origin,
    /// How it is bought and kept.
    pub stored: Stored,
}

impl Candidate {
    /// What its amounts count.
    pub fn unit(&self) -> Unit {
        if self.portion.poured > 0.0 { Unit::Ml } else { Unit::G }
    }

    /// The portions at the corners of its natural ranges; the typical one alone where nothing varies. A corner that no
    /// liquid can have is left out (the reader has told of it).
    pub fn corners(&self) -> Vec<Portion> {
        if self.natural.is_fixed() {
            return vec![self.portion];
        }
        let label = self.label;
        let ends = |range: Option<Range>, typical: f64| match range {
            Some(r) if r.max > r.min => vec![r.min, r.max],
            _ => vec![typical],
        };
        let mut portions = vec![];
        for strength in ends(self.natural.strength, label.strength) {
            for sugar in ends(self.natural.sugar, label.sugar) {
                for acid in ends(self.natural.acid, label.acid) {
                    portions.extend(Label { strength, sugar, acid, ..label }.portion().ok());
                }
            }
        }
        if portions.is_empty() { vec![self.portion] } else { portions }
    }

    /// Whether it carries a note; letter case does not matter.
    pub fn has_note(&self, note: &str) -> bool {
        self.notes.iter().any(|own| super::same_note(own, note))
    }

    /// How much of property `at` one ml (or g) carries.
    pub fn carried(&self, at: usize) -> f64 {
        self.carries.get(at).copied().unwrap_or(0.0) / 1000.0
    }
}

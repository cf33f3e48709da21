//! Method, glass, menu, reference, answer and variation.

use super::{Measure, Pour, Poured};
use crate::liquid::ice::Balance;
use crate::liquid::{Dilution, Melting, Method};

/// How the drink is made and served.
#[derive(Debug, Clone, PartialEq)]
pub struct Serve {
    /// Shaken, stirred, built, blended or none of these.
    pub method: Method,
    /// Given melt, % of the poured volume, where it shifts or replaces the method's rule.
    pub melt: Option<f64>,
    /// How far the melt by `dilution` may be off either way, in ml per ml that it is taken of.
    pub spread: f64,
    /// How much ice melts in: the method's rule, or the given share.
    pub dilution: Dilution,
    /// The ice in the glass; nothing where it is served up, or where the rule of built drinks stands for it.
    pub ice: Option<GlassIce>,
    /// At most so many ingredients.
    pub most: Option<usize>,
    /// The glass, where one is given.
    pub glass: Option<Glass>,
}

impl Serve {
    /// How ice melts into the drink.
    pub fn melting(&self) -> Melting {
        Melting { working: self.dilution, glass: self.ice.and_then(|ice| ice.balance) }
    }
}

/// The ice in the glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GlassIce {
    /// Its mass, g.
    pub mass: f64,
    /// Whether it is crushed.
    pub crushed: bool,
    /// What melts of it; nothing where a given melt says that already.
    pub balance: Option<Balance>,
}

/// A glass and how much of it is to stay free.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glass {
    /// Brim volume, ml.
    pub brim: f64,
    /// Share that the served drink leaves free, %.
    pub headroom: f64,
    /// What the ice in it takes up before any of it melts, ml.
    pub ice: f64,
}

impl Glass {
    /// The most that may be served in it beside its ice, ml.
    pub fn holds(&self) -> f64 {
        self.brim * (1.0 - self.headroom / 100.0) - self.ice
    }
}

/// What the guest pays.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Menu {
    /// Price on the menu, tax included, in the brief's currency.
    pub price: f64,
    /// Tax included in it, % of the net price.
    pub tax: f64,
}

impl Menu {
    /// The price without tax.
    pub fn net(&self) -> f64 {
        self.price / (1.0 + self.tax / 100.0)
    }
}

/// The spec that the drink comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Reference {
    /// Its pours; candidates that are `out` may stand in it.
    pub pours: Vec<Pour>,
}

/// A target from the reference itself: its own measured value, give or take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hold {
    /// What is held.
    pub measure: Measure,
    /// How far it may move either way, in the measure's unit.
    pub within: f64,
}

/// How much of an answer is wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// How many further specs, each with another set of ingredients.
    pub alternatives: usize,
    /// Only those at most so many % worse than the best.
    pub within: Option<f64>,
    /// The best spec is wanted that holds in at least so many of 100 serves, each.
    pub steady: Vec<f64>,
}

impl Default for Answer {
    fn default() -> Self {
        Self { alternatives: 6, within: None, steady: vec![50.0, 75.0, 90.0] }
    }
}

/// Natural ranges and the hand that pours.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Variation {
    /// For which compositions the targets have to hold.
    pub hold: HoldFor,
    /// How liquids are poured, or how far one pour is off; `None`: not stated.
    pub pour_error: Option<Poured>,
    /// The step that the bar measures in, ml, which the pour error belongs to; `None`: any amount.
    pub bar_step: Option<f64>,
}

/// For which compositions the targets have to hold.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum HoldFor {
    /// The typical one.
    #[default]
    Typical,
    /// Every one in the natural ranges.
    Worst,
    /// The typical one, and in at least this share (0 to 1) of simulated serves.
    Share(f64),
}

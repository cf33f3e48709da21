//! Ice in the glass: how much of it has melted by the first sip.
//!
//! The balance: what is poured over the ice is cooled to 0 °C by the first sip, and what that takes melts ice of
//! 0 °C. With M = e + w the ethanol and water in the glass, melt m included, F(p) their enthalpy at the end and
//! Q what everything brings, `L·m + M·F(e/M) = Q`; no ice melts where Q is less than that without any. Crushed
//! ice has the surface to take the drink on, to about its freezing point.
//!
//! Left out, as they partly make up for each other: the heat of the glass itself and water that clings to
//! the ice (more melt), ice colder than 0 °C and a drink not yet at 0 °C (less). A kelvin is 1.2 ml per 100 ml,
//! a warm glass 3 ml or more. So it is good to [`UNCERTAINTY`], a judgement: no measurements are known to us.
//!
//! Everything grows with what is poured: the melt is homogeneous of degree one, however much ice there is.
//! It is assumed that there is enough.

use super::heat::{self, FUSION};
use super::{Masses, Portion, Stage, ethanol};
use crate::liquid::Method;

/// How far the balance is good, in ml of water per ml poured. A judgement, no source.
pub const UNCERTAINTY: f64 = 0.05;
/// A bound on the second derivative of [`Balance::end`] by the mass fraction of ethanol, J/g.
pub const CURVATURE: f64 = 1400.0;
/// A bound from below on `L + F(p) - p·F'(p)` and on `L + F(p)`, J/g.
pub const LEAST: f64 = 100.0;

/// Freezing point of weak ethanol and water, °C per unit of mass fraction: Lange's table 5.13 has -3 °C at
/// 6.8 % and -5 °C at 11.3 % by mass. What is stronger than 17 % vol freezes lower still, and stays above that.
pub const FREEZES: f64 = -44.0;

/// What the ice in the glass does to the drink.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    /// Whether the ice is crushed.
    pub crushed: bool,
    /// What comes from working ice, where there is any.
    pub strained: Option<Strained>,
    /// Ml more (or less) per ml poured than the balance says.
    pub more: f64,
}

/// What comes from a shaker or a mixing glass: cold, and near one composition.
///
/// Its enthalpy is taken along the tangent at that composition, so that it is a sum over what went in: off by
/// at most 2 ml of melt in 100 ml of drink at the ends of what is shaken and stirred, and less between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strained {
    /// J per gram of ethanol.
    ethanol: f64,
    /// J per gram of water.
    water: f64,
    /// J per gram of what is dissolved.
    solids: f64,
}

/// Temperature (°C) and mass fraction of ethanol of what is strained over ice. The temperatures are judged: the
/// freezing point of such drinks, and a few kelvin lost on the way into the glass.
const SHAKEN: (f64, f64) = (-4.0, 0.13);
/// The same of a stirred drink.
const STIRRED: (f64, f64) = (-2.0, 0.22);

impl Strained {
    /// What comes from the ice of a method; nothing where none does work.
    pub fn of(method: Method) -> Option<Self> {
        let (temperature, p) = match method {
            Method::Shake | Method::Blend => SHAKEN,
            Method::Stir => STIRRED,
            Method::Build | Method::None => return None,
        };
        Some(Self::at(temperature, p))
    }

    /// What is this cold (°C) and has this mass fraction of ethanol in its ethanol and water: exact there, as the
    /// tangent touches.
    pub fn at(temperature: f64, p: f64) -> Self {
        let (value, slope) = heat::enthalpy(p, temperature);
        Self {
            ethanol: value + (1.0 - p) * slope,
            water: value - p * slope,
            solids: heat::SOLIDS * temperature,
        }
    }
}

/// How the melt (g) answers to one J more, and to one gram more of ethanol and of water.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Answers {
    /// By the heat that is brought, g/J.
    pub heat: f64,
    /// By the mass of ethanol, g/g.
    pub ethanol: f64,
    /// By the mass of water from elsewhere, g/g.
    pub water: f64,
}

impl Balance {
    /// Enthalpy (J/g) of ethanol and water as they are at the first sip, and its derivative.
    pub fn end(&self, p: f64) -> (f64, f64) {
        if !self.crushed {
            return heat::enthalpy(p, 0.0);
        }
        let (capacity, slope) = heat::capacity(p);
        let (value, by) = heat::enthalpy(p, 0.0);
        (value + capacity * FREEZES * p, by + (slope * p + capacity) * FREEZES)
    }

    /// Heat (J) that one ml or g of a portion brings into the glass.
    pub fn brought(&self, portion: &Portion) -> f64 {
        self.carried(portion.stage, &portion.masses, portion.heat)
    }

    /// Heat (J) that masses bring which join the drink at a stage, with so much heat of their own.
    pub fn carried(&self, stage: Stage, masses: &Masses, heat: f64) -> f64 {
        match (self.strained, stage) {
            (Some(strained), Stage::Made) => {
                strained.ethanol * masses.ethanol
                    + strained.water * masses.water
                    + strained.solids * (masses.solids + masses.acid)
            }
            _ => heat,
        }
    }

    /// Heat (J) that a gram of water from the working ice brings.
    pub fn worked_water(&self) -> f64 {
        self.strained.map_or(0.0, |strained| strained.water)
    }

    /// Water (g) that melts into what is in the glass, which brings so much heat (J).
    ///
    /// `L·m + M·F(e/M)` rises with m at `L + F - p·F'`, which is more than nothing, and is convex where F is:
    /// Newton's steps settle in three or four.
    pub fn melt(&self, masses: &Masses, heat: f64) -> f64 {
        let start = masses.ethanol + masses.water;
        let left = |m: f64| {
            let all = start + m;
            let p = if all > 0.0 { masses.ethanol / all } else { 0.0 };
            let (value, slope) = self.end(p);
            (FUSION * m + all * value - heat, FUSION + value - p * slope)
        };
        if left(0.0).0 >= 0.0 {
            return 0.0;
        }
        let mut melt = 0.0;
        for _ in 0..50 {
            let (off, slope) = left(melt);
            let step = off / slope;
            melt = (melt - step).max(0.0);
            if step.abs() <= 1e-14 * (1.0 + melt) {
                break;
            }
        }
        melt
    }

    /// How the melt answers to changes, where the drink has this mass fraction of ethanol and ice melts.
    pub fn answers(&self, p: f64) -> Answers {
        let (value, slope) = self.end(p);
        let by = FUSION + value - p * slope;
        Answers {
            heat: 1.0 / by,
            ethanol: -(value + (1.0 - p) * slope) / by,
            water: -(value - p * slope) / by,
        }
    }
}

/// What is left of so much ice (g) takes up, in ml, once `melt` ml of water have come from it.
pub fn room(ice: f64, melt: f64) -> f64 {
    ice / heat::ICE - melt * PER_MELT
}

/// Ml of ice that a ml of melt water was.
pub const PER_MELT: f64 = ethanol::WATER / heat::ICE;

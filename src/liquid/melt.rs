//! Water from the ice: how much melts into a drink by how it is made.
//!
//! Source: Arnold, *Liquid Intelligence* (2014), p. 123 (shaken 10 s on 120 g of small cubes,
//! stirred 15 s) and pp. 125-126 (built drinks about 24 %). All of it is from memory of the book: the
//! coefficients, the ±0.05 of the poured volume to which they are good at best, and the ordinary drinks
//! of about 10 to 45 % vol before the ice on which they were fitted.

use super::ice::Balance;

/// How the drink is made: it decides how much ice melts into it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Method {
    /// Shaken with ice.
    Shake,
    /// Stirred on ice.
    Stir,
    /// Built in the glass on ice.
    Build,
    /// Blended with ice: the melt has to be given.
    Blend,
    /// No ice melts in.
    None,
}

/// Strengths (volume fraction before the ice) on which the fits were made; from memory of the book.
pub const FITTED: (f64, f64) = (0.10, 0.45);
/// How far the fits are good, in ml of water per ml poured; from memory of the book.
pub const UNCERTAINTY: f64 = 0.05;
/// Built drinks, ml of water per ml poured; from memory of the book.
const BUILD: f64 = 0.24;

/// Melt water per ml poured as a function of the strength before the ice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Dilution {
    /// The same share whatever the strength, in ml of water per ml poured.
    Share(f64),
    /// `a A² + b A + c` up to its turning point, constant beyond; A as a volume fraction, a < 0.
    Fit {
        /// Quadratic coefficient (negative).
        a: f64,
        /// Linear coefficient.
        b: f64,
        /// Constant.
        c: f64,
    },
}

/// How ice melts into a drink: that which does the work, and that which stands in the glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Melting {
    /// By the ice that it is shaken, stirred or blended with; of a built drink without a balance, by its own.
    pub working: Dilution,
    /// By the ice in the glass.
    pub glass: Option<Balance>,
}

impl Melting {
    /// So many ml of water more (or less) per ml on the working ice, and per ml poured over that in the glass.
    pub fn shifted(self, (working, glass): (f64, f64)) -> Self {
        Self {
            working: if working == 0.0 { self.working } else { self.working.shifted(working) },
            glass: self.glass.map(|balance| Balance { more: balance.more + glass, ..balance }),
        }
    }
}

impl From<Dilution> for Melting {
    fn from(working: Dilution) -> Self {
        Self { working, glass: None }
    }
}

impl Dilution {
    /// The rule of a method. `melt` (% of the poured volume) replaces it where given.
    /// `None` for a blended drink without `melt`: no rule is published for it.
    pub fn of(method: Method, melt: Option<f64>) -> Option<Self> {
        if let Some(percent) = melt {
            return Some(Self::Share(percent / 100.0));
        }
        match method {
            Method::Shake => Some(Self::Fit { a: -1.567, b: 1.742, c: 0.203 }),
            Method::Stir => Some(Self::Fit { a: -1.21, b: 1.246, c: 0.145 }),
            Method::Build => Some(Self::Share(BUILD)),
            Method::None => Some(Self::Share(0.0)),
            Method::Blend => None,
        }
    }

    /// The strength (volume fraction) from which a fit is held constant; 1 where there is no fit.
    pub fn turning_point(self) -> f64 {
        match self {
            Self::Share(_) => 1.0,
            Self::Fit { a, b, .. } => -b / (2.0 * a),
        }
    }

    /// Ml of melt water per ml poured at the given strength (volume fraction) before the ice.
    pub fn at(self, strength: f64) -> f64 {
        match self {
            Self::Share(share) => share,
            Self::Fit { a, b, c } => {
                let x = strength.min(self.turning_point());
                (a * x + b) * x + c
            }
        }
    }

    /// The same rule with so many ml of water more (or less) per ml poured.
    pub fn shifted(self, by: f64) -> Self {
        match self {
            Self::Share(share) => Self::Share((share + by).max(0.0)),
            Self::Fit { a, b, c } => Self::Fit { a, b, c: c + by },
        }
    }

    /// Derivative of [`Self::at`] by the strength (volume fraction).
    pub fn slope(self, strength: f64) -> f64 {
        match self {
            Self::Share(_) => 0.0,
            Self::Fit { a, b, .. } => 2.0 * a * strength.min(self.turning_point()) + b,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn beyond_its_turning_point_a_fit_is_constant() {
        for (method, turn) in [(Method::Shake, 0.556), (Method::Stir, 0.515)] {
            let rule = Dilution::of(method, None).expect("a rule");
            assert!((rule.turning_point() - turn).abs() < 5e-4);
            assert_eq!(rule.at(0.9), rule.at(rule.turning_point()));
            assert!(rule.slope(0.9).abs() < 1e-12);
            assert!(rule.at(0.5) <= rule.at(0.9));
        }
    }

    #[test]
    fn a_given_melt_replaces_the_rule_and_a_blend_needs_one() {
        assert_eq!(Dilution::of(Method::Shake, Some(45.0)), Some(Dilution::Share(0.45)));
        assert_eq!(Dilution::of(Method::Blend, None), None);
    }
}

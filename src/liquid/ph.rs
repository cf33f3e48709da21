//! The pH of a drink from its acids, and from the bases that fruit brings with them.
//!
//! Every acid gives off its protons by its constants; what carries a charge adds up to nothing. A juice is no pure
//! acid: its potassium has taken up a part of it. How much, its own pH and its titration tell together, and in a
//! drink the acids and the bases of all juices add up.
//!
//! Constants: 25 °C, no ionic strength, as the CRC Handbook of Chemistry and Physics has them (dissociation constants
//! of organic and inorganic acids), read in public copies; malic acid's second is 5.11 there and 5.20 elsewhere. Tartaric acid's are those of Bates and Canham, J. Res. Natl.
//! Bur. Stand. 47 (1951), from memory: with the handbook's 2.98 and 4.34 its standard buffer comes out 0.04 too low.
//! Activity coefficients by Davies, *Ion Association* (1962), with A = 0.509 at 25 °C (from memory). Alcohol and cold
//! move the constants: neither is in here, and an estimate has to say so.

use super::acid::Acid;

/// Ionic product of water at 25 °C, as its negative logarithm.
const WATER: f64 = 14.0;
/// Davies' limiting slope in water at 25 °C.
const SLOPE: f64 = 0.509;
/// The pH to which a titration of a juice goes (AOAC 942.15).
const END_POINT: f64 = 8.1;

impl Acid {
    /// The negative logarithms of its constants, strongest first.
    pub fn constants(self) -> &'static [f64] {
        match self {
            Self::Citric => &[3.13, 4.76, 6.40],
            Self::Malic => &[3.40, 5.11],
            Self::Tartaric => &[3.036, 4.366],
            Self::Lactic => &[3.86],
            Self::Acetic => &[4.756],
            Self::Phosphoric => &[2.16, 7.21, 12.32],
        }
    }
}

/// What decides a pH: acids and bases, each in mol or in mol/L.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ions {
    /// Acids, whole: given off or not.
    pub acids: Vec<(Acid, f64)>,
    /// Charges of metals, potassium for the most part, that stand against them.
    pub alkali: f64,
}

/// The logarithm of the activity coefficient of an ion of one charge, by Davies.
fn activity(ionic: f64) -> f64 {
    let root = ionic.max(0.0).sqrt();
    -SLOPE * (root / (1.0 + root) - 0.3 * ionic)
}

/// Charges that an acid of 1 mol/L has given off at this pH, and half the sum of their squares.
fn given_off(acid: Acid, ph: f64, gamma: f64) -> (f64, f64) {
    // The share of the form that has given off j protons, over that of the whole acid, is the product of the first
    // j constants over [H+]^j; each constant is mixed: protons as activity, ions as concentration.
    let (mut term, mut whole, mut charges, mut squares) = (1.0, 1.0, 0.0, 0.0);
    for (at, constant) in acid.constants().iter().enumerate() {
        let charge = (at + 1) as f64;
        let step = gamma * (charge * charge - (charge - 1.0).powi(2));
        term *= 10_f64.powf(ph - constant - step);
        whole += term;
        charges += charge * term;
        squares += charge * charge * term;
    }
    (charges / whole, 0.5 * squares / whole)
}

/// Free protons and hydroxide, mol/L.
fn water(ph: f64, gamma: f64) -> (f64, f64) {
    (10_f64.powf(-ph - gamma), 10_f64.powf(ph - WATER - gamma))
}

impl Ions {
    /// The same in so many litres.
    pub fn over(&self, litres: f64) -> Self {
        let acids = self.acids.iter().map(|(acid, amount)| (*acid, amount / litres)).collect();
        Self { acids, alkali: self.alkali / litres }
    }

    /// Adds so many times another.
    pub fn add(&mut self, other: &Self, times: f64) {
        self.acids.extend(other.acids.iter().map(|(acid, amount)| (*acid, times * amount)));
        self.alkali += times * other.alkali;
    }

    fn ionic(&self, ph: f64, gamma: f64) -> f64 {
        let (protons, hydroxide) = water(ph, gamma);
        let acids: f64 = self.acids.iter().map(|(acid, amount)| amount * given_off(*acid, ph, gamma).1).sum();
        acids + 0.5 * (protons + hydroxide + self.alkali)
    }

    /// Positive charges less negative ones, mol/L.
    fn charge(&self, ph: f64, gamma: f64) -> f64 {
        let (protons, hydroxide) = water(ph, gamma);
        let acids: f64 = self.acids.iter().map(|(acid, amount)| amount * given_off(*acid, ph, gamma).0).sum();
        protons + self.alkali - hydroxide - acids
    }

    /// The pH of a solution of these in water at 25 °C, in mol/L.
    pub fn ph(&self) -> f64 {
        let mut ph = 7.0;
        let mut gamma = 0.0;
        // The ionic strength hangs on the pH: a few rounds settle it far below what the estimate is good to.
        for _ in 0..30 {
            let (mut low, mut high) = (0.0, 14.0);
            for _ in 0..60 {
                ph = 0.5 * (low + high);
                if self.charge(ph, gamma) > 0.0 { low = ph } else { high = ph }
            }
            gamma = activity(self.ionic(ph, gamma).min(0.5));
        }
        ph
    }

    /// A juice whose pH and titratable acid (as citric, g/L, to pH 8.1) are known; `shares` are those of its acids in
    /// the titration. Nothing where the two do not go together.
    pub fn of_juice(shares: &[(Acid, f64)], titratable: f64, ph: f64) -> Option<Self> {
        let asked = titratable / Acid::Citric.equivalent();
        let mut found = Self::default();
        let mut gamma = 0.0;
        for _ in 0..30 {
            // One mol of each share for a proton that its titration counts.
            let unit = |(acid, share): &(Acid, f64)| (*acid, share / acid.protons());
            let off = |ph: f64| -> f64 {
                shares.iter().map(unit).map(|(acid, amount)| amount * given_off(acid, ph, gamma).0).sum()
            };
            let ((protons, hydroxide), (last, base)) = (water(ph, gamma), water(END_POINT, gamma));
            let freed = off(END_POINT) - off(ph);
            let scale = (asked - protons + hydroxide + last - base) / freed;
            if !(scale.is_finite() && scale > 0.0) {
                return None;
            }
            found.acids = shares.iter().map(unit).map(|(acid, amount)| (acid, scale * amount)).collect();
            found.alkali = (scale * off(ph) + hydroxide - protons).max(0.0);
            gamma = activity(found.ionic(ph, gamma).min(0.5));
        }
        Some(found)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pure(acid: Acid, amount: f64) -> f64 {
        Ions { acids: vec![(acid, amount)], alkali: 0.0 }.ph()
    }

    /// Published pH of pure acids at 25 °C and 0.001, 0.01 and 0.1 mol/L, computed with activities by a program for
    /// water chemistry (its table read on a public page, two decimals): 0.02 for its own constants.
    #[test]
    fn pure_acids_have_the_published_ph() {
        for (acid, published) in [
            (Acid::Citric, [3.24, 2.62, 2.08]),
            (Acid::Lactic, [3.51, 2.96, 2.44]),
            (Acid::Acetic, [3.91, 3.39, 2.88]),
            (Acid::Phosphoric, [3.06, 2.26, 1.63]),
        ] {
            for (amount, ph) in [0.001, 0.01, 0.1].into_iter().zip(published) {
                let found = pure(acid, amount);
                assert!((found - ph).abs() < 0.02, "{acid:?} {amount}: {found} for {ph}");
            }
        }
    }

    /// Standard buffers, whose pH at 25 °C is defined (IUPAC recommendations 2002; values from memory): 0.05 mol/kg
    /// of potassium dihydrogen citrate 3.776, and tartrate saturated with its potassium salt, about 0.034 mol/kg,
    /// 3.557.
    #[test]
    fn half_neutralized_acids_are_the_standard_buffers() {
        for (acid, amount, ph) in [(Acid::Citric, 0.05, 3.776), (Acid::Tartaric, 0.034, 3.557)] {
            let found = Ions { acids: vec![(acid, amount)], alkali: amount }.ph();
            assert!((found - ph).abs() < 0.04, "{acid:?}: {found} for {ph}");
        }
    }

    #[test]
    fn a_juice_has_the_ph_that_it_was_taken_with() {
        for (shares, acid, ph) in [
            (&[(Acid::Citric, 0.95), (Acid::Malic, 0.05)][..], 55.0, 2.4),
            (&[(Acid::Malic, 1.0)][..], 5.0, 3.6),
            (&[(Acid::Tartaric, 1.0)][..], 5.0, 3.2),
        ] {
            let juice = Ions::of_juice(shares, acid, ph).expect("ions");
            assert!((juice.ph() - ph).abs() < 1e-3, "{juice:?}: {}", juice.ph());
            assert!(juice.alkali > 0.0);
            // Ten times the water raises it, and by less than one.
            let thinner = juice.over(10.0).ph() - ph;
            assert!(0.0 < thinner && thinner < 1.0, "{thinner}");
        }
        // No juice of so much acid is as mild as that.
        assert!(Ions::of_juice(&[(Acid::Citric, 1.0)], 50.0, 9.0).is_none());
    }
}

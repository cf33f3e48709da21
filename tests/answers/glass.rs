//! A second physics, written from the published formulas alone and sharing no code with the
//! library's: what an ingredient brings, and what a drink measures. At 20 °C.

use washline::brief::{Brief, Candidate, Measure, Origin, Per};
use washline::liquid::{Form, Method, Stage};

/// OIML R 22 (1975), general formula at 20 °C, kg/m³, powers 0 to 11 of the mass fraction.
const ETHANOL_WATER: [f64; 12] = [
    998.201_230_0,
    -192.976_949_5,
    389.123_895_8,
    -1_668.103_923,
    13_522.154_41,
    -88_292.783_88,
    306_287.404_2,
    -613_838.123_4,
    747_017.299_8,
    -547_846.135_4,
    223_446.033_4,
    -39_032.854_26,
];

/// Bubník et al., *Sugar Technologists Manual* (1995) p. 164, at 20 °C, kg/m³, powers 1 to 6.
const SUCROSE_WATER: [f64; 6] = [385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890];

/// Specific volume of dissolved citric acid, ml/g (CRC Handbook).
const ACID_VOLUME: f64 = 0.597;

/// g/ml of ethanol and water by mass fraction of ethanol.
fn spirit_density(p: f64) -> f64 {
    let mut sum = 0.0;
    for k in (0..ETHANOL_WATER.len()).rev() {
        sum = sum * p + ETHANOL_WATER[k];
    }
    sum / 1000.0
}

/// g/ml of sucrose and water by mass fraction of sucrose; its water is that of the formula above.
fn syrup_density(b: f64) -> f64 {
    let mut sum = 0.0;
    for k in (0..SUCROSE_WATER.len()).rev() {
        sum = (sum + SUCROSE_WATER[k]) * b;
    }
    (ETHANOL_WATER[0] + sum) / 1000.0
}

/// ml of a mixture of so many grams of ethanol, water, sweet solids and acid.
fn volume(e: f64, w: f64, s: f64, a: f64) -> f64 {
    let spirit = if e + w > 0.0 { (e + w) / spirit_density(e / (e + w)) } else { 0.0 };
    let syrup = if s + w > 0.0 { (s + w) / syrup_density(s / (s + w)) } else { 0.0 };
    spirit + syrup - w / (ETHANOL_WATER[0] / 1000.0) + ACID_VOLUME * a
}

/// What one ml (or, of a powder, one gram) of an ingredient brings.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Contents {
    pub ethanol: f64,
    pub water: f64,
    pub solids: f64,
    pub acid: f64,
    /// ml beyond the volume of the masses.
    pub excess: f64,
    /// Measured ml: 1, or 0 of a powder.
    pub poured: f64,
    /// Those of them that meet the working ice: none of what tops the drink up.
    pub worked: f64,
    /// Volume fraction of ethanol, by the label.
    pub strength: f64,
    pub sugars: f64,
    pub sweet: f64,
    pub kcal: f64,
    pub cost: f64,
    /// What meets the working ice: ethanol, water, the dissolved, and its heat as it is poured; the heat of all, J.
    pub made: [f64; 4],
    pub heat: f64,
}

/// What the reader made of an ingredient.
pub fn as_read(candidate: &Candidate, cost: f64) -> Contents {
    let portion = &candidate.portion;
    Contents {
        ethanol: portion.masses.ethanol,
        water: portion.masses.water,
        solids: portion.masses.solids,
        acid: portion.masses.acid,
        excess: portion.excess,
        poured: portion.poured,
        worked: if candidate.label.stage == Stage::Topped { 0.0 } else { portion.poured },
        strength: portion.strength,
        sugars: portion.sugars,
        sweet: portion.sweet,
        kcal: portion.energy,
        cost,
        made: [0.0; 4],
        heat: 0.0,
    }
    .at(candidate)
}

impl Contents {
    /// With what it brings to the heat, at its temperature and stage.
    fn at(mut self, candidate: &Candidate) -> Self {
        let dissolved = self.solids + self.acid;
        self.heat = 0.0;
        let t = candidate.label.temperature;
        let wet = self.ethanol + self.water;
        if wet > 0.0 {
            self.heat = wet * warmth(self.ethanol / wet, t);
        }
        self.heat += 1.4 * dissolved * t;
        if candidate.label.stage == Stage::Made {
            self.made = [self.ethanol, self.water, dissolved, self.heat];
        }
        self
    }
}

/// Heat capacity of ethanol and water, J/(g K): the fit that the library states, written out.
fn per_kelvin(p: f64) -> f64 {
    4.196 + 2.340_32 * p - 10.034_14 * p * p + 8.604_61 * p * p * p - 2.771_19 * p * p * p * p
}

/// J/g of ethanol and water at a temperature, over pure ethanol and pure water at 0 °C: each is warmed to 25 °C,
/// they are mixed there, and the mixture is brought to the temperature.
fn warmth(p: f64, t: f64) -> f64 {
    let warmed = 25.0 * (p * per_kelvin(1.0) + (1.0 - p) * per_kelvin(0.0));
    let mixed = -220.5 * p * (1.0 - p) * (1.0 - 0.341_515 * p - 2.248_76 * p * p + 1.891_489 * p * p * p);
    warmed + mixed - per_kelvin(p) * (25.0 - t)
}

/// ml of water that melt from the ice in the glass by the first sip, after `worked` ml from the working ice: the
/// root of the heat balance by bisection.
fn from_the_glass(brief: &Brief, sums: &Sums, worked: f64) -> f64 {
    let Some(balance) = brief.serve.ice.and_then(|ice| ice.balance) else { return 0.0 };
    let density = ETHANOL_WATER[0] / 1000.0;
    // What is strained is taken along the tangent at a usual composition, and at a usual temperature.
    let heat = match brief.serve.method {
        Method::Build | Method::None => sums.heat,
        method => {
            let (t, p) = if method == Method::Stir { (-2.0, 0.22) } else { (-4.0, 0.13) };
            let step = 1e-5;
            let slope = (warmth(p + step, t) - warmth(p - step, t)) / (2.0 * step);
            let [e, w, s, poured] = sums.made;
            let w = w + worked * density;
            sums.heat - poured + (e + w) * warmth(p, t) + slope * (e - p * (e + w)) + 1.4 * s * t
        }
    };
    let before = sums.ethanol + sums.water + worked * density;
    let lacks = |m: f64| {
        let p = sums.ethanol / (before + m);
        let cold = if balance.crushed { -44.0 * p } else { 0.0 };
        333.55 * m + (before + m) * (warmth(p, 0.0) + per_kelvin(p) * cold) - heat
    };
    if before <= 0.0 || lacks(0.0) >= 0.0 {
        return 0.0;
    }
    let (mut low, mut high) = (0.0, 2.0 * before);
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if lacks(middle) < 0.0 { low = middle } else { high = middle }
    }
    0.5 * (low + high) / density
}

/// From the label, by the published rules. What is made in house has no label of its own: there the
/// reader's mass balance is taken (`made.rs` checks that one by hand).
pub fn contents(candidate: &Candidate) -> Contents {
    let cost = candidate.cost_per_unit.unwrap_or(f64::NAN);
    if let Origin::Made(_) = candidate.origin {
        return as_read(candidate, cost);
    }
    let label = &candidate.label;
    let liquid = label.form == Form::Liquid;
    let strength = if liquid { label.strength / 100.0 } else { 0.0 };
    let ethanol = strength * spirit_density(1.0);
    let sugars = label.sugar / 1000.0;
    let polyols = label.polyols / 1000.0;
    let acid = label.acid / 1000.0;
    let (water, excess) = match (liquid, label.density) {
        (false, _) => (0.0, 0.0),
        (true, Some(density)) => {
            let water = density - ethanol - sugars - polyols - acid;
            (water, 1.0 - volume(ethanol, water, sugars + polyols, acid))
        }
        (true, None) => (water_to_the_brim(ethanol, sugars + polyols, acid), 0.0),
    };
    Contents {
        ethanol,
        water,
        solids: sugars + polyols,
        acid,
        excess,
        poured: if liquid { 1.0 } else { 0.0 },
        worked: if liquid && label.stage == Stage::Made { 1.0 } else { 0.0 },
        strength,
        sugars,
        sweet: sugars * label.sweetness + polyols * label.polyol_sweetness,
        // EU 1169/2011 Annex XIV: ethanol 7, carbohydrate 4, organic acid 3 kcal/g.
        kcal: 7.0 * ethanol
            + 4.0 * sugars
            + 3.0 * acid
            + polyols * label.polyol_energy
            + label.other_energy / 1000.0,
        cost,
        made: [0.0; 4],
        heat: 0.0,
    }
    .at(candidate)
}

/// The water that fills one ml up, by the secant rule.
fn water_to_the_brim(e: f64, s: f64, a: f64) -> f64 {
    let miss = |w: f64| volume(e, w, s, a) - 1.0;
    let (mut w0, mut w1) = (0.5, 1.0);
    let (mut f0, mut f1) = (miss(w0), miss(w1));
    for _ in 0..60 {
        if f1.abs() < 1e-15 || f1 == f0 {
            break;
        }
        let w2 = w1 - f1 * (w1 - w0) / (f1 - f0);
        (w0, f0, w1) = (w1, f1, w2);
        f1 = miss(w1);
    }
    assert!(f1.abs() < 1e-13, "no water fills {e} g ethanol, {s} g sugar, {a} g acid up to a millilitre");
    w1.max(0.0)
}

/// ml of melt water per ml poured. Arnold, *Liquid Intelligence* (2014) p. 123 and pp. 125-126.
pub fn melt_share(method: Method, given: Option<f64>, strength: f64) -> f64 {
    if let Some(percent) = given {
        return percent / 100.0;
    }
    // A parabola is held at its turning point, b / 2a, from there on.
    let fit = |a: f64, b: f64, c: f64| {
        let x = if strength > b / (2.0 * a) { b / (2.0 * a) } else { strength };
        -a * x * x + b * x + c
    };
    match method {
        Method::Shake => fit(1.567, 1.742, 0.203),
        Method::Stir => fit(1.21, 1.246, 0.145),
        Method::Build => 0.24,
        Method::None => 0.0,
        Method::Blend => panic!("a blended drink without its melt"),
    }
}

/// How many properties a brief of these tests may have.
pub const PROPERTIES: usize = 2;

/// The sums over what is poured; everything else follows from them.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sums {
    pub ethanol: f64,
    pub water: f64,
    pub solids: f64,
    pub acid: f64,
    pub excess: f64,
    pub poured: f64,
    pub worked: f64,
    pub strength: f64,
    pub sugars: f64,
    pub sweet: f64,
    pub kcal: f64,
    pub cost: f64,
    pub made: [f64; 4],
    pub heat: f64,
    pub carried: [f64; PROPERTIES],
}

impl Sums {
    /// Adds `amount` of an ingredient that carries `carried` per ml (or g).
    pub fn plus(mut self, amount: f64, of: &Contents, carried: &[f64; PROPERTIES]) -> Self {
        self.ethanol += amount * of.ethanol;
        self.water += amount * of.water;
        self.solids += amount * of.solids;
        self.acid += amount * of.acid;
        self.excess += amount * of.excess;
        self.poured += amount * of.poured;
        self.worked += amount * of.worked;
        self.strength += amount * of.worked * of.strength;
        self.sugars += amount * of.sugars;
        self.sweet += amount * of.sweet;
        self.kcal += amount * of.kcal;
        self.cost += amount * of.cost;
        self.heat += amount * of.heat;
        for (sum, each) in self.made.iter_mut().zip(of.made) {
            *sum += amount * each;
        }
        for (sum, each) in self.carried.iter_mut().zip(carried) {
            *sum += amount * each;
        }
        self
    }
}

/// ml of the sums' masses, without ice.
pub fn volume_of(sums: &Sums) -> f64 {
    volume(sums.ethanol, sums.water, sums.solids, sums.acid)
}

/// A drink in the glass: the sums, the melt and the volume.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glass {
    pub sums: Sums,
    pub melt: f64,
    /// Of the ice in the glass.
    pub of_ice: f64,
    pub volume: f64,
}

impl Glass {
    /// Lets the ice melt in.
    pub fn fill(brief: &Brief, sums: Sums) -> Self {
        let strength = if sums.worked > 0.0 { sums.strength / sums.worked } else { 0.0 };
        let on_glass_ice = brief.serve.ice.is_some() && brief.serve.melt.is_none();
        let share = match brief.serve.method {
            Method::Build if on_glass_ice => 0.0,
            method => melt_share(method, brief.serve.melt, strength),
        };
        let melt = sums.worked * share;
        let water = sums.water + melt * ETHANOL_WATER[0] / 1000.0;
        let of_ice = from_the_glass(brief, &sums, melt);
        let water = water + of_ice * ETHANOL_WATER[0] / 1000.0;
        let volume = volume(sums.ethanol, water, sums.solids, sums.acid) + sums.excess;
        Self { sums, melt: melt + of_ice, of_ice, volume }
    }

    /// The value of a measure, in its unit.
    pub fn value(&self, brief: &Brief, measure: Measure) -> f64 {
        let sums = &self.sums;
        let litre = self.volume / 1000.0;
        match measure {
            Measure::Volume => self.volume,
            Measure::Strength => 100.0 * sums.ethanol / spirit_density(1.0) / self.volume,
            Measure::Sugar => sums.sugars / litre,
            Measure::Sweetness => sums.sweet / litre,
            Measure::Acid => sums.acid / litre,
            Measure::SugarAcid => sums.sugars / sums.acid,
            Measure::Cost => sums.cost,
            Measure::PourCost => match brief.menu {
                // The tax is a share of the net price.
                Some(menu) => 100.0 * sums.cost * (1.0 + menu.tax / 100.0) / menu.price,
                None => f64::NAN,
            },
            Measure::Energy => sums.kcal,
            Measure::Ethanol => sums.ethanol,
            Measure::Melt => self.melt,
            // The melt of the ice in the glass leaves its room: 0.9167 g/ml, CRC Handbook.
            Measure::Level => self.volume - self.of_ice * ETHANOL_WATER[0] / 1000.0 / 0.9167,
            Measure::Property(at) => match brief.properties[at].per {
                Per::Serve => sums.carried[at],
                Per::Litre => sums.carried[at] / litre,
            },
        }
    }
}

/// What one ml (or g) of a candidate carries of each property.
pub fn carried(candidate: &Candidate) -> [f64; PROPERTIES] {
    let mut all = [0.0; PROPERTIES];
    for (slot, per_litre) in all.iter_mut().zip(&candidate.carries) {
        *slot = per_litre / 1000.0;
    }
    all
}

/// Measures pours from nothing but the brief: `(candidate, amount)`.
pub fn measure(brief: &Brief, pours: impl IntoIterator<Item = (usize, f64)>) -> Glass {
    assert!(brief.properties.len() <= PROPERTIES, "more properties than these tests hold");
    let sums = pours.into_iter().fold(Sums::default(), |sums, (at, amount)| {
        let candidate = &brief.candidates[at];
        sums.plus(amount, &contents(candidate), &carried(candidate))
    });
    Glass::fill(brief, sums)
}

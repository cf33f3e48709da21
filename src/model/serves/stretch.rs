//! Serves of one spec a stretch at a time, figure by figure: the same sums in the same order as one by one, so the same
//! to the last bit, in a fraction of the time.

use super::draws::BLOCK;
use super::{Cause, Serves};
use crate::brief::{Measure, Per, Pour, Varies};
use crate::liquid::{Masses, Melting, Portion, ethanol, ice};
use crate::model::Limit;

/// So many serves are gone over at once; a block is whole stretches.
pub(super) const LONG: usize = 100;

/// Which serves.
#[derive(Debug, Clone, Copy)]
pub(super) struct Which<'n> {
    /// Their numbers: at least one and at most [`LONG`], all of one block.
    pub numbers: &'n [usize],
    /// The lot that all of them are from, where they have one in common.
    pub lot: Option<usize>,
}

impl<'n> Which<'n> {
    /// Serves in ascending order, stretch by stretch.
    pub fn all(numbers: &'n [usize]) -> impl Iterator<Item = Self> {
        numbers
            .chunk_by(|a, b| a / BLOCK == b / BLOCK)
            .flat_map(|block| block.chunks(LONG))
            .map(|numbers| Self { numbers, lot: None })
    }

    /// The block that all of them are of.
    fn block(&self) -> usize {
        self.numbers.first().map_or(0, |number| number / BLOCK)
    }

    /// Where they stand in their block.
    fn places(&self) -> impl Iterator<Item = usize> + 'n {
        self.numbers.iter().map(|number| number % BLOCK)
    }
}

type Figures = [f64; LONG];

/// The sums of a stretch of serves.
#[derive(Debug)]
pub(super) struct Stretch {
    count: usize,
    amount: Figures,
    ethanol: Figures,
    water: Figures,
    solids: Figures,
    acid: Figures,
    poured: Figures,
    sugars: Figures,
    sweet: Figures,
    energy: Figures,
    brought: Figures,
    excess: Figures,
    worked: Figures,
    alcohol: Figures,
    melt: Figures,
    glass_melt: Figures,
    volume: Figures,
    cost: Figures,
    carried: Vec<Figures>,
}

impl Stretch {
    pub fn new(properties: usize) -> Self {
        let none = [0.0; LONG];
        Self {
            count: 0,
            amount: none,
            ethanol: none,
            water: none,
            solids: none,
            acid: none,
            poured: none,
            sugars: none,
            sweet: none,
            energy: none,
            brought: none,
            excess: none,
            worked: none,
            alcohol: none,
            melt: none,
            glass_melt: none,
            volume: none,
            cost: none,
            carried: vec![none; properties],
        }
    }
}

/// `sum += amount · figure`, serve by serve.
fn add(sum: &mut Figures, amount: &[f64], figure: f64) {
    sum.iter_mut().zip(amount).for_each(|(sum, amount)| *sum += amount * figure);
}

impl Serves<'_> {
    /// Pours a stretch of serves, were only those causes at work that `moves` names.
    pub(super) fn pour(
        &self,
        pours: &[Pour],
        which: Which,
        moves: &dyn Fn(Cause) -> bool,
        stretch: &mut Stretch,
    ) {
        let carried = std::mem::take(&mut stretch.carried);
        let properties = carried.len();
        *stretch = Stretch::new(0);
        stretch.carried = carried;
        stretch.carried.iter_mut().for_each(|carried| *carried = [0.0; LONG]);
        stretch.count = which.numbers.len();
        let melting = self.brief.serve.melting();
        for pour in pours {
            self.amounts(pour, which, moves, stretch);
            let candidate = &self.brief.candidates[pour.candidate];
            let cost = candidate.cost_per_unit.unwrap_or(f64::NAN);
            add(&mut stretch.cost, &stretch.amount[..stretch.count], cost);
            for at in 0..properties {
                add(&mut stretch.carried[at], &stretch.amount[..stretch.count], candidate.carried(at));
            }
            let own = candidate.spread.varies == Varies::Serve;
            let varies = moves(Cause::Nature(pour.candidate));
            match (varies, which.lot.filter(|_| !own)) {
                (false, _) => stretch.add_all(&candidate.portion, melting),
                (true, Some(lot)) => {
                    let natural = self.natural(pour.candidate, lot).unwrap_or(&candidate.portion);
                    stretch.add_all(natural, melting);
                }
                (true, None) => {
                    let portions = &self.drawn(pour.candidate, which.block()).portions;
                    if portions.is_empty() {
                        stretch.add_all(&candidate.portion, melting);
                    } else {
                        stretch.add_each(which.places().filter_map(|at| portions.get(at)), melting);
                    }
                }
            }
        }
        self.melt(which, moves(Cause::Ice), melting, stretch);
        volumes(stretch);
    }

    fn amounts(&self, pour: &Pour, which: Which, moves: &dyn Fn(Cause) -> bool, stretch: &mut Stretch) {
        let normals = &self.drawn(pour.candidate, which.block()).normals;
        let amounts = &mut stretch.amount[..which.numbers.len()];
        if normals.is_empty() || !moves(Cause::Pour(pour.candidate)) {
            amounts.fill(pour.amount.max(0.0));
            return;
        }
        let error = self.hand.error(pour.candidate, pour.amount);
        for (amount, at) in amounts.iter_mut().zip(which.places()) {
            // Nobody pours less than nothing.
            *amount = (pour.amount + normals.get(at).map_or(0.0, |normal| normal * error)).max(0.0);
        }
    }

    /// The water from the ice.
    fn melt(&self, which: Which, moves: bool, melting: Melting, stretch: &mut Stretch) {
        let ice = self.ice(which.block());
        for (at, place) in which.places().enumerate() {
            let by = if moves { ice.at(place) } else { (0.0, 0.0) };
            let melting = melting.shifted(by);
            let worked = stretch.worked[at];
            let strength = if worked > 0.0 { stretch.alcohol[at] / worked } else { 0.0 };
            let melt = melting.working.at(strength) * worked;
            stretch.melt[at] = melt;
            stretch.water[at] += melt * ethanol::WATER;
            let Some(glass) = melting.glass else { continue };
            let heat = stretch.brought[at] + glass.worked_water() * melt * ethanol::WATER;
            let masses =
                Masses { ethanol: stretch.ethanol[at], water: stretch.water[at], ..Masses::default() };
            let more = glass.melt(&masses, heat) / ethanol::WATER + glass.more * stretch.poured[at];
            stretch.glass_melt[at] = more.max(0.0);
            stretch.melt[at] += stretch.glass_melt[at];
            stretch.water[at] += stretch.glass_melt[at] * ethanol::WATER;
        }
    }

    /// The values of a measure in a stretch that has been poured.
    pub(super) fn values(&self, measure: Measure, stretch: &Stretch) -> Figures {
        let mut values = [0.0; LONG];
        for (at, value) in values.iter_mut().enumerate().take(stretch.count) {
            *value = self.value(measure, stretch, at);
        }
        values
    }

    fn value(&self, measure: Measure, of: &Stretch, at: usize) -> f64 {
        let volume = of.volume[at];
        let per_volume = |mass: f64| if volume > 0.0 { mass / volume } else { f64::NAN };
        match measure {
            Measure::Volume => volume,
            Measure::Strength => per_volume(100.0 * of.ethanol[at] / ethanol::PURE),
            Measure::Sugar => per_volume(1000.0 * of.sugars[at]),
            Measure::Sweetness => per_volume(1000.0 * of.sweet[at]),
            Measure::Acid => per_volume(1000.0 * of.acid[at]),
            Measure::SugarAcid => of.sugars[at] / of.acid[at],
            Measure::Cost => of.cost[at],
            Measure::PourCost => self.brief.menu.map_or(f64::NAN, |menu| 100.0 * of.cost[at] / menu.net()),
            Measure::Energy => of.energy[at],
            Measure::Ethanol => of.ethanol[at],
            Measure::Melt => of.melt[at],
            Measure::Level => volume - of.glass_melt[at] * ice::PER_MELT,
            Measure::Property(property) => {
                let carried = of.carried.get(property).map_or(f64::NAN, |carried| carried[at]);
                match self.brief.properties.get(property).map(|property| property.per) {
                    Some(Per::Serve) => carried,
                    Some(Per::Litre) => per_volume(1000.0 * carried),
                    None => f64::NAN,
                }
            }
        }
    }

    /// Which serves of a stretch that has been poured meet all limits.
    pub(super) fn within(&self, limits: &[Limit], stretch: &Stretch) -> [bool; LONG] {
        let mut within = [true; LONG];
        let mut values: Option<(Measure, Figures)> = None;
        for limit in limits {
            let known = values.take().filter(|(measure, _)| *measure == limit.measure);
            let (measure, figures) =
                known.unwrap_or_else(|| (limit.measure, self.values(limit.measure, stretch)));
            within
                .iter_mut()
                .zip(&figures)
                .take(stretch.count)
                .for_each(|(within, value)| *within &= limit.met_by(*value));
            values = Some((measure, figures));
        }
        within[stretch.count..].fill(false);
        within
    }
}

impl Stretch {
    /// Adds the same portion in every serve.
    fn add_all(&mut self, portion: &Portion, melting: Melting) {
        let m = &portion.masses;
        let amount = &self.amount[..self.count];
        add(&mut self.ethanol, amount, m.ethanol);
        add(&mut self.water, amount, m.water);
        add(&mut self.solids, amount, m.solids);
        add(&mut self.acid, amount, m.acid);
        add(&mut self.poured, amount, portion.poured);
        add(&mut self.sugars, amount, portion.sugars);
        add(&mut self.sweet, amount, portion.sweet);
        add(&mut self.energy, amount, portion.energy);
        if let Some(glass) = melting.glass {
            add(&mut self.brought, amount, glass.brought(portion));
        }
        add(&mut self.excess, amount, portion.excess);
        add(&mut self.worked, amount, portion.worked);
        let alcohol = self.alcohol.iter_mut().zip(amount);
        alcohol.for_each(|(sum, amount)| *sum += amount * portion.worked * portion.strength);
    }

    /// Adds another portion in each serve.
    fn add_each<'p>(&mut self, portions: impl Iterator<Item = &'p Portion>, melting: Melting) {
        for (at, portion) in portions.enumerate() {
            let (m, amount) = (&portion.masses, self.amount[at]);
            self.ethanol[at] += amount * m.ethanol;
            self.water[at] += amount * m.water;
            self.solids[at] += amount * m.solids;
            self.acid[at] += amount * m.acid;
            self.poured[at] += amount * portion.poured;
            self.sugars[at] += amount * portion.sugars;
            self.sweet[at] += amount * portion.sweet;
            self.energy[at] += amount * portion.energy;
            self.brought[at] += melting.glass.map_or(0.0, |glass| amount * glass.brought(portion));
            self.excess[at] += amount * portion.excess;
            self.worked[at] += amount * portion.worked;
            self.alcohol[at] += amount * portion.worked * portion.strength;
        }
    }
}

/// The served volumes.
fn volumes(stretch: &mut Stretch) {
    let all = ..stretch.count;
    let masses = (&stretch.ethanol[all], &stretch.water[all], &stretch.solids[all], &stretch.acid[all]);
    Masses::volumes(masses, &mut stretch.volume[all]);
    stretch.volume[all].iter_mut().zip(&stretch.excess).for_each(|(volume, excess)| *volume += excess);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::brief::{Served, serve_on};
    use crate::model::serves::{Run, SERVES};
    use crate::read::read;

    /// A serve by itself, measured as every spec is.
    fn one(
        serves: &Serves,
        pours: &[Pour],
        number: usize,
        lot: usize,
        moves: &dyn Fn(Cause) -> bool,
    ) -> Served {
        let brief = serves.brief;
        let off = |pour: &Pour| {
            let normals = &serves.drawn(pour.candidate, number / BLOCK).normals;
            let moved = normals.get(number % BLOCK).filter(|_| moves(Cause::Pour(pour.candidate)));
            moved.map_or(0.0, |normal| normal * serves.hand.error(pour.candidate, pour.amount))
        };
        let poured: Vec<Pour> =
            pours.iter().map(|pour| Pour { amount: (pour.amount + off(pour)).max(0.0), ..*pour }).collect();
        let portion = |candidate: usize| {
            let own = brief.candidates[candidate].spread.varies == Varies::Serve;
            let natural = serves.natural(candidate, if own { number } else { lot });
            natural
                .filter(|_| moves(Cause::Nature(candidate)))
                .unwrap_or(&brief.candidates[candidate].portion)
        };
        let by = if moves(Cause::Ice) { serves.ice(number / BLOCK).at(number % BLOCK) } else { (0.0, 0.0) };
        serve_on(brief, &poured, portion, brief.serve.melting().shifted(by))
    }

    /// Up and on ice, with gas and powder, fruit and properties: each measure of each serve is what it is by itself, to the
    /// last bit, whatever is at work.
    #[test]
    fn a_serve_among_others_is_the_serve_by_itself() {
        let demos = [
            include_str!("../../../problems-demo/low-strength.toml"),
            include_str!("../../../problems-demo/stirred-budget.toml"),
            include_str!("../../../problems-demo/caffeine-free.toml"),
        ];
        for text in demos {
            for served in ["", "up", "on ice"] {
                let text = if served.is_empty() {
                    text.to_owned()
                } else {
                    text.replacen("[serve]", &format!("[serve]\nserved = \"{served}\""), 1)
                };
                let Ok(reading) = read(text.as_bytes(), &[]) else { continue };
                let brief = reading.brief;
                let pours: Vec<Pour> = brief
                    .usable()
                    .take(7)
                    .map(|candidate| Pour { candidate, amount: 3.0 + candidate as f64 })
                    .collect();
                let serves = Serves::new(&brief, Run::First);
                let measures =
                    Measure::BUILT_IN.into_iter().chain((0..brief.properties.len()).map(Measure::Property));
                let measures: Vec<Measure> = measures.chain([Measure::Level]).collect();
                let mut stretch = serves.stretch();
                let last = pours.last().expect("pours").candidate;
                let all: [&dyn Fn(Cause) -> bool; 3] =
                    [&|_| true, &|cause| cause != Cause::Ice, &|cause| cause == Cause::Pour(last)];
                for moves in all {
                    let dense: Vec<usize> = (0..LONG).collect();
                    let sparse: Vec<usize> = (0..33).map(|at| SERVES - BLOCK + 15 * at).collect();
                    let of_lot: Vec<usize> = (1234..1300).collect();
                    for (numbers, lot) in [(&dense, None), (&sparse, None), (&of_lot, Some(400))] {
                        serves.pour(&pours, Which { numbers, lot }, moves, &mut stretch);
                        for measure in &measures {
                            let values = serves.values(*measure, &stretch);
                            for (number, value) in numbers.iter().zip(values) {
                                let alone = one(&serves, &pours, *number, lot.unwrap_or(*number), moves);
                                let alone = alone.value(*measure);
                                let same =
                                    alone.to_bits() == value.to_bits() || alone.is_nan() && value.is_nan();
                                assert!(same, "{measure:?}, serve {number}: {alone} and {value}");
                            }
                        }
                    }
                }
            }
        }
    }
}

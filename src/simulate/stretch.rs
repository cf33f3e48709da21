//! Serves of one spec a stretch at a time, figure by figure: the same sums in the same order as one by one, so the same
//! to the last bit, in a fraction of the time.

use super::draws::{BLOCK, HEAT, SUMS, brings, heat};
use super::{Cause, Serves};
use crate::brief::{Limit, Measure, Per, Pour, Varies};
use crate::liquid::{Masses, Melting, ethanol, ice};

/// So many serves are gone over at once; a block is whole stretches.
pub(super) const LONG: usize = 100;

/// Which serves.
#[derive(Debug, Clone, Copy)]
pub(super) struct Which<'n> {
    /// Their numbers in ascending order: at least one and at most [`LONG`], all of one block.
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

    /// Their figures of a block's, picked where they do not stand beside each other.
    fn of<'f>(&self, block: &'f [f64], picked: &'f mut Figures) -> &'f [f64] {
        let (first, count) = (self.places().next().unwrap_or(0), self.numbers.len());
        if self.places().last() == Some(first + count - 1) {
            return &block[first..first + count];
        }
        picked.iter_mut().zip(self.places()).for_each(|(picked, at)| *picked = block[at]);
        &picked[..count]
    }
}

type Figures = [f64; LONG];

/// The sums of a stretch of serves.
#[derive(Debug)]
pub(super) struct Stretch {
    count: usize,
    amount: Figures,
    /// Of what is poured, in the order of [`brings`]; to the water comes what melts.
    sums: [Figures; SUMS],
    melt: Figures,
    glass_melt: Figures,
    volume: Figures,
    cost: Figures,
    carried: Vec<Figures>,
}

impl Stretch {
    /// A figure of each serve.
    fn each(&self, figure: impl Fn(usize) -> f64) -> Figures {
        let mut figures = [0.0; LONG];
        figures.iter_mut().take(self.count).enumerate().for_each(|(at, own)| *own = figure(at));
        figures
    }
}

/// `sum += amount · figure`, serve by serve.
fn add(sum: &mut Figures, amount: &[f64], figure: f64) {
    if figure == 0.0 {
        return;
    }
    sum.iter_mut().zip(amount).for_each(|(sum, amount)| *sum += amount * figure);
}

/// The same, with a figure of each serve's own.
fn add_each(sum: &mut Figures, amount: &[f64], figures: &[f64]) {
    sum.iter_mut().zip(amount).zip(figures).for_each(|((sum, amount), figure)| *sum += amount * figure);
}

impl Serves<'_> {
    /// Room for the sums of a stretch.
    pub(super) fn stretch(&self) -> Stretch {
        let none = [0.0; LONG];
        Stretch {
            count: 0,
            amount: none,
            sums: [none; SUMS],
            melt: none,
            glass_melt: none,
            volume: none,
            cost: none,
            carried: vec![none; self.brief.properties.len()],
        }
    }

    /// Pours a stretch of serves, were only those causes at work that `moves` names.
    pub(super) fn pour(
        &self,
        pours: &[Pour],
        which: Which,
        moves: &dyn Fn(Cause) -> bool,
        stretch: &mut Stretch,
    ) {
        stretch.count = which.numbers.len();
        let all = stretch.sums.iter_mut().chain([&mut stretch.cost]).chain(&mut stretch.carried);
        all.for_each(|sum| *sum = [0.0; LONG]);
        let melting = self.brief.serve.melting();
        for pour in pours {
            self.amounts(pour, which, moves, stretch);
            let amount = &stretch.amount[..stretch.count];
            let candidate = &self.brief.candidates[pour.candidate];
            add(&mut stretch.cost, amount, candidate.cost_per_unit.unwrap_or(f64::NAN));
            for (at, carried) in stretch.carried.iter_mut().enumerate() {
                add(carried, amount, candidate.carried(at));
            }
            let varies = moves(Cause::Nature(pour.candidate));
            let lot = which.lot.filter(|_| candidate.spread.varies != Varies::Serve);
            let alike = match lot.or(which.numbers.first().copied()) {
                Some(serve) if varies => self.natural(pour.candidate, serve),
                _ => None,
            };
            let alike = alike.unwrap_or_else(|| brings(&candidate.portion));
            let drawn = self.drawn(pour.candidate, which.block());
            let each = Some(drawn).filter(|drawn| varies && lot.is_none() && drawn.differs());
            let mut picked = [0.0; LONG];
            for (figure, sum) in stretch.sums.iter_mut().enumerate() {
                match (figure, melting.glass, each.and_then(|drawn| drawn.column(figure))) {
                    (HEAT, None, _) => {}
                    // What a serve of its own brings over the ice in the glass is no column.
                    (HEAT, Some(glass), _) => {
                        for (picked, at) in picked.iter_mut().zip(which.places()) {
                            let brings = each.and_then(|drawn| drawn.at(at)).unwrap_or(alike);
                            *picked = heat(&brings, candidate.portion.stage, &glass);
                        }
                        add_each(sum, amount, &picked);
                    }
                    (_, _, Some(column)) => add_each(sum, amount, which.of(column, &mut picked)),
                    (_, _, None) => add(sum, amount, alike[figure]),
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
        let mut picked = [0.0; LONG];
        for (amount, normal) in amounts.iter_mut().zip(which.of(normals, &mut picked)) {
            // Nobody pours less than nothing.
            *amount = (pour.amount + normal * error).max(0.0);
        }
    }

    /// The water from the ice.
    fn melt(&self, which: Which, moves: bool, melting: Melting, stretch: &mut Stretch) {
        let ice = self.ice(which.block());
        let [ethanol, water, _, _, _, worked, alcohol, _, _, _, heat, poured] = &mut stretch.sums;
        for (at, place) in which.places().enumerate() {
            let (by, more) = if moves { ice.at(place) } else { (0.0, 0.0) };
            let strength = if worked[at] > 0.0 { alcohol[at] / worked[at] } else { 0.0 };
            let melt = melting.working.shifted(by).at(strength) * worked[at];
            stretch.melt[at] = melt;
            water[at] += melt * ethanol::WATER;
            let Some(glass) = &melting.glass else { continue };
            let heat = heat[at] + glass.worked_water() * melt * ethanol::WATER;
            let masses = Masses { ethanol: ethanol[at], water: water[at], ..Masses::default() };
            let more = glass.melt(&masses, heat) / ethanol::WATER + (glass.more + more) * poured[at];
            stretch.glass_melt[at] = more.max(0.0);
            stretch.melt[at] += stretch.glass_melt[at];
            water[at] += stretch.glass_melt[at] * ethanol::WATER;
        }
    }

    /// The values of a measure in a stretch that has been poured.
    pub(super) fn values(&self, measure: Measure, of: &Stretch) -> Figures {
        let [ethanol, _, _, acid, _, _, _, sugars, sweet, energy, ..] = &of.sums;
        let per_volume = |part: &Figures, times: f64| {
            of.each(|at| if of.volume[at] > 0.0 { times * part[at] / of.volume[at] } else { f64::NAN })
        };
        match measure {
            Measure::Volume => of.volume,
            Measure::Strength => per_volume(&of.each(|at| 100.0 * ethanol[at] / ethanol::PURE), 1.0),
            Measure::Sugar => per_volume(sugars, 1000.0),
            Measure::Sweetness => per_volume(sweet, 1000.0),
            Measure::Acid => per_volume(acid, 1000.0),
            Measure::SugarAcid => of.each(|at| sugars[at] / acid[at]),
            Measure::Cost => of.cost,
            Measure::PourCost => {
                let net = self.brief.menu.map_or(f64::NAN, |menu| menu.net());
                of.each(|at| 100.0 * of.cost[at] / net)
            }
            Measure::Energy => *energy,
            Measure::Ethanol => *ethanol,
            Measure::Melt => of.melt,
            Measure::Level => of.each(|at| of.volume[at] - of.glass_melt[at] * ice::PER_MELT),
            Measure::Property(property) => {
                let per = self.brief.properties.get(property).map(|property| property.per);
                match (of.carried.get(property), per) {
                    (Some(carried), Some(Per::Serve)) => *carried,
                    (Some(carried), Some(Per::Litre)) => per_volume(carried, 1000.0),
                    _ => [f64::NAN; LONG],
                }
            }
        }
    }

    /// Which serves of a stretch that has been poured meet all limits.
    pub(super) fn within(&self, limits: &[Limit], stretch: &Stretch) -> [bool; LONG] {
        let mut within = [true; LONG];
        for of_measure in limits.chunk_by(|a, b| a.measure == b.measure) {
            let values = self.values(of_measure[0].measure, stretch);
            for limit in of_measure {
                let each = within.iter_mut().zip(&values).take(stretch.count);
                each.for_each(|(within, value)| *within &= limit.met_by(*value));
            }
        }
        within[stretch.count..].fill(false);
        within
    }
}

/// The served volumes.
fn volumes(stretch: &mut Stretch) {
    let all = ..stretch.count;
    let [ethanol, water, solids, acid, excess, ..] = &stretch.sums;
    Masses::volumes((&ethanol[all], &water[all], &solids[all], &acid[all]), &mut stretch.volume[all]);
    stretch.volume[all].iter_mut().zip(excess).for_each(|(volume, excess)| *volume += excess);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::brief::{Candidate, Served, serve_on};
    use crate::liquid::Portion;
    use crate::read::read;
    use crate::simulate::{Run, SERVES};

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
        let natural = |(at, candidate): (usize, &Candidate)| {
            let own = candidate.spread.varies == Varies::Serve;
            let natural = serves.portion(at, if own { number } else { lot });
            if moves(Cause::Nature(at)) { natural } else { candidate.portion }
        };
        let natural: Vec<Portion> = brief.candidates.iter().enumerate().map(natural).collect();
        let portion = |candidate: usize| &natural[candidate];
        let by = if moves(Cause::Ice) { serves.ice(number / BLOCK).at(number % BLOCK) } else { (0.0, 0.0) };
        serve_on(brief, &poured, portion, brief.serve.melting().shifted(by))
    }

    /// Up and on ice, with gas and powder, fruit and properties: each measure of each serve is what it is by itself, to the
    /// last bit, whatever is at work.
    #[test]
    fn a_serve_among_others_is_the_serve_by_itself() {
        let demos = [
            include_str!("../../problems-demo/low-strength.toml"),
            include_str!("../../problems-demo/stirred-budget.toml"),
            include_str!("../../problems-demo/caffeine-free.toml"),
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

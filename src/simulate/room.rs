//! How much room a limit needs before a share of the serves can meet it: what every spec of a region
//! must keep free, so that the search need not look at those that do not.
//!
//! A spec x passes when at least K serves meet all limits, so at least K meet each. Let g(x) ≥ 0 be the
//! limit (for sugar of at least L: sugar - L·volume) and d(ω) the most that serve ω can add to g anywhere
//! in the region. Then K serves have g(x) + d(ω) ≥ 0, so g(x) ≥ -d of the K-th largest d.
//!
//! d is bounded by the mean value theorem: the volume changes by partial volumes at a composition in
//! between, times the change of the masses; partial volumes depend on two mass fractions alone, and lie
//! between their values over a generous range of these. The melt likewise.

use super::draws::{BLOCK, BLOCKS, Brings, Drawn, HEAT, SUMS, brings, heat};
use super::span::Span;
use super::{SERVES, Serves, on_threads, threads};
use crate::brief::{Limit, Measure, Per, Side};
use crate::liquid::ice::{self, Balance};
use crate::liquid::{CITRIC_VOLUME, Melting, Stage, ethanol, sucrose};

/// Amounts and compositions that the specs of one ingredient set can have, all of them typical.
/// Pairs are (least, greatest).
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    /// Candidates, each with its least and greatest amount, ml or g.
    pub pours: Vec<(usize, f64, f64)>,
    /// Volume on the working ice, ml.
    pub worked: (f64, f64),
    /// Its strength before the ice.
    pub before: (f64, f64),
    /// Mass fraction of ethanol in ethanol and water, as served.
    pub spirit: (f64, f64),
    /// Mass fraction of sweet solids in those and water, as served.
    pub syrup: (f64, f64),
}

/// Serves that change a mass by more than this share are not bounded: they count as met.
const CHANGE: f64 = 0.25;
/// By which factor a mass fraction then changes at most: one mass grows, the other shrinks.
const FRACTION: f64 = (1.0 + CHANGE) / (1.0 - CHANGE);
/// Over so many steps a partial volume's range is taken.
const STEPS: usize = 64;

/// A pour of a region in the serves of a block.
struct InBlock<'a> {
    candidate: usize,
    low: f64,
    high: f64,
    /// What one unit brings; of heat, into the glass.
    typical: Brings,
    stage: Stage,
    /// Standard deviations of the least and of the greatest pour.
    errors: (f64, f64),
    drawn: &'a Drawn,
}

impl InBlock<'_> {
    /// By how much a pour is off in a serve: the error grows with the amount.
    fn error(&self, at: usize) -> Span {
        let normal = self.drawn.normals.get(at).copied().unwrap_or(0.0);
        Span::of(normal * self.errors.0, normal * self.errors.1)
    }
}

/// How a serve differs from the typical spec, in sums over what is poured.
#[derive(Debug, Clone, Copy)]
struct Change {
    ethanol: Span,
    acid: Span,
    sugars: Span,
    sweet: Span,
    energy: Span,
    volume: Span,
    melt: Span,
    level: Span,
}

/// What the volume and the melt answer to, over a region.
struct Answers {
    ethanol: Span,
    water: Span,
    solids: Span,
    melt_worked: Span,
    melt_alcohol: Span,
    glass: Option<GlassAnswers>,
}

/// What the melt of the ice in the glass (ml) answers to.
struct GlassAnswers {
    balance: Balance,
    heat: Span,
    ethanol: Span,
    water: Span,
}

impl GlassAnswers {
    /// Over a range of mass fractions of ethanol. Between the points of the grid an answer `n/d` of
    /// [`Balance::answers`] moves by no more than half a step times its steepest: `|n'| ≤ 2·C`, `|d'| ≤ C`, with
    /// the curvature's bound C, and `d` no less than [`ice::LEAST`].
    fn over(balance: Balance, (low, high): (f64, f64)) -> Self {
        let half = (high - low) / (2 * STEPS) as f64;
        let range = |figure: &dyn Fn(ice::Answers) -> f64, constant: f64| {
            let values =
                (0..=STEPS).map(|i| figure(balance.answers(low + (high - low) * i as f64 / STEPS as f64)));
            let span = values.fold(Span { low: f64::INFINITY, high: f64::NEG_INFINITY }, |s, v| Span {
                low: s.low.min(v),
                high: s.high.max(v),
            });
            let size = span.low.abs().max(span.high.abs());
            let pad = half * (constant + size) * ice::CURVATURE / ice::LEAST;
            Span { low: span.low - pad, high: span.high + pad }.times(1.0 / ethanol::WATER)
        };
        Self {
            balance,
            heat: range(&|a| a.heat, 0.0),
            ethanol: range(&|a| a.ethanol, 2.0),
            water: range(&|a| a.water, 2.0),
        }
    }
}

impl Answers {
    fn over(region: &Region, melting: Melting) -> Self {
        let dilution = melting.working;
        let wide = |(low, high): (f64, f64)| (low / FRACTION, (high * FRACTION).min(1.0));
        let (p, b) = (wide(region.spirit), wide(region.syrup));
        let range = |(low, high): (f64, f64), curvature: f64, figure: &dyn Fn(f64) -> f64| {
            let at = |i: usize| figure(low + (high - low) * i as f64 / STEPS as f64);
            let values = (0..=STEPS).map(at);
            let span = values.fold(Span { low: f64::INFINITY, high: f64::NEG_INFINITY }, |s, v| Span {
                low: s.low.min(v),
                high: s.high.max(v),
            });
            // A partial volume changes at most by the curvature of its specific volume: half a step on.
            let pad = curvature * (high - low) / (2 * STEPS) as f64;
            Span { low: span.low - pad, high: span.high + pad }
        };
        // The partial volumes of `Masses::partial_volumes`, each a function of one mass fraction.
        let of_spirit = |p: f64| ethanol::specific_volume(p);
        let of_syrup = |b: f64| sucrose::specific_volume(b);
        let spirit_water = range(p, ethanol::CURVATURE, &|p| of_spirit(p).0 - p * of_spirit(p).1);
        let syrup_water = range(b, sucrose::CURVATURE, &|b| of_syrup(b).0 - b * of_syrup(b).1);
        let (low, high) = wide(region.before);
        // D is concave: D - A·D' rises with A, and D' falls.
        let share = |a: f64| dilution.at(a) - a * dilution.slope(a);
        Self {
            ethanol: range(p, ethanol::CURVATURE, &|p| of_spirit(p).0 + (1.0 - p) * of_spirit(p).1),
            water: spirit_water
                .plus(syrup_water)
                .plus(Span::of(-1.0 / ethanol::WATER, -1.0 / ethanol::WATER)),
            solids: range(b, sucrose::CURVATURE, &|b| of_syrup(b).0 + (1.0 - b) * of_syrup(b).1),
            melt_worked: Span::of(share(low), share(high)),
            melt_alcohol: Span::of(dilution.slope(low), dilution.slope(high)),
            glass: melting.glass.map(|balance| GlassAnswers::over(balance, p)),
        }
    }
}

/// What the serves can add to the room of each limit, at the most, and what that asks of a spec. Room is
/// `sum - limit·over` of ratios, the value less the limit of the others; with the sign turned where the
/// limit is a greatest value.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    /// The room that a spec has to leave at each limit. Never less than nothing.
    pub needed: Vec<f64>,
    /// What each serve can add, limit by limit.
    pub(super) gains: Vec<Vec<f64>>,
    /// So many serves have to meet all limits.
    wanted: usize,
}

impl Room {
    /// Whether enough serves may meet all limits of a spec that leaves so much room; where not, they do
    /// not.
    pub fn may_do(&self, left: &[f64]) -> bool {
        // A pad for rounding: what is doubtful is left to the serves themselves.
        let lacks: Vec<f64> = left.iter().map(|left| -left - 1e-6 * (1.0 + left.abs())).collect();
        let mut may_miss = SERVES.saturating_sub(self.wanted);
        for from in (0..SERVES).step_by(BLOCK) {
            let mut missed = [false; BLOCK];
            for (gains, lacks) in self.gains.iter().zip(&lacks) {
                let gains = gains.get(from..from + BLOCK).unwrap_or_default();
                missed.iter_mut().zip(gains).for_each(|(missed, gain)| *missed |= *gain < *lacks);
            }
            let missed = missed.iter().filter(|missed| **missed).count();
            let Some(left) = may_miss.checked_sub(missed) else { return false };
            may_miss = left;
        }
        true
    }
}

/// How many serves a share is.
pub(super) fn wanted(share: f64) -> usize {
    (share * SERVES as f64 - 1e-6).ceil().max(0.0) as usize
}

impl Serves<'_> {
    /// The room that every spec of a region has to leave so that a share (0 to 1) of the serves can meet
    /// the limits.
    pub fn room(&self, limits: &[Limit], region: &Region, share: f64) -> Room {
        let answers = &Answers::over(region, self.brief.serve.melting());
        let wanted = wanted(share);
        let parts = on_threads(threads(), BLOCKS, |blocks| self.gains(limits, region, answers, blocks));
        let mut gains: Vec<Vec<f64>> = vec![vec![]; limits.len()];
        for part in parts {
            gains.iter_mut().zip(part).for_each(|(gains, part)| gains.extend(part));
        }
        Room { needed: gains.iter().map(|gains| needed(gains.clone(), wanted)).collect(), gains, wanted }
    }

    /// The most that each serve of some blocks can add to the room of each limit.
    fn gains(
        &self,
        limits: &[Limit],
        region: &Region,
        answers: &Answers,
        blocks: std::ops::Range<usize>,
    ) -> Vec<Vec<f64>> {
        let mut gains: Vec<Vec<f64>> =
            limits.iter().map(|_| Vec::with_capacity(blocks.len() * BLOCK)).collect();
        let balance = answers.glass.as_ref().map(|glass| &glass.balance);
        for block in blocks {
            let pours: Vec<InBlock> =
                region.pours.iter().map(|pour| self.in_block(*pour, balance, block)).collect();
            for at in 0..BLOCK {
                let change = self.change(region, answers, &pours, (block, at));
                for (gains, limit) in gains.iter_mut().zip(limits) {
                    gains.push(match &change {
                        Some(change) => self.gain(&pours, at, limit, change),
                        None => f64::INFINITY,
                    });
                }
            }
        }
        gains
    }

    fn in_block(
        &self,
        (candidate, low, high): (usize, f64, f64),
        balance: Option<&Balance>,
        block: usize,
    ) -> InBlock<'_> {
        let portion = &self.brief.candidates[candidate].portion;
        let typical = into_glass(brings(portion), portion.stage, balance);
        let errors = (self.hand.error(candidate, low), self.hand.error(candidate, high));
        let drawn = self.drawn(candidate, block);
        InBlock { candidate, low, high, typical, stage: portion.stage, errors, drawn }
    }

    /// How a serve can differ from the typical spec; nothing where it differs too much to be bounded.
    fn change(
        &self,
        region: &Region,
        answers: &Answers,
        pours: &[InBlock],
        (block, at): (usize, usize),
    ) -> Option<Change> {
        let mut sums = [Span::NOTHING; SUMS];
        let balance = answers.glass.as_ref().map(|glass| &glass.balance);
        let mut least = [0.0; 3];
        for pour in pours {
            let error = pour.error(at);
            if pour.low + error.low < 0.0 {
                return None;
            }
            match pour.drawn.at(at).map(|natural| into_glass(natural, pour.stage, balance)) {
                None => sums
                    .iter_mut()
                    .zip(pour.typical)
                    .for_each(|(sum, typical)| *sum = sum.plus(error.times(typical))),
                Some(natural) => {
                    for ((sum, typical), natural) in sums.iter_mut().zip(pour.typical).zip(natural) {
                        let by = natural - typical;
                        *sum = sum.plus(error.times(natural)).plus(Span::of(by * pour.low, by * pour.high));
                    }
                }
            }
            least.iter_mut().zip(pour.typical).for_each(|(least, figure)| *least += pour.low * figure);
        }
        let [ethanol, water, solids, acid, excess, worked, alcohol, sugars, sweet, energy, brought, poured] =
            sums;
        let small = |change: Span, least: f64| change.low.abs().max(change.high.abs()) <= CHANGE * least;
        let (ice, glass_ice) = self.ice(block).at(at);
        let all = Span::of(region.worked.0, region.worked.1);
        let melt = answers
            .melt_worked
            .by(worked)
            .plus(answers.melt_alcohol.by(alcohol))
            .plus(all.plus(worked).times(ice));
        let water = water.plus(melt.times(ethanol::WATER));
        let glass = answers.glass.as_ref().map_or(Span::NOTHING, |glass| {
            let heat = brought.plus(melt.times(ethanol::WATER * glass.balance.worked_water()));
            let change = glass.heat.by(heat).plus(glass.ethanol.by(ethanol)).plus(glass.water.by(water));
            let most: f64 = region.pours.iter().map(|(_, _, high)| high.max(0.0)).sum();
            let off = Span::of(0.0, glass_ice * most).plus(poured.times(glass_ice));
            // By the heat nothing melts where there is too little of it; and what is off by the ice is off all the same,
            // but for what melts never being less than nothing.
            change.with(0.0).plus(off).with(0.0)
        });
        let melt = melt.plus(glass);
        let water = water.plus(glass.times(ethanol::WATER));
        let alike = small(ethanol, least[0])
            && small(water, least[1])
            && small(solids, least[2])
            && small(worked, region.worked.0);
        if !alike {
            return None;
        }
        let volume = answers
            .ethanol
            .by(ethanol)
            .plus(answers.water.by(water))
            .plus(answers.solids.by(solids))
            .plus(acid.times(CITRIC_VOLUME))
            .plus(excess);
        let level = volume.plus(glass.times(-ice::PER_MELT));
        Some(Change { ethanol, acid, sugars, sweet, energy, volume, melt, level })
    }

    /// The most that a serve can add to a limit's room.
    fn gain(&self, pours: &[InBlock], at: usize, limit: &Limit, change: &Change) -> f64 {
        let signed = |span: Span| if limit.side == Side::Min { span.high } else { -span.low };
        let over = |sum: Span, over: Span| signed(sum.plus(over.times(-limit.value)));
        let sum = |figure: &dyn Fn(usize) -> f64| {
            let each = pours.iter().map(|pour| pour.error(at).times(figure(pour.candidate)));
            each.fold(Span::NOTHING, Span::plus)
        };
        let cost = || sum(&|c| self.brief.candidates[c].cost_per_unit.unwrap_or(0.0));
        match limit.measure {
            Measure::Volume => signed(change.volume),
            Measure::Melt => signed(change.melt),
            Measure::Level => signed(change.level),
            Measure::Strength => over(change.ethanol.times(100.0 / ethanol::PURE), change.volume),
            Measure::Sugar => over(change.sugars.times(1000.0), change.volume),
            Measure::Sweetness => over(change.sweet.times(1000.0), change.volume),
            Measure::Acid => over(change.acid.times(1000.0), change.volume),
            Measure::SugarAcid => over(change.sugars, change.acid),
            Measure::Energy => signed(change.energy),
            Measure::Ethanol => signed(change.ethanol),
            Measure::Cost => signed(cost()),
            Measure::PourCost => {
                signed(cost().times(100.0 / self.brief.menu.map_or(f64::NAN, |menu| menu.net())))
            }
            Measure::Property(property) => {
                let carried = sum(&|c| self.brief.candidates[c].carried(property));
                match self.brief.properties[property].per {
                    Per::Serve => signed(carried),
                    Per::Litre => over(carried.times(1000.0), change.volume),
                }
            }
        }
    }
}

/// What is brought, with the heat that comes into the glass; none where no ice melts there.
fn into_glass(mut brings: Brings, stage: Stage, balance: Option<&Balance>) -> Brings {
    brings[HEAT] = balance.map_or(0.0, |balance| heat(&brings, stage, balance));
    brings
}

/// The room that is needed when the `wanted`-th largest gain has to make up for what lacks.
fn needed(mut gains: Vec<f64>, wanted: usize) -> f64 {
    // What is not known counts as a gain without end.
    gains.iter_mut().filter(|gain| gain.is_nan()).for_each(|gain| *gain = f64::INFINITY);
    let at = wanted.min(gains.len()).saturating_sub(1);
    let (_, gain, _) = gains.select_nth_unstable_by(at, |a, b| b.total_cmp(a));
    (0.0 - *gain).max(0.0)
}

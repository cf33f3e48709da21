//! Every pourable spec of a brief, tried one after another. It shares no code with the search: its
//! physics is that of `glass.rs`, its rules are written from the contract. It leaves out only what
//! cannot be poured whatever follows: too many ingredients, or more liquid than the glass or the
//! volume target can take.

use std::collections::BTreeMap;

use std::num::NonZeroUsize;

use washline::brief::{Aim, Brief, Candidate, Goal, HoldFor, Measure, Nearest, Pour};
use washline::liquid::{Form, Stage};
use washline::model::Model;
use washline::simulate::{Run, Serves};

use crate::glass::{Contents, Glass, PROPERTIES, Sums, carried, contents, measure, melt_share};
use crate::levels::{amounts, corners};

/// A limit counts as met within this share of its value; so do ties (the contract).
pub const WITHIN: f64 = 1e-9;
/// No mixture of these liquids loses more than this share of its volume (pure ethanol and water lose
/// 3.7 % at the worst), so a volume below it cannot be what is poured.
const CONTRACTED: f64 = 0.94;
/// More combinations than this are no job for a test.
const TOO_MANY: f64 = 2e7;

/// The best spec of one ingredient set.
#[derive(Debug, Clone)]
pub struct Found {
    /// `(candidate, amount)`, used ones only, in the brief's order.
    pub pours: Vec<(usize, f64)>,
    pub score: f64,
    pub cost: f64,
}

fn at_least(value: f64, limit: f64) -> bool {
    value >= limit - WITHIN * limit.abs()
}

fn at_most(value: f64, limit: f64) -> bool {
    value <= limit + WITHIN * limit.abs()
}

fn tied(a: f64, b: f64) -> bool {
    a == b || (a - b).abs() <= WITHIN * a.abs().max(b.abs())
}

/// Limits on one measure.
#[derive(Debug, Clone, Copy)]
struct Limit {
    measure: Measure,
    min: f64,
    max: f64,
}

/// The amounts in which a candidate can be poured, none included where it may be left out.
fn levels(brief: &Brief, at: usize, cap: f64) -> Vec<f64> {
    let candidate = &brief.candidates[at];
    let mut all = if candidate.must { vec![] } else { vec![0.0] };
    if candidate.out {
        assert!(!candidate.must, "an ingredient that must be used and is out");
        return all;
    }
    let powder = candidate.label.form == Form::Powder;
    let most = candidate.most.unwrap_or(if powder { f64::INFINITY } else { cap });
    assert!(most.is_finite(), "{} has no bound", candidate.name);
    all.extend(amounts(&candidate.step, candidate.least, most));
    all
}

/// The targets, those that `hold` takes from the reference included.
fn limits(brief: &Brief) -> Vec<Limit> {
    let mut all: Vec<Limit> = brief
        .targets
        .iter()
        .map(|t| Limit {
            measure: t.measure,
            min: t.min.unwrap_or(f64::NEG_INFINITY),
            max: t.max.unwrap_or(f64::INFINITY),
        })
        .collect();
    if !brief.hold.is_empty() {
        let reference = brief.reference.as_ref().expect("`hold` needs a reference");
        let glass = measure(brief, reference.pours.iter().map(|p| (p.candidate, p.amount)));
        all.extend(brief.hold.iter().map(|hold| {
            let value = glass.value(brief, hold.measure);
            Limit { measure: hold.measure, min: value - hold.within, max: value + hold.within }
        }));
    }
    all
}

/// What the reference pours of each candidate.
fn reference(brief: &Brief) -> Vec<f64> {
    let mut amounts = vec![0.0; brief.candidates.len()];
    for pour in brief.reference.iter().flat_map(|r| &r.pours) {
        amounts[pour.candidate] += pour.amount;
    }
    amounts
}

/// The search as it stands.
struct Walk<'a> {
    brief: &'a Brief,
    levels: Vec<Vec<f64>>,
    contents: Vec<Contents>,
    /// The same at every corner of the natural ranges, where limits have to hold at all of them.
    corners: Vec<Vec<Contents>>,
    carried: Vec<[f64; PROPERTIES]>,
    limits: Vec<Limit>,
    reference: Vec<f64>,
    /// No more than this is ever poured, ml.
    poured_cap: f64,
    amounts: Vec<f64>,
    best: BTreeMap<u64, Found>,
    /// Every spec, where they are wanted.
    every: Option<Vec<Found>>,
    /// The serves of which a share has to meet the limits; the library's own, since they are the question.
    serves: Serves<'a>,
}

/// The best spec of every ingredient set that meets the brief, in the contract's order: by score,
/// then cost, then fewer ingredients, then names.
pub fn enumerate(brief: &Brief) -> Vec<Found> {
    in_order(brief, walked(brief, None).best.into_values().collect())
}

/// Every pourable spec that meets the brief, in no order.
pub fn every(brief: &Brief) -> Vec<Found> {
    walked(brief, Some(vec![])).every.unwrap_or_default()
}

fn walked(brief: &Brief, every: Option<Vec<Found>>) -> Walk<'_> {
    let limits = limits(brief);
    let cap = volume_cap(brief, &limits);
    let levels: Vec<Vec<f64>> =
        (0..brief.candidates.len()).map(|at| levels(brief, at, cap / CONTRACTED)).collect();
    let combinations: f64 = levels.iter().map(|l| l.len() as f64).product();
    assert!(combinations <= TOO_MANY, "{combinations} combinations");
    let mut walk = Walk {
        brief,
        levels,
        contents: brief.candidates.iter().map(contents).collect(),
        corners: brief.candidates.iter().map(|c| corners(brief, c)).collect(),
        carried: brief.candidates.iter().map(carried).collect(),
        limits,
        reference: reference(brief),
        poured_cap: cap / CONTRACTED / (1.0 + least_melt(brief)),
        amounts: vec![0.0; brief.candidates.len()],
        best: BTreeMap::new(),
        every,
        serves: Serves::new(brief, Run::First),
    };
    walk.down(0, Sums::default());
    walk
}

/// No less ice melts in than this, in ml per ml poured: that of a drink without strength, or nothing where
/// something may top it up.
fn least_melt(brief: &Brief) -> f64 {
    let tops = brief.candidates.iter().any(|c| c.label.stage == Stage::Topped);
    if tops || brief.serve.ice.is_some() {
        0.0
    } else {
        melt_share(brief.serve.method, brief.serve.melt, 0.0)
    }
}

/// The most that may be served, ml.
fn volume_cap(brief: &Brief, limits: &[Limit]) -> f64 {
    let target = limits.iter().filter(|l| l.measure == Measure::Volume).map(|l| l.max);
    // With ice in the glass, at least what has not melted fits beside it: no more than twice the glass.
    let glass = brief.serve.glass.map(|g| match brief.serve.ice {
        Some(_) => 2.0 * g.brim,
        None => g.brim * (100.0 - g.headroom) / 100.0,
    });
    target.chain(glass).fold(f64::INFINITY, f64::min)
}

impl Walk<'_> {
    fn down(&mut self, at: usize, sums: Sums) {
        if sums.poured > self.poured_cap {
            return;
        }
        let Some(count) = self.levels.get(at).map(Vec::len) else {
            return self.leaf(sums);
        };
        for level in 0..count {
            let amount = self.levels[at][level];
            self.amounts[at] = amount;
            let next =
                if amount > 0.0 { sums.plus(amount, &self.contents[at], &self.carried[at]) } else { sums };
            self.down(at + 1, next);
        }
    }

    fn leaf(&mut self, sums: Sums) {
        if !rules_hold(self.brief, &self.amounts) {
            return;
        }
        let glass = Glass::fill(self.brief, sums);
        if !limits_hold(self.brief, &self.limits, &glass) || !self.holds_at_corners(0, Sums::default()) {
            return;
        }
        let score = score(self.brief, &self.limits, &self.reference, &self.amounts, &glass);
        // A ratio over nothing is no score, also where it is without end.
        if !score.is_finite() {
            return;
        }
        let set = self.set();
        let cost = sums.cost;
        if let Some(every) = &mut self.every {
            let pours = self.amounts.iter().copied().enumerate().filter(|&(_, a)| a > 0.0).collect();
            every.push(Found { pours, score, cost });
            return;
        }
        if self.best.get(&set).is_some_and(|old| !self.beats(score, cost, old)) {
            return;
        }
        let pours: Vec<(usize, f64)> =
            self.amounts.iter().copied().enumerate().filter(|&(_, a)| a > 0.0).collect();
        if !self.holds_in_service(&pours) {
            return;
        }
        self.best.insert(set, Found { pours, score, cost });
    }

    /// Whether enough serves are within all targets: every one of them is counted.
    fn holds_in_service(&self, pours: &[(usize, f64)]) -> bool {
        let HoldFor::Share(share) = self.brief.variation.hold else { return true };
        let pours: Vec<Pour> = pours.iter().map(|&(candidate, amount)| Pour { candidate, amount }).collect();
        let tally = self.serves.tally(&pours, &Model::new(self.brief).targets(), NonZeroUsize::MIN);
        tally.within_all as f64 / tally.draws as f64 >= share - 1e-12
    }

    /// Whether the limits hold at every combination of every used ingredient's corners.
    fn holds_at_corners(&self, at: usize, sums: Sums) -> bool {
        if self.brief.variation.hold != HoldFor::Worst {
            return true;
        }
        let Some(&amount) = self.amounts.get(at) else {
            return limits_hold(self.brief, &self.limits, &Glass::fill(self.brief, sums));
        };
        if amount == 0.0 {
            return self.holds_at_corners(at + 1, sums);
        }
        let corner = |c: &Contents| self.holds_at_corners(at + 1, sums.plus(amount, c, &self.carried[at]));
        self.corners[at].iter().all(corner)
    }

    fn set(&self) -> u64 {
        self.amounts.iter().enumerate().fold(0, |set, (at, &a)| set | (u64::from(a > 0.0) << at))
    }

    /// Whether a spec of the same ingredients is better: by score, then by cost.
    fn beats(&self, score: f64, cost: f64, old: &Found) -> bool {
        if tied(score, old.score) {
            return cost < old.cost && !tied(cost, old.cost);
        }
        match self.brief.aim {
            Aim::Highest(_) | Aim::Notes => score > old.score,
            Aim::Lowest(_) | Aim::Nearest(_) => score < old.score,
        }
    }
}

/// Counts and proportions; nothing at all is no drink.
fn rules_hold(brief: &Brief, amounts: &[f64]) -> bool {
    let used = |at: usize| amounts[at] > 0.0;
    let count = (0..amounts.len()).filter(|&at| used(at)).count();
    let few_enough = brief.serve.most.is_none_or(|most| count <= most);
    count > 0
        && few_enough
        && brief.choose.iter().all(|choose| {
            let count = choose.members.iter().filter(|&&at| used(at)).count();
            choose.min.is_none_or(|min| count >= min) && choose.max.is_none_or(|max| count <= max)
        })
        && brief.proportions.iter().all(|p| {
            let (of, to) = (amounts[p.of], amounts[p.to]);
            p.min.is_none_or(|min| at_least(of, min * to)) && p.max.is_none_or(|max| at_most(of, max * to))
        })
}

fn limits_hold(brief: &Brief, limits: &[Limit], glass: &Glass) -> bool {
    let fits = brief.serve.glass.is_none_or(|g| {
        let room = g.brim * (100.0 - g.headroom) / 100.0;
        match brief.serve.ice {
            // What has melted has left its room.
            Some(ice) => at_most(glass.value(brief, Measure::Level), room - ice.mass / 0.9167),
            None => at_most(glass.volume, room),
        }
    });
    // An undefined figure (a ratio over nothing) meets no limit.
    fits && limits.iter().all(|limit| {
        let value = glass.value(brief, limit.measure);
        (limit.min == f64::NEG_INFINITY || at_least(value, limit.min))
            && (limit.max == f64::INFINITY || at_most(value, limit.max))
    })
}

/// The aim's own value.
fn score(brief: &Brief, limits: &[Limit], reference: &[f64], amounts: &[f64], glass: &Glass) -> f64 {
    match brief.aim {
        Aim::Lowest(goal) | Aim::Highest(goal) => match goal {
            Goal::Measure(measure) => glass.value(brief, measure),
            Goal::Ingredient(at) => amounts[at],
        },
        // How many of the words stand on anything that is poured.
        Aim::Notes => {
            let poured = || brief.candidates.iter().zip(amounts).filter(|(_, amount)| **amount > 0.0);
            let stands = |word: &&String| poured().any(|(candidate, _)| candidate.notes.contains(word));
            brief.notes.aimed.iter().filter(stands).count() as f64
        }
        Aim::Nearest(Nearest::Reference) => amounts.iter().zip(reference).map(|(a, r)| (a - r).abs()).sum(),
        Aim::Nearest(Nearest::Middle) => {
            let ranges = limits.iter().filter(|l| l.min.is_finite() && l.min < l.max && l.max.is_finite());
            let off = ranges.map(|l| {
                let middle = f64::midpoint(l.min, l.max);
                (glass.value(brief, l.measure) - middle).abs() / (l.max - middle)
            });
            off.fold(0.0, f64::max)
        }
    }
}

/// Judges one spec, however it was found: what is wrong with it, or what it measures and scores.
pub fn judge(brief: &Brief, pours: &[(usize, f64)]) -> Result<(Glass, f64), String> {
    let mut amounts = vec![0.0; brief.candidates.len()];
    for &(at, amount) in pours {
        if amounts[at] != 0.0 {
            return Err(format!("{} is poured twice", brief.candidates[at].name));
        }
        amounts[at] = amount;
    }
    for (at, candidate) in brief.candidates.iter().enumerate() {
        pourable(candidate, amounts[at])?;
    }
    if !rules_hold(brief, &amounts) {
        return Err("a rule does not hold".to_owned());
    }
    let limits = limits(brief);
    let glass = measure(brief, pours.iter().copied());
    if !limits_hold(brief, &limits, &glass) {
        return Err("a target is missed".to_owned());
    }
    Ok((glass, score(brief, &limits, &reference(brief), &amounts, &glass)))
}

/// Whether this much of it can be poured.
fn pourable(candidate: &Candidate, amount: f64) -> Result<(), String> {
    let name = &candidate.name;
    if amount == 0.0 {
        return if candidate.must { Err(format!("{name} must be used")) } else { Ok(()) };
    }
    if candidate.out {
        Err(format!("{name} is out"))
    } else if amounts(&candidate.step, 0.0, amount)
        .last()
        .is_none_or(|sum| (sum - amount).abs() > 1e-9 * amount)
    {
        Err(format!("{amount} of {name} is nothing that is measured"))
    } else if !at_least(amount, candidate.least) {
        Err(format!("{amount} of {name} is too little"))
    } else if candidate.most.is_some_and(|most| !at_most(amount, most)) {
        Err(format!("{amount} of {name} is too much"))
    } else {
        Ok(())
    }
}

/// Sorts by score; runs of the same score by cost; runs of both by count, then names.
fn in_order(brief: &Brief, mut all: Vec<Found>) -> Vec<Found> {
    let down = matches!(brief.aim, Aim::Highest(_) | Aim::Notes);
    all.sort_by(|a, b| if down { b.score.total_cmp(&a.score) } else { a.score.total_cmp(&b.score) });
    for run in all.chunk_by_mut(|a, b| tied(a.score, b.score)) {
        run.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        for same in run.chunk_by_mut(|a, b| tied(a.cost, b.cost)) {
            same.sort_by_cached_key(|found| {
                let mut names: Vec<&str> =
                    found.pours.iter().map(|&(at, _)| brief.candidates[at].name.as_str()).collect();
                names.sort_unstable();
                (names.len(), names.join("\n"))
            });
        }
    }
    all
}

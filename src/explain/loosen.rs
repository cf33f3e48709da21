//! The smallest change of one demand that lets something be poured: the demand is left out, and what
//! it bounds is made as small or as large as the rest allows.

use super::demand::{Demand, without};
use super::oracle::Effort;
use crate::brief::{Aim, Brief, Goal, Limit, Measure, Nearest, Side, poured};
use crate::model::{Model, Objective, Sense, Soft, Together};
use crate::quantity::Unit;
use crate::solve::{SearchMode, Spec, measured};
use crate::tolerance::BETTER;

/// One figure of the brief that is to change.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Change {
    /// What is changed: a target's key, a rule's name.
    pub target: String,
    /// From which side it bounds.
    pub side: Side,
    /// The brief's figure.
    pub asked: f64,
    /// The figure that is needed; `None`: only without this demand at all.
    pub needed: Option<f64>,
    /// Which demand it is a change of.
    #[serde(skip)]
    pub demand: Demand,
    /// What kind of figure it is.
    #[serde(skip)]
    pub knob: Knob,
    /// The key of the measure that it is a figure of, where it is one.
    #[serde(skip)]
    pub gauge: String,
    /// Whether it is proved that no smaller change would do.
    #[serde(skip)]
    pub proved: bool,
}

/// What kind of figure a change is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Knob {
    /// A target.
    Target,
    /// How far a measure may be from the reference.
    Hold,
    /// How much of the glass is left free, %.
    Headroom,
    /// The glass, ml.
    Glass,
    /// How many ingredients.
    Most,
    /// How many of a group.
    Choose,
    /// A ratio of two ingredients.
    Proportion,
    /// An ingredient's least or most.
    Ingredient(Unit),
}

impl Change {
    /// What a demand is to become; nothing where it has no figure.
    pub fn of(brief: &Brief, demand: Demand, needed: Option<f64>) -> Option<Self> {
        let (side, asked) = demand.asked(brief)?;
        let (knob, measure) = match demand {
            Demand::Target(at, _) => (Knob::Target, Some(brief.targets[at].measure)),
            Demand::Hold(at) => (Knob::Hold, Some(brief.hold[at].measure)),
            Demand::Glass => (Knob::Glass, None),
            Demand::Most => (Knob::Most, None),
            Demand::Choose(..) => (Knob::Choose, None),
            Demand::Proportion(..) => (Knob::Proportion, None),
            Demand::Must(at) | Demand::Largest(at) => (Knob::Ingredient(brief.candidates[at].unit()), None),
        };
        let gauge = measure.map_or_else(String::new, |measure| brief.measure_name(measure).to_owned());
        Some(Self { target: demand.name(brief), side, asked, needed, demand, knob, gauge, proved: true })
    }
}

/// A change that is enough, and a spec that it lets in.
#[derive(Debug, Clone, PartialEq)]
pub struct Loosened {
    /// Ways to say it: one, or two for a glass (a larger one, or less of it left free).
    pub changes: Vec<Change>,
    /// A spec at the change.
    pub spec: Spec,
}

/// Only specs that are better than this by the brief's own aim.
#[derive(Debug, Clone)]
pub struct Better {
    objective: Objective,
    most: f64,
}

impl Better {
    /// Better than a spec of this score; `None` where nothing can be, or where the aim itself shifts
    /// with the limits (the middle of ranges).
    pub fn than(brief: &Brief, score: f64) -> Option<Self> {
        if brief.aim == Aim::Nearest(Nearest::Middle) {
            return None;
        }
        let objective = Objective::of(&Model::new(brief));
        let score = objective.score_of(score);
        let most = score - BETTER * score.abs() - BETTER;
        // No amount and no measure is below zero.
        let never_negative = !matches!(brief.aim, Aim::Highest(_) | Aim::Notes);
        (score.is_finite() && !(never_negative && most < 0.0)).then_some(Self { objective, most })
    }

    /// Whether a shown score is better.
    pub fn has(&self, score: f64) -> bool {
        self.objective.score_of(score) <= self.most
    }
}

/// The smallest change of `demand` alone.
pub fn loosen(brief: &Brief, demand: Demand, better: Option<&Better>, effort: &Effort) -> Option<Loosened> {
    match demand {
        Demand::Most | Demand::Choose(..) => counted(brief, demand, better, effort),
        _ => measured_out(brief, demand, better, effort),
    }
}

fn capped<'b>(brief: &'b Brief, better: Option<&Better>) -> Model<'b> {
    let mut model = Model::new(brief);
    model.objective_bounds.extend(better.map(|b| (b.objective.clone(), b.most)));
    model
}

/// Counts go up (or down) one by one until something can be poured.
fn counted(brief: &Brief, demand: Demand, better: Option<&Better>, effort: &Effort) -> Option<Loosened> {
    let open = without(brief, &[demand]);
    let model = capped(&open, better);
    let volume = Objective::goal(&model, Goal::Measure(Measure::Volume), Sense::Low);
    let objective = better.map_or(&volume, |b| &b.objective);
    // Without the rule at all first: most rules are not what is in the way.
    effort.seek(&model, objective, SearchMode::Any, None).entries.first()?;
    let (side, asked) = demand.asked(brief)?;
    let asked_count = asked as usize;
    let counts: Vec<usize> = match side {
        Side::Max => (asked_count + 1..=brief.candidates.len()).collect(),
        Side::Min => (0..asked_count).rev().collect(),
    };
    for count in counts {
        let mut at_count = open.clone();
        demand.set(&mut at_count, count as f64);
        let model = capped(&at_count, better);
        let found = effort.seek(&model, objective, SearchMode::Any, None);
        if let Some(entry) = found.entries.first() {
            let spec = measured(&model, objective, entry);
            return Some(Loosened { changes: vec![Change::of(brief, demand, Some(count as f64))?], spec });
        }
        if !found.complete {
            return None;
        }
    }
    None
}

/// What the demand bounds is made least or greatest.
fn measured_out(brief: &Brief, demand: Demand, better: Option<&Better>, effort: &Effort) -> Option<Loosened> {
    let open = without(brief, &[demand]);
    let own = Model::new(brief);
    let model = capped(&open, better);
    // Without the demand at all first: most demands keep nothing better out, which the aim's own bound
    // shows sooner than what the demand bounds.
    if let Some(better) = better {
        effort.seek(&model, &better.objective, SearchMode::Any, Some(better.most)).entries.first()?;
    }
    let mut best: Option<(f64, Spec)> = None;
    let mut proved = true;
    for (objective, sided) in extremes(&own, &model, demand, effort) {
        let found = effort.seek(&sided, &objective, SearchMode::Least, None);
        proved &= found.complete;
        let Some(entry) = found.entries.first() else { continue };
        let spec = measured(&sided, &objective, entry);
        let missed = missed(&own, demand, &spec);
        if best.as_ref().is_none_or(|(least, _)| missed < *least) {
            best = Some((missed, spec));
        }
    }
    let Some((_, spec)) = best else { return without_at_all(brief, demand, &model, better, effort) };
    let mut changes = needed(&own, demand, &spec)?;
    changes.iter_mut().for_each(|change| change.proved = proved);
    Some(Loosened { changes, spec })
}

/// Misses of soft limits, made least, with a bound on them from some spec: its rows need one.
fn bounded(model: &Model, softs: Vec<Soft>, effort: &Effort) -> Option<Objective> {
    let spec = effort.anything(model).0?;
    let mut stretch = Objective::Elastic { softs, together: Together::Sum, most: 0.0 };
    let missed = stretch.score(model, &spec.pours, &spec.served);
    if let (Objective::Elastic { most, .. }, true) = (&mut stretch, missed.is_finite()) {
        *most = missed * (1.0 + 1e-6) + 1e-9;
        return Some(stretch);
    }
    None
}

/// Where what is bounded has no figure (a ratio over nothing), only giving the demand up helps.
fn without_at_all(
    brief: &Brief,
    demand: Demand,
    model: &Model,
    better: Option<&Better>,
    effort: &Effort,
) -> Option<Loosened> {
    if !matches!(demand, Demand::Target(..) | Demand::Proportion(..)) {
        return None;
    }
    let volume = Objective::goal(model, Goal::Measure(Measure::Volume), Sense::Low);
    let objective = better.map_or(&volume, |b| &b.objective);
    let found = effort.seek(model, objective, SearchMode::Any, None);
    let spec = measured(model, objective, found.entries.first()?);
    Some(Loosened { changes: vec![Change::of(brief, demand, None)?], spec })
}

/// What is made least, over which specs, so that the demand is missed by as little as possible. What
/// is held is looked at from below and from above.
fn extremes<'b>(
    own: &Model,
    open: &Model<'b>,
    demand: Demand,
    effort: &Effort,
) -> Vec<(Objective, Model<'b>)> {
    let brief = own.brief;
    let towards = |side: Side| if side == Side::Min { Sense::High } else { Sense::Low };
    let limits = demand.limits(brief, own);
    let goal = |goal: Goal, sense: Sense| vec![(Objective::goal(open, goal, sense), open.clone())];
    match demand {
        Demand::Target(..) | Demand::Glass | Demand::Hold(_) if own.spread.is_some() => {
            bounded(open, limits.into_iter().map(|limit| Soft { limit, size: 1.0 }).collect(), effort)
                .map(|objective| (objective, open.clone()))
                .into_iter()
                .collect()
        }
        Demand::Target(..) | Demand::Glass => {
            limits.iter().flat_map(|l| goal(Goal::Measure(l.measure), towards(l.side))).collect()
        }
        Demand::Hold(_) => {
            let beyond = |limit: &Limit| {
                let side = if limit.side == Side::Min { Side::Max } else { Side::Min };
                let mut sided = open.clone();
                sided.limits.push(Limit { side, ..*limit });
                (Objective::goal(open, Goal::Measure(limit.measure), towards(limit.side)), sided)
            };
            limits.iter().map(beyond).collect()
        }
        Demand::Proportion(at, side) => {
            let rule = &brief.proportions[at];
            vec![(Objective::Ratio { of: rule.of, to: rule.to, sense: towards(side) }, open.clone())]
        }
        Demand::Must(at) => goal(Goal::Ingredient(at), Sense::High),
        Demand::Largest(at) => goal(Goal::Ingredient(at), Sense::Low),
        Demand::Most | Demand::Choose(..) => vec![],
    }
}

/// By how much a spec misses a demand, in the demand's own figure.
fn missed(own: &Model, demand: Demand, spec: &Spec) -> f64 {
    let judged = |limit: &Limit| own.judged_value(&spec.pours, &spec.served, limit);
    let limits = demand.limits(own.brief, own);
    limits.iter().map(|l| Soft { limit: *l, size: 1.0 }.missed(judged(l))).fold(0.0, f64::max)
}

/// The figure that the demand needs to let a spec through.
fn needed(own: &Model, demand: Demand, spec: &Spec) -> Option<Vec<Change>> {
    let brief = own.brief;
    let poured = |at: usize| poured(&spec.pours, at);
    let judged = |limit: &Limit| own.judged_value(&spec.pours, &spec.served, limit);
    let value = match demand {
        Demand::Target(..) => judged(demand.limits(brief, own).first()?),
        Demand::Hold(at) => brief.hold[at].within + missed(own, demand, spec),
        Demand::Glass => return glass(brief, judged(demand.limits(brief, own).first()?)),
        Demand::Proportion(at, _) => poured(brief.proportions[at].of) / poured(brief.proportions[at].to),
        Demand::Must(at) | Demand::Largest(at) => poured(at),
        Demand::Most | Demand::Choose(..) => return None,
    };
    Change::of(brief, demand, Some(value)).map(|c| vec![c])
}

/// A larger glass, or less of this one left free.
fn glass(brief: &Brief, volume: f64) -> Option<Vec<Change>> {
    let glass = brief.serve.glass?;
    // The ice takes its room beside the drink.
    let volume = volume + glass.ice;
    let free = 100.0 * (1.0 - volume / glass.brim);
    let larger = Change::of(brief, Demand::Glass, Some(volume / (1.0 - glass.headroom / 100.0)))?;
    let less = Change {
        target: "headroom".to_owned(),
        side: Side::Min,
        asked: glass.headroom,
        needed: Some(free),
        knob: Knob::Headroom,
        ..larger.clone()
    };
    Some(if free >= 0.0 { vec![less, larger] } else { vec![larger] })
}

/// The brief with a change made.
pub fn changed(brief: &Brief, change: &Change) -> Brief {
    let given_up =
        matches!(change.demand, Demand::Must(_)) && change.needed.is_some_and(|needed| needed <= 0.0);
    let Some(needed) = change.needed.filter(|_| !given_up) else { return without(brief, &[change.demand]) };
    let mut brief = brief.clone();
    match &mut brief.serve.glass {
        // The other way to say what a glass needs: less of it left free.
        Some(glass) if change.knob == Knob::Headroom => glass.headroom = needed,
        _ => change.demand.set(&mut brief, needed),
    }
    brief
}

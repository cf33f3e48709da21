//! The slope of the score at every limit, on both sides.

use super::asked::{Asked, bound, loosens};
use super::ends;
use super::question::Question;
use super::walk::{End, size};
use super::{Counts, Held, Rate, end_of};
use crate::brief::{Aim, Brief, Goal, Measure, Nearest, Side};
use crate::explain::demand::Demand;
use crate::lp::bound::Way;
use crate::lp::dual_face::DualFace;
use crate::quantity::Unit;
use crate::solve::Stop;
use crate::tolerance::{self, SAME_PIECE};

/// How far from its limit the score is solved again for a slope, as a share of the limit's size.
const STEP: f64 = 1e-4;

/// Two slopes so near to each other, as a share of them, are taken for the same.
const ALIKE: f64 = 1e-2;

/// Every limit; `None` where it was stopped.
pub fn limits(question: &Question, stop: &Stop) -> Option<Vec<Held>> {
    let mut face = question.base.face();
    let one = |asked| (!stop.raised()).then(|| held(question, asked, face.as_mut()));
    let mut limits = question.asked.iter().map(one).collect::<Option<Vec<Held>>>()?;
    hidden(question, &mut limits);
    Some(limits)
}

/// A limit that nothing leans on may still keep out something better that lies far away: then it is
/// followed to where that comes in. All of them together are looked behind first.
fn hidden(question: &Question, limits: &mut [Held]) {
    let endless = |held: &Held| {
        let end = if held.side == Side::Min { held.from } else { held.to };
        end.is_none() && held.looser == Some(0.0) && !matches!(held.demand, Demand::Most | Demand::Choose(..))
    };
    let places: Vec<usize> = (0..limits.len()).filter(|at| endless(&limits[*at])).collect();
    let dropped: Vec<Asked> = places.iter().map(|at| question.asked[*at]).collect();
    if dropped.is_empty() || question.aim_moves() || !ends::better(question, &question.without(&dropped)) {
        return;
    }
    for at in places {
        let behind = ends::behind(question, &question.asked[at]);
        let (held, end) = (&mut limits[at], behind.end);
        let which = end_of(held.side);
        held.unsure.retain(|side| *side != which || end.at.is_none());
        if behind.unsure && !held.unsure.contains(&which) {
            held.unsure.push(which);
        }
        let (to, score) = match held.side {
            Side::Min => (&mut held.from, &mut held.score_from),
            Side::Max => (&mut held.to, &mut held.score_to),
        };
        (*to, *score) = (end.at, end.score.map(|score| question.shown(score)));
    }
}

fn held(question: &Question, asked: &Asked, mut face: Option<&mut DualFace>) -> Held {
    if matches!(asked.demand, Demand::Most | Demand::Choose(..)) {
        return at_limit(question, asked, f64::NAN);
    }
    let value = question.value(asked, &question.base.free);
    let [looser, tighter] = [loosens(asked.side), loosens(asked.side).opposite()].map(|way| {
        let rate = rate(question, asked, face.as_deref_mut(), way);
        let followed = ends::end(question, asked, face.as_deref_mut(), way, rate);
        let rate = confirmed(question, asked, way, rate, followed.slope);
        (rate.map(|rate| way.sign() * shown_slope(question.brief, rate)), followed)
    });
    let (low, high) = if asked.side == Side::Min { (looser.1, tighter.1) } else { (tighter.1, looser.1) };
    let score = |end: End| end.score.map(|score| question.shown(score));
    let unsure = [(Side::Min, low.unsure), (Side::Max, high.unsure)];
    let (low, high) = (low.end, high.end);
    Held {
        looser: looser.0.map(plain_zero),
        tighter: tighter.0.map(plain_zero),
        from: low.at,
        to: high.at,
        score_from: score(low),
        score_to: score(high),
        unsure: unsure.into_iter().filter(|(_, unsure)| *unsure).map(|(side, _)| end_of(side)).collect(),
        ..at_limit(question, asked, value)
    }
}

/// A limit that free pours do not heed: counts bound pourable specs alone.
fn at_limit(question: &Question, asked: &Asked, value: f64) -> Held {
    let (brief, demand) = (question.brief, asked.demand);
    Held {
        demand,
        target: demand.rule(brief).unwrap_or_else(|| demand.name(brief)),
        side: asked.side,
        limit: asked.limit,
        value,
        binding: reached(asked, value),
        unit: unit(brief, asked),
        looser: Some(0.0),
        tighter: Some(0.0),
        from: None,
        to: None,
        score_from: None,
        score_to: None,
        next_pourable: None,
        next_proved: true,
        unsure: vec![],
    }
}

fn reached(asked: &Asked, value: f64) -> bool {
    (value - asked.limit).abs() <= REACHED * asked.limit.abs().max(tolerance::MET)
}

/// How near to its limit a free-pour value is on it: the linear programs are good to 1e-7.
pub const REACHED: f64 = 1e-7;

/// The slope of the score (lower is better) per unit of the limit's value, when it starts to go `way`.
fn rate(question: &Question, asked: &Asked, face: Option<&mut DualFace>, way: Way) -> Option<f64> {
    match (question.row(asked, &question.base), face) {
        (Some((origin, times)), Some(face)) => face.rate(bound(asked, origin), way).map(|rate| rate * times),
        _ => solved_again(question, asked, way, Some(&question.base.free.units)),
    }
}

/// Where several specs are as good, the prices of one may not be those of the others, which take over
/// as soon as the limit moves. They are, if a point just beside the limit says the same.
fn confirmed(
    question: &Question,
    asked: &Asked,
    way: Way,
    rate: Option<f64>,
    beside: Option<f64>,
) -> Option<f64> {
    let Some((at, beside)) = rate.zip(beside) else { return rate };
    let none = SAME_PIECE * question.score.abs().max(1.0) / size(question, asked);
    if (at - beside).abs() <= ALIKE * at.abs().max(beside.abs()) + none {
        return Some(at);
    }
    solved_again(question, asked, way, None).or(Some(at))
}

/// The slope from two scores near the limit, the curvature between them taken out.
fn solved_again(question: &Question, asked: &Asked, way: Way, near: Option<&[f64]>) -> Option<f64> {
    // Both scores the same way, so that what a solver leaves out of both cancels.
    let here = question.solved_at(asked, asked.limit, near)?.free.score;
    let slope = |step: f64| {
        let there = question.solved_at(asked, asked.limit + way.sign() * step, near)?;
        Some((there.free.score - here) / (way.sign() * step))
    };
    let step = STEP * size(question, asked);
    let (far, half) = (slope(step)?, slope(step / 2.0)?);
    let rate = 2.0 * half - far;
    Some(if rate.abs() * step <= SAME_PIECE * here.abs().max(1.0) { 0.0 } else { rate })
}

/// A slope of the search's score as one of the aim's own.
fn shown_slope(brief: &Brief, rate: f64) -> f64 {
    if matches!(brief.aim, Aim::Highest(_) | Aim::Notes) { -rate } else { rate }
}

fn plain_zero(value: f64) -> f64 {
    if value == 0.0 { 0.0 } else { value }
}

/// What a slope counts: the aim's unit over the limit's.
fn unit(brief: &Brief, asked: &Asked) -> Rate {
    let amount = |at: usize| match brief.candidates[at].unit() {
        Unit::Ml => Counts::Millilitres,
        Unit::G => Counts::Unit(Unit::G.symbol().to_owned()),
    };
    let measured = |m: Measure| match m {
        Measure::Volume | Measure::Melt => Counts::Millilitres,
        other => Counts::Unit(brief.measure_unit(other)),
    };
    let aim = match brief.aim {
        Aim::Lowest(Goal::Measure(m)) | Aim::Highest(Goal::Measure(m)) => measured(m),
        Aim::Lowest(Goal::Ingredient(at)) | Aim::Highest(Goal::Ingredient(at)) => amount(at),
        Aim::Nearest(Nearest::Reference) => Counts::Millilitres,
        // A share of the way to the end of a range.
        Aim::Nearest(Nearest::Middle) => Counts::Bare,
        Aim::Notes => Counts::Unit("notes".to_owned()),
    };
    let limit = match asked.demand {
        Demand::Proportion(..) | Demand::Most | Demand::Choose(..) => Counts::Bare,
        Demand::Must(at) | Demand::Largest(at) => amount(at),
        _ => asked.measure.map_or(Counts::Bare, measured),
    };
    Rate { aim, limit }
}

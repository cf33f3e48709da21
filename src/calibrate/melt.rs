//! The house's melt: how much more, or less, than the rule comes off its ice, and whether that hangs on the
//! strength.

use super::regression::{Errors, Fit, Observation, Prior, fit, interval_factor};
use super::{Estimate, Melt, gain};
use crate::brief::{Brief, Weighed};
use crate::liquid::melt::UNCERTAINTY;
use crate::liquid::{Dilution, Drink, ethanol};

/// How much single serves differ before anybody has weighed three, ml of water per ml poured (standard
/// deviation). Common practice, no source.
const SPREAD: f64 = 0.03;
/// Strengths have to differ by so much (volume fraction) before a tilt is looked for. Common practice, no source.
const APART: f64 = 0.05;

/// A serve that was weighed on both sides of the ice.
struct Serve {
    /// Its place among the weighed.
    place: usize,
    /// Strength before the ice, volume fraction.
    strength: f64,
    /// Melt beyond the rule, ml per ml poured.
    beyond: f64,
}

/// What the serves say that were made as the brief makes its drink.
pub fn melt(brief: &Brief) -> Option<Melt> {
    let own = |weighed: &Weighed| weighed.method.is_none_or(|method| method == brief.serve.method);
    let weighed = brief.weighed.iter().enumerate().filter(|(_, weighed)| own(weighed));
    // The method's own rule: a melt that was kept before is from these serves, or from others like them.
    let by_rule = Dilution::of(brief.serve.method, None).unwrap_or(brief.serve.dilution);
    let serves: Vec<Serve> =
        weighed.filter_map(|(place, weighed)| serve(brief, by_rule, place, weighed)).collect();
    let count = serves.len();
    let mean = serves.iter().map(|serve| serve.strength).sum::<f64>() / count as f64;
    let rule = by_rule.at(mean);
    let row = |serve: &Serve, tilted: bool| {
        let row = if tilted { vec![1.0, serve.strength - mean] } else { vec![1.0] };
        Observation { row, value: serve.beyond, deviation: SPREAD }
    };
    let level: Vec<Observation> = serves.iter().map(|serve| row(serve, false)).collect();
    let alone = fit(&level, &[None], Errors::FromResiduals)?;
    let spread = (count >= 3).then_some(alone.residual * SPREAD);
    // From three serves on their own scatter is taken, before that a customary one and what the rule is good to.
    let (found, factor) = if spread.is_some() {
        (alone.clone(), interval_factor(Some(alone.freedom)))
    } else {
        let prior = Prior { mean: 0.0, deviation: 0.5 * UNCERTAINTY };
        (fit(&level, &[Some(prior)], Errors::Known)?, interval_factor(None))
    };
    let odd = |fit: &Fit| fit.outliers().into_iter().map(|at| serves[at].place).collect();
    let percent = |by: f64| 100.0 * (rule + by);
    let (beyond, half) = (found.coefficients[0], factor * found.errors[0]);
    Some(Melt {
        share: Estimate {
            value: percent(beyond),
            low: percent(beyond - half).max(0.0),
            high: percent(beyond + half),
            count,
            gain: gain(count),
            odd: odd(&alone),
        },
        spread: spread.map(|spread| 100.0 * spread),
        strength: 100.0 * mean,
        rule: 100.0 * rule,
        now: 100.0 * brief.serve.dilution.at(mean),
        tilt: tilt(&serves, count, row),
    })
}

/// How the melt hangs on the strength beyond what the rule says of it.
fn tilt(serves: &[Serve], count: usize, row: impl Fn(&Serve, bool) -> Observation) -> Option<Estimate> {
    let strengths = serves.iter().map(|serve| serve.strength);
    let (least, most) = strengths.fold((f64::INFINITY, 0.0_f64), |(l, m), s| (l.min(s), m.max(s)));
    if count < 4 || most - least < APART {
        return None;
    }
    let rows: Vec<Observation> = serves.iter().map(|serve| row(serve, true)).collect();
    let found = fit(&rows, &[None, None], Errors::FromResiduals)?;
    let (value, half) = (found.coefficients[1], interval_factor(Some(found.freedom)) * found.errors[1]);
    let odd = found.outliers().into_iter().map(|at| serves[at].place).collect();
    Some(Estimate { value, low: value - half, high: value + half, count, gain: gain(count), odd })
}

/// The melt of one weighing; what went in is computed where it was not weighed.
fn serve(brief: &Brief, rule: Dilution, place: usize, weighed: &Weighed) -> Option<Serve> {
    let portion = |at: usize| &brief.candidates[at].portion;
    let parts = weighed.pours.iter().map(|p| (portion(p.candidate), p.amount));
    let drink = Drink::of(parts, brief.serve.dilution);
    let poured: f64 = weighed.pours.iter().map(|p| portion(p.candidate).mass * p.amount).sum();
    let gained = weighed.grams_out? - weighed.grams_in.unwrap_or(poured);
    if drink.worked <= 0.0 {
        return None;
    }
    let strength = drink.worked_strength;
    let share = gained / ethanol::WATER / drink.worked;
    Some(Serve { place, strength, beyond: share - rule.at(strength) })
}

//! Whose price is asked about first, and of whom it is asked at all: each question solves the whole brief
//! again, so that on a long shelf only those that are nearest to a change get an answer.

use super::question::Question;
use crate::lp::bound::Bound;
use crate::model::Model;
use crate::tolerance::UNUSED;

/// So many columns times columns are gone over: all of sixty, and of more candidates those that are used
/// and the nearest.
const WIDE: usize = 60 * 60;

/// The columns to ask about, in their order. What is used is always among them.
pub fn columns(question: &Question, model: &Model, price: impl Fn(usize) -> Option<f64>) -> Vec<usize> {
    let count = model.columns.len();
    let most = WIDE / count.max(1);
    if count <= most {
        return (0..count).collect();
    }
    let used = |at: &usize| question.base.free.units[*at] * model.columns[*at].unit > UNUSED;
    let (mut asked, mut unused): (Vec<usize>, Vec<usize>) = (0..count).partition(used);
    let gaps = gaps(question, count);
    // By which share of its price an ingredient is too dear, to compare them by.
    let share =
        |at: usize| gaps[at] / (price(at).unwrap_or(0.0) * model.columns[at].unit).max(f64::MIN_POSITIVE);
    unused.sort_by(|a, b| share(*a).total_cmp(&share(*b)).then(a.cmp(b)));
    asked.extend(unused.into_iter().take(most.saturating_sub(asked.len())));
    asked.sort_unstable();
    asked
}

/// What a unit of each column would make the score worse by, at one of the optimal prices.
fn gaps(question: &Question, count: usize) -> Vec<f64> {
    let variables: Vec<Option<usize>> = (0..count).map(|at| question.base.variable(at)).collect();
    let Some(mut face) = question.base.face() else { return vec![0.0; count] };
    let all: Vec<(Bound, f64)> = variables.iter().flatten().map(|at| (Bound::Min(*at), 1.0)).collect();
    if face.most(&all).is_none_or(f64::is_infinite) {
        return vec![0.0; count];
    }
    variables.iter().map(|at| at.map_or(0.0, |at| face.price(Bound::Min(at)))).collect()
}

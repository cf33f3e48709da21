//! Every answer is measured anew from its pours alone before anybody sees it.

use std::cmp::Ordering;

use super::Spec;
use crate::brief::{Brief, Pour, serve};
use crate::liquid::Stage;
use crate::search::Judge;

/// Measures pours and puts them in card order.
pub fn spec(judge: &Judge, mut pours: Vec<Pour>) -> Spec {
    let brief = judge.model.brief;
    in_card_order(brief, &mut pours);
    let served = serve(brief, &pours);
    let score = judge.objective.value(judge.objective.score(judge.model, &pours, &served));
    Spec { pours, served, score }
}

/// Puts pours in card order: what tops the drink up last, then by role, then most first, then by name.
pub fn in_card_order(brief: &Brief, pours: &mut [Pour]) {
    pours.sort_by(|a, b| card_order(brief, a, b));
}

fn card_order(brief: &Brief, a: &Pour, b: &Pour) -> Ordering {
    let (left, right) = (&brief.candidates[a.candidate], &brief.candidates[b.candidate]);
    (left.stage == Stage::Topped)
        .cmp(&(right.stage == Stage::Topped))
        .then(left.role.cmp(&right.role))
        .then_with(|| b.amount.total_cmp(&a.amount))
        .then_with(|| left.name.cmp(&right.name))
}

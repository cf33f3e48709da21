//! Specs with room on every side: what holds in many serves keeps away from its limits, by as many times as
//! possible what serves stray.
//!
//! In how many serves a spec holds can only be counted, spec by spec. Where to look first is said by its room: the
//! least distance from any limit, over the standard deviation of what is limited. It is no bound on the share; what is
//! found this way is counted like everything else.

use super::within::search_within;
use crate::brief::{Limit, Measure, Side};
use crate::model::{Model, Objective, Soft, Together};
use crate::search::{Entry, Judge, Stop, Wanted};
use crate::simulate::Serves;

/// Room for so many standard deviations is enough: one serve in a thousand strays farther.
const ENOUGH: f64 = 3.0;
/// So many serves tell how far they stray.
const STRAY: usize = 500;
/// Finer differences of the room do not matter, as a share of what is enough.
const FINE: f64 = 0.02;

/// The lack of room as an objective, with what strays as it does around a known spec; nothing where nothing does.
pub fn lack_of_room(model: &Model, serves: &Serves, known: &Entry) -> Option<Objective> {
    let pours = Judge { model, objective: &Objective::of(model) }.pours(&known.set, &known.units);
    let targets = model.targets();
    let measures: Vec<Measure> = targets.iter().map(|limit| limit.measure).collect();
    let stray = serves.deviations(&pours, &measures, STRAY);
    let softs: Vec<Soft> = targets
        .iter()
        .zip(stray)
        .filter(|(_, stray)| stray.is_finite() && *stray > 0.0)
        .map(|(limit, stray)| {
            let size = ENOUGH * stray;
            let value = if limit.side == Side::Min { limit.value + size } else { limit.value - size };
            Soft { limit: Limit { value, ..*limit }, size }
        })
        .collect();
    let most = 1.0 + 1e-6;
    (!softs.is_empty()).then_some(Objective::Elastic { softs, together: Together::Largest, most })
}

/// The specs with the most room, one of each of so many sets of ingredients, scored by their own aim; with what that
/// took.
pub fn roomiest(
    model: &Model,
    (objective, room): (&Objective, &Objective),
    specs: usize,
    (stop, effort): (&Stop, u64),
) -> (Vec<Entry>, u64) {
    let wanted = Wanted { slack: FINE, ..Wanted::best(specs) };
    let found = search_within(model, room, wanted, stop, effort);
    let judge = Judge { model, objective };
    let scored = found.entries.into_iter().filter_map(|entry| judge.entry(entry.set, entry.units));
    (scored.collect(), found.spent)
}

//! Everything that a drink can be poured as on one shelf or another.
//!
//! On a shelf a drink is poured as its best spec there. Over all shelves that are few specs: of each set of bottles the
//! best, and of those the ones that no better one makes needless, as it opens nothing else. Once they are listed, what a
//! shelf makes of a drink is looked up and not searched.

use super::Set;
use crate::brief::{Brief, HoldFor};
use crate::model::{Model, Objective};
use crate::search::Keep;
use crate::solve::within::search_within;
use crate::solve::{Spec, Stop, Wanted, measured};

/// So many sets of ingredients at most.
const SETS: usize = 2_000;

/// One way to pour a drink.
#[derive(Debug, Clone)]
pub struct Offer {
    /// The bottles that it opens.
    pub opens: Set,
    /// What a week's serves take of each, counted as its pack is.
    pub takes: Vec<(usize, f64)>,
    /// The spec.
    pub spec: Spec,
}

/// What a drink can be poured as that scores no worse than a ceiling, best first: on a shelf it is poured as the first that
/// opens nothing else. Nothing where they are too many, or more work than `effort`; and the work. `opens` are the bottles
/// of each candidate, `takes` what a week's serves of a spec take of every bottle.
pub fn offers(
    (brief, ceiling): (&Brief, f64),
    opens: &[Set],
    takes: impl Fn(&Spec) -> Vec<f64>,
    (stop, effort): (&Stop, u64),
) -> (Option<Vec<Offer>>, u64) {
    // How many serves keep within the targets is asked of one spec after the other, best first.
    if matches!(brief.variation.hold, HoldFor::Share(_)) {
        return (None, 0);
    }
    let model = Model::new(brief);
    let objective = Objective::of(&model);
    let wanted = Wanted { ceiling: Some(ceiling), keep: Keep::Needed, ..Wanted::best(SETS) };
    let found = search_within(&model, &objective, wanted, stop, effort);
    if !found.complete || found.entries.len() >= SETS {
        return (None, found.spent);
    }
    let mut all: Vec<Offer> = vec![];
    for entry in &found.entries {
        let opens = entry.set.iter().map(|column| opens[model.columns[*column].candidate]);
        let opens = opens.fold(Set::default(), |all, one| all.or(&one));
        if all.iter().any(|better| better.opens.within(&opens)) {
            continue;
        }
        let spec = measured(&model, &objective, entry);
        let needs = takes(&spec);
        let takes = opens.iter().map(|bottle| (bottle, needs[bottle])).collect();
        all.push(Offer { opens, takes, spec });
    }
    (Some(all), found.spent)
}

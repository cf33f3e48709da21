//! The best specs that hold in a share of simulated serves, proved.
//!
//! The serves are the same for every spec of a brief, so that "at least 95 % of them" is a plain yes or
//! no, and the search can prove that nothing better says yes. But specs that touch their limits, which
//! score best, say no, and a search that asks one after another does not end. So sets of ingredients
//! are taken one by one, in the order of their best score without serves, which bounds what they can
//! reach with them; and within a set every limit is drawn in by the room that it needs before enough
//! serves can meet it ([`crate::model::serves::Region`]). What is left is asked.

use std::sync::Arc;

use super::Stop;
use super::incumbents::{Entry, Incumbents, Wanted, ranks, same_score_margin};
use super::pieces::region;
use super::search::{Searched, search};
use crate::model::{Model, Objective};

/// So many sets are listed at first, and this many times more each time that they do not do.
const SETS: usize = 32;
/// How much longer each list is.
const LONGER: usize = 4;
/// How often the room is worked out anew within what the last room has left.
const ROUNDS: usize = 2;

/// Searches a model whose specs have to hold in a share of the serves.
pub fn in_share(model: &Model, objective: &Objective, wanted: Wanted, share: f64, stop: &Stop) -> Searched {
    let mut shares =
        Shares { model, objective, share, stop, incumbents: Incumbents::new(wanted, ranks(model)), nodes: 0 };
    let mut typical = model.clone();
    typical.serves = None;
    let (mut listed, mut asked) = (SETS, 0);
    loop {
        let most = shares.cut();
        let list = Wanted { specs: listed, within: None, ceiling: most };
        let found = search(&typical, objective, list, stop);
        shares.nodes += found.nodes;
        for entry in found.entries.iter().skip(asked) {
            if shares.cut().is_some_and(|cut| entry.score > cut + same_score_margin(cut)) {
                return shares.ended(f64::INFINITY, true);
            }
            if !shares.set(entry) {
                return shares.ended(entry.score, false);
            }
        }
        let last = found.entries.last().map_or(f64::INFINITY, |entry| entry.score);
        if !found.complete {
            return shares.ended(found.bound.min(last), false);
        }
        if found.entries.len() < listed {
            return shares.ended(f64::INFINITY, true);
        }
        (asked, listed) = (listed, listed * LONGER);
    }
}

struct Shares<'a> {
    model: &'a Model<'a>,
    objective: &'a Objective,
    share: f64,
    stop: &'a Stop,
    incumbents: Incumbents,
    nodes: u64,
}

impl Shares<'_> {
    fn ended(self, bound: f64, complete: bool) -> Searched {
        Searched { entries: self.incumbents.entries().to_vec(), bound, complete, nodes: self.nodes }
    }

    /// What a spec has to reach to be of interest.
    fn cut(&self) -> Option<f64> {
        self.incumbents.cut().map(|cut| cut.score)
    }

    /// Looks for the best spec of a set; whether that could be searched to the end.
    fn set(&mut self, entry: &Entry) -> bool {
        let mut model = self.model.clone();
        for (at, column) in model.columns.iter_mut().enumerate() {
            column.must = entry.set.contains(&at);
            if !column.must {
                column.most = 0.0;
            }
        }
        if let Some(serves) = &self.model.serves {
            for _ in 0..ROUNDS {
                // Without a region no spec of the set has the room.
                let Some(region) = region(&model, self.objective) else { return true };
                // Limits that serves are not held to come last, and need no room.
                model.room = Some(Arc::new(serves.room(&model.targets(), &region, self.share)));
            }
        }
        let wanted = Wanted { specs: 1, within: None, ceiling: self.cut() };
        let found = search(&model, self.objective, wanted, self.stop);
        self.nodes += found.nodes;
        found.entries.into_iter().for_each(|entry| self.incumbents.offer(entry));
        found.complete
    }
}

//! The best specs that hold in a share of simulated serves, proved.
//!
//! The serves are the same for every spec of a brief, so that "at least 95 % of them" is a plain yes or
//! no, and the search can prove that nothing better says yes. But specs that touch their limits, which
//! score best, say no, and a search that asks one after another does not end. So sets of ingredients
//! are taken one by one, in the order of their best score without serves, which bounds what they can
//! reach with them; and within a set every limit is drawn in by the room that it needs before enough
//! serves can meet it ([`crate::simulate::Region`]). What is left is asked.

use std::sync::Arc;

use super::within::search_within;
use crate::model::presolve::drawn_as_far;
use crate::model::{Model, Objective, Program, Ranges};
use crate::search::{Entry, Incumbents, Searched, Stop, Wanted, ranks, same_score_margin};
use crate::simulate::{Region, SERVES};

/// So many sets are listed at first, and this many times more each time that they do not do.
const SETS: usize = 32;
/// How much longer each list is.
const LONGER: usize = 4;
/// One part in so many of the effort is for a list of sets.
pub const LISTS: u64 = 4;
/// How often the room is worked out anew within what the last room has left.
const ROUNDS: usize = 2;
/// What working out the room for all serves costs.
const ROOM: u64 = 400 * SERVES as u64;

/// Searches a model whose specs have to hold in a share of the serves, as far as the effort goes; with specs that are known
/// to hold so often.
pub fn in_share_from(
    model: &Model,
    objective: &Objective,
    (wanted, share): (Wanted, f64),
    within: (&Stop, u64),
    known: Vec<Entry>,
) -> Searched {
    searched(model, objective, Asked { wanted, share, sets: Sets::AsFarAsItGoes }, within, known)
}

/// The same with so much effort of its own, where that certainly does for all sets of a list; with less than that nothing
/// is looked for.
pub fn in_share_within(
    model: &Model,
    objective: &Objective,
    wanted: Wanted,
    share: f64,
    within: (&Stop, u64),
) -> Searched {
    searched(model, objective, Asked { wanted, share, sets: Sets::AllOrNone }, within, vec![])
}

/// What is looked for.
struct Asked {
    wanted: Wanted,
    share: f64,
    sets: Sets,
}

/// What becomes of a list of sets that the effort does not do for.
#[derive(Clone, Copy, PartialEq)]
enum Sets {
    /// Its beginning is searched: some spec may be found.
    AsFarAsItGoes,
    /// Nothing of it is: only a proof is wanted.
    AllOrNone,
}

/// The same with specs that are known to hold so often: nothing has to be looked for that does not come before them.
fn searched(
    model: &Model,
    objective: &Objective,
    Asked { wanted, share, sets }: Asked,
    (stop, effort): (&Stop, u64),
    known: Vec<Entry>,
) -> Searched {
    let mut incumbents = Incumbents::new(wanted, ranks(model));
    incumbents.raise(f64::INFINITY);
    known.into_iter().for_each(|entry| incumbents.offer(entry));
    let mut shares = Shares { model, objective, share, stop, incumbents, nodes: 0, effort, left: effort };
    let mut typical = model.clone();
    typical.serves = None;
    let (mut listed, mut asked) = (SETS, 0);
    loop {
        let most = shares.cutoff();
        let list = Wanted { ceiling: most, ..Wanted::best(listed) };
        let found = shares.search(&typical, list, shares.left / LISTS);
        if sets == Sets::AllOrNone && !(found.complete && shares.lasts(&found.entries)) {
            return shares.ended(f64::NEG_INFINITY, false);
        }
        for entry in found.entries.iter().skip(asked) {
            if shares.cutoff().is_some_and(|cut| entry.score > cut + same_score_margin(cut)) {
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
    /// How many figures may be gone over in all, and how many of them are left.
    effort: u64,
    left: u64,
}

impl<'a> Shares<'a> {
    fn ended(self, bound: f64, complete: bool) -> Searched {
        let spent = self.effort - self.left;
        Searched { entries: self.incumbents.entries().to_vec(), bound, complete, nodes: self.nodes, spent }
    }

    /// One search out of the effort that all of them have together.
    fn search(&mut self, model: &Model, wanted: Wanted, effort: u64) -> Searched {
        let found = search_within(model, self.objective, wanted, self.stop, effort);
        self.nodes += found.nodes;
        self.left = self.left.saturating_sub(found.spent);
        found
    }

    /// What a spec has to reach to be of interest.
    fn cutoff(&self) -> Option<f64> {
        self.incumbents.cutoff().map(|cut| cut.score)
    }

    /// Whether the effort does for working out the room of all sets that have to be searched.
    fn lasts(&self, sets: &[Entry]) -> bool {
        let most = usize::try_from(self.left / ROOM).unwrap_or(usize::MAX);
        let before =
            |entry: &&Entry| self.cutoff().is_none_or(|cut| entry.score <= cut + same_score_margin(cut));
        let roomy = |entry: &&Entry| region(&self.of_set(entry), self.objective).is_some();
        sets.iter().take_while(before).filter(roomy).take(most.saturating_add(1)).count() <= most
    }

    /// The model with this set of ingredients alone.
    fn of_set(&self, entry: &Entry) -> Model<'a> {
        let mut model = self.model.clone();
        for (at, column) in model.columns.iter_mut().enumerate() {
            column.must = entry.set.contains(&at);
            if !column.must {
                column.most = 0.0;
            }
        }
        model
    }

    /// Looks for the best spec of a set; whether that could be searched to the end.
    fn set(&mut self, entry: &Entry) -> bool {
        let mut model = self.of_set(entry);
        if let Some(serves) = &self.model.serves {
            for _ in 0..ROUNDS {
                // Without a region no spec of the set has the room.
                let Some(region) = region(&model, self.objective) else { return true };
                self.left = self.left.saturating_sub(ROOM);
                // Limits that serves are not held to come last, and need no room.
                model.room = Some(Arc::new(serves.room(&model.targets(), &region, self.share)));
            }
        }
        let wanted = Wanted { ceiling: self.cutoff(), ..Wanted::best(1) };
        let found = self.search(&model, wanted, self.left);
        found.entries.into_iter().for_each(|entry| self.incumbents.offer(entry));
        found.complete
    }
}

/// Between which amounts and compositions the specs of a model lie that uses all its `must` columns and
/// no others; `None` if there are none.
fn region(model: &Model, objective: &Objective) -> Option<Region> {
    let ranges = drawn_as_far(model, objective, Ranges::of(&model.typical))?;
    let program = Program::relaxed(model, objective, &ranges);
    let used: Vec<usize> = (0..model.columns.len()).filter(|c| model.columns[*c].must).collect();
    let unit = |c: usize| model.columns[c].unit;
    let mut parts: Vec<Vec<f64>> =
        used.iter().map(|used| program.spread(|c| if c == *used { unit(c) } else { 0.0 })).collect();
    parts.push(program.spread(|c| unit(c) * model.candidate(c).portion.worked));
    let mut simplex = program.tableau(model, &parts);
    let mut ends: Vec<(f64, f64)> = vec![];
    for part in 0..parts.len() {
        ends.push((simplex.end_of(part, 1.0)?, simplex.end_of(part, -1.0)?));
    }
    let worked = ends.pop()?;
    let pours = used
        .iter()
        .zip(ends)
        .map(|(c, (low, high))| {
            let column = &model.columns[*c];
            let (least, most) = (column.least * column.unit, column.most * column.unit);
            (column.candidate, low.max(least), high.min(most).max(least))
        })
        .collect();
    let Ranges { before, spirit, syrup, .. } = ranges;
    Some(Region { pours, worked, before, spirit, syrup })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::read;
    use crate::search::SERVE;

    /// Two dozen gins of the same strength. Volume and strength alone would each hold in two serves of three, both
    /// together do in about as many as are asked for: no limit alone shows it, so that gins have to be served.
    fn brief() -> String {
        let gin = |at: u32| {
            format!(
                "[[candidate]]\nname = \"gin {at}\"\nrole = \"base\"\nstrength = 40\nprice = \"{}.00 per 1 l\"\n",
                10 + at
            )
        };
        let gins: String = (0..24).map(gin).collect();
        format!(
            "currency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"5 ml\"\n\
             [variation]\npour_error = \"1 ml\"\nhold = {{ share = 48 }}\n\
             [targets]\nvolume = {{ min = 98.5, max = 101.5 }}\nstrength = {{ min = 9.7, max = 10.3 }}\n[aim]\nlowest = \"cost\"\n\
             {gins}[[candidate]]\nname = \"water\"\nrole = \"lengthener\"\nprice = \"0.10 per 1 l\"\n\
             [[choose]]\nrole = \"base\"\nmin = 1\nmax = 1\n"
        )
    }

    /// All searches together keep to the effort of one, serves counted in: so many serves and no more, but for those of
    /// the spec that was being served.
    #[test]
    fn all_sets_together_have_one_effort() {
        let brief = read(brief().as_bytes(), &[]).expect("a brief").brief;
        let wanted = Wanted::best(1);
        let served = |stop: &Stop| {
            let model = Model::new(&brief);
            let objective = Objective::of(&model);
            let found = crate::solve::levels::in_share(&model, &objective, wanted, 0.48, stop);
            (model.serves.as_ref().map_or(0, |serves| serves.held()), found)
        };
        let (all, found) = served(&Stop::default());
        assert!(found.complete, "{found:?}");
        // Every serve is in what the search says that it spent …
        assert!(0 < all && all * SERVE <= found.spent, "{all} serves in {}", found.spent);
        // … and with less to spend there are never more of them than that buys.
        for part in [3, 2] {
            let effort = found.spent / part;
            let (some, stopped) = served(&Stop::after(effort));
            assert!(!stopped.complete && stopped.spent <= effort, "{stopped:?}");
            let most = effort / SERVE + SERVES as u64;
            assert!(some <= most, "{some} of {all} serves, at most {most}");
        }
    }
}

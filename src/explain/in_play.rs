//! Which ingredients are in every, in some and in no pourable spec that is nearly as good as the best.
//!
//! The optimum alone says little about the choice that there is (Voll, Jennings, Hennen, Shah, Bardow,
//! *The optimum is not enough*, Energy 82, 2015). Each spec that is found settles several ingredients
//! at once; what no spec shows is settled by proof.

use super::oracle::Effort;
use crate::brief::Brief;
use crate::model::{Group, Model, Objective};
use crate::search::Searched;
use crate::solve::{Ending, SearchMode, Solved, Stop};

/// The band, %: `within` of `[answer]` bounds the list of alternatives, not the choice that there is.
const WITHIN: f64 = 5.0;
/// How many nodes one search may look at, and all together, at thirty candidates.
const EACH: u64 = 10_000;
const ALL: u64 = 12_000;

/// Ingredients by how often they are used in specs within the band, in the order of the brief.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct InPlay {
    /// At most so many % worse than the best.
    pub within: f64,
    /// In every one of them.
    pub always: Vec<String>,
    /// In some.
    pub sometimes: Vec<String>,
    /// In none.
    pub never: Vec<String>,
}

/// Proves who is in play; nothing where the best is not proved or the effort runs out.
pub fn in_play(brief: &Brief, solved: &Solved, stop: &Stop) -> Option<InPlay> {
    let best = solved.specs.first().filter(|_| solved.ending == Ending::Found)?;
    let model = Model::new(brief);
    let objective = Objective::of(&model);
    let score = objective.score_of(best.score);
    let ceiling = score + WITHIN / 100.0 * score.abs();
    let mut marks =
        Marks { inside: vec![false; model.columns.len()], outside: vec![false; model.columns.len()] };
    for spec in solved.specs.iter().filter(|s| objective.score_of(s.score) <= ceiling) {
        let column = |candidate| model.columns.iter().position(|c| c.candidate == candidate);
        marks.take(&spec.pours.iter().filter_map(|p| column(p.candidate)).collect::<Vec<_>>());
    }
    let effort = Effort::wide(stop, model.columns.len(), EACH, ALL);
    let seek = |model: &Model| effort.seek(model, &objective, SearchMode::Any, Some(ceiling));
    marks.seen(&model, seek)?;
    marks.missed(&model, seek)?;
    let those = |inside: bool, outside: bool| -> Vec<String> {
        let columns = model.columns.iter().enumerate();
        columns
            .filter(|(at, _)| marks.inside[*at] == inside && marks.outside[*at] == outside)
            .map(|(_, c)| brief.candidates[c.candidate].name.clone())
            .collect()
    };
    Some(InPlay {
        within: WITHIN,
        always: those(true, false),
        sometimes: those(true, true),
        never: those(false, true),
    })
}

/// What the specs found so far show of every column.
struct Marks {
    inside: Vec<bool>,
    outside: Vec<bool>,
}

impl Marks {
    fn take(&mut self, set: &[usize]) {
        for column in 0..self.inside.len() {
            let seen = if set.contains(&column) { &mut self.inside } else { &mut self.outside };
            seen[column] = true;
        }
    }

    /// Looks for specs with any ingredient that none has shown yet, until there is none.
    fn seen(&mut self, model: &Model, seek: impl Fn(&Model) -> Searched) -> Option<()> {
        loop {
            let members: Vec<usize> = (0..self.inside.len()).filter(|c| !self.inside[*c]).collect();
            if members.is_empty() {
                return Some(());
            }
            let mut asked = model.clone();
            asked.groups.push(Group { min: 1, max: members.len(), members });
            let found = seek(&asked);
            match found.entries.first() {
                Some(entry) => self.take(&entry.set),
                None => return found.complete.then_some(()),
            }
        }
    }

    /// Looks for a spec without each ingredient that all have shown so far.
    fn missed(&mut self, model: &Model, seek: impl Fn(&Model) -> Searched) -> Option<()> {
        for column in 0..self.outside.len() {
            if self.outside[column] || model.columns[column].must {
                continue;
            }
            let mut asked = model.clone();
            // Less than its least is none at all.
            (asked.columns[column].least, asked.columns[column].most) = (1.0, 0.0);
            let found = seek(&asked);
            match found.entries.first() {
                Some(entry) => self.take(&entry.set),
                None if found.complete => {}
                None => return None,
            }
        }
        Some(())
    }
}

//! The best specs found so far: one for each set of ingredients, in the contract's order.

use std::cmp::Ordering;

use crate::model::Model;
use crate::tolerance::{SAME_SCORE, WHOLE};

/// A pourable spec that the exact judge has passed.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The search's score: lower is better.
    pub score: f64,
    /// Money per serve, zero where no prices are known.
    pub cost: f64,
    /// The columns used, by ingredient name.
    pub set: Vec<usize>,
    /// Units of each, in the same order.
    pub units: Vec<f64>,
}

/// What a search found.
#[derive(Debug, Clone)]
pub struct Searched {
    /// The best entries, best first.
    pub entries: Vec<Entry>,
    /// Nothing that is not listed scores better than this; infinite where there is nothing else.
    pub bound: f64,
    /// Whether everything was searched.
    pub complete: bool,
    /// How many nodes were looked at.
    pub nodes: u64,
    /// How many figures were gone over.
    pub spent: u64,
}

/// The least score in whole steps that is not under another, but for rounding.
pub fn in_steps(least: f64, step: f64) -> f64 {
    (least / step - WHOLE).ceil() * step
}

/// By how much two scores may differ and still be the same.
pub fn same_score_margin(score: f64) -> f64 {
    SAME_SCORE * score.abs() + 1e-12
}

/// Lower first, and equal within [`same_score_margin`].
fn compare(a: f64, b: f64) -> Ordering {
    if (a - b).abs() <= same_score_margin(a.abs().max(b.abs())) { Ordering::Equal } else { a.total_cmp(&b) }
}

impl Entry {
    /// The contract's order: score, cost, fewer ingredients, ingredient names, and last the amounts
    /// in the order of the names, so that no two specs are equal. `rank` is a column's place by name.
    pub fn order(&self, other: &Self, rank: &[usize]) -> Ordering {
        compare(self.score, other.score).then_with(|| self.order_but_score(other, rank))
    }

    /// Whether it uses none but these columns.
    fn is_within(&self, columns: &[usize]) -> bool {
        self.set.len() <= columns.len() && self.set.iter().all(|c| columns.contains(c))
    }

    /// Whether only one of the two is listed: this one, if it comes first.
    fn replaces(&self, other: &Self, keep: Keep) -> bool {
        match keep {
            Keep::Best => self.set == other.set,
            Keep::Needed => self.is_within(&other.set),
            Keep::Every => self.set == other.set && self.units == other.units,
        }
    }

    /// The same among specs whose scores do not matter.
    pub fn order_but_score(&self, other: &Self, rank: &[usize]) -> Ordering {
        let names = |entry: &Self| entry.set.iter().map(|c| rank[*c]).collect::<Vec<_>>();
        compare(self.cost, other.cost)
            .then_with(|| self.set.len().cmp(&other.set.len()))
            .then_with(|| names(self).cmp(&names(other)))
            .then_with(|| {
                self.units
                    .iter()
                    .zip(&other.units)
                    .map(|(a, b)| a.total_cmp(b))
                    .find(|o| o.is_ne())
                    .unwrap_or(Ordering::Equal)
            })
    }
}

/// The place of every column by ingredient name.
pub fn ranks(model: &Model) -> Vec<usize> {
    let mut order: Vec<usize> = (0..model.columns.len()).collect();
    order.sort_by(|a, b| model.candidate(*a).name.cmp(&model.candidate(*b).name));
    let mut rank = vec![0; order.len()];
    for (place, column) in order.into_iter().enumerate() {
        rank[column] = place;
    }
    rank
}

/// What a spec has to come before to matter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cutoff {
    /// The score.
    pub score: f64,
    /// The cost at that score.
    pub cost: f64,
    /// The number of ingredients at that score and cost.
    pub count: usize,
}

/// How many are wanted, and how good they have to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// So many specs, each with another set of ingredients.
    pub specs: usize,
    /// Only those at most this share (0.15 for 15 %) worse than the best.
    pub within: Option<f64>,
    /// Only those that score at most this.
    pub ceiling: Option<f64>,
    /// What has to come before those that are listed has to score better by more than this: finer differences do
    /// not matter, and nothing is proved of them.
    pub slack: f64,
    /// Which specs of one set of ingredients are listed.
    pub keep: Keep,
}

/// Which specs of one set of ingredients are listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keep {
    /// The best.
    Best,
    /// The best, unless a spec that comes before it makes do with a part of the set.
    Needed,
    /// Every one.
    Every,
}

impl Wanted {
    /// The best of so many sets, whatever it scores.
    pub fn best(specs: usize) -> Self {
        Self { specs, within: None, ceiling: None, slack: 0.0, keep: Keep::Best }
    }
}

/// The list of the best.
#[derive(Debug)]
pub struct Incumbents {
    wanted: Wanted,
    /// For now nothing over this is of interest.
    ceiling: f64,
    rank: Vec<usize>,
    entries: Vec<Entry>,
}

impl Incumbents {
    /// An empty list. `rank[c]` is the place of column c by ingredient name.
    pub fn new(wanted: Wanted, rank: Vec<usize>) -> Self {
        Self { wanted, ceiling: f64::INFINITY, rank, entries: vec![] }
    }

    /// The list, best first.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// Looks up to a score, or up to what is wanted if that is lower.
    pub fn raise(&mut self, ceiling: f64) {
        self.ceiling = self.wanted.ceiling.unwrap_or(f64::INFINITY).min(ceiling);
    }

    /// Whether nothing over a ceiling can still belong to the list, all under it having been seen.
    pub fn enough(&self, ceiling: f64) -> bool {
        let wanted = [self.wanted.ceiling, self.band()].into_iter().flatten().fold(f64::INFINITY, f64::min);
        let last = self.entries.get(self.wanted.specs.saturating_sub(1));
        last.is_some_and(|e| e.score - self.wanted.slack <= ceiling) || wanted <= ceiling
    }

    /// Which specs of one set are listed.
    pub fn keep(&self) -> Keep {
        self.wanted.keep
    }

    /// How the columns stand by ingredient name.
    pub fn rank(&self) -> &[usize] {
        &self.rank
    }

    /// What a spec has to beat that uses some columns, and no others where the set is `decided`: what is listed of its set,
    /// or of a part of it where that makes it needless. Nothing where nothing such is listed, or every spec is wanted.
    pub fn of_used(&self, used: &[usize], decided: bool) -> Option<Cutoff> {
        let first = match self.wanted.keep {
            Keep::Best if decided => self.entries.iter().find(|e| e.set == used),
            Keep::Needed => self.entries.iter().find(|e| e.is_within(used)),
            Keep::Best | Keep::Every => None,
        };
        first.map(|entry| self.beaten(entry))
    }

    /// What has to be beaten to come before an entry.
    fn beaten(&self, entry: &Entry) -> Cutoff {
        if self.wanted.slack > 0.0 {
            return Cutoff { score: entry.score - self.wanted.slack, cost: f64::INFINITY, count: usize::MAX };
        }
        Cutoff { score: entry.score, cost: entry.cost, count: entry.set.len() }
    }

    /// What a spec of a new set has to beat; `None` while anything is welcome.
    pub fn cutoff(&self) -> Option<Cutoff> {
        let ceiling = self.band().unwrap_or(f64::INFINITY).min(self.ceiling);
        let last = (self.entries.len() >= self.wanted.specs).then(|| self.entries.last()).flatten();
        match last {
            Some(last) if last.score <= ceiling => Some(self.beaten(last)),
            _ if ceiling.is_finite() => {
                Some(Cutoff { score: ceiling, cost: f64::INFINITY, count: usize::MAX })
            }
            _ => None,
        }
    }

    /// The worst score within the wanted band of the best.
    fn band(&self) -> Option<f64> {
        let share = self.wanted.within?;
        let best = self.entries.first()?.score;
        Some(best + share * best.abs())
    }

    /// Takes an entry in if it belongs; the list stays in order and within what is wanted.
    pub fn offer(&mut self, entry: Entry) {
        let margin = same_score_margin(entry.score);
        if entry.score > self.ceiling + margin {
            return;
        }
        let keep = self.wanted.keep;
        if self.entries.iter().any(|e| e.replaces(&entry, keep) && e.order(&entry, &self.rank).is_le()) {
            return;
        }
        self.entries.retain(|e| !entry.replaces(e, keep) || e.order(&entry, &self.rank).is_lt());
        let at = self.entries.partition_point(|e| e.order(&entry, &self.rank).is_lt());
        self.entries.insert(at, entry);
        self.entries.truncate(self.wanted.specs);
        if let Some(band) = self.band() {
            self.entries.retain(|e| e.score <= band + same_score_margin(band));
        }
    }
}

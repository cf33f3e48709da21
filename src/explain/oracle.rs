//! Whether a part of a brief's demands can be kept together, asked with as few searches as possible:
//! a spec that keeps more than it was asked for answers later questions, and so does a proof.

use std::cell::Cell;

use super::demand::{Demand, without};
use crate::brief::{Brief, Goal, Measure};
use crate::model::{Model, Objective, Sense};
use crate::search::{Searched, seek};
use crate::solve::{SearchLimits, SearchMode, Spec, Stop, measured};

/// A set of demands, one bit each, in the order of a list.
pub type Set = u128;

/// How many candidates the node budgets of explanations are meant for.
const WIDE: u64 = 30;

/// How much work an explanation may be: counted in nodes, so that the same brief gets the same words
/// however fast the machine is.
#[derive(Debug)]
pub struct Effort<'a> {
    stop: &'a Stop,
    each: u64,
    left: Cell<u64>,
    short: Cell<bool>,
    /// What a search costs before its first node, in nodes.
    start: u64,
}

impl<'a> Effort<'a> {
    /// No search looks at more nodes than `each`, all of them together at no more than `all`.
    pub fn new(stop: &'a Stop, each: u64, all: u64) -> Self {
        Self { stop, each, left: Cell::new(all), short: Cell::new(false), start: 1 }
    }

    /// The same on a shelf of so many candidates: on a long one it takes a while before a search begins.
    pub fn on(self, candidates: usize) -> Self {
        let long = candidates as u64 > 2 * WIDE;
        Self { start: if long { 1 + candidates as u64 / 10 } else { 1 }, ..self }
    }

    /// The same for a brief of so many candidates: a node of a smaller brief is less work, so that it
    /// gets more of them. `each` and `all` are what 30 candidates get.
    pub fn wide(stop: &'a Stop, candidates: usize, each: u64, all: u64) -> Self {
        let share = WIDE as f64 / (candidates as u64).clamp(WIDE / 4, 2 * WIDE) as f64;
        let nodes = |count: u64| (count as f64 * share) as u64;
        Self::new(stop, nodes(each), nodes(all)).on(candidates)
    }

    /// One search within what is left.
    pub fn seek(
        &self,
        model: &Model,
        objective: &Objective,
        mode: SearchMode,
        ceiling: Option<f64>,
    ) -> Searched {
        self.seek_within(self.each, model, objective, mode, ceiling)
    }

    /// The same, looking at no more than so many nodes.
    pub fn seek_within(
        &self,
        nodes: u64,
        model: &Model,
        objective: &Objective,
        mode: SearchMode,
        ceiling: Option<f64>,
    ) -> Searched {
        let limits = SearchLimits { stop: self.stop, nodes: nodes.min(self.each).min(self.left.get()) };
        let found = seek(model, objective, mode, ceiling, limits);
        self.left.set(self.left.get().saturating_sub(found.nodes + self.start));
        let answered = found.complete || (mode == SearchMode::Any && !found.entries.is_empty());
        self.short.set(self.short.get() || !answered);
        found
    }

    /// Any spec that can be poured, and whether it is proved that there is none.
    pub fn anything(&self, model: &Model) -> (Option<Spec>, bool) {
        let objective = Objective::goal(model, Goal::Measure(Measure::Volume), Sense::Low);
        let found = self.seek(model, &objective, SearchMode::Any, None);
        let spec = found.entries.first().map(|entry| measured(model, &objective, entry));
        let none = spec.is_none() && found.complete;
        (spec, none)
    }

    /// The best spec that was found, scoring no worse than a ceiling.
    pub fn best(&self, model: &Model, objective: &Objective, ceiling: Option<f64>) -> Option<Spec> {
        let found = self.seek(model, objective, SearchMode::Ordered, ceiling);
        found.entries.first().map(|entry| measured(model, objective, entry))
    }

    /// Whether a search has ended before it had searched everything that it was asked for, since this
    /// was last asked.
    pub fn cut_short(&self) -> bool {
        self.short.take()
    }

    /// Whether nothing more can be asked.
    pub fn spent(&self) -> bool {
        self.left.get() == 0 || self.stop.raised()
    }
}

/// The answer to whether demands can be kept together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// A spec keeps them all.
    Can,
    /// Proved: none does.
    Cannot,
    /// The effort ran out.
    Unknown,
}

/// Answers for one brief.
pub struct Oracle<'a> {
    /// The brief's own model.
    pub model: Model<'a>,
    /// The demands that are named; what is not among them always holds.
    pub demands: Vec<Demand>,
    /// How much work is left.
    pub effort: &'a Effort<'a>,
    /// Specs that were found, each with the demands that it keeps.
    pub witnesses: Vec<(Set, Spec)>,
    impossible: Vec<Set>,
    /// Searches made.
    pub asked: usize,
}

impl<'a> Oracle<'a> {
    /// Nothing is known yet. Of more demands than a set holds, the last always hold.
    pub fn new(brief: &'a Brief, mut demands: Vec<Demand>, effort: &'a Effort<'a>) -> Self {
        demands.truncate(Set::BITS as usize - 1);
        let model = Model::new(brief);
        Self { model, demands, effort, witnesses: vec![], impossible: vec![], asked: 0 }
    }

    /// All demands.
    pub fn full(&self) -> Set {
        (1 << self.demands.len()) - 1
    }

    /// The demands of a set, in order.
    pub fn members(&self, set: Set) -> Vec<Demand> {
        self.demands.iter().enumerate().filter(|(at, _)| set & (1 << at) != 0).map(|(_, d)| *d).collect()
    }

    /// The set of the demands that pass a test.
    pub fn those(&self, test: impl Fn(Demand) -> bool) -> Set {
        self.demands.iter().enumerate().filter(|(_, d)| test(**d)).fold(0, |set, (at, _)| set | 1 << at)
    }

    /// Whether a spec keeps every demand of a set.
    pub fn can(&mut self, kept: Set) -> Verdict {
        if self.witnesses.iter().any(|(keeps, _)| kept & !keeps == 0) {
            return Verdict::Can;
        }
        if self.impossible.iter().any(|bad| bad & !kept == 0) {
            return Verdict::Cannot;
        }
        self.asked += 1;
        let open = without(self.model.brief, &self.members(self.full() & !kept));
        match self.effort.anything(&Model::new(&open)) {
            (Some(spec), _) => {
                self.witness(spec, kept);
                Verdict::Can
            }
            (None, true) => {
                self.impossible.push(kept);
                Verdict::Cannot
            }
            (None, false) => Verdict::Unknown,
        }
    }

    /// Takes a found spec down with everything that it keeps, `kept` among it.
    pub fn witness(&mut self, spec: Spec, kept: Set) {
        let keeps = kept | self.those(|d| d.met(&self.model, &spec.pours, &spec.served));
        self.witnesses.push((keeps, spec));
    }
}

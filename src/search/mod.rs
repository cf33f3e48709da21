//! The pourable search: depth first over used / not used and amounts, with proof.
//!
//! A node's linear program is a valid relaxation, so its optimum bounds every spec below it; leaves
//! are judged by the exact physics. The K-th best ingredient set is the cutoff: one search gives the
//! best spec and the alternatives, proved.

pub mod branch;
pub mod cuts;
mod first;
mod incumbents;
mod judge;
mod mode;
pub mod node;
mod notes;
mod subproblem;
mod subproblems;
pub mod sums;
mod threshold;
mod ties;

pub use incumbents::{Cutoff, Entry, Incumbents, Keep, Searched, Wanted, in_steps, ranks, same_score_margin};
pub use judge::Judge;
pub use mode::{SearchLimits, SearchMode, Stop};
pub use subproblems::Subproblems;

use self::branch::Next;
use self::node::Node;
use self::subproblem::Subproblem;
use self::threshold::{Terms, Threshold, score_bound};
use crate::lp::simplex::Ended;
use crate::model::{Model, Objective};
use crate::tolerance::GAIN;

/// What simulating one serve costs, in figures gone over. It takes as long as some 600 (a microsecond:
/// `benches/service.rs`); a share is worth waiting for a little longer.
pub const SERVE: u64 = 200;

/// How often the stop flag is looked at, in nodes.
const LOOK: u64 = 32;

/// How often the ranges of one node are shrunk and its relaxation solved again.
const TIGHTENINGS: usize = 20;

/// The first rise of the ceiling above the root bound, as a share of the score's scale.
const FIRST_RISE: f64 = 0.003;
/// How much farther each rise is.
const RISE: f64 = 1.6;
/// For so many nodes any spec is looked for before the least.
const DIVE: u64 = 2000;
/// Where an effort is set, one part in so many of it is kept for a search without a ceiling.
const RESERVE: u64 = 4;
/// After so many rises the ceiling is taken away.
const RISES: usize = 16;

/// The same by branching alone, with so much effort of its own.
pub fn branch(model: &Model, objective: &Objective, wanted: Wanted, stop: &Stop, effort: u64) -> Searched {
    branch_in(&Subproblems::prepared(model, objective), wanted, stop, effort)
}

/// The same in subproblems that are there.
pub fn branch_in(subproblems: &Subproblems, wanted: Wanted, stop: &Stop, effort: u64) -> Searched {
    let limits = SearchLimits { stop, nodes: u64::MAX };
    run(subproblems, wanted, SearchMode::Ordered, (limits, effort))
}

/// Searches a model for one spec, that scores at most `ceiling` where one is given.
pub fn seek(
    model: &Model,
    objective: &Objective,
    mode: SearchMode,
    ceiling: Option<f64>,
    limits: SearchLimits,
) -> Searched {
    // Setting out alone takes milliseconds, and reasons are made of hundreds of searches.
    if limits.stop.raised() {
        return Searched { entries: vec![], bound: f64::NEG_INFINITY, complete: false, nodes: 0, spent: 0 };
    }
    let subproblems = match mode {
        SearchMode::Any => Subproblems::plain(model, objective),
        _ => Subproblems::prepared(model, objective),
    };
    let wanted = Wanted { ceiling, ..Wanted::best(1) };
    run(&subproblems, wanted, mode, (limits, u64::MAX))
}

fn run(
    subproblems: &Subproblems,
    wanted: Wanted,
    mode: SearchMode,
    (limits, effort): (SearchLimits, u64),
) -> Searched {
    let judge = subproblems.judge();
    let incumbents = Incumbents::new(wanted, ranks(judge.model));
    let kept = if effort == u64::MAX { 0 } else { effort / RESERVE };
    let left = effort - kept;
    let nodes = 0;
    let mut run =
        Search { judge, incumbents, mode, limits, effort, left, kept, nodes, spare: vec![], clipped: false };
    let root = subproblems.first().map_or(f64::INFINITY, |p| p.bound);
    let half_a_step = judge.objective.step().map_or(0.0, |step| 0.5 * step);
    let mut rise = (FIRST_RISE * subproblems.scale()).max(wanted.slack).max(half_a_step);
    let climbs = mode != SearchMode::Any && wanted.keep != Keep::Every && root.is_finite() && rise > 0.0;
    let mut rises = if climbs { RISES } else { 0 };
    let mut dived = mode == SearchMode::Least;
    if dived && run.dive(subproblems) {
        return run.ended(f64::INFINITY, true);
    }
    // Everything under the last ceiling has been seen, and is listed.
    let mut seen = f64::NEG_INFINITY;
    loop {
        let ceiling = if rises == 0 { f64::INFINITY } else { root + rise };
        run.incumbents.raise(ceiling);
        run.clipped = false;
        if let Some(bound) = run.subproblems(subproblems) {
            let bound = bound.max(seen);
            return if run.left == 0 {
                run.without_ceiling(subproblems, bound)
            } else {
                run.ended(bound, false)
            };
        }
        seen = ceiling;
        if rises == 0 || !run.clipped || run.incumbents.enough(ceiling) {
            return run.ended(f64::INFINITY, true);
        }
        if !dived && !run.found() && run.nodes > DIVE {
            // It takes its time: somebody who stops it should have something in hand.
            dived = true;
            if run.dive(subproblems) {
                return run.ended(f64::INFINITY, true);
            }
            if !run.found() {
                run.start_from_the_middle(root, subproblems.scale());
            }
        }
        (rise, rises) = (rise * RISE, rises - 1);
    }
}

pub(super) struct Search<'a> {
    pub(super) judge: Judge<'a>,
    pub(super) incumbents: Incumbents,
    pub(super) mode: SearchMode,
    pub(super) limits: SearchLimits<'a>,
    /// How many figures may be gone over in all.
    pub(super) effort: u64,
    /// How many of them are left.
    pub(super) left: u64,
    /// How many are kept for a search without a ceiling.
    pub(super) kept: u64,
    pub(super) nodes: u64,
    /// Nodes whose memory is used again.
    pub(super) spare: Vec<Node>,
    /// Whether anything was cut away because of the cutoff, and not because nothing was there.
    pub(super) clipped: bool,
}

impl Search<'_> {
    fn ended(self, bound: f64, complete: bool) -> Searched {
        let spent = self.effort - self.left - self.kept;
        Searched { entries: self.incumbents.entries().to_vec(), bound, complete, nodes: self.nodes, spent }
    }

    /// Looks for any spec first, for a while, so that there is something to improve on; true where it is
    /// proved that there is none.
    fn dive(&mut self, subproblems: &Subproblems) -> bool {
        let (mode, limits) = (self.mode, self.limits);
        self.mode = SearchMode::Any;
        self.limits.nodes = limits.nodes.min(self.nodes + DIVE);
        self.incumbents.raise(f64::INFINITY);
        let ended = self.subproblems(subproblems).is_none();
        (self.mode, self.limits) = (mode, limits);
        ended && !self.clipped && !self.found()
    }

    /// The effort has run out under a ceiling: what is kept of it looks for specs wherever they are. The
    /// bound is that of the search before.
    fn without_ceiling(mut self, subproblems: &Subproblems, bound: f64) -> Searched {
        self.left = std::mem::take(&mut self.kept);
        let root = subproblems.first().map_or(bound, |subproblem| subproblem.bound);
        self.incumbents.raise(f64::INFINITY);
        self.start_from_few(subproblems);
        self.start_from_the_middle(root, subproblems.scale());
        self.incumbents.raise(f64::INFINITY);
        self.clipped = false;
        match self.subproblems(subproblems) {
            Some(further) => self.ended(bound.max(further), false),
            None => self.ended(f64::INFINITY, true),
        }
    }

    /// Searches all subproblems under the present ceiling; gives the bound of what is left where it was
    /// stopped.
    pub(super) fn subproblems(&mut self, subproblems: &Subproblems) -> Option<f64> {
        let mut left = subproblems.in_order();
        loop {
            let cutoff = self.incumbents.cutoff();
            let out =
                |bound: f64| cutoff.is_some_and(|cutoff| bound > cutoff.score + self.margin(cutoff.score));
            let Ok(next) = left.next(out) else {
                self.clipped = true;
                return None;
            };
            let subproblem = next?;
            if let Some(rest) = self.subproblem(subproblem) {
                return Some(rest.max(subproblem.bound).min(left.bound()));
            }
        }
    }

    /// Searches one subproblem; gives the bound of what is left where it was stopped.
    fn subproblem(&mut self, subproblem: &Subproblem) -> Option<f64> {
        let terms = self.terms(subproblem);
        let mut root = Node::root(self.judge.model, subproblem.simplex.clone(), subproblem.sums.clone());
        root.bound = subproblem.bound;
        let mut stack = vec![root];
        while let Some(mut node) = stack.pop() {
            self.nodes += 1;
            if self.ends() {
                return Some(stack.iter().map(|n| n.bound).fold(node.bound, f64::min));
            }
            let mut next = self.visit(&mut node, &terms);
            // The first child is looked at first: it goes on the stack last.
            while next.len() > 1 {
                let change = next.pop();
                let mut child = self.spare.pop().unwrap_or_else(|| node.clone());
                child.copy_from(&node);
                change.into_iter().for_each(|c| child.apply(c));
                stack.push(child);
            }
            match next.pop() {
                Some(change) => {
                    node.apply(change);
                    stack.push(node);
                }
                None => self.spare.push(node),
            }
        }
        None
    }

    /// Whether the search is over, searched to the end or not.
    fn ends(&self) -> bool {
        let stopped = self.nodes.is_multiple_of(LOOK) && self.limits.stop.raised();
        stopped
            || self.left == 0
            || self.nodes > self.limits.nodes
            || (self.mode == SearchMode::Any && self.found())
    }

    fn found(&self) -> bool {
        !self.incumbents.entries().is_empty()
    }

    /// By how much a score may be over the cutoff and still matter.
    pub(super) fn margin(&self, score: f64) -> f64 {
        match self.mode {
            SearchMode::Least if self.found() => -GAIN * score.abs() - GAIN,
            _ => same_score_margin(score),
        }
    }

    /// Solves a node and says how to go on; nothing where nothing below it matters.
    fn visit(&mut self, node: &mut Node, terms: &Terms) -> Vec<branch::Change> {
        if node.propagate(self.judge.model).is_err() {
            return vec![];
        }
        let mut threshold = self.threshold(node, terms);
        if self.bounded_out(node, terms, &threshold) {
            return vec![];
        }
        if self.close_by_count(node, terms, &threshold) {
            self.clipped = true;
            threshold = self.threshold(node, terms);
            if node.propagate(self.judge.model).is_err() || self.bounded_out(node, terms, &threshold) {
                return vec![];
            }
        }
        let hard = threshold
            .cutoff
            .map_or(f64::INFINITY, |_| threshold.target + threshold.margin + terms.perturbation_most);
        let model = self.judge.model;
        // Free amounts shrink by less and less: a few rounds have what there is to have.
        let rounds = if hard.is_finite() { TIGHTENINGS } else { 0 };
        for _ in 0..rounds {
            let room = hard - node.simplex.objective();
            let fixed = branch::fix_by_reduced_cost(model, node, &terms.subproblem.program, room);
            self.clipped |= fixed;
            if node.propagate(model).is_err() {
                return vec![];
            }
            // What has been fixed may exclude the point that it was read from. Where nothing has been,
            // and the point lies outside all the same (the pivots ran out), solving again is of no use.
            if !fixed || branch::within_domains(&terms.subproblem.program, node) {
                break;
            }
            if self.bounded_out(node, terms, &threshold) {
                return vec![];
            }
        }
        let room = hard - node.simplex.objective();
        match branch::next(self.judge.model, &terms.subproblem.program, node, room) {
            Next::Branch(changes) => {
                self.clipped |= changes.len() < 2 && room.is_finite();
                changes
            }
            Next::Whole(spec) => {
                self.judge_leaf(&spec);
                let changes =
                    branch::after_leaf(self.judge.model, node, &terms.subproblem.program, &spec, room);
                self.clipped |= changes.len() < 2 && room.is_finite();
                changes
            }
        }
    }

    /// Solves the node's relaxation; true where nothing below it can come before the cutoff.
    fn bounded_out(&mut self, node: &mut Node, terms: &Terms, threshold: &Threshold) -> bool {
        let over = terms.subproblem.program.lines.over.is_some();
        let weights = [1.0, terms.perturbation, -threshold.theta];
        let weights = &weights[..if over { 3 } else { 2 }];
        let hard = threshold
            .cutoff
            .map_or(f64::INFINITY, |_| threshold.target + threshold.margin + terms.perturbation_most);
        node.bound_segments(&terms.subproblem.program);
        node.simplex.shed();
        node.simplex.weigh(weights);
        let ended = node.simplex.solve(hard);
        // What surrounds the tableau goes over every column a few dozen times.
        let work = node.simplex.work() + 32 * node.domains.len() as u64;
        self.left = self.left.saturating_sub(work);
        match ended {
            Ended::Infeasible => return true,
            Ended::Above => {
                self.clipped = true;
                return true;
            }
            Ended::Optimal | Ended::Tired => {}
        }
        let least = node.simplex.objective();
        node.bound = node.bound.max(score_bound(least - terms.perturbation_most, terms, threshold));
        if let Some(covered) = notes::most(&self.judge, node) {
            node.bound = node.bound.max(0.0 - covered as f64);
        }
        let Some(cutoff) = threshold.cutoff else { return false };
        let out = Self::tied_out(node, terms, threshold, cutoff, least)
            || self.stepped_out(node, threshold, cutoff);
        self.clipped |= out;
        out
    }

    fn judge_leaf(&mut self, spec: &[(usize, f64)]) {
        let rank = self.incumbents.rank();
        let mut spec = spec.to_vec();
        spec.sort_by_key(|(c, _)| rank[*c]);
        let (set, units): (Vec<usize>, Vec<f64>) = spec.into_iter().unzip();
        let model = self.judge.model;
        let held = || model.serves.as_ref().map_or(0, |serves| serves.held());
        let before = held();
        let any_free = set.iter().any(|c| !self.judge.model.columns[*c].whole);
        let entry = if any_free { self.judge.polished(&set, &units) } else { self.judge.entry(set, units) };
        self.left = self.left.saturating_sub(SERVE * (held() - before));
        if let Some(entry) = entry {
            self.incumbents.offer(entry);
        }
    }
}

//! The pourable search: depth first over used / not used and amounts, with proof.
//!
//! A node's linear program is a valid relaxation, so its optimum bounds every spec below it; leaves
//! are judged by the exact physics. The K-th best ingredient set is the cut-off: one search gives the
//! best spec and the alternatives, proved.

use super::Stop;
use super::branch::{self, Next};
use super::incumbents::{Cut, Entry, Incumbents, Wanted, ranks, same_score_margin};
use super::judge::Judge;
use super::node::{Node, State};
use super::pieces::{Piece, pieces, scale};
use super::polish;
use super::quest::{Patience, Quest};
use super::simplex::Ended;
use crate::model::{Model, Objective};
use crate::tolerance::GAIN;

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
}

/// How often the stop flag is looked at, in nodes.
const LOOK: u64 = 32;
/// The share of the score's scale that cost is let in as, so that among near-equal scores the search
/// walks towards the cheap ones. The bound is corrected for it: it guides, and decides nothing.
const GUIDE: f64 = 1e-5;

/// The first rung of the ceiling above the root bound, as a share of the score's scale.
const FIRST_RUNG: f64 = 0.003;
/// How much farther each rung is.
const RUNG: f64 = 1.6;
/// After so many rungs the ceiling is taken away.
const RUNGS: usize = 16;

/// Searches a model for an objective.
///
/// A depth-first search without a good cut-off wanders: most of its nodes are worse than the specs
/// that it is about to find. So it is run under a ceiling a little above the root bound, and again
/// under a higher one until enough specs lie under it: everything under the last ceiling has been
/// searched, which is the proof, and the runs before it cost little beside it.
pub fn search(model: &Model, objective: &Objective, wanted: Wanted, stop: &Stop) -> Searched {
    run(model, objective, wanted, Quest::Ordered, Patience { stop, nodes: u64::MAX })
}

/// Searches a model for one spec, that scores at most `ceiling` where one is given.
pub fn seek(
    model: &Model,
    objective: &Objective,
    quest: Quest,
    ceiling: Option<f64>,
    patience: Patience,
) -> Searched {
    run(model, objective, Wanted { specs: 1, within: None, ceiling }, quest, patience)
}

fn run(model: &Model, objective: &Objective, wanted: Wanted, quest: Quest, patience: Patience) -> Searched {
    let judge = Judge { model, objective };
    let incumbents = Incumbents::new(wanted, ranks(model));
    let mut run = Search { judge, incumbents, quest, patience, nodes: 0, spare: vec![], clipped: false };
    let mut pieces = pieces(model, objective);
    if quest != Quest::Any {
        pieces.iter_mut().for_each(|p| p.sharpen(model));
        pieces.retain(|p| p.bound < f64::INFINITY);
        pieces.sort_by(|a, b| a.bound.total_cmp(&b.bound));
    }
    let root = pieces.first().map_or(f64::INFINITY, |p| p.bound);
    let mut rung = FIRST_RUNG * scale(&pieces);
    let mut rungs = if quest != Quest::Any && root.is_finite() && rung > 0.0 { RUNGS } else { 0 };
    loop {
        let ceiling = if rungs == 0 { f64::INFINITY } else { root + rung };
        run.incumbents.raise(ceiling);
        run.clipped = false;
        if let Some(bound) = run.pieces(&pieces) {
            return run.ended(bound, false);
        }
        if rungs == 0 || !run.clipped || run.incumbents.enough(ceiling) {
            return run.ended(f64::INFINITY, true);
        }
        (rung, rungs) = (rung * RUNG, rungs - 1);
    }
}

struct Search<'a> {
    judge: Judge<'a>,
    incumbents: Incumbents,
    quest: Quest,
    patience: Patience<'a>,
    nodes: u64,
    /// Nodes whose memory is used again.
    spare: Vec<Node>,
    /// Whether anything was cut away because of the cut-off, and not because nothing was there.
    clipped: bool,
}

/// What is fixed for all nodes of a piece.
struct Terms<'p> {
    piece: &'p Piece,
    /// Weight of the cost in the objective.
    guide: f64,
    /// The most that the cost can add.
    guide_most: f64,
    /// Largest value of the score's denominator; 1 where there is none.
    over_most: f64,
    /// Smallest value of the score's denominator; 1 where there is none.
    over_least: f64,
}

/// What a node's objective is compared with.
#[derive(Debug, Clone, Copy)]
struct Gate {
    /// The weight of the denominator.
    theta: f64,
    /// The objective (cost not counted) of a spec that scores just as the cut.
    target: f64,
    /// How far from it is still the same score.
    margin: f64,
    cut: Option<Cut>,
}

impl Search<'_> {
    fn ended(self, bound: f64, complete: bool) -> Searched {
        Searched { entries: self.incumbents.entries().to_vec(), bound, complete, nodes: self.nodes }
    }

    /// Searches all pieces under the present ceiling; gives the bound of what is left where it was
    /// stopped.
    fn pieces(&mut self, pieces: &[Piece]) -> Option<f64> {
        for (at, piece) in pieces.iter().enumerate() {
            let cut = self.incumbents.cut();
            if cut.is_some_and(|cut| piece.bound > cut.score + self.margin(cut.score)) {
                // They are in the order of their bounds.
                self.clipped = true;
                return None;
            }
            if let Some(left) = self.piece(piece) {
                let others = pieces.get(at + 1).map_or(f64::INFINITY, |p| p.bound);
                return Some(left.max(piece.bound).min(others));
            }
        }
        None
    }

    /// Searches one piece; gives the bound of what is left where it was stopped.
    fn piece(&mut self, piece: &Piece) -> Option<f64> {
        let terms = self.terms(piece);
        let mut root = Node::root(self.judge.model, piece.simplex.clone());
        root.bound = piece.bound;
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
        let stopped = self.nodes.is_multiple_of(LOOK) && self.patience.stop.raised();
        stopped || self.nodes > self.patience.nodes || (self.quest == Quest::Any && self.found())
    }

    fn found(&self) -> bool {
        !self.incumbents.entries().is_empty()
    }

    /// By how much a score may be over the cut-off and still matter.
    fn margin(&self, score: f64) -> f64 {
        match self.quest {
            Quest::Least if self.found() => -GAIN * score.abs() - GAIN,
            _ => same_score_margin(score),
        }
    }

    fn terms<'p>(&self, piece: &'p Piece) -> Terms<'p> {
        let lines = &piece.program.lines;
        let mut simplex = piece.simplex.clone();
        let mut end = |part: usize, sign: f64| {
            let mut weights = [0.0; 3];
            weights[part] = sign;
            simplex.weigh(&weights[..=part]);
            (simplex.solve(f64::INFINITY) == Ended::Optimal).then(|| sign * simplex.objective())
        };
        let mut most = |part: usize| end(part, -1.0).unwrap_or(f64::INFINITY);
        let over_most = if lines.over.is_some() { most(2) } else { 1.0 };
        let cost_most = most(1);
        let over_least = if lines.over.is_some() { end(2, 1.0).unwrap_or(0.0).max(0.0) } else { 1.0 };
        let lengths =
            piece.program.segments.iter().map(|s| s.length).chain(piece.program.extras.iter().copied());
        let reach = lines.value.iter().zip(lengths).map(|(v, length)| (v * length).abs());
        let scale = piece.bound.abs().min(1e12).max(1e-6 * reach.fold(0.0, f64::max)) * over_most;
        let plain = cost_most > 0.0
            && cost_most.is_finite()
            && scale.is_finite()
            && !self.about_cost()
            && self.quest == Quest::Ordered;
        let guide = if plain { GUIDE * scale / cost_most } else { 0.0 };
        Terms { piece, guide, guide_most: if plain { guide * cost_most } else { 0.0 }, over_most, over_least }
    }

    /// Whether the score is money itself, so that cost cannot order equal scores.
    fn about_cost(&self) -> bool {
        use crate::brief::{Goal, Measure};
        matches!(
            self.judge.objective,
            Objective::Goal { goal: Goal::Measure(Measure::Cost | Measure::PourCost), .. }
        )
    }

    fn gate(&self, node: &Node, terms: &Terms) -> Gate {
        let rank = self.incumbents.rank();
        let own = node.decided_set(rank).and_then(|set| self.incumbents.of_set(&set).cloned());
        let cut = match own {
            Some(entry) => Some(Cut { score: entry.score, cost: entry.cost, count: entry.set.len() }),
            None => self.incumbents.cut(),
        };
        let lines = &terms.piece.program.lines;
        let score = cut.map(|c| c.score);
        let margin = score.map_or(0.0, |s| self.margin(s));
        let margin = margin * if margin < 0.0 { terms.over_least } else { terms.over_most };
        if lines.over.is_some() {
            let theta = score.unwrap_or_else(|| self.guess(terms.piece));
            Gate { theta, target: 0.0, margin, cut }
        } else {
            Gate { theta: 0.0, target: score.map_or(f64::INFINITY, |s| s - lines.constant), margin, cut }
        }
    }

    /// A ratio to lean on while there is no cut-off yet.
    fn guess(&self, piece: &Piece) -> f64 {
        let best = self.incumbents.entries().first().map(|e| e.score);
        let guess = best.unwrap_or(piece.bound);
        if guess.is_finite() { guess } else { 0.0 }
    }

    /// Solves a node and says how to go on; nothing where nothing below it matters.
    fn visit(&mut self, node: &mut Node, terms: &Terms) -> Vec<branch::Change> {
        if node.propagate(self.judge.model).is_err() {
            return vec![];
        }
        let mut gate = self.gate(node, terms);
        if self.bounded_out(node, terms, &gate) {
            return vec![];
        }
        if self.close_by_count(node, terms, &gate) {
            self.clipped = true;
            gate = self.gate(node, terms);
            if node.propagate(self.judge.model).is_err() || self.bounded_out(node, terms, &gate) {
                return vec![];
            }
        }
        let hard = gate.cut.map_or(f64::INFINITY, |_| gate.target + gate.margin + terms.guide_most);
        let model = self.judge.model;
        while hard.is_finite() {
            let room = hard - node.simplex.objective();
            self.clipped |= branch::fix_by_reduced_cost(model, node, &terms.piece.program, room);
            if node.propagate(model).is_err() {
                return vec![];
            }
            // What has been fixed may exclude the point that it was read from.
            if branch::within_domains(&terms.piece.program, node) {
                break;
            }
            if self.bounded_out(node, terms, &gate) {
                return vec![];
            }
        }
        let room = hard - node.simplex.objective();
        match branch::next(self.judge.model, &terms.piece.program, node, room) {
            Next::Branch(changes) => {
                self.clipped |= changes.len() < 2 && room.is_finite();
                changes
            }
            Next::Whole(spec) => {
                self.judge_leaf(&spec);
                let changes = branch::after_leaf(self.judge.model, node, &terms.piece.program, &spec, room);
                self.clipped |= changes.len() < 2 && room.is_finite();
                changes
            }
        }
    }

    /// Solves the node's relaxation; true where nothing below it can come before the cut.
    fn bounded_out(&mut self, node: &mut Node, terms: &Terms, gate: &Gate) -> bool {
        let over = terms.piece.program.lines.over.is_some();
        let weights = [1.0, terms.guide, -gate.theta];
        let weights = &weights[..if over { 3 } else { 2 }];
        node.bound_segments(&terms.piece.program);
        node.simplex.weigh(weights);
        let hard = gate.cut.map_or(f64::INFINITY, |_| gate.target + gate.margin + terms.guide_most);
        match node.simplex.solve(hard) {
            Ended::Infeasible => return true,
            Ended::Above => {
                self.clipped = true;
                return true;
            }
            Ended::Optimal | Ended::Tired => {}
        }
        let least = node.simplex.objective();
        node.bound = node.bound.max(score_bound(least - terms.guide_most, terms, gate));
        let Some(cut) = gate.cut else { return false };
        let out = Self::tied_out(node, terms, gate, cut, least);
        self.clipped |= out;
        out
    }

    /// Among specs of the cut's own score, those count that are cheaper, or as cheap with fewer
    /// ingredients.
    fn tied_out(node: &Node, terms: &Terms, gate: &Gate, cut: Cut, least: f64) -> bool {
        let dearer = cut.cost.is_finite()
            && terms.guide > 0.0
            && least > gate.target + gate.margin + terms.guide * cut.cost;
        if dearer {
            // Better scores may hide behind a higher cost: ask for the score alone.
            let mut alone = node.simplex.clone();
            alone.weigh(
                &[1.0, 0.0, -gate.theta][..if terms.piece.program.lines.over.is_some() { 3 } else { 2 }],
            );
            if alone.solve(f64::INFINITY) == Ended::Optimal && alone.objective() >= gate.target - gate.margin
            {
                return true;
            }
        }
        false
    }

    /// Where the node can at best tie with the cut in score and cost, only fewer ingredients, or as
    /// many under other names, come before it. True where that closed something.
    fn close_by_count(&self, node: &mut Node, terms: &Terms, gate: &Gate) -> bool {
        let Some(cut) = gate.cut else { return false };
        let tied = self.quest == Quest::Ordered
            && terms.guide == 0.0
            && (self.about_cost() || cut.cost == 0.0)
            && node.simplex.objective() >= gate.target - gate.margin;
        let used = node.used();
        if !tied || used < cut.count || node.domains.iter().all(|d| d.state != State::Open) {
            return false;
        }
        for domain in &mut node.domains {
            match domain.state {
                State::Open => domain.state = State::Out,
                // Too many already: an empty range ends the node.
                State::Used if used > cut.count => domain.high = -1.0,
                _ => {}
            }
        }
        true
    }

    fn judge_leaf(&mut self, spec: &[(usize, f64)]) {
        let rank = self.incumbents.rank();
        let mut spec = spec.to_vec();
        spec.sort_by_key(|(c, _)| rank[*c]);
        let (set, units): (Vec<usize>, Vec<f64>) = spec.into_iter().unzip();
        let any_free = set.iter().any(|c| !self.judge.model.columns[*c].whole);
        let entry =
            if any_free { polish::best(&self.judge, &set, &units) } else { self.judge.entry(set, units) };
        if let Some(entry) = entry {
            self.incumbents.offer(entry);
        }
    }
}

/// A bound on the score from a bound on the objective.
fn score_bound(least: f64, terms: &Terms, gate: &Gate) -> f64 {
    let lines = &terms.piece.program.lines;
    if lines.over.is_none() {
        return least + lines.constant;
    }
    // value ≥ θ·over + least, so the score is at least θ + least/over.
    if least >= 0.0 && terms.over_most.is_finite() {
        gate.theta + least / terms.over_most
    } else {
        f64::NEG_INFINITY
    }
}

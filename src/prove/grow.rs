//! Growing the tree: the node that is next is closed, or branched on so that both sides come as far as they can.

use std::fmt;

use super::hint::{Hint, closing, hint, rounded};
use super::stated;
use crate::proof::{Branch, Domain, Ground, Heat, Node, Point, Ranges, Step, Which};
use crate::solve::Stop;

/// Why a tree was not grown to its end.
#[derive(Debug, Clone, PartialEq)]
pub enum Ended {
    /// It became too large, or was stopped.
    Tired,
    /// A spec is left that nothing rules out: its steps.
    Left(Vec<i64>),
    /// Figures are too large, or no lines hold.
    Beyond,
    /// It cannot be written.
    Unwritten,
}

/// More lines than this are no proof that anybody would keep.
const LINES: usize = 60_000;
/// So many branches are tried before one is taken.
const TRIED: usize = 10;
/// Ranges narrower than this are not cut any further.
const NARROW: f64 = 2e-3;
/// A gain that is none.
const LITTLE: f64 = 1e-4;

/// Of no more specs than these each is a leaf sooner than narrower ranges tell them apart.
const FEW: f64 = 2000.0;

/// Whether few specs are left at a node.
fn is_small(node: &Node) -> bool {
    let steps = |domain: &Domain| (domain.some.1 - domain.some.0 + 1).max(0) as f64;
    node.domains.iter().map(|domain| steps(domain) + f64::from(domain.none)).product::<f64>() <= FEW
}

/// A tree in the making: its lines are written as they are found, and only the way to the node that is next is kept.
pub struct Grower<'a> {
    ground: &'a Ground<'a>,
    stop: &'a Stop,
    most: usize,
    /// Where its lines go.
    paper: &'a mut dyn fmt::Write,
    /// How many there are so far.
    lines: usize,
    /// What is still to come, each with the view whose lines are to be stated anew.
    waiting: Vec<(Node, Option<usize>)>,
}

impl<'a> Grower<'a> {
    /// Nothing yet.
    pub fn new(ground: &'a Ground<'a>, stop: &'a Stop, most: usize, paper: &'a mut dyn fmt::Write) -> Self {
        Self { ground, stop, most: most.min(LINES), paper, lines: 0, waiting: vec![] }
    }

    /// Grows the whole tree.
    pub fn grow(mut self) -> Result<(), Ended> {
        let mut root = self.ground.root();
        for view in 0..root.states.len() {
            root = self.restated(&root, view)?;
        }
        for view in 0..root.states.len() {
            root = self.drawn_in(root, view)?;
        }
        if self.ground.facts.brief.serve.melting().glass.is_some() {
            root = self.split(&root, Branch::Heat(0))?;
        }
        self.waiting.push((root, None));
        while let Some((node, stale)) = self.waiting.pop() {
            if self.lines > self.most || self.stop.raised() {
                return Err(Ended::Tired);
            }
            self.visit(node, stale)?;
        }
        Ok(())
    }

    /// Writes the next line.
    fn put(&mut self, step: &Step) -> Result<(), Ended> {
        self.lines += 1;
        writeln!(self.paper, "{step}").map_err(|fmt::Error| Ended::Unwritten)
    }

    /// Branches; the upper side waits, the lower one is given back.
    fn split(&mut self, node: &Node, branch: Branch) -> Result<Node, Ended> {
        let child = |upper: bool| node.child(self.ground, branch, upper).ok_or(Ended::Beyond);
        let (lower, upper) = (child(false)?, child(true)?);
        self.put(&Step::Branch(branch))?;
        let stale = match branch {
            Branch::Range(view, ..) | Branch::Heat(view) => Some(view),
            Branch::Amount(..) => None,
        };
        self.waiting.push((upper, stale));
        Ok(lower)
    }

    /// States new lines for a view.
    fn restated(&mut self, node: &Node, view: usize) -> Result<Node, Ended> {
        let lines = stated::lines(self.ground.facts, &node.states[view].ranges).ok_or(Ended::Beyond)?;
        let with = node.with_lines(self.ground, view, lines).ok_or(Ended::Beyond)?;
        self.put(&Step::Lines(view, lines))?;
        Ok(with)
    }

    /// Draws the ranges of a view in: what lies outside is closed at once.
    fn drawn_in(&mut self, mut node: Node, view: usize) -> Result<Node, Ended> {
        for step in [1e-3, 1e-4] {
            let before = node.states[view].ranges;
            for which in Which::ALL {
                node = self.drawn(node, view, (which, false), step)?;
                node = self.drawn(node, view, (which, true), step)?;
            }
            if node.states[view].ranges != before {
                node = self.restated(&node, view)?;
            }
        }
        Ok(node)
    }

    fn drawn(
        &mut self,
        node: Node,
        view: usize,
        (which, upper): (Which, bool),
        step: f64,
    ) -> Result<Node, Ended> {
        let span = *{ node.states[view].ranges }.span(which);
        let (ground, far) = (self.ground, if upper { span.1 } else { span.0 });
        let outside = |at: f64| node.child(ground, Branch::Range(view, which, at), upper);
        let shut = |at: f64| outside(at).is_some_and(|child| closing(ground, &child).is_some());
        // From the far end inwards: `out` is shut as far as is known, `within` is not.
        let (mut out, mut within) = (far, if upper { span.0 } else { span.1 });
        while (out - within).abs() > step {
            let middle = stated::short(0.5 * (out + within), step * 0.5);
            if (middle - out).abs() < 1e-9 || (middle - within).abs() < 1e-9 {
                break;
            }
            if shut(middle) { out = middle } else { within = middle }
        }
        if out == far || !shut(out) {
            return Ok(node);
        }
        let lower = self.split(&node, Branch::Range(view, which, out))?;
        if upper {
            return Ok(lower);
        }
        let (rest, _) = self.waiting.pop().ok_or(Ended::Beyond)?;
        let terms = closing(self.ground, &lower).ok_or(Ended::Beyond)?;
        self.put(&Step::Refuted(terms))?;
        Ok(rest)
    }

    fn visit(&mut self, mut node: Node, stale: Option<usize>) -> Result<(), Ended> {
        if let Some(steps) = node.point() {
            return self.closed_point(&node, &steps);
        }
        let first = hint(self.ground, &node, false);
        let terms = if node.is_empty() { Some(vec![]) } else { rounded(self.ground, &node, &first) };
        let again = || if first.value > -1e-9 { closing(self.ground, &node) } else { None };
        if let Some(terms) = terms.or_else(again) {
            return self.put(&Step::Refuted(terms));
        }
        if let Some(view) = stale {
            node = self.restated(&node, view)?;
            self.waiting.push((node, None));
            return Ok(());
        }
        let branch = self.best_branch(&node, &first).ok_or(Ended::Beyond)?;
        let lower = self.split(&node, branch)?;
        let stale = if let Branch::Range(view, ..) = branch { Some(view) } else { None };
        self.waiting.push((lower, stale));
        Ok(())
    }

    fn closed_point(&mut self, node: &Node, steps: &[i64]) -> Result<(), Ended> {
        for (view, portions) in self.ground.views.iter().enumerate() {
            let point = Point::new(self.ground.facts, portions, steps);
            if let Some(limit) = self.ground.facts.limits.iter().position(|limit| point.breaks(limit)) {
                return self.put(&Step::Breaks(limit, view));
            }
            if view == 0 && point.score().low >= self.ground.cutoffs.value(node.cutoff(self.ground)) {
                return self.put(&Step::NoBetter);
            }
        }
        let terms = closing(self.ground, node).ok_or_else(|| Ended::Left(steps.to_vec()))?;
        self.put(&Step::Refuted(terms))
    }

    /// The branch of which both sides come the farthest.
    fn best_branch(&self, node: &Node, first: &Hint) -> Option<Branch> {
        let mut best = None;
        for branch in self.branches(node, first) {
            let Some((lower, upper)) = self.values(node, branch) else { continue };
            let gain = |value: f64| {
                (value.min(0.0) - first.value).max(LITTLE) + if value > 0.0 { LITTLE } else { 0.0 }
            };
            let score = gain(lower) * gain(upper);
            if best.is_none_or(|(other, _)| score > other) {
                best = Some((score, branch));
            }
        }
        best.map(|(_, branch)| branch)
    }

    fn values(&self, node: &Node, branch: Branch) -> Option<(f64, f64)> {
        let value = |upper: bool| {
            let child = node.child(self.ground, branch, upper)?;
            let child = match branch {
                Branch::Range(view, ..) => {
                    let lines = stated::lines(self.ground.facts, &child.states[view].ranges)?;
                    child.with_lines(self.ground, view, lines)?
                }
                _ => child,
            };
            Some(if child.is_empty() { f64::INFINITY } else { hint(self.ground, &child, false).value })
        };
        Some((value(false)?, value(true)?))
    }

    /// Branches that are worth a try, the likeliest first.
    fn branches(&self, node: &Node, first: &Hint) -> Vec<Branch> {
        let mut all: Vec<(f64, Branch)> = vec![];
        for (column, domain) in node.domains.iter().enumerate() {
            let (from, to) = domain.some;
            if !domain.may_be_used() || (!domain.none && from == to) {
                continue;
            }
            let at = first.amounts[column];
            if domain.none && (at < from as f64 || from == to) {
                let off = (at / from as f64).clamp(0.0, 1.0);
                all.push((1.0 + off.min(1.0 - off), Branch::Amount(column, 0)));
                continue;
            }
            let floor = (at + 1e-6).floor().clamp(from as f64, (to - 1).max(from) as f64);
            let off = (at - floor).clamp(0.0, 1.0);
            if off.min(1.0 - off) > 1e-5 {
                all.push((off.min(1.0 - off), Branch::Amount(column, floor as i64)));
            } else {
                // It is whole already: cut on either side of it, or through the middle.
                let whole = at.round() as i64;
                all.extend(
                    [(whole - 1, 1e-3), (whole, 1e-3), (i64::midpoint(from, to), 3e-3)]
                        .into_iter()
                        .filter(|(k, _)| *k >= from && *k < to)
                        .map(|(k, off)| (off, Branch::Amount(column, k))),
                );
                if domain.none {
                    all.push((2e-3, Branch::Amount(column, 0)));
                }
            }
        }
        if self.holds_a_listed_set(node) {
            // The cutoff of the others cannot close it: which set it is has to be known first.
            let opens = |c: &usize| node.domains[*c].none && node.domains[*c].may_be_used();
            return (0..node.domains.len()).filter(opens).map(|c| Branch::Amount(c, 0)).collect();
        }
        all.sort_by(|a, b| b.0.total_cmp(&a.0));
        all.truncate(TRIED);
        if all.is_empty() || !is_small(node) {
            all.extend(Self::cuts(&node.states[0].ranges).into_iter().map(|branch| (0.0, branch)));
        }
        all.into_iter().map(|(_, branch)| branch).collect()
    }

    /// Whether some set that is listed is left among others.
    fn holds_a_listed_set(&self, node: &Node) -> bool {
        let cutoffs = &self.ground.cutoffs;
        let fits = |set: &[usize]| {
            let all = node.domains.iter().enumerate();
            all.into_iter().all(|(c, d)| if set.contains(&c) { d.may_be_used() } else { d.none })
        };
        let open = node.domains.iter().any(|d| d.none && d.may_be_used());
        open && cutoffs.sets.iter().any(|(set, cutoff)| *cutoff < cutoffs.others && fits(set))
    }

    /// The middles of the typical ranges that are wide.
    fn cuts(ranges: &Ranges) -> Vec<Branch> {
        let cut = |which: Which| {
            let (from, to) = *{ *ranges }.span(which);
            let middle = stated::short(0.5 * (from + to), 1e-4);
            (to - from > NARROW && ranges.heat != Heat::Spares || to - from > 0.1)
                .then_some(Branch::Range(0, which, middle))
        };
        Which::ALL.into_iter().filter_map(cut).collect()
    }
}

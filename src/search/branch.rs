//! Where to cut a node in two, and what a cutoff already rules out.

pub use super::node::Change;
use super::node::{Node, State};
use crate::lp::simplex::Step;
use crate::model::{Model, Program};
use crate::tolerance::WHOLE;

/// How to go on with a node.
#[derive(Debug, Clone, PartialEq)]
pub enum Next {
    /// Into these children, the first one first.
    Branch(Vec<Change>),
    /// The relaxation's optimum is a spec itself: columns and units.
    Whole(Vec<(usize, f64)>),
}

/// The amount of every column at the tableau's point, in units.
fn amounts(program: &Program, node: &Node) -> Vec<f64> {
    program.amounts(|variable| node.simplex.value(variable))
}

/// The same, drawn into what is decided: a point that the pivots ran out on may lie anywhere, and a
/// branch at an amount that is not open any more would be none.
fn amounts_within(program: &Program, node: &Node) -> Vec<f64> {
    let mut amounts = amounts(program, node);
    for (units, domain) in amounts.iter_mut().zip(&node.domains) {
        let (low, high) = match domain.state {
            State::Out => (0.0, 0.0),
            State::Open => (0.0, domain.high),
            State::Used => (domain.low, domain.high),
        };
        *units = units.min(high).max(low);
    }
    amounts
}

/// Whether the tableau's point keeps what is decided.
pub fn within_domains(program: &Program, node: &Node) -> bool {
    amounts(program, node).iter().zip(&node.domains).all(|(units, domain)| match domain.state {
        State::Out => *units <= WHOLE,
        State::Open => *units <= domain.high + WHOLE,
        State::Used => *units >= domain.low - WHOLE && *units <= domain.high + WHOLE,
    })
}

/// The only segment of a column, where it has only one: its figures speak for the column.
fn only(program: &Program, column: usize) -> Option<usize> {
    let range = &program.of_column[column];
    (range.len() == 1).then_some(range.start)
}

/// What a unit more of a column costs at the tableau's point, where that can be read off.
fn price(program: &Program, node: &Node, column: usize) -> f64 {
    program.of_column[column].clone().map(|s| node.simplex.reduced_cost(s)).fold(0.0, f64::max)
}

/// Uses the room below the cutoff: a nonbasic column that cannot move by a least pour without
/// passing it is out, and ranges shrink to what the room allows. True where anything was ruled out.
pub fn fix_by_reduced_cost(model: &Model, node: &mut Node, program: &Program, room: f64) -> bool {
    let mut fixed = false;
    for column in 0..node.domains.len() {
        let Some(segment) = only(program, column) else { continue };
        let cost = node.simplex.reduced_cost(segment);
        if cost.abs() < 1e-12 {
            continue;
        }
        let (low, high) = node.simplex.bounds(segment);
        if low >= high {
            continue;
        }
        let reach = room / cost.abs() + WHOLE;
        let amounts = &model.columns[column];
        let domain = &mut node.domains[column];
        let before = *domain;
        if cost > 0.0 {
            if domain.state == State::Open && reach < domain.low {
                domain.state = State::Out;
            } else {
                domain.high = domain.high.min(amounts.below(low + reach));
            }
        } else if high - reach > 0.0 && domain.state != State::Out {
            // It cannot fall to zero: it is used.
            domain.state = State::Used;
            domain.low = domain.low.max(amounts.above(high - reach).min(domain.high));
        }
        fixed |= *domain != before;
    }
    fixed
}

/// A column whose amount is not yet one that can be poured, and the amounts on both sides of it.
#[derive(Debug, Clone, Copy)]
struct Between {
    column: usize,
    below: f64,
    above: f64,
}

fn between(model: &Model, node: &Node, column: usize, value: f64) -> Option<Between> {
    let domain = node.domains[column];
    let amounts = &model.columns[column];
    if domain.state == State::Out || value <= WHOLE && domain.state == State::Open {
        return None;
    }
    if domain.state == State::Open && value < domain.low - WHOLE {
        return Some(Between { column, below: 0.0, above: domain.low });
    }
    if amounts.measures(value) {
        return None;
    }
    let below = amounts.below(value);
    let below = if domain.state == State::Open && below < domain.low { 0.0 } else { below };
    Some(Between { column, below, above: amounts.above(value) })
}

/// Finds out how to go on, given the room below the cutoff.
pub fn next(model: &Model, program: &Program, node: &Node, room: f64) -> Next {
    let amounts = amounts_within(program, node);
    let steps = node.simplex.steps(|segment| moves(model, program, node, segment));
    let mut best: Option<Split> = None;
    for (column, amount) in amounts.iter().enumerate() {
        let Some(at) = between(model, node, column, *amount) else { continue };
        Split::of(program, node, &at, &steps).offer_to(&mut best);
    }
    if best.is_some() {
        // Where every amount is whole, so is every sum.
        for (at, sum) in node.sums.iter().enumerate() {
            let value = node.simplex.value(sum.variable).min(sum.high).max(sum.low);
            if (value - value.round()).abs() <= WHOLE {
                continue;
            }
            let (below, above) = (value.floor(), value.ceil());
            let sides = (Change::SumAtMost(at, below), Change::SumAtLeast(at, above));
            Split::new(node, sum.variable, (below, above), sides, &steps).offer_to(&mut best);
        }
    }
    if let Some(split) = best {
        return Next::Branch(split.children(node, &steps, room));
    }
    if let Some(changes) = count_branch(model, program, node, &amounts) {
        return Next::Branch(changes);
    }
    let spec = amounts
        .iter()
        .enumerate()
        .filter(|(c, units)| node.domains[*c].state == State::Used || **units > WHOLE)
        .map(|(c, units)| (c, if model.columns[c].whole { units.round() } else { *units }))
        .collect();
    Next::Whole(spec)
}

/// What a segment moves at least, if it moves off its bound: a whole unit, or a least pour.
fn moves(model: &Model, program: &Program, node: &Node, segment: usize) -> f64 {
    let Some(column) = program.segments.get(segment).map(|s| s.column) else { return 0.0 };
    let domain = node.domains[column];
    match (only(program, column), domain.state) {
        (Some(_), State::Open) if node.simplex.value(segment) <= WHOLE => domain.low,
        (Some(_), _) if model.columns[column].whole => 1.0,
        _ => 0.0,
    }
}

/// A node in two.
struct Split {
    below: Change,
    above: Change,
    /// Which variable is pressed down to the first on the one side, and up to the second on the other.
    pressed: Option<(usize, (f64, f64))>,
    /// At least how much the objective rises below and above, as the tableau has it.
    rises: (f64, f64),
}

impl Split {
    /// On both sides of a column's amount. Of a column with several segments only the one that is between its
    /// ends is pressed: less than the whole, so what the objective rises by is still a lower bound.
    fn of(program: &Program, node: &Node, at: &Between, steps: &[Step]) -> Self {
        let below =
            if at.below <= 0.0 { Change::Out(at.column) } else { Change::AtMost(at.column, at.below) };
        let above = Change::AtLeast(at.column, at.above);
        let range = program.of_column[at.column].clone();
        let inside = |s: &usize| {
            let (low, high) = node.simplex.bounds(*s);
            node.simplex.value(*s) > low + WHOLE && node.simplex.value(*s) < high - WHOLE
        };
        let segment = range.clone().find(inside).or(range.clone().next()).filter(|_| !range.is_empty());
        let Some(segment) = segment else { return Self { below, above, pressed: None, rises: (0.0, 0.0) } };
        let part = program.segments[segment];
        let within = |units: f64| (units - part.start).clamp(0.0, part.length);
        Self::new(node, segment, (within(at.below), within(at.above)), (below, above), steps)
    }

    /// On both sides of a variable.
    fn new(
        node: &Node,
        variable: usize,
        (low, high): (f64, f64),
        (below, above): (Change, Change),
        steps: &[Step],
    ) -> Self {
        let rises = node.simplex.penalties(variable, low, high, steps);
        Self { below, above, pressed: Some((variable, (low, high))), rises }
    }

    /// How much it is worth by what its two sides cost at least.
    fn worth(&self) -> f64 {
        let (down, up) = self.rises;
        down.min(up).min(1e30) * 4.0 + down.max(up).min(1e30)
    }

    /// Takes the place of one that is worth less.
    fn offer_to(self, best: &mut Option<Self>) {
        if best.as_ref().is_none_or(|other| self.worth() > other.worth()) {
            *best = Some(self);
        }
    }

    /// The two children, the likelier first, without those that are sure to pass the cutoff by the first pivot.
    fn children(&self, node: &Node, steps: &[Step], room: f64) -> Vec<Change> {
        let (mut down, mut up) = self.rises;
        let below_first = down < up;
        if let Some((variable, (low, high))) = self.pressed.filter(|_| down > room || up > room) {
            (down, up) = node.simplex.sure_penalties(variable, low, high, steps);
        }
        let mut changes = vec![(self.below, down), (self.above, up)];
        if !below_first {
            changes.reverse();
        }
        changes.retain(|(_, rise)| *rise <= room);
        changes.into_iter().map(|(change, _)| change).collect()
    }
}

/// Where amounts are whole but a group's count is not kept, decides one of its members.
fn count_branch(model: &Model, program: &Program, node: &Node, amounts: &[f64]) -> Option<Vec<Change>> {
    for group in &model.groups {
        let used = |c: &&usize| node.domains[**c].state == State::Used || amounts[**c] > WHOLE;
        let count = group.members.iter().filter(used).count();
        let open = |c: &&usize| node.domains[**c].state == State::Open;
        if count > group.max {
            let pick = group
                .members
                .iter()
                .filter(open)
                .filter(used)
                .max_by(|a, b| amounts[**a].total_cmp(&amounts[**b]));
            return pick.map(|c| decide(node, *c));
        }
        if count < group.min {
            let idle = group.members.iter().filter(open).filter(|c| !used(c));
            let pick = idle.min_by(|a, b| price(program, node, **a).total_cmp(&price(program, node, **b)));
            return pick.map(|c| decide(node, *c));
        }
    }
    None
}

/// Used first, then out.
fn decide(node: &Node, column: usize) -> Vec<Change> {
    vec![Change::AtLeast(column, node.domains[column].low), Change::Out(column)]
}

/// After a leaf has been judged: other sets, then other amounts of the same set.
pub fn after_leaf(
    model: &Model,
    node: &Node,
    program: &Program,
    spec: &[(usize, f64)],
    room: f64,
) -> Vec<Change> {
    let open = |c: &usize| node.domains[*c].state == State::Open;
    if let Some((column, _)) = spec.iter().find(|(c, _)| open(c)) {
        return decide(node, *column);
    }
    let cheapest = (0..node.domains.len())
        .filter(open)
        .min_by(|a, b| price(program, node, *a).total_cmp(&price(program, node, *b)));
    if let Some(column) = cheapest {
        return decide(node, column);
    }
    let loose = |c: &usize| {
        let d = node.domains[*c];
        model.columns[*c].whole && d.state == State::Used && d.high > d.low
    };
    let Some((column, units)) = spec.iter().find(|(c, _)| loose(c)) else { return vec![] };
    let steps = node.simplex.steps(|segment| moves(model, program, node, segment));
    let domain = node.domains[*column];
    let amounts = &model.columns[*column];
    let at = if *units > domain.low {
        Between { column: *column, below: amounts.below(units - 1.0), above: *units }
    } else {
        Between { column: *column, below: *units, above: amounts.above(units + 1.0) }
    };
    Split::of(program, node, &at, &steps).children(node, &steps, room)
}

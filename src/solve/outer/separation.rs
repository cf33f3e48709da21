//! The search for specs that the straight rows let through and the physics does not.

use super::{Best, Further, Least, MOST, base, better_or_equal, better_than, limit_least, misses, slack};
use crate::brief::{Pour, serve};
use crate::lp::simplex::Ended;
use crate::model::{Expansion, Line, Model, Program};
use crate::search::branch::{self, Change, Next};
use crate::search::node::{Empty, Node};
use crate::search::{Judge, SearchLimits, cuts, sums};

/// The search for specs that keep the rows, score better, and in truth do not.
pub struct Separation<'a> {
    judge: Judge<'a>,
    best: Option<Best<'a>>,
    first: &'a Expansion,
    /// The points found to be needed.
    pub further: Vec<Further>,
    /// How many specs pass that should not.
    pub open: usize,
    limits: SearchLimits<'a>,
    nodes: u64,
}

impl<'a> Separation<'a> {
    /// A search around an expansion.
    pub fn new(
        judge: Judge<'a>,
        best: Option<Best<'a>>,
        first: &'a Expansion,
        limits: SearchLimits<'a>,
    ) -> Self {
        Self { judge, best, first, further: vec![], open: 0, limits, nodes: 0 }
    }
}

impl Separation<'_> {
    /// Whether it was searched to the end.
    pub fn run(&mut self) -> bool {
        let model = self.judge.model;
        let program = base(model, self.judge.objective, self.first, self.best).counted(model);
        let target = self.target(program.lines.constant);
        let mut stack = vec![self.root(&program)];
        while let Some(mut node) = stack.pop() {
            self.nodes += 1;
            if self.nodes > self.limits.nodes || self.limits.stop.raised() || self.further.len() >= MOST {
                return false;
            }
            match self.visit(&mut node, &program, target) {
                Step::Children(mut changes) => {
                    while let Some(change) = changes.pop() {
                        let mut child = node.clone();
                        child.apply(change);
                        stack.push(child);
                    }
                }
                Step::Cut(rows) => {
                    stack.push(node);
                    for (figures, least) in rows {
                        stack.iter_mut().for_each(|n| n.simplex.add_row_over_columns(&figures, least));
                    }
                }
            }
        }
        true
    }

    /// The score that counts as better, less the objective's constant.
    fn target(&self, constant: f64) -> f64 {
        self.best.map_or(f64::INFINITY, |best| better_than(best.score) - constant)
    }

    fn root(&self, program: &Program) -> Node {
        let model = self.judge.model;
        let mut simplex = program.tableau(model, std::slice::from_ref(&program.lines.value));
        let sums = sums::add(model, program, &mut simplex);
        if self.best.is_some() {
            for line in self.first.scores.iter().skip(1) {
                let (figures, least) = self.score_row(program, line);
                simplex.add_row_over_columns(&figures, least);
            }
        }
        simplex.weigh(&[1.0]);
        if simplex.solve(f64::INFINITY) == Ended::Optimal {
            cuts::sharpen(model, program, &mut simplex);
        }
        Node::root(model, simplex, sums)
    }

    /// A line of the score as a row: the score is better than the best spec's.
    fn score_row(&self, program: &Program, line: &Line) -> Least {
        let figures = program.spread(|c| line.figures[c]).iter().map(|f| 0.0 - f).collect();
        (figures, line.constant - self.target(0.0))
    }

    fn visit(&mut self, node: &mut Node, program: &Program, target: f64) -> Step {
        let model = self.judge.model;
        let Ok(room) = solved(model, node, program, target) else { return Step::Children(vec![]) };
        match branch::next(model, program, node, room) {
            Next::Branch(changes) => Step::Children(changes),
            Next::Whole(spec) => {
                let rows = self.rows_against(program, &spec);
                if rows.is_empty() {
                    Step::Children(branch::after_leaf(model, node, program, &spec, room))
                } else {
                    Step::Cut(rows)
                }
            }
        }
    }

    /// Rows that a spec breaks although it has kept all rows so far; none if it is what it seems to be.
    fn rows_against(&mut self, program: &Program, spec: &[(usize, f64)]) -> Vec<Least> {
        let model = self.judge.model;
        let mut units = vec![0.0; model.columns.len()];
        spec.iter().for_each(|(c, u)| units[*c] = *u);
        let score = self.best.map_or(0.0, |best| best.score);
        let expansion = Expansion::at(model, self.judge.objective, &units, score);
        let missed: Vec<usize> =
            (0..model.limits.len()).filter(|at| misses(model, &expansion.limits[*at], &units)).collect();
        let useful = |at: &usize| self.best.is_none_or(|b| !misses(model, &expansion.limits[*at], b.units));
        let limits: Vec<usize> = missed.iter().copied().filter(useful).collect();
        let mut rows: Vec<Least> =
            limits.iter().map(|at| limit_least(program, &expansion.limits[*at])).collect();
        let mut scores = false;
        if let (true, Some(best)) = (missed.is_empty(), self.best) {
            let better = better_than(best.score);
            let above = |line: &&Line| {
                line.at(&units) > better + slack(model, &line.figures, &units)
                    && line.at(best.units) <= better_or_equal(best.score)
            };
            let lines: Vec<&Line> = expansion.scores.iter().filter(above).collect();
            rows.extend(lines.iter().map(|line| self.score_row(program, line)));
            scores = !lines.is_empty();
        }
        if rows.is_empty() {
            self.open += usize::from(self.passes_wrongly(&expansion.pours));
        } else {
            self.further.push(Further { expansion, limits, scores });
        }
        rows
    }
}

impl Separation<'_> {
    /// Whether pours that keep all rows score better than the best spec and in truth miss a limit.
    fn passes_wrongly(&self, pours: &[Pour]) -> bool {
        let model = self.judge.model;
        let served = serve(model.brief, pours);
        let score = self.judge.objective.score(model, pours, &served);
        let better = self.best.is_none_or(|best| score < better_than(best.score));
        better && !model.meets_limits(pours, &served)
    }
}

/// How a node goes on.
enum Step {
    /// Into these children, the first one first.
    Children(Vec<Change>),
    /// Again, with these rows everywhere.
    Cut(Vec<Least>),
}

/// Solves a node's program and draws what follows from it: the room below the target.
fn solved(model: &Model, node: &mut Node, program: &Program, target: f64) -> Result<f64, Empty> {
    node.propagate(model)?;
    loop {
        node.bound_segments(program);
        node.simplex.weigh(&[1.0]);
        match node.simplex.solve(target) {
            Ended::Infeasible | Ended::Above => return Err(Empty),
            Ended::Optimal | Ended::Tired => {}
        }
        let room = target - node.simplex.objective();
        if !room.is_finite() {
            return Ok(room);
        }
        let fixed = branch::fix_by_reduced_cost(model, node, program, room);
        node.propagate(model)?;
        if !fixed || branch::within_domains(program, node) {
            return Ok(room);
        }
    }
}

//! Cutting the range of compositions into subproblems on which the linear bounds are tight.

use std::cell::OnceCell;

use super::judge::Judge;
use super::subproblem::Subproblem;
use crate::liquid::Dilution;
use crate::model::presolve::{drawn_as_far, drawn_in};
use crate::model::{Heat, Model, Objective, Ranges};

/// Over a wider range of strengths before the ice than this, the melt's lines are too far apart.
const WIDEST: f64 = 0.04;
/// Over a wider range of spirit in the glass than this, the lines of the melt of its ice are too far apart;
/// twice that where the range before the ice is cut as well.
const WIDEST_SPIRIT: f64 = 0.05;

/// The subproblems of a model on which something may be found. What a subproblem takes to be tight is done where its bound over
/// wide ranges does not rule it out already: most of them are ruled out by the specs of the first.
#[derive(Debug)]
pub struct Subproblems<'m> {
    model: &'m Model<'m>,
    objective: &'m Objective,
    /// Whether cuts are added.
    sharp: bool,
    all: Vec<Rough>,
}

/// A subproblem of which its ranges and a first bound are known.
#[derive(Debug)]
struct Rough {
    ranges: Ranges,
    bound: f64,
    /// The subproblem itself, once it has been asked for; nothing where nothing is on it.
    subproblem: OnceCell<Option<Box<Subproblem>>>,
}

impl Rough {
    /// No spec of it scores better than this, as far as is known.
    fn known(&self) -> f64 {
        match self.subproblem.get() {
            None => self.bound,
            Some(subproblem) => subproblem.as_ref().map_or(f64::INFINITY, |subproblem| subproblem.bound),
        }
    }
}

impl<'m> Subproblems<'m> {
    /// The subproblems as they are.
    pub fn plain(model: &'m Model, objective: &'m Objective) -> Self {
        Self::of(model, objective, false)
    }

    /// The subproblems with cuts.
    pub fn prepared(model: &'m Model, objective: &'m Objective) -> Self {
        Self::of(model, objective, true)
    }

    fn of(model: &'m Model, objective: &'m Objective, sharp: bool) -> Self {
        let of = |heat: Heat| ranges_of(model, objective, Ranges { heat, ..Ranges::of(&model.typical) });
        let rough = |ranges: Ranges| {
            let bound = Subproblem::new(model, objective, &ranges)?.bound;
            Some(Rough { ranges, bound, subproblem: OnceCell::new() })
        };
        let all = model.heats().into_iter().flat_map(of).filter_map(rough).collect();
        Self { model, objective, sharp, all }
    }

    /// Who judges what is found on them.
    pub fn judge(&self) -> Judge<'_> {
        Judge { model: self.model, objective: self.objective }
    }

    /// The subproblems in the order of their bounds, each once it is known to be the next.
    pub fn in_order(&self) -> InOrder<'_> {
        InOrder { subproblems: self, waiting: (0..self.all.len()).collect() }
    }

    /// The subproblem with the least bound.
    pub fn first(&self) -> Option<&Subproblem> {
        self.in_order().next(|_| false).ok()?
    }

    /// The size that scores are measured by: the root bound's, or a share of what the figures could reach.
    pub fn scale(&self) -> f64 {
        self.first().map_or(0.0, |subproblem| {
            let ratio = subproblem.program.lines.over.is_some();
            // A ratio's bound may lie a hair under zero: rises have to pass the zero beside it.
            subproblem.bound.abs().max(if ratio { 1e-3 } else { 1e-2 * subproblem.reach() })
        })
    }

    fn subproblem(&self, at: usize) -> Option<&Subproblem> {
        let rough = &self.all[at];
        let tight = || {
            let ranges = drawn_as_far(self.model, self.objective, rough.ranges)?;
            let mut subproblem = Subproblem::new(self.model, self.objective, &ranges)?;
            if self.sharp {
                subproblem.sharpen(self.model);
            }
            subproblem.bound = subproblem.bound.max(rough.bound);
            (subproblem.bound < f64::INFINITY).then(|| Box::new(subproblem))
        };
        rough.subproblem.get_or_init(tight).as_deref()
    }
}

/// What is left of subproblems in the order of their bounds.
pub struct InOrder<'p> {
    subproblems: &'p Subproblems<'p>,
    waiting: Vec<usize>,
}

impl<'p> InOrder<'p> {
    /// The next subproblem, nothing where there is no further one.
    ///
    /// # Errors
    /// Where the bound of every subproblem that is left is ruled out.
    pub fn next(&mut self, out: impl Fn(f64) -> bool) -> Result<Option<&'p Subproblem>, RuledOut> {
        loop {
            let known = |at: usize| self.subproblems.all[at].known();
            let place = (0..self.waiting.len())
                .min_by(|a, b| known(self.waiting[*a]).total_cmp(&known(self.waiting[*b])));
            let Some(place) = place else { return Ok(None) };
            let at = self.waiting[place];
            let ready = self.subproblems.all[at].subproblem.get().is_some();
            if out(known(at)) {
                return Err(RuledOut);
            }
            match self.subproblems.subproblem(at) {
                Some(subproblem) if ready => {
                    self.waiting.remove(place);
                    return Ok(Some(subproblem));
                }
                // By what it takes to be tight it may come behind others.
                Some(_) => {}
                None => drop(self.waiting.remove(place)),
            }
        }
    }

    /// No spec of what is left scores better.
    pub fn bound(&self) -> f64 {
        self.waiting.iter().map(|at| self.subproblems.all[*at].known()).fold(f64::INFINITY, f64::min)
    }
}

/// Every subproblem that is left is ruled out by its bound.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RuledOut;

/// The ranges of the subproblems.
fn ranges_of(model: &Model, objective: &Objective, whole: Ranges) -> Vec<Ranges> {
    let Some(whole) = drawn_in(model, objective, whole) else { return vec![] };
    let fit = matches!(model.brief.serve.dilution, Dilution::Fit { .. });
    let befores = if fit { cut(whole.before, WIDEST) } else { vec![whole.before] };
    let spirits = match model.brief.serve.melting().glass {
        Some(_) => cut(whole.spirit, if fit { 2.0 * WIDEST_SPIRIT } else { WIDEST_SPIRIT }),
        None => vec![whole.spirit],
    };
    let all = befores.iter().flat_map(|before| spirits.iter().map(move |spirit| (*before, *spirit)));
    all.map(|(before, spirit)| Ranges { before, spirit, ..whole }).collect()
}

/// A range in parts of one width, none of them wider than `widest`.
fn cut((low, high): (f64, f64), widest: f64) -> Vec<(f64, f64)> {
    let cuts = ((high - low) / widest).ceil().max(1.0) as usize;
    let width = (high - low) / cuts as f64;
    let part = |at: usize| {
        let from = low + width * at as f64;
        (from, if at + 1 == cuts { high } else { from + width })
    };
    (0..cuts).map(part).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::read;

    /// Subproblems come in the order of their bounds; whoever needs no more than the first leaves most of them as they are.
    #[test]
    fn pieces_come_in_order_and_no_sooner_than_they_are_needed() {
        let text = include_str!("../../problems-demo/low-strength.toml");
        let wide = text.replacen("{ min = 8, max = 9.5 }", "{ min = 4, max = 16 }", 1);
        let brief = read(wide.as_bytes(), &[]).expect("a brief").brief;
        let model = Model::new(&brief);
        let objective = Objective::of(&model);
        let subproblems = Subproblems::prepared(&model, &objective);
        let tight = || subproblems.all.iter().filter(|rough| rough.subproblem.get().is_some()).count();
        assert!(subproblems.all.len() > 2 && tight() == 0, "{}", subproblems.all.len());
        let first = subproblems.first().expect("a subproblem").bound;
        assert!(tight() > 0 && tight() < subproblems.all.len(), "{} of {}", tight(), subproblems.all.len());
        let mut left = subproblems.in_order();
        let mut bounds = vec![];
        while let Ok(Some(subproblem)) = left.next(|_| false) {
            // What a subproblem takes to be tight never lowers its bound.
            bounds.push(subproblem.bound);
        }
        assert!(bounds.is_sorted() && bounds[0] == first && bounds.len() > 2, "{bounds:?}");
        assert!(
            subproblems.all.iter().all(|rough| rough.known() >= rough.bound) && left.bound() == f64::INFINITY
        );
        let cut = bounds[1];
        let mut under = subproblems.in_order();
        let mut seen = 0;
        while under.next(|bound| bound > cut).is_ok_and(|subproblem| subproblem.is_some()) {
            seen += 1;
        }
        assert_eq!(seen, bounds.iter().filter(|bound| **bound <= cut).count());
    }
}

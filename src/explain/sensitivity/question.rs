//! The brief with free pours, any one of its limits at another value, and its optimum.

use super::asked::{Asked, Origin, bound};
use crate::brief::{Aim, Brief, Limit, Nearest, Pour, Side, Source, Step, Target, poured};
use crate::explain::demand::Demand;
use crate::free::standing::Standing;
use crate::free::{self, Free};
use crate::lp::bound::{Bound, Way};
use crate::model::{Model, Objective, RowOrigin};
use crate::solve::Solved;
use crate::tolerance::{MET, SAME_PIECE};

/// A brief as its free pours see it.
pub struct Question<'b> {
    /// The brief itself.
    pub brief: &'b Brief,
    /// Every limit on what free pours may be, and the counts, which they do not heed.
    pub asked: Vec<Asked>,
    /// The same question with every amount allowed; what is held stands among its targets.
    open: Brief,
    /// Its optimum.
    pub base: Standing,
    /// The score of it, lower is better.
    pub score: f64,
    /// What the margins within which limits are met may add to a score: not every solving makes the same
    /// use of them.
    blur: f64,
}

impl<'b> Question<'b> {
    /// The question behind an answer; `None` where free pours have no optimum.
    pub fn of(brief: &'b Brief, solved: &Solved) -> Option<Self> {
        let unrounded = solved.unrounded.as_ref()?;
        let open = opened(brief);
        let model = Model::new(&open);
        let objective = Objective::of(&model);
        let free = Free {
            units: units(&model, &unrounded.pours),
            score: objective.score_of(unrounded.score),
            served: unrounded.served.clone(),
        };
        let units = free.units.clone();
        let base = Standing::at(&model, &objective, free);
        let base = settled(&model, &objective, base, &units);
        // The question was put another way: it has to be the same one.
        let (pours, served) = free::measure(&model, &units);
        if !same_score(objective.score(&model, &pours, &served), objective.score_of(unrounded.score)) {
            return None;
        }
        let (asked, score) = (asked(brief, &model), base.free.score);
        drop(model);
        let mut question = Self { brief, asked, open, base, score, blur: 0.0 };
        question.blur = question.margins();
        Some(question)
    }

    /// What the margins of all limits are worth together.
    fn margins(&self) -> f64 {
        let Some(mut face) = self.base.face().filter(|_| !self.aim_moves()) else { return 0.0 };
        let worth = |asked: &Asked| {
            let (origin, times) = self.row(asked, &self.base)?;
            let rates = [Way::Up, Way::Down].map(|way| face.rate(bound(asked, origin), way));
            let rate = rates.into_iter().flatten().fold(0.0_f64, |most, rate| most.max(rate.abs()));
            Some(rate * times.abs() * MET * asked.limit.abs())
        };
        self.asked.iter().filter_map(worth).sum()
    }

    /// Whether a score is better than a known one by more than what the programs behind them are good to.
    pub fn improves(&self, score: f64, known: f64) -> bool {
        self.leads(score, known) > SAME_PIECE * known.abs().max(1.0)
    }

    /// By how much a score is better than a known one, beyond what may be due to the margins of limits.
    pub fn leads(&self, score: f64, known: f64) -> f64 {
        known - score - self.blur
    }

    /// The brief with every amount allowed.
    pub fn open(&self) -> &Brief {
        &self.open
    }

    /// The brief with one limit at another value, or without it.
    pub fn at(&self, asked: &Asked, value: Option<f64>) -> Brief {
        let mut moved = self.open.clone();
        self.set(&mut moved, asked, value);
        moved
    }

    /// The brief without some of its limits.
    pub fn without(&self, dropped: &[Asked]) -> Brief {
        let mut moved = self.open.clone();
        dropped.iter().for_each(|asked| self.set(&mut moved, asked, None));
        moved
    }

    fn set(&self, brief: &mut Brief, asked: &Asked, value: Option<f64>) {
        let slot = match asked.demand {
            Demand::Target(at, _) => side_of(&mut brief.targets[at], asked.side),
            Demand::Hold(at) => side_of(&mut brief.targets[self.brief.targets.len() + at], asked.side),
            demand => {
                // Counts have no free-pour figure, and of a glass it is what it may hold.
                let ice = brief.serve.glass.map_or(0.0, |glass| glass.ice);
                let of_brim = brief.serve.glass.map_or(1.0, |glass| 1.0 - glass.headroom / 100.0);
                match (demand, value) {
                    (Demand::Most | Demand::Choose(..), _) => {}
                    (Demand::Must(at), None) => brief.candidates[at].must = false,
                    (Demand::Must(at), Some(least)) => {
                        demand.set(brief, least);
                        brief.candidates[at].must = true;
                    }
                    (_, None) => demand.clear(brief),
                    (Demand::Glass, Some(holds)) => demand.set(brief, (holds + ice) / of_brim),
                    (_, Some(value)) => demand.set(brief, value),
                }
                return;
            }
        };
        *slot = value;
    }

    /// A score as the aim counts it.
    pub fn shown(&self, score: f64) -> f64 {
        Objective::of(&Model::new(&self.open)).value(score)
    }

    /// The free-pour optimum with one limit at another value, looked for near a known one first.
    pub fn solved_at(&self, asked: &Asked, value: f64, near: Option<&[f64]>) -> Option<Standing> {
        Self::solved(&self.at(asked, Some(value)), near)
    }

    /// What reaches the same bounds with one limit at another value, whether or not it is the best there.
    pub fn along(&self, asked: &Asked, value: f64, near: &[f64], bounds: &[Bound]) -> Option<Free> {
        let moved = self.at(asked, Some(value));
        let model = Model::new(&moved);
        free::along(&model, &Objective::of(&model), near, bounds)
    }

    /// A free-pour optimum with one limit at another value, and its program.
    pub fn standing(&self, asked: &Asked, value: f64, free: Free) -> Standing {
        let moved = self.at(asked, Some(value));
        let model = Model::new(&moved);
        Standing::at(&model, &Objective::of(&model), free)
    }

    /// What beats a spec that meets the brief with one limit at another value, if anything anywhere does.
    pub fn beaten(&self, asked: &Asked, value: Option<f64>, known: &[f64]) -> Option<Free> {
        let moved = self.at(asked, value);
        let model = Model::new(&moved);
        let objective = Objective::of(&model);
        let (pours, served) = free::measure(&model, known);
        let own = objective.score(&model, &pours, &served);
        let best = free::optimum(&model, &objective, Some(known))?;
        self.improves(best.score, own).then_some(best)
    }

    /// The free-pour optimum of a brief with every amount allowed.
    pub fn solved(moved: &Brief, near: Option<&[f64]>) -> Option<Standing> {
        let model = Model::new(moved);
        let crossed = moved.targets.iter().any(|t| matches!((t.min, t.max), (Some(a), Some(b)) if a > b))
            || moved.proportions.iter().any(|t| matches!((t.min, t.max), (Some(a), Some(b)) if a > b))
            || model.columns.iter().any(|c| c.must && c.least > c.most);
        if crossed {
            return None;
        }
        Standing::of(&model, &Objective::of(&model), near)
    }

    /// The row or variable bound that a limit is in a program, and by how much it moves per unit of the
    /// limit. `None` where it is not one bound, or moves the aim itself: then only solving again tells.
    pub fn row(&self, asked: &Asked, standing: &Standing) -> Option<(Origin, f64)> {
        if self.aim_moves() {
            return None;
        }
        let model = Model::new(&self.open);
        match asked.demand {
            Demand::Target(..) | Demand::Hold(_) | Demand::Glass => {
                let place = asked.place?;
                let row = standing.row(RowOrigin::Limit(place))?;
                Some((Origin::Row(row), times(&model, model.limits.get(place)?, standing)))
            }
            Demand::Proportion(at, side) => {
                let row = standing.row(RowOrigin::Proportion(at, side))?;
                let to = self.brief.proportions[at].to;
                let column = model.columns.iter().position(|c| c.candidate == to)?;
                Some((Origin::Row(row), standing.free.units[column] * model.columns[column].unit))
            }
            // A score that bends may bend just there.
            Demand::Must(_) | Demand::Largest(_) if self.bends() => None,
            Demand::Must(at) | Demand::Largest(at) => {
                let column = model.columns.iter().position(|c| c.candidate == at)?;
                Some((Origin::Variable(standing.variable(column)?), 1.0 / model.columns[column].unit))
            }
            Demand::Most | Demand::Choose(..) => None,
        }
    }

    /// What a limit bounds, of free amounts.
    pub fn value(&self, asked: &Asked, free: &Free) -> f64 {
        let model = Model::new(&self.open);
        let amount = |candidate: usize| -> f64 {
            let columns = model.columns.iter().zip(&free.units);
            columns.filter(|(c, _)| c.candidate == candidate).map(|(c, units)| units * c.unit).sum()
        };
        match asked.demand {
            Demand::Proportion(at, _) => {
                let rule = &self.brief.proportions[at];
                amount(rule.of) / amount(rule.to)
            }
            Demand::Must(at) | Demand::Largest(at) => amount(at),
            Demand::Most | Demand::Choose(..) => f64::NAN,
            _ => asked.measure.map_or(f64::NAN, |m| free.served.value(m)),
        }
    }

    /// Whether the score bends at given amounts.
    fn bends(&self) -> bool {
        matches!(self.brief.aim, Aim::Nearest(Nearest::Reference) | Aim::Notes)
    }

    /// Whether the aim itself moves with the limits.
    pub fn aim_moves(&self) -> bool {
        self.brief.aim == Aim::Nearest(Nearest::Middle)
    }
}

fn same_score(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME_PIECE * a.abs().max(1.0)
}

fn side_of(target: &mut Target, side: Side) -> &mut Option<f64> {
    match side {
        Side::Min => &mut target.min,
        Side::Max => &mut target.max,
    }
}

/// The brief with free pours: any amount, no counts, and what is held among the targets.
fn opened(brief: &Brief) -> Brief {
    let mut open = brief.clone();
    let model = Model::new(brief);
    let held = model.limits.iter().filter(|l| l.source == Source::Hold).collect::<Vec<_>>();
    for pair in held.chunks_exact(2) {
        // A limit under nothing is as good as none, but it makes the middle of its range.
        let middle = |target: &Target| matches!(brief.aim, Aim::Nearest(Nearest::Middle)).then_some(*target);
        let (min, max) = (pair[0].value, pair[1].value);
        let within = brief.hold.iter().find(|hold| hold.measure == pair[0].measure).map(|hold| hold.within);
        let target = Target { measure: pair[0].measure, min: Some(min), max: Some(max) };
        let whole = middle(&Target { min: within.map(|within| max - 2.0 * within), ..target });
        open.targets.push(whole.unwrap_or(target));
    }
    open.hold.clear();
    open.serve.most = None;
    open.choose.clear();
    open.candidates.iter_mut().for_each(|c| c.step = Step::Free);
    open
}

/// An optimum that lies on a bend is known less well than its prices ask for: looked for again from
/// where it was found, it often is.
fn settled(model: &Model, objective: &Objective, base: Standing, units: &[f64]) -> Standing {
    if base.face().is_some() {
        return base;
    }
    let again = [Some(units), None].into_iter().filter_map(|near| Standing::of(model, objective, near));
    let no_worse =
        |s: &Standing| s.free.score <= base.free.score + SAME_PIECE * base.free.score.abs().max(1.0);
    again.filter(no_worse).find(|s| s.face().is_some()).unwrap_or(base)
}

fn units(model: &Model, pours: &[Pour]) -> Vec<f64> {
    model.columns.iter().map(|c| poured(pours, c.candidate) / c.unit).collect()
}

/// The size of the row that a limit on a ratio stands in: the volume, or the acid, that makes it.
fn times(model: &Model, limit: &Limit, standing: &Standing) -> f64 {
    let (pours, served) = free::measure(model, &standing.free.units);
    let drink = match &model.spread {
        Some(spread) => spread.worst(model, &pours, limit).1.drink,
        None => served.drink,
    };
    limit.measure.over(model.brief).of(&drink)
}

/// Every limit of the brief by one side, in the order of its demands.
fn asked(brief: &Brief, model: &Model) -> Vec<Asked> {
    let mut places = model.limits.iter().enumerate();
    let mut all = vec![];
    for demand in Demand::all(brief) {
        let mut next = |demand| {
            if let Some((place, limit)) = places.next() {
                let (side, measure) = (limit.side, Some(limit.measure));
                all.push(Asked { demand, side, limit: limit.value, measure, place: Some(place) });
            }
        };
        match demand {
            Demand::Target(..) | Demand::Glass => next(demand),
            Demand::Hold(_) => {
                next(demand);
                next(demand);
            }
            other => {
                let asked = other.asked(brief);
                all.extend(asked.map(|(side, limit)| Asked {
                    demand,
                    side,
                    limit,
                    measure: None,
                    place: None,
                }));
            }
        }
    }
    all
}

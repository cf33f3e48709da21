//! The brief with free pours, any one of its limits at another value, and its optimum.

use crate::brief::{Brief, Measure, Pour, Side, Step, Target};
use crate::explain::demand::Demand;
use crate::model::{Limit, Model, Objective, RowOrigin, Source};
use crate::solve::Solved;
use crate::solve::free::Free;
use crate::solve::standing::Standing;

/// One limit that the brief sets, by one side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// Whose it is.
    pub demand: Demand,
    /// From which side it bounds.
    pub side: Side,
    /// At what value: of a glass, the ml that it holds with its headroom.
    pub limit: f64,
    /// What is limited, where it is a measure.
    pub measure: Option<Measure>,
    /// Its place among the model's limits, where it is one.
    pub place: Option<usize>,
}

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
        let base = Standing::at(&model, &objective, free);
        let (asked, score) = (asked(brief, &model), base.free.score);
        drop(model);
        Some(Self { brief, asked, open, base, score })
    }

    /// The brief with every amount allowed.
    pub fn open(&self) -> &Brief {
        &self.open
    }

    /// The brief with one limit at another value.
    pub fn at(&self, asked: &Asked, value: f64) -> Brief {
        let mut moved = self.open.clone();
        let set = |min: &mut Option<f64>, max: &mut Option<f64>| match asked.side {
            Side::Min => *min = Some(value),
            Side::Max => *max = Some(value),
        };
        match asked.demand {
            Demand::Target(at, _) => {
                let target = &mut moved.targets[at];
                set(&mut target.min, &mut target.max);
            }
            Demand::Hold(at) => {
                let target = &mut moved.targets[self.brief.targets.len() + at];
                set(&mut target.min, &mut target.max);
            }
            Demand::Glass => {
                if let Some(glass) = &mut moved.serve.glass {
                    glass.brim = value / (1.0 - glass.headroom / 100.0);
                }
            }
            Demand::Proportion(at, _) => {
                let rule = &mut moved.proportions[at];
                set(&mut rule.min, &mut rule.max);
            }
            Demand::Must(at) => moved.candidates[at].least = value,
            Demand::Largest(at) => moved.candidates[at].most = Some(value),
            Demand::Most | Demand::Choose(..) => {}
        }
        moved
    }

    /// A score as the aim counts it.
    pub fn shown(&self, score: f64) -> f64 {
        Objective::of(&Model::new(&self.open)).value(score)
    }

    /// The free-pour optimum with one limit at another value, looked for near a known one first.
    pub fn solved_at(&self, asked: &Asked, value: f64, near: Option<&[f64]>) -> Option<Standing> {
        let moved = self.at(asked, value);
        let model = Model::new(&moved);
        let crossed = moved.targets.iter().any(|t| matches!((t.min, t.max), (Some(a), Some(b)) if a > b))
            || moved.proportions.iter().any(|t| matches!((t.min, t.max), (Some(a), Some(b)) if a > b))
            || model.columns.iter().any(|c| c.must && c.least > c.most);
        if crossed {
            return None;
        }
        Standing::of(&model, &Objective::of(&model), near)
    }

    /// The row or variable bound that a limit is in a program, and by how much it moves per unit of the
    /// limit. `None` where it is not one bound: then only solving again tells.
    pub fn row(&self, asked: &Asked, standing: &Standing) -> Option<(Origin, f64)> {
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
            Demand::Must(at) | Demand::Largest(at) => {
                let column = model.columns.iter().position(|c| c.candidate == at)?;
                Some((Origin::Variable(standing.variable(column)?), 1.0 / model.columns[column].unit))
            }
            Demand::Most | Demand::Choose(..) => None,
        }
    }

    /// What a limit bounds, at a free-pour optimum.
    pub fn value(&self, asked: &Asked, standing: &Standing) -> f64 {
        let model = Model::new(&self.open);
        let amount = |candidate: usize| -> f64 {
            let columns = model.columns.iter().zip(&standing.free.units);
            columns.filter(|(c, _)| c.candidate == candidate).map(|(c, units)| units * c.unit).sum()
        };
        match asked.demand {
            Demand::Proportion(at, _) => {
                let rule = &self.brief.proportions[at];
                amount(rule.of) / amount(rule.to)
            }
            Demand::Must(at) | Demand::Largest(at) => amount(at),
            Demand::Most | Demand::Choose(..) => f64::NAN,
            _ => asked.measure.map_or(f64::NAN, |m| standing.free.served.value(m)),
        }
    }

    /// Whether the aim itself moves with the limits.
    pub fn aim_moves(&self) -> bool {
        matches!(Objective::of(&Model::new(&self.open)), Objective::Stretch { .. })
    }
}

/// Which bound of a program.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Origin {
    /// A row's.
    Row(usize),
    /// A variable's.
    Variable(usize),
}

/// The brief with free pours: any amount, no counts, and what is held among the targets.
fn opened(brief: &Brief) -> Brief {
    let mut open = brief.clone();
    let model = Model::new(brief);
    let held = model.limits.iter().filter(|l| l.source == Source::Hold).collect::<Vec<_>>();
    for pair in held.chunks_exact(2) {
        let (min, max) = (Some(pair[0].value), Some(pair[1].value));
        open.targets.push(Target { measure: pair[0].measure, min, max });
    }
    open.hold.clear();
    open.serve.most = None;
    open.choose.clear();
    open.candidates.iter_mut().for_each(|c| c.step = Step::Free);
    open
}

fn units(model: &Model, pours: &[Pour]) -> Vec<f64> {
    let amount = |candidate: usize| -> f64 {
        pours.iter().filter(|p| p.candidate == candidate).map(|p| p.amount).sum()
    };
    model.columns.iter().map(|c| amount(c.candidate) / c.unit).collect()
}

/// The size of the row that a limit on a ratio stands in: the volume, or the acid, that makes it.
fn times(model: &Model, limit: &Limit, standing: &Standing) -> f64 {
    let (pours, served) = crate::solve::free::measure(model, &standing.free.units);
    let drink = match &model.spread {
        Some(spread) => spread.worst(model, &pours, limit).1.drink,
        None => served.drink,
    };
    match crate::model::Gauge::of(model, limit.measure) {
        crate::model::Gauge::PerVolume(_) => drink.volume,
        crate::model::Gauge::PerSum(..) => drink.masses.acid,
        _ => 1.0,
    }
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
                all.extend(asked.map(|(side, limit)| Asked { demand, side, limit, measure: None, place: None }));
            }
        }
    }
    all
}

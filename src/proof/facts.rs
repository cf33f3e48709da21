//! What a proof rests on: the brief as figures, taken from the brief alone and not from the search's own model.

use std::sync::Arc;

use crate::brief::{
    Aim, Brief, Goal, HoldFor, Jigger, Measure, Nearest, Pour, Resolution, Side, Step, poured,
};
use crate::liquid::Portion;
pub use crate::tolerance::LOOSE;
use crate::tolerance::WHOLE;

/// An ingredient.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its index in the brief.
    pub candidate: usize,
    /// ml or g of one step.
    pub unit: f64,
    /// Least when it is used, in steps.
    pub least: i64,
    /// Most, in steps.
    pub most: i64,
    /// Which numbers of steps can be poured, where not every one can.
    pub jigger: Option<Arc<Jigger>>,
    /// It has to be used.
    pub must: bool,
}

impl Column {
    /// The greatest number of steps that can be poured and is at most this.
    pub fn below(&self, steps: i64) -> i64 {
        self.jigger.as_ref().map_or(steps, |jigger| jigger.down(steps as f64) as i64)
    }

    /// The least that can be poured and is at least this.
    pub fn above(&self, steps: i64) -> i64 {
        self.jigger.as_ref().map_or(steps, |jigger| jigger.up(steps as f64) as i64)
    }
}

/// One side of a limit on a measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// What is limited.
    pub measure: Measure,
    /// From which side.
    pub side: Side,
    /// At what, in its unit.
    pub value: f64,
}

/// A group of columns, of which so many are used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    /// Its members.
    pub members: Vec<usize>,
    /// At least so many.
    pub min: usize,
    /// At most so many.
    pub max: usize,
}

/// One side of a ratio of amounts; an ingredient that is out is poured by nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ratio {
    /// Numerator.
    pub of: Option<usize>,
    /// Denominator.
    pub to: Option<usize>,
    /// Which side.
    pub side: Side,
    /// At what.
    pub value: f64,
}

/// What is made least: every score is the better the lower it is.
#[derive(Debug, Clone, PartialEq)]
pub enum Score {
    /// A measure.
    Low(Measure),
    /// A measure with its sign turned.
    High(Measure),
    /// Times the amount of a column, ml or g; nothing where the ingredient is out.
    Amount(Option<usize>, f64),
    /// The total change from amounts (ml or g), and what is lost of the reference.
    Change(Vec<f64>, f64),
    /// The largest distance from the middle of a range, over its half width: measure, middle, half width.
    Middle(Vec<(Measure, f64, f64)>),
    /// How many notes are covered, with its sign turned: the columns that carry each.
    Notes(Vec<Vec<usize>>),
}

/// The brief as figures.
#[derive(Debug, Clone)]
pub struct Facts<'b> {
    /// The brief.
    pub brief: &'b Brief,
    /// What may be used.
    pub columns: Vec<Column>,
    /// Every limit: of targets, of what is held, of the glass.
    pub limits: Vec<Limit>,
    /// Counts.
    pub groups: Vec<Group>,
    /// Ratios.
    pub ratios: Vec<Ratio>,
    /// The aim.
    pub score: Score,
}

/// The largest serve that is looked for, ml, and how much more than it may be poured of one ingredient (of a powder
/// in g): the contract of the search where nothing else bounds an amount.
const LARGEST: f64 = 2000.0 * 1.15;
const LARGEST_POWDER: f64 = LARGEST * 1.7;

impl<'b> Facts<'b> {
    /// Takes a brief apart.
    ///
    /// # Errors
    /// What in it is beyond these proofs, in words.
    pub fn of(brief: &'b Brief) -> Result<Self, &'static str> {
        if matches!(brief.variation.hold, HoldFor::Share(_)) {
            return Err("a share of serves, which is counted in simulated serves");
        }
        if brief.serve.melting().glass.is_some_and(|balance| balance.more != 0.0) {
            return Err("a glass that melts more or less than its balance");
        }
        let columns: Vec<Column> =
            brief.usable().map(|at| column(brief, at)).collect::<Option<_>>().ok_or("free pours")?;
        let place = |candidate: usize| columns.iter().position(|c| c.candidate == candidate);
        let mut groups: Vec<Group> = brief
            .choose
            .iter()
            .map(|rule| {
                let members: Vec<usize> = rule.members.iter().filter_map(|m| place(*m)).collect();
                let max = rule.max.unwrap_or(members.len());
                Group { members, min: rule.min.unwrap_or(0), max }
            })
            .collect();
        let all = (0..columns.len()).collect();
        // An empty glass is no drink.
        groups.push(Group { members: all, min: 1, max: brief.serve.most.unwrap_or(columns.len()) });
        let sides = |at: usize| {
            let rule = &brief.proportions[at];
            let ratio = move |side, value| Ratio { of: None, to: None, side, value };
            let (min, max) = (rule.min.map(|v| ratio(Side::Min, v)), rule.max.map(|v| ratio(Side::Max, v)));
            [min, max].into_iter().flatten().map(move |r| (rule.of, rule.to, r))
        };
        let ratios = (0..brief.proportions.len()).flat_map(sides);
        let ratios = ratios.map(|(of, to, r)| Ratio { of: place(of), to: place(to), ..r }).collect();
        let score = score(brief, &columns);
        Ok(Self { brief, limits: limits(brief), groups, ratios, score, columns })
    }

    /// The portion of every column, as it typically is.
    pub fn typical(&self) -> Vec<Portion> {
        self.columns.iter().map(|c| self.brief.candidates[c.candidate].portion).collect()
    }

    /// The steps of every column in pours; nothing where these are no whole steps of what may be used.
    pub fn steps(&self, pours: &[Pour]) -> Option<Vec<i64>> {
        let mut steps = vec![0; self.columns.len()];
        for pour in pours {
            let at = self.columns.iter().position(|c| c.candidate == pour.candidate)?;
            let whole = pour.amount / self.columns[at].unit;
            if (whole - whole.round()).abs() > WHOLE {
                return None;
            }
            steps[at] = whole.round() as i64;
        }
        Some(steps)
    }

    /// Steps as pours, in the order of the columns.
    pub fn pours(&self, steps: &[i64]) -> Vec<Pour> {
        let used = self.columns.iter().zip(steps).filter(|(_, steps)| **steps > 0);
        used.map(|(c, steps)| Pour { candidate: c.candidate, amount: c.unit * *steps as f64 }).collect()
    }

    /// By how much scores may differ without mattering, beside a score.
    pub fn matters(&self, score: f64) -> f64 {
        match self.brief.resolution {
            Resolution::By(to) => to,
            Resolution::Share(share) => share * score.abs(),
        }
    }
}

fn column(brief: &Brief, at: usize) -> Option<Column> {
    let candidate = &brief.candidates[at];
    let unit = candidate.step.unit()?;
    let jigger = match &candidate.step {
        Step::Jigger(jigger) => Some(Arc::clone(jigger)),
        _ => None,
    };
    let cap = if candidate.portion.poured > 0.0 { LARGEST } else { LARGEST_POWDER };
    let most = candidate.most.unwrap_or(cap).min(cap) / unit;
    let column = Column {
        candidate: at,
        unit,
        least: (candidate.least / unit - WHOLE).ceil().max(1.0) as i64,
        most: (most + WHOLE).floor() as i64,
        jigger,
        must: candidate.must,
    };
    Some(Column { least: column.above(column.least), most: column.below(column.most), ..column })
}

fn limits(brief: &Brief) -> Vec<Limit> {
    let mut limits: Vec<Limit> = vec![];
    for target in &brief.targets {
        let measure = target.measure;
        limits.extend(target.sides().map(|(side, value)| Limit { measure, side, value }));
    }
    for held in brief.held() {
        let measure = held.measure;
        let at = |side, value| Limit { measure, side, value };
        limits.extend(held.min.map(|min| at(Side::Min, min.max(0.0))));
        limits.extend(held.max.map(|max| at(Side::Max, max)));
    }
    if let Some(glass) = brief.serve.glass {
        let measure = if brief.serve.ice.is_some() { Measure::Level } else { Measure::Volume };
        limits.push(Limit { measure, side: Side::Max, value: glass.holds() });
    }
    limits
}

fn score(brief: &Brief, columns: &[Column]) -> Score {
    let place = |candidate: usize| columns.iter().position(|c| c.candidate == candidate);
    match brief.aim {
        Aim::Lowest(Goal::Measure(measure)) => Score::Low(measure),
        Aim::Highest(Goal::Measure(measure)) => Score::High(measure),
        Aim::Lowest(Goal::Ingredient(at)) => Score::Amount(place(at), 1.0),
        Aim::Highest(Goal::Ingredient(at)) => Score::Amount(place(at), -1.0),
        Aim::Nearest(Nearest::Reference) => {
            let pours = brief.reference.as_ref().map_or(&[][..], |reference| &reference.pours);
            let from = columns.iter().map(|c| poured(pours, c.candidate)).collect();
            let lost = pours.iter().filter(|p| place(p.candidate).is_none()).map(|p| p.amount).sum();
            Score::Change(from, lost)
        }
        Aim::Nearest(Nearest::Middle) => {
            let own = brief.targets.iter().copied().chain(brief.held());
            let range = own.filter_map(|t| Some((t.measure, t.min?, t.max?)));
            let middle = |(m, min, max): (Measure, f64, f64)| (m, 0.5 * (min + max), 0.5 * (max - min));
            Score::Middle(range.filter(|(_, min, max)| max > min).map(middle).collect())
        }
        Aim::Notes => {
            let carry = |note: &String| -> Vec<usize> {
                let carries = |c: &Column| brief.candidates[c.candidate].has_note(note);
                (0..columns.len()).filter(|at| carries(&columns[*at])).collect()
            };
            let carried = brief.notes.aimed.iter().map(carry);
            Score::Notes(carried.filter(|columns| !columns.is_empty()).collect())
        }
    }
}

impl Facts<'_> {
    /// What one unit of a column may bring: the typical composition alone, or the corners of its natural ranges where
    /// limits hold for all of them.
    pub fn corners(&self, column: usize) -> Vec<Portion> {
        let candidate = &self.brief.candidates[self.columns[column].candidate];
        if self.brief.variation.hold == HoldFor::Worst {
            candidate.corners()
        } else {
            vec![candidate.portion]
        }
    }
}

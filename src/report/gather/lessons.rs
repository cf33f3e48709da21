//! What was said of glasses, and which limits follow.

use super::{Asked, FORMAT, Frame};
use crate::brief::Brief;
use crate::learn::{Contradiction, Learned, Lesson, Lessons, Point};

/// What follows from what was said.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LessonsAnswer {
    /// Version of this object.
    pub format: u32,
    /// What the drink is called.
    pub title: String,
    /// How many glasses were tasted.
    pub tasted: usize,
    /// One a facet that something was said of.
    pub facets: Vec<FacetLine>,
    /// Sweetness against sourness, where the words of one facet contradict one another.
    pub balance: Option<BalanceLine>,
    /// The flight that would tell most.
    pub next: Option<NextFlight>,
    /// What was asked, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
    /// The question.
    #[serde(skip)]
    pub frame: Frame,
}

/// What follows for one facet.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct FacetLine {
    /// `sweet`, `sour`, `strong` or `long`.
    pub facet: &'static str,
    /// The target that it speaks of.
    pub target: String,
    /// Its unit.
    pub unit: String,
    /// What was said, lowest figure first.
    pub points: Vec<PointSaid>,
    /// The least that follows.
    pub min: Option<LearnedLine>,
    /// The most that follows.
    pub max: Option<LearnedLine>,
    /// Pairs of glasses whose words cannot both be, by their numbers.
    pub contradictions: Vec<(usize, usize)>,
}

/// What was said of one glass.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct PointSaid {
    /// The glass, as the brief's `[[tasted]]` count it from 1.
    pub glass: usize,
    /// Its figure.
    pub value: f64,
    /// The word.
    pub said: &'static str,
}

/// A limit that follows.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LearnedLine {
    /// Where it goes.
    pub at: f64,
    /// Where it stands in the brief.
    pub before: Option<f64>,
    /// The glass whose word lies beyond it.
    pub because: usize,
    /// The glass that was right on its other side.
    pub beside: Option<usize>,
    /// The true border lies between these.
    pub unsure: (f64, f64),
}

/// Sweetness against sourness.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct BalanceLine {
    /// g/L of sugar that one g/L more of acid takes to taste as sweet.
    pub sugar_per_acid: f64,
    /// Its 95 % interval.
    pub between: (f64, f64),
    /// At this acid, g/L …
    pub acid: f64,
    /// … right lies between these sugars, g/L.
    pub right: (f64, f64),
    /// How many words it rests on.
    pub words: usize,
}

/// A flight to taste next.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct NextFlight {
    /// Along which target.
    pub along: String,
    /// From here.
    pub from: f64,
    /// To there.
    pub to: f64,
}

/// Builds the answer.
pub fn lessons_answer(brief: &Brief, lessons: &Lessons) -> LessonsAnswer {
    LessonsAnswer {
        format: FORMAT,
        title: brief.title.clone(),
        tasted: brief.tasted.len(),
        facets: lessons.facets.iter().map(|lesson| facet(brief, lesson)).collect(),
        balance: lessons.balance.as_ref().map(|b| BalanceLine {
            sugar_per_acid: b.sugar_per_acid.0,
            between: (b.sugar_per_acid.1, b.sugar_per_acid.2),
            acid: b.acid,
            right: b.right,
            words: b.count,
        }),
        next: lessons.next.map(|next| NextFlight {
            along: brief.measure_name(next.measure).to_owned(),
            from: next.from,
            to: next.to,
        }),
        asked: None,
        frame: Frame::of(brief),
    }
}

fn facet(brief: &Brief, lesson: &Lesson) -> FacetLine {
    let measure = lesson.facet.measure();
    let point = |p: &Point| PointSaid { glass: p.glass + 1, value: p.value, said: p.said.keyword() };
    let learned = |l: Learned| LearnedLine {
        at: l.at,
        before: l.before,
        because: l.beyond + 1,
        beside: l.within.map(|at| at + 1),
        unsure: l.unsure,
    };
    let pair = |c: &Contradiction| (c.lower.glass + 1, c.higher.glass + 1);
    FacetLine {
        facet: lesson.facet.keyword(),
        target: brief.measure_name(measure).to_owned(),
        unit: brief.measure_unit(measure),
        points: lesson.points.iter().map(point).collect(),
        min: lesson.min.map(learned),
        max: lesson.max.map(learned),
        contradictions: lesson.contradictions.iter().map(pair).collect(),
    }
}

//! What was said of glasses, and which limits follow.

use super::{Asked, FORMAT, Frame};
use crate::brief::{Brief, Facet, Side, Tasted, serve};
use crate::learn::ordinal::Balance;
use crate::learn::{Learned, Lesson, Lessons, Next};
use crate::quantity::number::trimmed;
use crate::read::{NewLimits, NewSide};

/// What follows from what was said.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LessonsAnswer {
    /// Version of this object.
    pub format: u32,
    /// What the drink is called.
    pub title: String,
    /// How many glasses were tasted.
    pub tasted: usize,
    /// What was said of each.
    pub glasses: Vec<TastedLine>,
    /// One a facet that something was said of.
    pub facets: Vec<Lesson>,
    /// Sweetness against sourness, where the words of one facet contradict one another.
    pub balance: Option<Balance>,
    /// The flight that would tell most.
    pub next: Option<Next>,
    /// Targets that follow and are not those of the brief: what `--keep` writes.
    pub limits: Vec<LimitToKeep>,
    /// What was asked, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
    /// The question.
    #[serde(skip)]
    pub frame: Frame,
}

/// A glass that was tasted.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct TastedLine {
    /// Its number, as the brief's `[[tasted]]` count them from 1.
    pub number: usize,
    /// Its code, or the name of the kept spec that it was.
    pub glass: Option<String>,
    /// What was said.
    #[serde(flatten)]
    pub tasted: Tasted,
    /// Sugar, acid, strength and volume in the glass: key, value.
    pub served: Vec<(&'static str, f64)>,
}

/// A target as `--keep` writes it.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LimitToKeep {
    /// Its key.
    pub target: String,
    /// The least, where there is one.
    pub min: Option<f64>,
    /// The most, where there is one.
    pub max: Option<f64>,
    /// The line that stands in the brief then.
    pub line: String,
    /// How it is written.
    #[serde(skip)]
    pub new: NewLimits,
}

/// Builds the answer.
pub fn lessons_answer(brief: &Brief, lessons: Lessons) -> LessonsAnswer {
    LessonsAnswer {
        format: FORMAT,
        title: brief.title.clone(),
        tasted: brief.tasted.len(),
        glasses: brief.tasted.iter().enumerate().map(|(at, tasted)| glass(brief, at, tasted)).collect(),
        limits: lessons.facets.iter().filter_map(|lesson| to_keep(brief, lesson)).collect(),
        facets: lessons.facets,
        balance: lessons.balance,
        next: lessons.next,
        asked: None,
        frame: Frame::of(brief),
    }
}

fn glass(brief: &Brief, at: usize, tasted: &Tasted) -> TastedLine {
    let served = serve(brief, &tasted.pours);
    let figure = |facet: Facet| (facet.measure().keyword(), served.value(facet.measure()));
    TastedLine {
        number: at + 1,
        glass: tasted.glass.clone(),
        tasted: tasted.clone(),
        served: Facet::ALL.map(figure).to_vec(),
    }
}

/// The target that follows, where it is another than the brief's: figures as coarse as they may be between the
/// glasses that they lie between.
fn to_keep(brief: &Brief, lesson: &Lesson) -> Option<LimitToKeep> {
    let measure = lesson.facet.measure();
    let own = brief.target(measure);
    let side = |learned: Option<Learned>, side: Side| match learned {
        Some(learned) if !learned.stays => NewSide::At(coarse(learned, measure.digits())),
        _ if lesson.gone.is_some_and(|gone| gone.side == side) => NewSide::Gone,
        _ => NewSide::Same,
    };
    let (min, max) = (side(lesson.min, Side::Min), side(lesson.max, Side::Max));
    let after = |new: NewSide, side: Side| match new {
        NewSide::At(figure) => Some(figure),
        NewSide::Same => own.and_then(|target| target.limit(side)),
        NewSide::Gone => None,
    };
    let whole = (after(min, Side::Min), after(max, Side::Max));
    let key = brief.measure_name(measure).to_owned();
    let both = [("min", whole.0), ("max", whole.1)];
    let sides = both.iter().filter_map(|(word, figure)| Some(format!("{word} = {}", trimmed((*figure)?, 6))));
    let line = format!("{key} = {{ {} }}", sides.collect::<Vec<_>>().join(", "));
    ((min, max) != (NewSide::Same, NewSide::Same)).then(|| LimitToKeep {
        target: key.clone(),
        min: whole.0,
        max: whole.1,
        line,
        new: NewLimits { key, min, max, whole },
    })
}

/// The figure with as few decimals as people are shown, or as many as it takes to stay between its two glasses.
fn coarse(learned: Learned, digits: usize) -> f64 {
    let (low, high) = learned.unsure;
    let between = |figure: &f64| low <= *figure && *figure <= high;
    let rounded = |digits: usize| {
        let scale = (0..digits).fold(1.0, |scale: f64, _| 10.0 * scale);
        [f64::round, f64::ceil, f64::floor].map(|way| way(learned.at * scale) / scale)
    };
    // Where nothing lies beyond, the last glass itself is the limit, as people are shown it.
    let found = (digits..=6).flat_map(rounded).find(between);
    found.unwrap_or_else(|| rounded(digits)[0])
}

//! What was said of glasses, and which limits follow.

use super::{Asked, FORMAT, Frame};
use crate::brief::{Brief, Facet, Said, Side, Tasted, serve};
use crate::learn::{Contradiction, Learned, Lesson, Lessons, Next, Point, Seen, Why};
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
    pub facets: Vec<FacetLine>,
    /// Sweetness against sourness, where the words of one facet contradict one another.
    pub balance: Option<BalanceLine>,
    /// The flight that would tell most.
    pub next: Option<NextFlight>,
    /// Targets that follow and are not those of the brief: what `--keep` writes.
    pub limits: Vec<LimitToKeep>,
    /// What was asked, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
    /// The question.
    #[serde(skip)]
    pub frame: Frame,
}

/// A word on one facet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
pub struct SaidLine {
    /// `sweet`, `sour`, `strong` or `long`.
    pub facet: &'static str,
    /// `too little`, `right` or `too much`.
    pub said: &'static str,
}

impl SaidLine {
    /// Everything that was said of a glass.
    pub fn all(tasted: &Tasted) -> Vec<Self> {
        let line = |(facet, said): &(Facet, Said)| Self { facet: facet.keyword(), said: said.keyword() };
        tasted.said.iter().map(line).collect()
    }
}

/// A glass that was tasted.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct TastedLine {
    /// Its number, as the brief's `[[tasted]]` count them from 1.
    pub number: usize,
    /// Its code, or the name of the kept spec that it was.
    pub glass: Option<String>,
    /// What was said.
    pub said: Vec<SaidLine>,
    /// In the taster's own words.
    pub words: Option<String>,
    /// When.
    pub date: Option<String>,
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
    /// A side of the brief's own that cannot stand beside what was said.
    pub gone: Option<GoneLine>,
    /// Pairs of glasses whose words cannot both be, by their numbers.
    pub contradictions: Vec<(usize, usize)>,
}

/// A limit that goes.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct GoneLine {
    /// `min` or `max`.
    pub side: Side,
    /// Where it stands in the brief.
    pub at: f64,
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
    /// Whether it was seen from one side only, and lies somewhere beyond them.
    pub beyond: bool,
    /// Whether the brief's own limit agrees with all that was said.
    pub stays: bool,
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
    /// Why: `unsure min`, `unsure max`, `open min`, `open max`, `contradiction` or `untasted`.
    pub why: &'static str,
}

/// Builds the answer.
pub fn lessons_answer(brief: &Brief, lessons: &Lessons) -> LessonsAnswer {
    LessonsAnswer {
        format: FORMAT,
        title: brief.title.clone(),
        tasted: brief.tasted.len(),
        glasses: brief.tasted.iter().enumerate().map(|(at, tasted)| glass(brief, at, tasted)).collect(),
        facets: lessons.facets.iter().map(|lesson| facet(brief, lesson)).collect(),
        balance: lessons.balance.as_ref().map(|b| BalanceLine {
            sugar_per_acid: b.sugar_per_acid.0,
            between: (b.sugar_per_acid.1, b.sugar_per_acid.2),
            acid: b.acid,
            right: b.right,
            words: b.count,
        }),
        next: lessons.next.map(|next| next_flight(brief, next)),
        limits: lessons.facets.iter().filter_map(|lesson| to_keep(brief, lesson)).collect(),
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
        said: SaidLine::all(tasted),
        words: tasted.words.clone(),
        date: tasted.date.clone(),
        served: Facet::ALL.map(figure).to_vec(),
    }
}

fn next_flight(brief: &Brief, next: Next) -> NextFlight {
    NextFlight {
        along: brief.measure_name(next.measure).to_owned(),
        from: next.from,
        to: next.to,
        why: match next.why {
            Why::Unsure(Side::Min) => "unsure min",
            Why::Unsure(Side::Max) => "unsure max",
            Why::Open(Side::Min) => "open min",
            Why::Open(Side::Max) => "open max",
            Why::Contradiction => "contradiction",
            Why::Untasted => "untasted",
        },
    }
}

/// The target that follows, where it is another than the brief's: figures as coarse as they may be between the
/// glasses that they lie between.
fn to_keep(brief: &Brief, lesson: &Lesson) -> Option<LimitToKeep> {
    let measure = lesson.facet.measure();
    let own = brief.target(measure);
    let side = |learned: Option<Learned>, side: Side| match learned {
        Some(learned) if !learned.stays() => NewSide::At(coarse(learned, measure.digits())),
        _ if lesson.gone.is_some_and(|(gone, _)| gone == side) => NewSide::Gone,
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

fn facet(brief: &Brief, lesson: &Lesson) -> FacetLine {
    let measure = lesson.facet.measure();
    let point = |p: &Point| PointSaid { glass: p.glass + 1, value: p.value, said: p.said.keyword() };
    let learned = |l: Learned| LearnedLine {
        at: l.at,
        before: l.before,
        because: l.beyond + 1,
        beside: l.within.map(|at| at + 1),
        unsure: l.unsure,
        beyond: l.seen == Seen::Beyond,
        stays: l.stays(),
    };
    let pair = |c: &Contradiction| (c.lower.glass + 1, c.higher.glass + 1);
    FacetLine {
        facet: lesson.facet.keyword(),
        target: brief.measure_name(measure).to_owned(),
        unit: brief.measure_unit(measure),
        points: lesson.points.iter().map(point).collect(),
        min: lesson.min.map(learned),
        max: lesson.max.map(learned),
        gone: lesson.gone.map(|(side, at)| GoneLine { side, at }),
        contradictions: lesson.contradictions.iter().map(pair).collect(),
    }
}

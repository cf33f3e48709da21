//! A flight: glasses of one drink that step along one measure, or two, while all else stays as equal as the
//! steps of the bar allow.
//!
//! Every glass is an optimum of its own: of all pourable specs of the best spec's ingredients the one whose
//! largest deviation is least, in widths: from its place along the way, and from the best spec's own figures in
//! everything else. Glasses do not touch one another, so the largest deviation of the flight is least as well.

use crate::brief::{Aim, Answer, Brief, Goal, HoldFor, Limit, Measure, Side, Source};
use crate::model::{Model, Objective, Soft, Together};
use crate::search::Wanted;
use crate::solve::within::search;
use crate::solve::{Ending, Solved, Spec, Stop, measured, solve};

/// What steps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Along {
    /// The measure.
    pub measure: Measure,
    /// In how many places, at least 2.
    pub glasses: usize,
    /// The first, in the measure's unit.
    pub from: f64,
    /// The last.
    pub to: f64,
}

impl Along {
    /// The places, evenly from end to end.
    pub fn places(&self) -> Vec<f64> {
        let last = self.glasses.max(2) - 1;
        (0..=last).map(|at| self.from + (self.to - self.from) * at as f64 / last as f64).collect()
    }
}

/// A way that is asked for; its ends may be left open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    /// The measure.
    pub measure: Measure,
    /// In how many places, at least 2.
    pub glasses: usize,
    /// The first, in the measure's unit.
    pub from: Option<f64>,
    /// The last.
    pub to: Option<f64>,
}

/// Where an end of a way is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum End {
    /// It was asked for.
    Asked,
    /// It is a limit of the brief.
    Limit,
    /// It lies a quarter off the best spec's own figure.
    Around,
}

/// How far a way goes to either side of the best spec where the brief has no limit: this share of its figure.
/// Common practice, no source.
const AROUND: f64 = 0.25;

impl Wish {
    /// The way, and where its two ends are from: what was asked for, else the brief's limits, else a quarter to
    /// either side of the best spec (and beyond the limit on the other side).
    pub fn way(&self, brief: &Brief, best: &Spec) -> (Along, [End; 2]) {
        let limit = |side: Side| {
            brief.limits().iter().find(|t| t.measure == self.measure).and_then(|target| target.limit(side))
        };
        let own = best.served.value(self.measure);
        let end = |asked: Option<f64>, side: Side, share: f64| match (asked, limit(side)) {
            (Some(asked), _) => (asked, End::Asked),
            (None, Some(limit)) => (limit, End::Limit),
            (None, None) => (own * (1.0 + share), End::Around),
        };
        let (from, first) = end(self.from, Side::Min, -AROUND);
        let (to, last) = end(self.to, Side::Max, AROUND);
        (Along { measure: self.measure, glasses: self.glasses, from, to }, [first, last])
    }
}

impl Along {
    /// How far two neighbours are to be apart, in the measure's unit.
    pub fn step(&self) -> f64 {
        (self.to - self.from).abs() / (self.glasses.max(2) - 1) as f64
    }

    /// Whether there is anything to step: both ends are figures, and apart.
    pub fn steps(&self) -> bool {
        let apart = (self.to - self.from).abs();
        apart.is_finite() && apart > 1e-6 * self.from.abs().max(self.to.abs())
    }
}

/// What stays.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kept {
    /// The measure.
    pub measure: Measure,
    /// Its value in the best spec.
    pub value: f64,
    /// What counts as one step away from it, in the measure's unit.
    pub width: f64,
}

/// One glass.
#[derive(Debug, Clone, PartialEq)]
pub struct Glass {
    /// Where it is to stand, a value a measure that steps.
    pub places: Vec<f64>,
    /// What is poured, measured.
    pub spec: Spec,
    /// The largest of its deviations, in widths.
    pub off: f64,
    /// Limits of the brief that it misses.
    pub outside: Vec<Limit>,
}

/// A flight.
#[derive(Debug, Clone, PartialEq)]
pub struct Flight {
    /// What steps.
    pub along: Vec<Along>,
    /// What stays.
    pub kept: Vec<Kept>,
    /// The glasses: the last measure steps fastest.
    pub glasses: Vec<Glass>,
    /// Whether every glass is proved.
    pub ending: Ending,
    /// Pairs of glasses that pour the same: the bar's steps are too coarse for so many.
    pub same: Vec<(usize, usize)>,
}

/// Why there is no flight.
#[derive(Debug, Clone, PartialEq)]
pub enum NoFlight {
    /// The brief itself has no spec.
    NoSpec(Box<Solved>),
    /// The search was stopped before a glass had one.
    Stopped,
    /// No pours of the best spec's ingredients come anywhere near this place, a value a measure that steps.
    OutOfReach(Vec<f64>),
}

/// No deviation is larger than this, in widths; beyond it a flight shows nothing.
const FARTHEST: f64 = 1000.0;

/// What one width is, in the measure's unit: what a taster just tells; of a property a twentieth.
fn width(measure: Measure, value: f64) -> f64 {
    let other = match measure {
        Measure::Property(_) => (0.05 * value.abs()).max(1e-6),
        _ => f64::INFINITY,
    };
    measure.just_told().unwrap_or(other)
}

/// What stays where nothing is said of it: what is tasted, and how much there is of it.
fn kept(best: &Spec, along: &[Along]) -> Vec<Kept> {
    let steps = |measure: Measure| along.iter().any(|a| a.measure == measure);
    let sweet = steps(Measure::Sugar) || steps(Measure::Sweetness);
    let ratio = steps(Measure::SugarAcid);
    let held = [Measure::Volume, Measure::Strength, Measure::Sweetness, Measure::Acid].into_iter();
    held.filter(|measure| !steps(*measure))
        .filter(|measure| !(*measure == Measure::Sweetness && (sweet || ratio)))
        .filter(|measure| !(*measure == Measure::Strength && steps(Measure::Ethanol)))
        .map(|measure| {
            let value = best.served.value(measure);
            Kept { measure, value, width: width(measure, value) }
        })
        .filter(|kept| kept.value.is_finite())
        .collect()
}

/// The best spec of a brief, around which a flight is poured, and whether it is proved.
///
/// # Errors
/// Where the brief has no spec.
pub fn best(brief: &Brief, stop: &Stop) -> Result<(Spec, Ending), NoFlight> {
    let alone = Brief { answer: Answer { alternatives: 0, ..brief.answer.clone() }, ..brief.clone() };
    let solved = solve(&alone, stop);
    match solved.specs.first().cloned() {
        Some(best) => Ok((best, solved.ending)),
        None => Err(NoFlight::NoSpec(Box::new(solved))),
    }
}

/// Pours a flight around the best spec of a brief.
///
/// # Errors
/// Where the brief has no spec, the search was stopped too early, or a place is out of reach.
pub fn flight(brief: &Brief, along: &[Along], stop: &Stop) -> Result<Flight, NoFlight> {
    let (best, ending) = best(brief, stop)?;
    around(brief, (&best, ending), along, stop)
}

/// Pours a flight around a spec of a brief that was found.
///
/// # Errors
/// Where the search was stopped too early, or a place is out of reach.
pub fn around(
    brief: &Brief,
    (best, mut ending): (&Spec, Ending),
    along: &[Along],
    stop: &Stop,
) -> Result<Flight, NoFlight> {
    let kept = kept(best, along);
    let question = of_one_set(brief, best);
    let model = Model::new(&question);
    let limits = Model::new(brief).limits;
    let mut glasses = vec![];
    for places in grid(along) {
        let (spec, proved) = one(&model, along, &places, &kept, stop)?;
        if !proved {
            ending = Ending::Stopped;
        }
        let outside = limits.iter().filter(|limit| !limit.met(&spec.served)).copied().collect();
        glasses.push(Glass { places, off: spec.score, spec, outside });
    }
    let same = same(&glasses);
    Ok(Flight { along: along.to_vec(), kept, glasses, ending, same })
}

/// Every place of the grid.
fn grid(along: &[Along]) -> Vec<Vec<f64>> {
    along.iter().fold(vec![vec![]], |grid, a| {
        let longer = |start: &Vec<f64>| {
            a.places().into_iter().map(|place| [&start[..], &[place]].concat()).collect::<Vec<_>>()
        };
        grid.iter().flat_map(longer).collect()
    })
}

/// The brief with the best spec's ingredients, all of which are used, and no limit but its rules and its glass.
fn of_one_set(brief: &Brief, best: &Spec) -> Brief {
    let mut question = brief.clone();
    for (at, candidate) in question.candidates.iter_mut().enumerate() {
        let used = best.pours.iter().any(|pour| pour.candidate == at);
        (candidate.must, candidate.out) = (used, !used);
    }
    question.targets.clear();
    question.hold.clear();
    question.variation.hold = HoldFor::Typical;
    question.aim = Aim::Lowest(Goal::Measure(Measure::Volume));
    question.answer.alternatives = 0;
    question
}

/// The best spec for one place, and whether that is proved.
fn one(
    model: &Model,
    along: &[Along],
    places: &[f64],
    kept: &[Kept],
    stop: &Stop,
) -> Result<(Spec, bool), NoFlight> {
    let steps = along.iter().zip(places).map(|(a, place)| (a.measure, *place, spacing(a)));
    let stays = kept.iter().map(|k| (k.measure, k.value, k.width));
    let softs = steps.chain(stays).flat_map(|(measure, value, size)| {
        [Side::Min, Side::Max]
            .map(|side| Soft { limit: Limit { measure, side, value, source: Source::Target }, size })
    });
    let objective =
        Objective::Elastic { softs: softs.collect(), together: Together::Largest, most: FARTHEST };
    let wanted = Wanted::best(1);
    let found = search(model, &objective, wanted, stop);
    match found.entries.first() {
        Some(entry) => Ok((measured(model, &objective, entry), found.complete)),
        None if found.complete => Err(NoFlight::OutOfReach(places.to_vec())),
        None => Err(NoFlight::Stopped),
    }
}

/// What counts as one step off the way: a quarter of the distance between two glasses, so that none stands
/// nearer to its neighbour's place than to its own before anything else has moved by four widths.
fn spacing(along: &Along) -> f64 {
    (0.25 * along.step()).max(1e-9)
}

fn same(glasses: &[Glass]) -> Vec<(usize, usize)> {
    let pairs = (0..glasses.len()).flat_map(|a| (a + 1..glasses.len()).map(move |b| (a, b)));
    pairs.filter(|(a, b)| glasses[*a].spec.pours == glasses[*b].spec.pours).collect()
}

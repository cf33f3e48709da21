//! A flight of glasses: what each pours, under which code, and in which order they are tasted.

use super::check::score;
use super::spec::{self, SpecLine};
use super::{Asked, FORMAT, Frame};
use crate::brief::{Brief, Side};
use crate::explain::cautions::{self, hazards};
use crate::scenario::flight::{Along, End, Flight, Glass, Kept};
use crate::scenario::tasters;
use crate::solve::{Ending, Spec};

/// A flight.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct FlightAnswer {
    /// Version of this object.
    pub format: u32,
    /// What the drink is called.
    pub title: String,
    /// Whether every glass is proved.
    pub outcome: Ending,
    /// What steps.
    pub along: Vec<AlongLine>,
    /// What stays.
    pub kept: Vec<KeptLine>,
    /// The glasses, in the order in which they step.
    pub glasses: Vec<GlassLine>,
    /// The orders of tasting: one a taster, by code.
    pub orders: Vec<Vec<String>>,
    /// From what the codes were drawn.
    pub seed: u64,
    /// Glasses that pour the same, by code.
    pub same: Vec<(String, String)>,
    /// What asks for care.
    pub cautions: Vec<String>,
    /// What was asked, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
    /// What can hurt somebody.
    #[serde(skip)]
    pub care: Vec<String>,
    /// The question.
    #[serde(skip)]
    pub frame: Frame,
}

/// What steps.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct AlongLine {
    /// The target's key.
    pub target: String,
    /// Its unit.
    pub unit: String,
    /// From here.
    pub from: f64,
    /// To there.
    pub to: f64,
    /// How far two neighbours are to be apart.
    pub step: f64,
    /// Where the two ends are from: `asked`, a `limit` of the brief, or `around` the best spec.
    pub ends: [End; 2],
}

/// What stays.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct KeptLine {
    /// The target's key.
    pub target: String,
    /// Its unit.
    pub unit: String,
    /// The best spec's value, which every glass is to have.
    pub value: f64,
    /// The value farthest from it among the glasses.
    pub farthest: f64,
}

/// A glass.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct GlassLine {
    /// Its blind code.
    pub code: String,
    /// Where it is to stand, a value a measure that steps.
    pub places: Vec<f64>,
    /// The largest of its deviations: 1 is what a taster just tells.
    pub off: f64,
    /// What is poured, and what it measures.
    pub spec: SpecLine,
    /// Limits of the brief that it misses.
    pub misses: Vec<GlassMiss>,
}

/// A limit that a glass misses.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct GlassMiss {
    /// The target's key.
    pub target: String,
    /// `min` or `max`.
    pub side: Side,
    /// The limit.
    pub limit: f64,
    /// The glass's value.
    pub value: f64,
}

/// More ethanol than this in one sitting is a lot to taste, g: four UK units. Our own judgement, no source.
const MUCH: f64 = 32.0;

/// What the blind codes are drawn from, and what they must not be.
#[derive(Debug, Clone, Copy, Default)]
pub struct Draw<'a> {
    /// The seed; nothing: it comes from what is poured.
    pub seed: Option<u64>,
    /// Codes that are given away already.
    pub taken: &'a [String],
}

/// Builds the answer of a flight along ways with these ends.
pub fn flight_answer(brief: &Brief, flight: &Flight, ends: &[[End; 2]], draw: Draw) -> FlightAnswer {
    let pours = flight.glasses.iter().map(|glass| glass.spec.pours.as_slice());
    let seed = draw.seed.unwrap_or_else(|| tasters::seed_of(pours));
    let codes = tasters::codes(flight.glasses.len(), seed, draw.taken);
    let specs: Vec<&Spec> = flight.glasses.iter().map(|glass| &glass.spec).collect();
    let named = |order: Vec<usize>| order.into_iter().map(|at| codes[at].clone()).collect();
    let strongest = specs
        .iter()
        .max_by(|a, b| a.served.drink.masses.ethanol.total_cmp(&b.served.drink.masses.ethanol))
        .copied();
    let sips = sips(&specs);
    let all = strongest.map(|spec| cautions::of_given(brief, spec)).unwrap_or_default();
    let care = strongest.map(|spec| hazards(brief, spec)).unwrap_or_default();
    FlightAnswer {
        format: FORMAT,
        title: brief.title.clone(),
        outcome: flight.ending,
        along: along(brief, flight, ends),
        kept: kept(brief, flight),
        glasses: flight.glasses.iter().zip(&codes).map(|(glass, code)| line(brief, glass, code)).collect(),
        orders: tasters::orders(codes.len()).into_iter().map(named).collect(),
        seed,
        same: flight.same.iter().map(|(a, b)| (codes[*a].clone(), codes[*b].clone())).collect(),
        cautions: sips.iter().cloned().chain(all).collect(),
        asked: None,
        care: sips.into_iter().chain(care).collect(),
        frame: Frame::of(brief),
    }
}

impl FlightAnswer {
    /// What is in each glass, by its code.
    pub fn by_code<'f>(&self, flight: &'f Flight) -> Vec<(String, &'f Spec)> {
        let glasses = self.glasses.iter().zip(&flight.glasses);
        glasses.map(|(line, glass)| (line.code.clone(), &glass.spec)).collect()
    }
}

fn along(brief: &Brief, flight: &Flight, ends: &[[End; 2]]) -> Vec<AlongLine> {
    let line = |(a, ends): (&Along, &[End; 2])| AlongLine {
        target: brief.measure_name(a.measure).to_owned(),
        unit: brief.measure_unit(a.measure),
        from: a.from,
        to: a.to,
        step: a.step(),
        ends: *ends,
    };
    flight.along.iter().zip(ends).map(line).collect()
}

fn line(brief: &Brief, glass: &Glass, code: &str) -> GlassLine {
    let miss = |limit: &crate::brief::Limit| GlassMiss {
        target: brief.measure_name(limit.measure).to_owned(),
        side: limit.side,
        limit: limit.value,
        value: glass.spec.served.value(limit.measure),
    };
    // The search's own score is how far it is off; people know the aim's.
    let score = score(brief, &glass.spec.pours, &glass.spec.served);
    GlassLine {
        code: code.to_owned(),
        places: glass.places.clone(),
        off: glass.off,
        spec: SpecLine { score, ..spec::line(brief, &glass.spec, None) },
        misses: glass.outside.iter().map(miss).collect(),
    }
}

fn kept(brief: &Brief, flight: &Flight) -> Vec<KeptLine> {
    let far = |kept: &Kept| {
        let values = flight.glasses.iter().map(|glass| glass.spec.served.value(kept.measure));
        values.fold(kept.value, |a, b| if (b - kept.value).abs() > (a - kept.value).abs() { b } else { a })
    };
    let line = |kept: &Kept| KeptLine {
        target: brief.measure_name(kept.measure).to_owned(),
        unit: brief.measure_unit(kept.measure),
        value: kept.value,
        farthest: far(kept),
    };
    flight.kept.iter().map(line).collect()
}

/// Small pours for strong drinks: how much of each a taster gets.
fn sips(specs: &[&Spec]) -> Option<String> {
    let ethanol: f64 = specs.iter().map(|spec| spec.served.drink.masses.ethanol).sum();
    let volume: f64 = specs.iter().map(|spec| spec.served.drink.volume).sum();
    let density = ethanol / volume;
    let each = MUCH / density / specs.len() as f64;
    (ethanol > MUCH).then(|| {
        let each = ((each / 5.0).floor() * 5.0).max(5.0);
        format!(
            "All {} glasses together hold {ethanol:.0} g of alcohol. Make each drink whole and pour tasters: at most \
             {each:.0} ml of each for one person, water between them, and something to spit into. Nobody drives after it.",
            specs.len()
        )
    })
}

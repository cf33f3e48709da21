//! Who is in the glass along a sweep: a band for each ingredient, as high as it is poured.

use maud::{Markup, html};

use super::curve::NUMBERED;
use super::pattern::Fill;
use super::picture::{Room, Said, Told, across, coordinate as c, name, picture};
use super::way::{Stretch, place, stretches};
use crate::brief::Role;
use crate::quantity::{Amount, Unit, UnitSystem, number};
use crate::report::gather::SweepAnswer;
use crate::report::words;

const HEIGHT: f64 = 30.0;
/// The base of a band, and how high the least and the most of an ingredient stand over it.
const BASE: f64 = 27.0;
const LEAST: f64 = 5.0;
const MOST: f64 = 24.0;
/// With more switches a drawing shows nothing any more.
const DRAWN: usize = 60;

/// One ingredient along the way.
struct Band<'a> {
    name: &'a str,
    role: Role,
    unit: Unit,
    low: f64,
    high: f64,
    /// From, to and amount of every piece; no amount where no drawn point tells it.
    pieces: Vec<(f64, f64, Option<f64>)>,
}

impl Band<'_> {
    /// The amounts: `20 to 25 ml`.
    fn amounts(&self, units: UnitSystem) -> String {
        let words = |value: f64| number::pour(Amount { value, unit: self.unit }, units);
        if self.low < self.high {
            format!("{} to {}", words(self.low), words(self.high))
        } else {
            words(self.high)
        }
    }
}

/// Draws the bands, and says what happens at every switch.
pub fn figure(answer: &SweepAnswer, units: UnitSystem) -> Markup {
    let all = stretches(answer);
    let bands = bands(answer, &all);
    html! {
        figure.bands {
            @if answer.switches.len() <= DRAWN {
                ul.gains {
                    @for (at, band) in bands.iter().enumerate() {
                        li {
                            span.what { (name(band.name)) }
                            span.figure { small { (Said(&band.amounts(units))) } }
                            (picture("pic-band", Room::Strip(HEIGHT), &told(at, band, units), &drawing(band, &all)))
                        }
                    }
                }
                figcaption {
                    "Across as in the curve above. The higher the band, the more is poured; where it is missing, the ingredient is out."
                    @if all.iter().flat_map(|s| &s.names).any(|one| bands.iter().all(|band| band.name != *one)) {
                        " What comes and goes between two points is only named below."
                    }
                }
            }
            @if !answer.switches.is_empty() {
                ol.alternatives {
                    @for switch in answer.switches.iter().take(DRAWN) { li { (Said(&words::switch_sentence(answer, switch))) } }
                }
                @if answer.switches.len() > DRAWN {
                    p.note { (Said(&format!("The first {DRAWN} of {}.", words::counted(answer.switches.len(), "switch")))) }
                }
            }
        }
    }
}

fn told(at: usize, band: &Band, units: UnitSystem) -> Told {
    Told {
        id: format!("band-{at}"),
        title: format!("Where {} is used", band.name),
        text: format!("{} wherever it is used.", band.amounts(units)),
    }
}

fn drawing(band: &Band, all: &[Stretch]) -> Markup {
    html! {
        @for gap in all.iter().filter(|s| s.names.is_empty()) {
            rect x=(across(gap.from)) y=(c(BASE - MOST)) width=(across(gap.to - gap.from)) height=(c(MOST)) fill="url(#fill-out)" {}
        }
        @for (from, to, amount) in &band.pieces {
            @let share = amount.map_or(0.0, |amount| if band.high > 0.0 { amount / band.high } else { 0.0 });
            @let high = LEAST + (MOST - LEAST) * share.clamp(0.0, 1.0);
            rect.part x=(across(*from)) y=(c(BASE - high)) width=(across(to - from)) height=(c(high)) fill=(Fill::Role(band.role).url()) {}
        }
        line.loss x1="0" x2="100%" y1=(c(BASE)) y2=(c(BASE)) {}
        @for stretch in all.iter().skip(1).filter(|_| all.len() <= NUMBERED + 1) {
            line.rope.down x1=(across(stretch.from)) x2=(across(stretch.from)) y1="0" y2=(c(BASE)) {}
        }
    }
}

/// Every ingredient that is ever used, in the order in which it comes up on the cards.
fn bands<'a>(answer: &'a SweepAnswer, all: &[Stretch]) -> Vec<Band<'a>> {
    let mut bands: Vec<Band> = Vec::new();
    for pour in answer.points.iter().filter_map(|p| p.spec.as_ref()).flat_map(|s| &s.pours) {
        match bands.iter_mut().find(|band| band.name == pour.ingredient) {
            Some(band) => (band.low, band.high) = (band.low.min(pour.amount), band.high.max(pour.amount)),
            None => bands.push(Band {
                name: &pour.ingredient,
                role: pour.role,
                unit: pour.amount().unit,
                low: pour.amount,
                high: pour.amount,
                pieces: Vec::new(),
            }),
        }
    }
    for band in &mut bands {
        let within = all.iter().filter(|s| s.names.contains(&band.name));
        band.pieces = merged(within.flat_map(|s| pieces(answer, s, band.name)));
    }
    bands.sort_by_key(|band| Role::ALL.iter().position(|role| *role == band.role));
    bands
}

/// The pieces of one stretch: every point speaks for the way to the middle between it and the next.
fn pieces(answer: &SweepAnswer, stretch: &Stretch, of: &str) -> Vec<(f64, f64, Option<f64>)> {
    let amounts: Vec<(f64, f64)> = stretch
        .points
        .iter()
        .filter_map(|p| {
            let pour = p.spec.as_ref()?.pours.iter().find(|pour| pour.ingredient == of)?;
            Some((place(answer, p.at), pour.amount))
        })
        .collect();
    if amounts.is_empty() {
        return vec![(stretch.from, stretch.to, None)];
    }
    let mut from = stretch.from;
    let mut pieces = Vec::new();
    for (at, (x, amount)) in amounts.iter().enumerate() {
        let to = amounts.get(at + 1).map_or(stretch.to, |next| f64::midpoint(*x, next.0));
        pieces.push((from, to, Some(*amount)));
        from = to;
    }
    pieces
}

/// Neighbours with the same amount as one.
fn merged(pieces: impl Iterator<Item = (f64, f64, Option<f64>)>) -> Vec<(f64, f64, Option<f64>)> {
    let mut all: Vec<(f64, f64, Option<f64>)> = Vec::new();
    for piece in pieces {
        match all.last_mut() {
            Some(last) if last.2 == piece.2 && last.1.total_cmp(&piece.0).is_eq() => last.1 = piece.1,
            _ => all.push(piece),
        }
    }
    all
}

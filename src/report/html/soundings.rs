//! The alternatives as soundings: how far below the best, and how far from it in pours.

use maud::{Markup, html};

use super::picture::{Room, Said, Told, across, behind, coordinate as c, picture, step, table};
use crate::quantity::UnitSystem;
use crate::report::gather::{Gauge, SpecAnswer, SpecLine};
use crate::report::words;

const HEIGHT: f64 = 300.0;
/// Where the wash line of the best lies, and how deep the drawing goes.
const SURFACE: f64 = 46.0;
const BED: f64 = 270.0;
/// The quay: the best stands there.
const QUAY: f64 = 0.06;
const FAR: f64 = 0.94;
/// The width at which labels must still not lie on each other.
const NARROW: f64 = 300.0;
/// The radius of a buoy.
const BUOY: f64 = 11.0;

/// One alternative as a point.
struct Sounding<'a> {
    number: usize,
    spec: &'a SpecLine,
    /// ml and g poured differently.
    away: f64,
    /// How much worse, in the aim's unit.
    depth: f64,
}

/// What one sentence says about the alternatives.
pub fn answer(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> String {
    let Some(first) = answer.alternatives.first() else { return String::new() };
    let sets = words::counted(answer.alternatives.len(), "other set");
    let worse = words::worse_words(answer, best.score, first.score, units);
    let worse = worse.unwrap_or_else(|| "just as good as is shown".to_owned());
    format!(
        "{} of ingredients. The nearest is {worse}: {}.",
        words::upper_first(&sets),
        words::moves(&first.change, units)
    )
}

/// Draws the alternatives and lists what each changes.
pub fn figure(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Markup {
    let soundings: Vec<Sounding> =
        answer.alternatives.iter().enumerate().map(|(at, s)| sounding(at, s, best)).collect();
    html! {
        figure.soundings {
            (picture("pic-soundings", Room::Strip(HEIGHT), &told(answer, &soundings, units), &drawing(answer, best, &soundings, units)))
            figcaption {
                "The best lies at the wash line by the quay. Deeper is worse; further out is poured more differently."
            }
            ol.alternatives { @for sounding in &soundings { (line(answer, best, sounding, units)) } }
            (behind(&as_table(answer, best, units)))
        }
    }
}

fn sounding<'a>(at: usize, spec: &'a SpecLine, best: &SpecLine) -> Sounding<'a> {
    let away = spec.change.iter().map(|c| c.by.abs()).sum();
    Sounding { number: at + 1, spec, away, depth: (spec.score - best.score).abs() }
}

fn line(answer: &SpecAnswer, best: &SpecLine, sounding: &Sounding, units: UnitSystem) -> Markup {
    let score = words::score_text(&answer.aim, &answer.frame, sounding.spec.score, units);
    let worse = words::worse_words(answer, best.score, sounding.spec.score, units);
    html! {
        li {
            b { (Said(&score)) }
            @if let Some(worse) = worse { " (" (Said(&worse)) ")" }
            ": " (Said(&words::moves(&sounding.spec.change, units))) "."
        }
    }
}

fn told(answer: &SpecAnswer, soundings: &[Sounding], units: UnitSystem) -> Told {
    let one = |s: &Sounding| {
        let score = words::score_text(&answer.aim, &answer.frame, s.spec.score, units);
        format!("{}: {score}, {} poured differently", s.number, away(s.away, units))
    };
    Told {
        id: "soundings".to_owned(),
        title: "Alternatives by score and by how different they are".to_owned(),
        text: format!("{}.", soundings.iter().map(one).collect::<Vec<_>>().join("; ")),
    }
}

fn away(value: f64, units: UnitSystem) -> String {
    use crate::quantity::{Amount, number};
    number::pour_about(Amount::ml(value), units)
}

/// How the drawing measures.
struct Chart {
    /// ml from the quay to the far end.
    reach: f64,
    /// Score from the surface to the bed.
    deep: f64,
}

impl Chart {
    fn of(soundings: &[Sounding]) -> Self {
        let most = |figure: fn(&Sounding) -> f64| {
            soundings.iter().map(figure).filter(|f| f.is_finite()).fold(0.0, f64::max)
        };
        let or_one = |value: f64| if value > 0.0 { value } else { 1.0 };
        Self { reach: or_one(most(|s| s.away)), deep: or_one(most(|s| s.depth)) }
    }

    fn x(&self, away: f64) -> f64 {
        QUAY + (FAR - QUAY) * (away / self.reach).clamp(0.0, 1.0)
    }

    fn y(&self, depth: f64) -> f64 {
        let share = if depth.is_finite() { (depth / self.deep).clamp(0.0, 1.0) } else { 0.0 };
        SURFACE + (BED - 24.0 - SURFACE) * share
    }
}

fn drawing(answer: &SpecAnswer, best: &SpecLine, soundings: &[Sounding], units: UnitSystem) -> Markup {
    let chart = Chart::of(soundings);
    let points: Vec<(f64, f64)> = soundings.iter().map(|s| (chart.x(s.away), chart.y(s.depth))).collect();
    let buoys = dodge(&points);
    let score = words::score_text(&answer.aim, &answer.frame, best.score, units);
    html! {
        rect.water x="0" y=(c(SURFACE)) width="100%" height=(c(BED - SURFACE)) {}
        (depths(answer, best, soundings, &chart, units))
        (distances(&chart, units))
        line.surface x1="0" x2="100%" y1=(c(SURFACE)) y2=(c(SURFACE)) {}
        @for (point, buoy) in points.iter().zip(&buoys) {
            line.rope x1=(across(point.0)) x2=(across(buoy.0)) y1=(c(point.1)) y2=(c(buoy.1)) {}
        }
        @for point in &points { circle.spot cx=(across(point.0)) cy=(c(point.1)) r="3.5" {} }
        @for (sounding, buoy) in soundings.iter().zip(&buoys) {
            circle.buoy cx=(across(buoy.0)) cy=(c(buoy.1)) r=(c(BUOY)) {}
            text.mark x=(across(buoy.0)) y=(c(buoy.1 + 4.5)) text-anchor="middle" { (sounding.number) }
        }
        svg.afloat x=(across(QUAY)) y=(c(SURFACE)) overflow="visible" { path.float d="M0-13L7 0L0 13L-7 0Z" {} }
        text.strong x=(across(QUAY + 0.04)) y=(c(SURFACE - 14.0)) { "the best: " (Said(&score)) }
    }
}

/// Lines of equal score under the surface.
fn depths(
    answer: &SpecAnswer,
    best: &SpecLine,
    soundings: &[Sounding],
    chart: &Chart,
    units: UnitSystem,
) -> Markup {
    let deepest = soundings.iter().map(|s| s.depth).filter(|d| d.is_finite()).fold(0.0, f64::max);
    if deepest <= 0.0 {
        return html! {};
    }
    let down = if soundings.iter().any(|s| s.spec.score < best.score) { -1.0 } else { 1.0 };
    let gauge = answer.frame.gauge(&answer.aim.of).filter(|_| answer.aim.measure.is_some());
    let every = step(deepest, 4).max(finest(gauge));
    let count = (chart.deep / every * (1.0 + 1e-9)).floor() as usize;
    html! {
        @for at in 1..=count {
            @let depth = at as f64 * every;
            @let y = chart.y(depth);
            line.grid x1="0" x2="100%" y1=(c(y)) y2=(c(y)) {}
            text.small x="100%" dx="-4" y=(c(y - 4.0)) text-anchor="end" {
                (Said(&words::score_text(&answer.aim, &answer.frame, best.score + down * depth, units)))
            }
        }
    }
}

/// The smallest difference that a figure shows.
fn finest(gauge: Option<&Gauge>) -> f64 {
    gauge.map_or(0.0, |g| 0.1_f64.powi(i32::try_from(g.digits).unwrap_or(0)))
}

/// How far out, along the bed.
fn distances(chart: &Chart, units: UnitSystem) -> Markup {
    use crate::quantity::number;
    let shown = if units == UnitSystem::UsOunces { number::in_ounces(1.0) } else { 1.0 };
    let every = step(chart.reach * shown, 4);
    let count = (chart.reach * shown / every * (1.0 + 1e-9)).floor() as usize;
    let digits = usize::from(every < 1.0);
    html! {
        line.bed x1="0" x2="100%" y1=(c(BED)) y2=(c(BED)) {}
        @for at in 1..=count {
            @let place = chart.x(at as f64 * every / shown);
            line.post x1=(across(place)) x2=(across(place)) y1=(c(BED)) y2=(c(BED + 6.0)) {}
            text.small x=(across(place)) y=(c(BED + 22.0)) text-anchor="middle" {
                (number::fixed(at as f64 * every, digits)) @if at == count { @if units == UnitSystem::UsOunces { " oz" } @else { " ml" } }
            }
        }
        text.small x="0" y=(c(BED + 22.0)) { "differently" }
    }
}

/// Where the numbers of points stand: by their point, where they lie on no other number and no other point.
fn dodge(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let far = BUOY + 7.0;
    let around = [
        (far, 0.0),
        (0.0, far),
        (-far, 0.0),
        (far, far),
        (-far, far),
        (far, -far),
        (2.2 * far, 0.0),
        (0.0, 2.2 * far),
        (2.2 * far, far),
        (-2.2 * far, far),
    ];
    let apart = |a: (f64, f64), b: (f64, f64)| ((a.0 - b.0) * NARROW).hypot(a.1 - b.1);
    let mut placed: Vec<(f64, f64)> = Vec::new();
    for point in points {
        let tries = around.map(|(dx, dy)| (point.0 + dx / NARROW, point.1 + dy));
        let free = |at: &(f64, f64)| {
            let inside = at.0 > 0.04 && at.0 < 0.96 && at.1 > SURFACE - 20.0 && at.1 < BED - BUOY;
            inside
                && placed.iter().all(|other| apart(*at, *other) > 2.0 * BUOY + 1.0)
                && points.iter().all(|other| apart(*at, *other) > BUOY + 4.0)
                && apart(*at, (QUAY, SURFACE)) > BUOY + 12.0
        };
        placed.push(tries.into_iter().find(free).unwrap_or(tries[0]));
    }
    placed
}

fn as_table(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> Markup {
    let limited: Vec<&Gauge> =
        answer.frame.gauges.iter().filter(|g| g.limited() && Some(g.measure) != answer.aim.measure).collect();
    let (head, unit) = words::score_column(&answer.aim, &answer.frame, units);
    let mut heads = vec![
        "spec".to_owned(),
        format!("{head} {unit}").trim_end().to_owned(),
        "poured differently".to_owned(),
    ];
    heads.extend(
        limited.iter().map(|g| format!("{} {}", g.label, words::unit(g, units)).trim_end().to_owned()),
    );
    let row = |name: String, spec: &SpecLine, differently: String| {
        let mut cells =
            vec![name, words::score_text(&answer.aim, &answer.frame, spec.score, units), differently];
        cells.extend(limited.iter().map(|g| words::figure(g, spec.served.get(&g.key), units)));
        cells
    };
    let mut rows = vec![row("the best".to_owned(), best, "–".to_owned())];
    rows.extend(answer.alternatives.iter().enumerate().map(|(at, spec)| {
        let sounding = sounding(at, spec, best);
        row((at + 1).to_string(), spec, away(sounding.away, units))
    }));
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    table("The best and the alternatives", &heads, &rows)
}

//! Who is in the glass along a sweep: a band for each ingredient, as high as it is poured, from nothing.

use maud::{Markup, html};

use super::fill::Palette;
use super::lane::{gaps, through};
use super::picture::{Said, across, coordinate as c, name, reach};
use super::way::{Stop, borders};
use crate::answer::SweepAnswer;
use crate::quantity::{Amount, Unit, UnitSystem, number};

const HEIGHT: f64 = 26.0;
/// How high the most of an ingredient stands.
const MOST: f64 = 24.0;

/// A lane for each ingredient.
pub fn bands(answer: &SweepAnswer, all: &[Stop], palette: &Palette, units: UnitSystem) -> Markup {
    html! { @for one in palette.names() { (band(answer, all, one, palette, units)) } }
}

fn band(answer: &SweepAnswer, all: &[Stop], one: &str, palette: &Palette, units: UnitSystem) -> Markup {
    let (low, high) = reach(all.iter().map(|stop| stop.amount(one)).filter(|amount| *amount > 0.0));
    let unit = unit(all, one);
    let words = |value: f64| number::pour(Amount { value, unit }, units);
    let amounts = if low < high { format!("{} to {}", words(low), words(high)) } else { words(high) };
    html! {
        div.lane {
            span.what { (name(one)) small { (Said(&amounts)) } }
            svg.band width="100%" height=(c(HEIGHT)) aria-hidden="true" focusable="false" {
                (gaps(all, HEIGHT))
                @for (from, to, amount) in pieces(all, one) {
                    @let tall = MOST * amount / high;
                    rect.piece x=(across(from)) y=(c(HEIGHT - tall)) width=(across(to - from)) height=(c(tall)) fill=(palette.url(one)) {}
                }
                line.bed x1="2%" x2="98%" y1=(c(HEIGHT - 0.5)) y2=(c(HEIGHT - 0.5)) {}
                (through(answer, HEIGHT))
            }
        }
    }
}

fn unit(all: &[Stop], one: &str) -> Unit {
    let mut pours = all.iter().filter_map(|stop| stop.spec).flat_map(|spec| &spec.pours);
    pours.find(|p| p.ingredient == one).map_or(Unit::Ml, |p| p.amount().unit)
}

/// From where to where how much of it is poured; neighbours with the same amount are one piece.
fn pieces(all: &[Stop], one: &str) -> Vec<(f64, f64, f64)> {
    let mut pieces: Vec<(f64, f64, f64)> = Vec::new();
    for (stop, (from, to)) in all.iter().zip(borders(all)) {
        let amount = stop.amount(one);
        match pieces.last_mut() {
            Some(last) if last.2.to_bits() == amount.to_bits() => last.1 = to,
            _ => pieces.push((from, to, amount)),
        }
    }
    pieces.retain(|piece| piece.2 > 0.0);
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::answer::{SpecLine, spec_answer};
    use crate::render::fixture;

    fn line(spec: usize) -> SpecLine {
        let brief = fixture::brief();
        let answer = spec_answer(&brief, &fixture::solved(&brief));
        if spec == 0 { answer.best.expect("the best") } else { answer.alternatives[spec - 1].clone() }
    }

    #[test]
    fn between_two_switches_without_a_point_the_solved_pours_are_drawn_from_zero() {
        // 20 ml of rum at the first point and on both sides of a stretch that holds no point of its own,
        // where another spec pours 27.5 ml; then 20 ml again.
        let (low, high) = (line(0), line(1));
        let stop = |x: f64, spec| Stop { at: x, x, spec: Some(spec), stopped: false };
        let all = [
            stop(0.1, &low),
            stop(0.39, &low),
            stop(0.41, &high),
            stop(0.59, &high),
            stop(0.61, &low),
            stop(0.9, &low),
        ];
        let found = pieces(&all, "aged rum");
        let amounts: Vec<f64> = found.iter().map(|piece| piece.2).collect();
        assert_eq!(amounts, [20.0, 27.5, 20.0]);
        assert!((found[1].0 - 0.4).abs() < 1e-12 && (found[1].1 - 0.6).abs() < 1e-12, "{found:?}");
        // Sherry is in the first of them only.
        assert_eq!(pieces(&all, "pale dry sherry").len(), 2);
    }
}

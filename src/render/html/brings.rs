//! What each ingredient brings, as a table shaded by its share of each figure.

use maud::{Markup, html};

use super::fill::Palette;
use super::picture::{Said, name};
use super::table::{shade, sideways};
use crate::answer::{Frame, Gauge, SpecLine};
use crate::explain::contribution::{Contribution, Source};
use crate::quantity::UnitSystem;
use crate::render::words;

/// More columns than this have no room beside each other.
const COLUMNS: usize = 8;

/// The table; nothing where no contributions are known.
pub fn brings(frame: &Frame, spec: &SpecLine, palette: &Palette, units: UnitSystem) -> Option<Markup> {
    if spec.contributions.is_empty() {
        return None;
    }
    // Where there is no room for all, the limited figures have it.
    let (limited, others): (Vec<&Gauge>, Vec<&Gauge>) =
        words::brought(frame, spec).into_iter().partition(|gauge| gauge.limited());
    let mut gauges: Vec<&Gauge> = limited.into_iter().chain(others).take(COLUMNS).collect();
    gauges.sort_by_key(|gauge| gauge.measure);
    Some(sideways(&html! {
        table.brings id="brings-table" {
            caption { "What each ingredient brings; the darker, the more of the figure is its." }
            thead {
                tr {
                    th scope="col" { "ingredient" }
                    @for gauge in &gauges { th scope="col" { (name(&gauge.label)) " " small { (name(words::unit(gauge, units))) } } }
                }
            }
            tbody {
                @for line in &spec.contributions { (row(line, spec, &gauges, palette, units)) }
                tr.sum {
                    th scope="row" { "in the glass" }
                    @for gauge in &gauges { td { (words::figure(gauge, spec.served.get(&gauge.key), units)) } }
                }
            }
        }
        @if let Some(sentence) = words::sweetness_sentence(spec) { p.note { (Said(&sentence)) } }
    }))
}

fn row(
    line: &Contribution,
    spec: &SpecLine,
    gauges: &[&Gauge],
    palette: &Palette,
    units: UnitSystem,
) -> Markup {
    html! {
        tr {
            th scope="row" {
                @if line.source == Source::Pour { (palette.swatch(&line.ingredient)) " " }
                (name(&line.ingredient))
            }
            @for gauge in gauges {
                @let value = line.share.get(&gauge.key);
                @let share = value / spec.served.get(&gauge.key);
                @let text = if value.is_nan() { String::new() } else { words::share(gauge, value, units) };
                td class=(shade(if share.is_finite() { share } else { 0.0 })) { (text) }
            }
        }
    }
}

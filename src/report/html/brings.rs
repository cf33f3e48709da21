//! What each ingredient brings to strength, sugar, acid and cost.

use maud::{Markup, html};

use super::pattern::Fill;
use super::picture::{Room, Said, Told, across, behind, coordinate as c, picture, table};
use crate::brief::{Measure, Role};
use crate::quantity::{UnitSystem, number};
use crate::report::gather::{Frame, Gauge, SpecLine};
use crate::report::text::cut;
use crate::report::words;

/// How high one ingredient's line is, and where the bar lies in it.
const LINE: f64 = 36.0;
const BAR: f64 = 20.0;
/// The longest name that fits the narrowest picture.
const NAME: usize = 22;

/// One ingredient's part of a figure.
struct Part<'a> {
    name: &'a str,
    role: Role,
    value: f64,
    share: f64,
}

/// A figure and who brings it, the most first.
struct Parted<'a> {
    gauge: &'a Gauge,
    parts: Vec<Part<'a>>,
}

/// What one sentence says: who brings the most of each.
pub fn answer(frame: &Frame, spec: &SpecLine) -> String {
    let most = |parted: &Parted| {
        let first = parted.parts.first()?;
        Some(format!("{} from {} ({})", parted.gauge.label, first.name, percent(first.share)))
    };
    let said: Vec<String> = parted(frame, spec).iter().filter_map(most).collect();
    if said.is_empty() {
        return "Nothing that is counted here.".to_owned();
    }
    format!("The greatest part of {}.", said.join(", of "))
}

/// A share that is never rounded to none.
fn percent(share: f64) -> String {
    if share > 0.0 && share < 0.005 { "under 1 %".to_owned() } else { number::percent(share, 0) }
}

/// A picture for each figure.
pub fn figure(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Markup {
    let parted = parted(frame, spec);
    html! {
        figure.brings {
            div.blocks {
                @for (at, one) in parted.iter().enumerate() {
                    div {
                        h3 { (Said(&one.gauge.label)) " " small { (Said(&words::with_unit(one.gauge, spec.served.get(&one.gauge.key), units))) } }
                        (picture("pic-brings", Room::Strip(LINE * one.parts.len() as f64), &one.told(at, units), &one.drawing()))
                    }
                }
            }
            figcaption { "Each bar is the ingredient's share of the figure in the glass; who brings nothing is left out." }
            (behind(&as_table(frame, spec, units)))
        }
    }
}

/// Strength, sugar, acid and cost first; then what else is limited and comes from ingredients.
fn parted<'a>(frame: &'a Frame, spec: &'a SpecLine) -> Vec<Parted<'a>> {
    let shown = |g: &&Gauge| match g.measure {
        Measure::Strength | Measure::Sugar | Measure::Acid | Measure::Cost => true,
        Measure::Sweetness | Measure::Property(_) => g.limited(),
        _ => false,
    };
    let all = frame.gauges.iter().filter(shown).map(|gauge| Parted { gauge, parts: parts(gauge, spec) });
    all.filter(|p| !p.parts.is_empty()).collect()
}

fn parts<'a>(gauge: &Gauge, spec: &'a SpecLine) -> Vec<Part<'a>> {
    let whole = spec.served.get(&gauge.key);
    if !(whole.is_finite() && whole > 0.0) {
        return Vec::new();
    }
    let pours = spec.contributions.iter().filter(|line| line.source == "pour").zip(&spec.pours);
    let mut parts: Vec<Part> = pours
        .map(|(line, pour)| {
            let value = line.share.get(&gauge.key);
            Part { name: &pour.ingredient, role: pour.role, value, share: value / whole }
        })
        .filter(|part| part.value > 0.0)
        .collect();
    parts.sort_by(|a, b| b.value.total_cmp(&a.value));
    parts
}

impl Parted<'_> {
    fn drawing(&self) -> Markup {
        html! {
            @for (at, part) in self.parts.iter().enumerate() {
                @let top = LINE * at as f64;
                text x="0" y=(c(top + 14.0)) { (Said(&cut(part.name, NAME))) }
                text.small.end x="100%" y=(c(top + 14.0)) { (percent(part.share)) }
                rect.water x="0" y=(c(top + BAR)) width="100%" height="9" {}
                rect.part x="0" y=(c(top + BAR)) width=(across(part.share.clamp(0.0, 1.0))) height="9"
                    fill=(Fill::Role(part.role).url()) {}
            }
        }
    }

    fn told(&self, at: usize, units: UnitSystem) -> Told {
        let one = |part: &Part| {
            let share = percent(part.share);
            format!("{} {share}, {}", part.name, words::with_unit(self.gauge, part.value, units))
        };
        Told {
            id: format!("brings-{at}"),
            title: format!("Who brings {}", self.gauge.label),
            text: format!("{}.", self.parts.iter().map(one).collect::<Vec<_>>().join("; ")),
        }
    }
}

fn as_table(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> Markup {
    let gauges = words::brought(frame, spec, |_| true);
    let mut heads = vec!["ingredient".to_owned()];
    heads.extend(
        gauges.iter().map(|g| format!("{} {}", g.label, words::unit(g, units)).trim_end().to_owned()),
    );
    let mut rows: Vec<Vec<String>> = spec
        .contributions
        .iter()
        .map(|line| {
            let figures = gauges.iter().map(|g| words::share(g, line.share.get(&g.key), units));
            std::iter::once(line.ingredient.clone()).chain(figures).collect()
        })
        .collect();
    let served = gauges.iter().map(|g| words::figure(g, spec.served.get(&g.key), units));
    rows.push(std::iter::once("in the glass".to_owned()).chain(served).collect());
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    table("What each ingredient brings to the figures in the glass", &heads, &rows)
}

//! The glass, filled layer by layer to its wash line.
//!
//! Its walls are straight, so that heights are volumes; a tide staff beside it gives the figures.

use maud::{Markup, html};

use super::pattern::Fill;
use super::picture::{Room, Told, behind, coordinate as c, picture, step, table};
use super::spread::spread;
use crate::liquid::Method;
use crate::quantity::{Amount, UnitSystem, number};
use crate::report::gather::{Frame, SpecLine};
use crate::report::text::cut;
use crate::report::words;

const WIDTH: f64 = 420.0;
/// The inside of the glass.
const LEFT: f64 = 58.0;
const RIGHT: f64 = 178.0;
/// Where the liquid starts, and how high the glass can be.
const TOP: f64 = 26.0;
const BOTTOM: f64 = 338.0;
/// Where labels start, how far apart they are at least, and how many columns they have.
const LABELS: f64 = 214.0;
const APART: f64 = 21.0;
const COLUMNS: usize = 25;

/// One layer, in the order in which they lie.
struct Layer {
    fill: Fill,
    label: String,
    ml: f64,
}

/// A glass and how the drawing measures it.
struct Glass<'a> {
    frame: &'a Frame,
    spec: &'a SpecLine,
    units: UnitSystem,
    layers: Vec<Layer>,
    /// ml from the bottom to the top of the drawing.
    full: f64,
    volume: f64,
}

/// Draws a spec in its glass, with its table.
pub fn figure(frame: &Frame, spec: &SpecLine, id: &str, units: UnitSystem) -> Markup {
    let glass = Glass::of(frame, spec, units);
    let told = glass.told(id);
    html! {
        figure.glass {
            (picture("pic-glass", Room::Scaled(WIDTH, BOTTOM + 72.0), &told, &glass.drawing()))
            figcaption { (glass.caption()) }
            (behind(&glass.table()))
        }
    }
}

impl<'a> Glass<'a> {
    fn of(frame: &'a Frame, spec: &'a SpecLine, units: UnitSystem) -> Self {
        let volume = spec.served.get("volume");
        let volume = if volume.is_finite() { volume.max(0.0) } else { 0.0 };
        let brim = frame.glass.map_or(1.2 * volume, |g| g.brim);
        let full = brim.max(1.06 * volume).max(1e-3);
        let full = if brim >= volume { brim.max(1e-3) } else { full };
        Self { frame, spec, units, layers: layers(spec, volume, units), full, volume }
    }

    /// How high so many ml stand.
    fn height(&self, ml: f64) -> f64 {
        BOTTOM - (BOTTOM - TOP) * (ml / self.full).clamp(0.0, 1.0)
    }

    fn ml(&self, value: f64) -> String {
        number::pour_about(Amount::ml(value), self.units)
    }

    fn drawing(&self) -> Markup {
        html! {
            (self.kept_free())
            (self.liquid())
            (self.over_brim())
            (self.outline())
            (self.staff())
            (self.wash_line())
            (self.labels())
        }
    }

    /// The part of the glass that the brief leaves free.
    fn kept_free(&self) -> Markup {
        let Some(glass) = self.frame.glass.filter(|g| g.headroom > 0.0) else { return html! {} };
        let (top, bottom) = (self.height(glass.brim), self.height(glass.holds()));
        html! {
            rect.free x=(c(LEFT)) y=(c(top)) width=(c(RIGHT - LEFT)) height=(c(bottom - top)) fill="url(#fill-out)" {}
        }
    }

    fn liquid(&self) -> Markup {
        let mut from = 0.0;
        html! {
            @for layer in &self.layers {
                @let bottom = self.height(from);
                @let top = self.height(from + layer.ml);
                rect.layer x=(c(LEFT)) y=(c(top)) width=(c(RIGHT - LEFT)) height=(c(bottom - top))
                    fill=(layer.fill.url()) {}
                @let () = from += layer.ml;
            }
        }
    }

    /// What would run over.
    fn over_brim(&self) -> Markup {
        let Some(glass) = self.frame.glass.filter(|g| self.volume > g.brim) else { return html! {} };
        let (top, brim) = (self.height(self.volume), self.height(glass.brim));
        html! {
            rect.over x=(c(LEFT - 5.0)) y=(c(top)) width=(c(RIGHT - LEFT + 10.0)) height=(c(brim - top))
                fill="url(#fill-out)" {}
        }
    }

    /// The wall, and a foot: a stem where the drink is served up, a thick floor where it is built or poured.
    fn outline(&self) -> Markup {
        let rim = self.frame.glass.map_or(TOP - 8.0, |g| self.height(g.brim));
        let (left, right, middle, floor) =
            (LEFT - 3.0, RIGHT + 3.0, f64::midpoint(LEFT, RIGHT), BOTTOM + 2.0);
        let foot = match self.frame.method {
            Method::Build | Method::None => {
                format!("M{} {}h{}v14h-{}z", c(left), c(floor), c(right - left), c(right - left))
            }
            _ => format!(
                "M{} {}c3 6 4 12 4 20v14c0 7 10 10 30 12h-76c20 -2 30 -5 30 -12v-14c0 -8 1 -14 4 -20",
                c(middle + 4.0),
                c(floor)
            ),
        };
        html! {
            path.wall d=(format!("M{} {}V{}H{}V{}", c(left), c(rim), c(floor), c(right), c(rim))) {}
            path.foot d=(foot) {}
        }
    }

    /// The tide staff: blocks and figures up to the brim.
    fn staff(&self) -> Markup {
        let shown = if self.units == UnitSystem::UsOunces { number::in_ounces(1.0) } else { 1.0 };
        let top = self.frame.glass.map_or(self.volume, |g| g.brim.max(self.volume)) * shown;
        let every = step(top, 9);
        let count = (top / every * (1.0 + 1e-9)).floor() as usize;
        let digits = usize::from(every < 1.0);
        html! {
            g.staff {
                @for at in 0..count {
                    @let low = self.height(at as f64 * every / shown);
                    @let high = self.height((at as f64 + 0.5) * every / shown);
                    rect.block x=(c(LEFT - 16.0)) y=(c(high)) width="7" height=(c(low - high)) {}
                }
                @for at in 0..=count {
                    @let y = self.height(at as f64 * every / shown);
                    path.tick d=(format!("M{} {}h7", c(LEFT - 16.0), c(y))) {}
                    text.small.end x=(c(LEFT - 21.0)) y=(c(y + 4.5)) { (number::fixed(at as f64 * every, digits)) }
                }
                text.small.end x=(c(LEFT - 9.0)) y=(c(BOTTOM + 22.0)) {
                    @if self.units == UnitSystem::UsOunces { "oz" } @else { "ml" }
                }
            }
        }
    }

    /// The line that the drink draws on the glass, carried to both sides.
    fn wash_line(&self) -> Markup {
        let y = self.height(self.volume);
        let waves = "q5 -5 10 0t10 0t10 0t10 0t10 0t10 0t10 0t10 0t10 0t10 0t10 0t10 0t10 0t10 0";
        html! { path.wash d=(format!("M{} {}{waves}", c(LEFT - 10.0), c(y))) {} }
    }

    /// What every layer is, and the lines of the glass.
    fn labels(&self) -> Markup {
        let marks = self.marks();
        let wanted: Vec<f64> = marks.iter().map(|m| m.y).collect();
        let places = spread(&wanted, APART, TOP - 14.0, BOTTOM + 30.0);
        html! {
            @for (mark, y) in marks.iter().zip(&places) {
                path.lead d=(format!("M{} {}L{} {}H{}", c(mark.from), c(mark.y), c(LABELS - 12.0), c(*y), c(LABELS - 4.0))) {}
                text class=(mark.class) x=(c(LABELS)) y=(c(y + 5.0)) { (super::picture::Said(&cut(&mark.label, COLUMNS))) }
            }
        }
    }

    /// Every label and the height that it belongs to, from the top down.
    fn marks(&self) -> Vec<Mark> {
        let mut marks = Vec::new();
        if let Some(glass) = self.frame.glass {
            let brim = self.ml(glass.brim);
            marks.push(Mark::line(self.height(glass.brim), format!("brim {brim}"), "quiet"));
        }
        let wash = format!("wash line {}", self.ml(self.volume));
        marks.push(Mark { from: RIGHT + 12.0, ..Mark::line(self.height(self.volume), wash, "strong") });
        let mut top = self.layers.iter().map(|l| l.ml).sum::<f64>();
        for layer in self.layers.iter().rev() {
            let y = self.height(top - layer.ml / 2.0);
            top -= layer.ml;
            marks.push(Mark { from: RIGHT - 8.0, y, label: layer.label.clone(), class: "plain" });
        }
        // An overfull glass has its brim under the wash line.
        marks.sort_by(|a, b| a.y.total_cmp(&b.y));
        marks
    }

    fn told(&self, id: &str) -> Told {
        let layers: Vec<&str> = self.layers.iter().map(|l| l.label.as_str()).collect();
        Told {
            id: id.to_owned(),
            title: "The glass, filled to its wash line".to_owned(),
            text: format!(
                "From the bottom: {}. Together {} in the glass.",
                words::listed(&layers),
                self.ml(self.volume)
            ),
        }
    }

    fn caption(&self) -> String {
        let shrunk = self.spec.poured + self.spec.melt - self.volume;
        let free = self.frame.glass.filter(|g| g.headroom > 0.0).map_or_else(String::new, |g| {
            let headroom = number::trimmed(g.headroom, 1);
            format!(" The hatched part under the brim, {headroom} % of the glass, is to stay free.")
        });
        let shrunk = if shrunk >= 0.05 {
            let shrunk = number::pour(Amount::ml((shrunk * 10.0).round() / 10.0), self.units);
            format!(" Spirit, sugar and water shrink into each other by {shrunk}; all layers share that.")
        } else {
            String::new()
        };
        format!("Drawn as layers to show how much of each; heights are volumes.{free}{shrunk}")
    }

    fn table(&self) -> Markup {
        let mut from = 0.0;
        let rows: Vec<Vec<String>> = self
            .layers
            .iter()
            .map(|layer| {
                let row = vec![layer.label.clone(), self.ml(from), self.ml(from + layer.ml)];
                from += layer.ml;
                row
            })
            .collect();
        table("Layers from the bottom of the glass", &["layer", "from", "to"], &rows)
    }
}

/// A label and where it points.
struct Mark {
    from: f64,
    y: f64,
    label: String,
    class: &'static str,
}

impl Mark {
    fn line(y: f64, label: String, class: &'static str) -> Self {
        Self { from: RIGHT + 4.0, y, label, class }
    }
}

/// What lies in the glass: the pours in card order, then the water of the ice. Powders take no room of their
/// own. Layers share what the volumes shrink by.
fn layers(spec: &SpecLine, volume: f64, units: UnitSystem) -> Vec<Layer> {
    let whole = spec.poured + spec.melt;
    let share = if whole > 0.0 { volume / whole } else { 0.0 };
    let pours = spec.pours.iter().filter(|p| p.unit == "ml").map(|p| Layer {
        fill: Fill::Role(p.role),
        label: format!("{} {}", number::pour(p.amount(), units), p.ingredient),
        ml: p.amount * share,
    });
    let melt = (spec.melt > 0.0).then(|| Layer {
        fill: Fill::Melt,
        label: format!("{} water from the ice", number::pour_about(Amount::ml(spec.melt), units)),
        ml: spec.melt * share,
    });
    pours.chain(melt).collect()
}

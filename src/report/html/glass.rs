//! The glass, filled layer by layer to its wash line.
//!
//! Its walls are straight, so that heights are volumes; a tide staff beside it gives the figures.

use maud::{Markup, html};

use super::pattern::Fill;
use super::picture::{Room, Told, behind, coordinate as c, picture, step, table};
use super::spread::spread;
use crate::brief::Glass;
use crate::liquid::Method;
use crate::quantity::{Amount, UnitSystem, number};
use crate::report::gather::{Frame, SpecLine};
use crate::report::words;

const WIDTH: f64 = 432.0;
/// The inside of the glass.
const LEFT: f64 = 60.0;
const RIGHT: f64 = 180.0;
/// Where the liquid starts, and how high the glass can be.
const TOP: f64 = 26.0;
const BOTTOM: f64 = 346.0;
/// How thick the glass is, and how round its corners: so little that heights stay volumes.
const WALL: f64 = 3.0;
const CORNER: f64 = 14.0;
/// Where labels start, how far apart they are at least, and how large they are written.
const LABELS: f64 = 212.0;
const APART: f64 = 21.0;
const LETTERS: f64 = 15.0;

/// One layer, in the order in which they lie.
struct Layer {
    fill: Fill,
    label: String,
    ml: f64,
}

/// On what it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Foot {
    /// Served up.
    Stem,
    /// Built, poured, or a batch.
    Floor,
}

/// A vessel and how the drawing measures it.
struct Vessel {
    units: UnitSystem,
    foot: Foot,
    glass: Option<Glass>,
    layers: Vec<Layer>,
    /// ml from the bottom to the top of the drawing.
    full: f64,
    volume: f64,
    /// By how much its liquids measure more before they are mixed, ml.
    shrunk: f64,
}

/// Draws a spec in its glass, with its table.
pub fn figure(frame: &Frame, spec: &SpecLine, id: &str, units: UnitSystem) -> Markup {
    let volume = spec.served.get("volume");
    let whole = spec.poured + spec.melt;
    let foot = match frame.method {
        Method::Build | Method::None => Foot::Floor,
        Method::Shake | Method::Stir | Method::Blend => Foot::Stem,
    };
    let vessel = Vessel::new(layers(spec, units), volume, whole - volume, frame.glass, foot, units);
    vessel.figure(id, "The glass, filled to its wash line")
}

/// Draws what stands in a vessel: names, amounts in ml and what they are filled with.
pub fn batch_figure(lines: &[(Fill, String, f64)], volume: f64, units: UnitSystem) -> Markup {
    let layers = lines.iter().map(|(fill, label, ml)| Layer { fill: *fill, label: label.clone(), ml: *ml });
    let layers: Vec<Layer> = layers.collect();
    let whole: f64 = layers.iter().map(|l| l.ml).sum();
    let vessel = Vessel::new(layers, volume, whole - volume, None, Foot::Floor, units);
    vessel.figure("vessel", "What stands in the vessel")
}

impl Vessel {
    /// A vessel in which the layers share what the volumes shrink by.
    fn new(
        mut layers: Vec<Layer>,
        volume: f64,
        shrunk: f64,
        glass: Option<Glass>,
        foot: Foot,
        units: UnitSystem,
    ) -> Self {
        let volume = if volume.is_finite() { volume.max(0.0) } else { 0.0 };
        let whole: f64 = layers.iter().map(|l| l.ml).sum();
        let share = if whole > 0.0 { volume / whole } else { 0.0 };
        layers.iter_mut().for_each(|l| l.ml *= share);
        let brim = glass.map_or(1.2 * volume, |g| g.brim);
        // What runs over is drawn too.
        let full = if brim >= volume { brim } else { 1.06 * volume };
        Self { units, foot, glass, layers, full: full.max(1e-3), volume, shrunk }
    }

    fn figure(&self, id: &str, title: &str) -> Markup {
        html! {
            figure.glass {
                (picture("pic-glass", Room::Scaled(WIDTH, BOTTOM + 66.0), &self.told(id, title), &self.drawing(id)))
                figcaption { (self.caption()) }
                (behind(&self.table()))
            }
        }
    }

    /// How high so many ml stand.
    fn height(&self, ml: f64) -> f64 {
        BOTTOM - (BOTTOM - TOP) * (ml / self.full).clamp(0.0, 1.0)
    }

    fn ml(&self, value: f64) -> String {
        number::pour_about(Amount::ml(value), self.units)
    }

    fn drawing(&self, id: &str) -> Markup {
        html! {
            (self.kept_free())
            (self.liquid(id))
            (self.over_brim())
            (self.outline())
            (self.staff())
            (self.wash_line())
            (self.labels())
        }
    }

    /// The part of the glass that the brief leaves free.
    fn kept_free(&self) -> Markup {
        let Some(glass) = self.glass.filter(|g| g.headroom > 0.0) else { return html! {} };
        let (top, bottom) = (self.height(glass.brim), self.height(glass.holds()));
        html! {
            rect.free x=(c(LEFT)) y=(c(top)) width=(c(RIGHT - LEFT)) height=(c(bottom - top)) fill="url(#fill-out)" {}
        }
    }

    fn liquid(&self, id: &str) -> Markup {
        let clip = format!("{id}-bowl");
        let mut from = 0.0;
        let layers: Vec<(&Layer, f64, f64)> = self
            .layers
            .iter()
            .map(|layer| {
                let bottom = self.height(from);
                from += layer.ml;
                (layer, self.height(from), bottom)
            })
            .collect();
        html! {
            clipPath id=(clip) { path d=(bowl(0.0, -100.0)) {} }
            g clip-path=(format!("url(#{clip})")) {
                @for (layer, top, bottom) in &layers {
                    rect.layer x=(c(LEFT - 2.0)) y=(c(*top)) width=(c(RIGHT - LEFT + 4.0)) height=(c(bottom - top))
                        fill=(layer.fill.url()) {}
                }
            }
        }
    }

    /// What would run over.
    fn over_brim(&self) -> Markup {
        let Some(glass) = self.glass.filter(|g| self.volume > g.brim) else { return html! {} };
        let (top, brim) = (self.height(self.volume), self.height(glass.brim));
        html! {
            rect.over x=(c(LEFT - 5.0)) y=(c(top)) width=(c(RIGHT - LEFT + 10.0)) height=(c(brim - top))
                fill="url(#fill-out)" {}
        }
    }

    /// The wall, and a foot: a stem where the drink is served up, a thick floor where it is built or poured.
    fn outline(&self) -> Markup {
        let rim = self.glass.map_or(TOP - 8.0, |g| self.height(g.brim));
        let (middle, floor) = (f64::midpoint(LEFT, RIGHT), BOTTOM + WALL);
        let foot = match self.foot {
            Foot::Floor => {
                let width = RIGHT - LEFT - 12.0;
                format!(
                    "M{} {}h{}v9q0 4 -4 4h-{}q-4 0 -4 -4z",
                    c(LEFT + 6.0),
                    c(floor),
                    c(width),
                    c(width - 8.0)
                )
            }
            Foot::Stem => format!(
                "M{} {}c2 8 3 12 3 20v22c0 7 8 9 34 11q4 1 4 4h-92q0 -3 4 -4c26 -2 34 -4 34 -11v-22c0 -8 1 -12 3 -20z",
                c(middle + 5.0),
                c(floor)
            ),
        };
        html! {
            path.wall d=(bowl(WALL, rim)) {}
            path.foot d=(foot) {}
        }
    }

    /// The tide staff: blocks and figures up to the brim.
    fn staff(&self) -> Markup {
        let shown = if self.units == UnitSystem::UsOunces { number::in_ounces(1.0) } else { 1.0 };
        let top = self.glass.map_or(self.volume, |g| g.brim.max(self.volume)) * shown;
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
        let waves = "q7 -6 14 0t14 0t14 0t14 0t14 0t14 0t14 0t14 0t14 0t14 0";
        html! { path.wash d=(format!("M{} {}{waves}", c(LEFT - 8.0), c(y))) {} }
    }

    /// What every layer is, and the lines of the glass.
    fn labels(&self) -> Markup {
        let marks = self.marks();
        let wanted: Vec<f64> = marks.iter().map(|m| m.y).collect();
        let places = spread(&wanted, APART, TOP - 14.0, BOTTOM + 30.0);
        html! {
            @for (mark, y) in marks.iter().zip(&places) {
                @if mark.from < RIGHT { circle.pin cx=(c(mark.from)) cy=(c(mark.y)) r="2.6" {} }
                path.lead d=(format!("M{} {}L{} {}H{}", c(mark.from), c(mark.y), c(LABELS - 12.0), c(*y), c(LABELS - 4.0))) {}
                text class=(mark.class) x=(c(LABELS)) y=(c(y + 5.0)) { (super::picture::Said(&fitting(&mark.label))) }
            }
        }
    }

    /// Every label and the height that it belongs to, from the top down.
    fn marks(&self) -> Vec<Mark> {
        let mut marks = Vec::new();
        if let Some(glass) = self.glass {
            let brim = self.ml(glass.brim);
            marks.push(Mark::line(self.height(glass.brim), format!("brim {brim}"), "quiet"));
        }
        let wash = format!("wash line {}", self.ml(self.volume));
        marks.push(Mark { from: RIGHT + 12.0, ..Mark::line(self.height(self.volume), wash, "strong") });
        let mut top = self.layers.iter().map(|l| l.ml).sum::<f64>();
        for layer in self.layers.iter().rev() {
            let y = self.height(top - layer.ml / 2.0);
            top -= layer.ml;
            marks.push(Mark { from: RIGHT - 10.0, y, label: layer.label.clone(), class: "plain" });
        }
        // An overfull glass has its brim under the wash line.
        marks.sort_by(|a, b| a.y.total_cmp(&b.y));
        marks
    }

    fn told(&self, id: &str, title: &str) -> Told {
        let layers: Vec<&str> = self.layers.iter().map(|l| l.label.as_str()).collect();
        Told {
            id: id.to_owned(),
            title: title.to_owned(),
            text: format!(
                "From the bottom: {}. Together {} in the glass.",
                words::listed(&layers),
                self.ml(self.volume)
            ),
        }
    }

    fn caption(&self) -> String {
        let free = self.glass.filter(|g| g.headroom > 0.0).map_or_else(String::new, |g| {
            let headroom = number::trimmed(g.headroom, 1);
            format!(" The hatched part under the brim, {headroom} % of the glass, is to stay free.")
        });
        let shrunk = if self.shrunk >= 0.05 {
            let shrunk = number::pour(Amount::ml((self.shrunk * 10.0).round() / 10.0), self.units);
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

/// The bowl up to a height, so far outside the liquid; its corners are round.
fn bowl(outside: f64, top: f64) -> String {
    let (left, right, floor) = (LEFT - outside, RIGHT + outside, BOTTOM + outside);
    format!(
        "M{left} {top}V{}Q{left} {floor} {} {floor}H{}Q{right} {floor} {right} {}V{top}",
        c(floor - CORNER),
        c(left + CORNER),
        c(right - CORNER),
        c(floor - CORNER),
        left = c(left),
        right = c(right),
        floor = c(floor),
        top = c(top)
    )
}

/// A label that fits beside the glass; of a longer one what fits, with an ellipsis.
fn fitting(label: &str) -> String {
    let label = words::clean(label);
    let room = (WIDTH - LABELS) / LETTERS;
    let wide = |text: &str| text.chars().map(letter).sum::<f64>();
    if wide(&label) <= room {
        return label;
    }
    let (mut kept, mut used) = (String::new(), letter('…'));
    for one in label.chars() {
        used += letter(one);
        if used > room {
            break;
        }
        kept.push(one);
    }
    format!("{}…", kept.trim_end())
}

/// How wide a letter is at most, in ems, in the widest of the faces that are asked for (Verdana and its
/// kin): looked up there, and rounded up.
fn letter(letter: char) -> f64 {
    match letter {
        'i' | 'j' | 'l' | '.' | ',' | ':' | '\'' | '|' | ' ' => 0.33,
        'f' | 't' | 'r' | '(' | ')' | '-' => 0.42,
        'm' | 'w' | 'M' | 'W' | '…' | '@' | '%' => 1.0,
        'a'..='z' | '0'..='9' => 0.64,
        'A'..='Z' | '\u{a1}'..='\u{24f}' => 0.78,
        '\u{590}'..='\u{8ff}' => 0.8,
        _ if letter.is_ascii() => 0.84,
        _ => 1.3,
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
/// own.
fn layers(spec: &SpecLine, units: UnitSystem) -> Vec<Layer> {
    let pours = spec.pours.iter().filter(|p| p.unit == "ml").map(|p| Layer {
        fill: Fill::Role(p.role),
        label: format!("{} {}", number::pour(p.amount(), units), p.ingredient),
        ml: p.amount,
    });
    let melt = (spec.melt > 0.0).then(|| Layer {
        fill: Fill::Melt,
        label: format!("{} water from the ice", number::pour_about(Amount::ml(spec.melt), units)),
        ml: spec.melt,
    });
    pours.chain(melt).collect()
}

#[cfg(test)]
mod tests {
    use super::fitting;

    #[test]
    fn a_label_is_cut_only_where_it_has_no_room() {
        assert_eq!(fitting("25 ml orchard apple brandy"), "25 ml orchard apple brandy");
        assert_eq!(fitting("25 ml Wormwood and wild marjoram wine"), "25 ml Wormwood and wil…");
        assert_eq!(fitting("🍋🍋🍋🍋🍋🍋🍋🍋🍋🍋🍋🍋"), "🍋🍋🍋🍋🍋🍋🍋🍋🍋🍋…");
    }
}

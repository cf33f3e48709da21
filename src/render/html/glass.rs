//! The glass, filled layer by layer to its wash line. Its walls are straight, so that heights are volumes.
//! The card beside it says the same in words.

use maud::{Markup, html};

use super::fill::Palette;
use super::picture::coordinate as c;
use crate::answer::{Frame, SpecLine};
use crate::quantity::Unit;

const WIDTH: f64 = 84.0;
const HEIGHT: f64 = 190.0;
/// Where the glass is widest inside, and where its bottom lies.
const LEFT: f64 = 10.0;
const BOTTOM: f64 = 184.0;
const TOP: f64 = 6.0;

/// Draws a spec in the brief's glass, or in one that it nearly fills.
pub fn glass(frame: &Frame, spec: &SpecLine, palette: &Palette) -> Markup {
    let volume = spec.served.get("volume");
    let brim = frame.glass.map_or(1.12 * volume, |glass| glass.brim);
    let poured: f64 =
        spec.pours.iter().filter(|p| p.unit == Unit::Ml).map(|p| p.amount).sum::<f64>() + spec.melt;
    let full = brim.max(volume);
    let height = |value: f64| if full > 0.0 { (BOTTOM - TOP) * value / full } else { 0.0 };
    let inside = WIDTH - 2.0 * LEFT;
    let shrunk = if poured > 0.0 { volume / poured } else { 0.0 };
    let layers = spec.pours.iter().filter(|p| p.unit == Unit::Ml);
    let layers = layers.map(|p| (palette.url(&p.ingredient), p.amount));
    let mut y = BOTTOM;
    let layers: Vec<(String, f64, f64)> = layers
        .chain((spec.melt > 0.0).then(|| ("url(#fill-melt)".to_owned(), spec.melt)))
        .map(|(fill, amount)| {
            let high = height(amount * shrunk);
            y -= high;
            (fill, y, high)
        })
        .collect();
    let wash = BOTTOM - height(volume);
    let brim = BOTTOM - height(brim);
    let wave = format!("M4 {}q9.5 -4 19 0t19 0t19 0t19 0", c(wash));
    html! {
        svg.glass width=(c(WIDTH)) height=(c(HEIGHT)) aria-hidden="true" focusable="false" {
            @for (fill, y, high) in &layers {
                rect.layer x=(c(LEFT)) y=(c(*y)) width=(c(inside)) height=(c(*high)) fill=(fill) {}
            }
            path.wall d=(format!("M{l} {b}V{bottom}H{r}V{b}", l = c(LEFT), r = c(WIDTH - LEFT), b = c(brim), bottom = c(BOTTOM))) {}
            path.wash d=(wave) {}
        }
    }
}

//! Which price would change the spec: what a pack may cost while the spec stays as it is.

use maud::{Markup, html};

use super::picture::{Room, Said, Told, across, behind, coordinate as c, name, picture, table};
use crate::report::gather::{PourableLine, PriceLine, SensitivityLine, SpecAnswer};
use crate::report::words;

const HEIGHT: f64 = 30.0;
/// Top and bottom of the channel.
const CHANNEL: (f64, f64) = (6.0, 24.0);
/// Strips go from nothing to this many times the present price.
const MOST: f64 = 2.0;

/// One ingredient whose price decides, and its words.
struct Row<'a> {
    line: &'a PriceLine,
    pourable: PourableLine,
    now: f64,
    words: words::PriceWords,
}

fn rows(found: &SensitivityLine) -> Vec<Row<'_>> {
    let row = |words: words::PriceWords| {
        let line = found.ingredients.iter().find(|l| l.ingredient == words.name)?;
        let now = line.price.filter(|now| *now > 0.0)?;
        let row = Row { line, pourable: line.pourable?, now, words };
        // A price that leaves the spec alone whatever it is has nothing to show.
        let pourable = row.pourable;
        let decides = pourable.from.is_some_and(|from| from > 0.0);
        (decides || pourable.to.is_some() || pourable.enters_below.is_some()).then_some(row)
    };
    words::price_rows(found).into_iter().filter_map(row).collect()
}

/// Whether there is anything to draw.
pub fn shown(found: &SensitivityLine) -> bool {
    !rows(found).is_empty()
}

/// The price that would be the first to change it.
pub fn answer(answer: &SpecAnswer, found: &SensitivityLine) -> Vec<String> {
    let first = words::first_price(answer, found)
        .unwrap_or_else(|| "None by itself changes the spec above, at least none that is proved.".to_owned());
    std::iter::once(first).chain(words::never_sentence(found)).collect()
}

/// A strip for each price that decides anything.
pub fn figure(found: &SensitivityLine) -> Markup {
    let rows = rows(found);
    html! {
        figure.ranges.prices {
            ul.strips {
                @for (at, row) in rows.iter().enumerate() {
                    li.strip {
                        span.what { (name(&row.line.ingredient)) }
                        (picture("pic-price", Room::Strip(HEIGHT), &row.told(at), &row.drawing()))
                        span.margin { (Said(&row.beside())) }
                    }
                }
            }
            figcaption {
                "Each strip goes from nothing to twice the present price, the lozenge in its middle. Over the filled part the spec \
                 stays as it is; where it is hatched another spec is better. Each price alone."
            }
            (behind(&as_table(found)))
        }
    }
}

fn as_table(found: &SensitivityLine) -> Markup {
    let rows: Vec<Vec<String>> =
        words::price_rows(found).into_iter().map(|r| vec![r.name, r.now, r.poured, r.free]).collect();
    table("What prices would change", &["ingredient", "now", "the spec above", "with any amounts"], &rows)
}

impl Row<'_> {
    /// Where a price stands, as a share of the strip.
    fn place(&self, price: f64) -> f64 {
        (price / (MOST * self.now)).clamp(0.0, 1.0)
    }

    /// Between which places the spec stays as it is.
    fn stays(&self) -> (f64, f64) {
        let from = if self.pourable.used { self.pourable.from } else { self.pourable.enters_below };
        let to = self.pourable.to.filter(|_| self.pourable.used);
        (from.map_or(0.0, |p| self.place(p)), to.map_or(1.0, |p| self.place(p)))
    }

    /// `now 24.50 per 700 ml; stays from 20.00 to 26.10`
    fn beside(&self) -> String {
        let poured = &self.words.poured;
        let does = match (self.pourable.used, poured.starts_with(|c: char| c.is_ascii_digit())) {
            (true, true) => "stays from",
            (true, false) => "stays",
            (false, _) => "comes",
        };
        format!("now {}; {does} {poured}", self.words.now)
    }

    fn drawing(&self) -> Markup {
        let (top, bottom) = CHANNEL;
        let (left, right) = self.stays();
        html! {
            rect x="0" y=(c(top)) width="100%" height=(c(bottom - top)) fill="url(#fill-out)" {}
            rect.water x=(across(left)) y=(c(top)) width=(across((right - left).max(0.0))) height=(c(bottom - top)) {}
            @for end in [left, right].into_iter().filter(|end| *end > 0.0 && *end < 1.0) {
                line.post x1=(across(end)) x2=(across(end)) y1=(c(top - 4.0)) y2=(c(bottom + 4.0)) {}
            }
            svg.afloat x="50%" y=(c(f64::midpoint(top, bottom))) overflow="visible" { path.float d="M0-11L6 0L0 11L-6 0Z" {} }
        }
    }

    fn told(&self, at: usize) -> Told {
        Told {
            id: format!("price-{at}"),
            title: format!("The price of {}", self.line.ingredient),
            text: format!("{}.", words::upper_first(&self.beside())),
        }
    }
}

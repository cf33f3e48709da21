//! What each limit is worth with free pours: tighter to the left, looser to the right.

use maud::{Markup, html};

use super::picture::{Room, Said, Told, across, behind, picture, table};
use crate::quantity::{UnitSystem, number};
use crate::report::gather::{LimitLine, SensitivityLine, SpecAnswer};
use crate::report::words;

/// One limit that is reached, and what moving it does to the score.
struct Worth<'a> {
    line: &'a LimitLine,
    name: String,
    /// How far it is moved, in its own unit.
    step: f64,
    /// Change of the score when it is so much looser; nothing where there is no room.
    looser: Option<f64>,
    tighter: Option<f64>,
}

/// Limits that are reached and whose move changes the score, dearest first.
fn worths<'a>(answer: &SpecAnswer, found: &'a SensitivityLine, units: UnitSystem) -> Vec<Worth<'a>> {
    words::dear_limits(found).into_iter().map(|line| worth(answer, line, units)).collect()
}

fn worth<'a>(answer: &SpecAnswer, line: &'a LimitLine, units: UnitSystem) -> Worth<'a> {
    let step = words::hundredth(line);
    let scaled = |slope: Option<f64>| slope.map(|s| s * step);
    Worth {
        line,
        name: words::limit_name(answer, line, units),
        step,
        looser: scaled(line.looser),
        tighter: scaled(line.tighter),
    }
}

/// Whether there is anything to draw.
pub fn shown(answer: &SpecAnswer) -> bool {
    answer.sensitivity.as_ref().is_some_and(|found| !words::dear_limits(found).is_empty())
}

/// What one sentence says: which limit is the dearest.
pub fn answer(answer: &SpecAnswer, found: &SensitivityLine, units: UnitSystem) -> String {
    let worths = worths(answer, found, units);
    let Some(first) = worths.first() else { return String::new() };
    let what = first.looser.filter(|s| *s != 0.0).map_or_else(
        || format!("a hundredth tighter would make it {}", first.words(answer, first.tighter)),
        |_| format!("a hundredth looser would make it {}", first.words(answer, first.looser)),
    );
    format!("If any amount could be poured, the dearest limit would be {}: {what}.", first.name)
}

/// A two-sided bar for each.
pub fn figure(answer: &SpecAnswer, found: &SensitivityLine, units: UnitSystem) -> Markup {
    let worths = worths(answer, found, units);
    let most = worths.iter().map(Worth::most).fold(0.0, f64::max);
    html! {
        figure.worth {
            p.sides aria-hidden="true" { span { "← tighter" } span { "looser →" } }
            ul.gains {
                @for (at, one) in worths.iter().enumerate() {
                    li {
                        span.what { (Said(&one.name)) }
                        (picture("pic-worth", Room::Strip(22.0), &one.told(answer, at), &one.drawing(most)))
                        span.side { (Said(&one.words(answer, one.tighter))) }
                        span.side.end { (Said(&one.words(answer, one.looser))) }
                    }
                }
            }
            figcaption {
                "Each limit alone moved by a hundredth of itself, with free pours: what that does to the aim. These are slopes \
                 at the limit; the table says between which values of the limit the same ingredients and limits decide."
            }
            (behind(&as_table(answer, &worths)))
        }
    }
}

impl Worth<'_> {
    fn most(&self) -> f64 {
        [self.looser, self.tighter].into_iter().flatten().fold(0.0, |most, s| most.max(s.abs()))
    }

    /// `0.0082 GBP cheaper`, `no room`.
    fn words(&self, answer: &SpecAnswer, change: Option<f64>) -> String {
        let Some(change) = change else { return "no room".to_owned() };
        if change == 0.0 {
            return "nothing".to_owned();
        }
        let word = match (answer.aim.of.as_str(), change > 0.0) {
            ("cost", true) => "dearer",
            ("cost", false) => "cheaper",
            (_, true) => "more",
            (_, false) => "less",
        };
        let unit = self.line.unit.split(" per ").next().unwrap_or_default();
        format!("{} {unit}", words::significant(change.abs())).trim_end().to_owned() + " " + word
    }

    fn drawing(&self, most: f64) -> Markup {
        let share = |change: Option<f64>| change.filter(|_| most > 0.0).map_or(0.0, |s| 0.5 * s.abs() / most);
        let (left, right) = (share(self.tighter), share(self.looser));
        html! {
            rect.loss x=(across(0.5 - left)) y="3" height="16" width=(across(left)) fill="url(#fill-out)" {}
            rect.gain x="50%" y="3" height="16" width=(across(right)) {}
            line.surface x1="50%" x2="50%" y1="0" y2="22" {}
        }
    }

    fn told(&self, answer: &SpecAnswer, at: usize) -> Told {
        let (tighter, looser) = (self.words(answer, self.tighter), self.words(answer, self.looser));
        Told {
            id: format!("worth-{at}"),
            title: format!("What it is worth: {}", self.name),
            text: format!("A hundredth tighter: {tighter}. A hundredth looser: {looser}."),
        }
    }
}

fn as_table(answer: &SpecAnswer, worths: &[Worth]) -> Markup {
    let end = |value: Option<f64>| value.map_or_else(|| "no end".to_owned(), |v| number::trimmed(v, 3));
    let rows: Vec<Vec<String>> = worths
        .iter()
        .map(|one| {
            let slope = |s: Option<f64>| {
                s.map_or_else(|| "no room".to_owned(), |s| number::signed(s, 6) + " " + &one.line.unit)
            };
            vec![
                one.name.clone(),
                number::trimmed(one.step, 4),
                one.words(answer, one.tighter),
                one.words(answer, one.looser),
                slope(one.line.tighter),
                slope(one.line.looser),
                format!("{} to {}", end(one.line.from), end(one.line.to)),
            ]
        })
        .collect();
    let heads = [
        "limit",
        "a hundredth",
        "tighter",
        "looser",
        "slope tighter",
        "slope looser",
        "the same decide from",
    ];
    table("What limits are worth with free pours", &heads, &rows)
}

//! The page round the answers: heading, wash line, questions, foot.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::picture::Said;
use super::section::Section;
use super::{look, pattern};

const STYLE: &str = include_str!("style.css");

/// Nothing may be fetched, whatever stands in the page.
const FETCH_NOTHING: &str = "default-src 'none'; style-src 'unsafe-inline'";

/// What stands over the wash line.
pub struct Heading<'a> {
    /// What kind of answer it is, such as `Spec`.
    pub kind: &'static str,
    /// The drink.
    pub title: &'a str,
    /// What it comes to, in a sentence or two.
    pub said: Vec<String>,
    /// Whether that is good news.
    pub tone: Tone,
    /// The figures by which one knows it: what, how much.
    pub figures: Vec<(String, String)>,
}

/// Whether the answer is what was asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// It is.
    Answered,
    /// It is not, or not yet.
    Warned,
}

/// A whole page.
pub fn page(heading: &Heading, sections: &[Section]) -> String {
    let style = format!("{}{STYLE}", look::variables());
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(FETCH_NOTHING);
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (Said(heading.title)) " – washline" }
                style { (PreEscaped(&style)) }
            }
            body {
                a.skip href="#answer" { "To the answer" }
                (pattern::definitions())
                (over_the_line(heading, sections))
                main id="answer" { @for section in sections { (section.write()) } }
                footer {
                    p { "Worked out by washline from the brief and nothing else. Figures are of the drink as served, melt water \
                         included, at 20 °C. Melt water is an estimate and fruit varies: taste before you serve." }
                }
            }
        }
    };
    page.into_string()
}

fn over_the_line(heading: &Heading, sections: &[Section]) -> Markup {
    html! {
        header {
            p.kind { (heading.kind) }
            h1 { bdi { (Said(heading.title)) } }
            @for sentence in heading.said.iter().filter(|s| !s.is_empty()) {
                p.said.warned[heading.tone == Tone::Warned] { (Said(sentence)) }
            }
            @if !heading.figures.is_empty() {
                dl.known { @for (what, figure) in &heading.figures { div { dt { (Said(what)) } dd { (Said(figure)) } } } }
            }
            nav aria-label="Questions" {
                ol { @for section in sections { li { a href=(format!("#{}", section.slug)) { (Said(&section.question)) } } } }
            }
        }
        (wash())
    }
}

/// The wash line between heading and river.
fn wash() -> Markup {
    let wave = "M0 14q15 -12 30 0t30 0";
    html! {
        svg.washline width="100%" height="28" aria-hidden="true" focusable="false" {
            defs {
                pattern id="wash" width="60" height="28" patternUnits="userSpaceOnUse" {
                    path.under d=(format!("{wave}V28H0Z")) {}
                    path.crest d=(wave) {}
                }
            }
            rect width="100%" height="28" fill="url(#wash)" {}
        }
    }
}

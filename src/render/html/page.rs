//! The page round the answers: heading, wash line, parts, foot.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::fill::Palette;
use super::imprint::Imprint;
use super::picture::Said;
use super::{choice, look};
use crate::quantity::UnitSystem;

/// The style sheet of every page; its names and sizes stand in `look`.
pub const STYLE: &str = include_str!("style.css");

/// A part of the page under a heading of its own.
pub struct Part {
    slug: String,
    title: String,
    body: Markup,
}

impl Part {
    /// A part of this name.
    pub fn new(slug: impl Into<String>, title: &str, body: Markup) -> Self {
        Self { slug: slug.into(), title: title.to_owned(), body }
    }

    /// The part in the page.
    pub fn write(&self) -> Markup {
        let id = format!("{}-h", self.slug);
        html! {
            section.part id=(self.slug) aria-labelledby=(id) {
                h2 id=(id) { (Said(&self.title)) }
                (self.body)
            }
        }
    }
}

/// What a page is made of.
pub struct Page<'a> {
    /// What kind of answer it is, such as `Spec`.
    pub kind: String,
    /// The drink.
    pub title: &'a str,
    /// What it comes to, in a sentence or two.
    pub said: Vec<String>,
    /// Whether that is not, or not yet, what was asked for.
    pub warned: bool,
    /// The colours of its ingredients.
    pub palette: Palette<'a>,
    /// What stands first, without a heading of its own.
    pub first: Markup,
    /// What follows.
    pub parts: Vec<Part>,
    /// A script of our own, and its hash for the policy; nothing where the page needs none.
    pub script: Option<(&'static str, &'static str)>,
}

/// An answer that has a page.
pub trait Paged {
    /// Its page.
    fn page(&self, units: UnitSystem) -> Page<'_>;
}

impl Page<'_> {
    /// The whole page.
    pub fn write(self, imprint: &Imprint) -> String {
        let style = format!("{}{}{STYLE}", look::variables(), choice::rules());
        let imprinted = Part::new("imprint", "The brief", imprint.write());
        let parts: Vec<&Part> = self.parts.iter().chain([&imprinted]).collect();
        let page = html! {
            (DOCTYPE)
            html lang="en" {
                head {
                    meta charset="utf-8";
                    meta http-equiv="Content-Security-Policy" content=(policy(self.script.map(|(_, hash)| hash)));
                    meta name="viewport" content="width=device-width, initial-scale=1";
                    meta name="color-scheme" content="light dark";
                    title { (Said(self.title)) " – washline" }
                    style { (PreEscaped(&style)) }
                }
                body {
                    a.skip href="#answer" { "To the answer" }
                    (self.palette.definitions())
                    (self.over_the_line())
                    main id="answer" {
                        (self.first)
                        (contents(&parts))
                        div.parts { @for part in &parts { (part.write()) } }
                    }
                    footer {
                        p { "Figures are of the drink as served, melt water included, at 20 °C. Melt water is an estimate and fruit \
                             varies: taste before you serve." }
                    }
                    @if let Some((script, _)) = self.script { script { (PreEscaped(script)) } }
                }
            }
        };
        page.into_string()
    }

    fn over_the_line(&self) -> Markup {
        html! {
            header {
                p.kind { (Said(&self.kind)) }
                h1 { bdi { (Said(self.title)) } }
                @for sentence in self.said.iter().filter(|s| !s.is_empty()) {
                    p.said.warned[self.warned] { (Said(sentence)) }
                }
            }
            (wash())
        }
    }
}

/// Nothing may be fetched, whatever stands in the page, and no script runs but our own.
fn policy(hash: Option<&str>) -> String {
    let script = hash.map_or_else(String::new, |hash| format!("; script-src 'sha256-{hash}'"));
    format!("default-src 'none'; style-src 'unsafe-inline'{script}")
}

/// The parts by name, folded; on a wide screen all of them are near enough.
fn contents(parts: &[&Part]) -> Markup {
    html! {
        details.contents {
            summary { "Further down" }
            nav aria-label="Parts" { ul { @for part in parts { li { a href=(format!("#{}", part.slug)) { (Said(&part.title)) } } } } }
        }
    }
}

/// The wash line between heading and answer.
pub fn wash() -> Markup {
    let wave = "M0 9q15 -8 30 0t30 0";
    html! {
        svg.washline width="100%" height="18" aria-hidden="true" focusable="false" {
            defs {
                pattern id="wash" width="60" height="24" patternUnits="userSpaceOnUse" {
                    path.under d=(format!("{wave}V18H0Z")) {}
                    path.crest d=(wave) {}
                }
            }
            rect width="100%" height="18" fill="url(#wash)" {}
        }
    }
}

//! What could take the place of an ingredient: a table to sort, and the card of the row that is chosen.

use maud::{Markup, html};

use super::choice::{Choice, pick};
use super::choices::shown;
use super::fill::Palette;
use super::lists;
use super::page::{Page, Paged, Part};
use super::picture::{Said, name};
use super::strips::Strays;
use super::table::sideways;
use crate::answer::{Frame, Gauge, SpecLine, Substitute, SubstitutesAnswer};
use crate::quantity::{UnitSystem, number};
use crate::render::words;

/// Sorts the table when a heading is pressed; without it the table is read as it stands.
const SORT: &str = include_str!("sort.js");
/// What the page's policy knows the script by: SHA-256 in base 64.
const SORT_HASH: &str = "5+M02TcVo3v4l2vh8whwmpOY4B0k00Pmx0jz2R1mvVE=";
/// So many have a card.
const CARDS: usize = 8;

impl Paged for SubstitutesAnswer {
    /// The page of a ranked list.
    fn page(&self, units: UnitSystem) -> Page<'_> {
        let frame = &self.frame;
        let found: Vec<(&Substitute, &SpecLine)> =
            self.ranked.iter().filter_map(|one| Some((one, one.spec.as_ref()?))).collect();
        let all: Vec<Choice> = found.iter().map(|(one, spec)| choice(self, one, spec)).collect();
        let cards = &all[..all.len().min(CARDS)];
        let palette = Palette::of(cards.iter().map(|choice| choice.spec));
        let first = html! {
            (shown(frame, cards, all.len() == 1, &palette, units))
            @if !all.is_empty() { (ranked(self, &found, units)) }
        };
        let rest = Part::new(
            "rest",
            "What else is known",
            lists::sentences(&[words::near_sentences(self, units), words::rest_sentences(self)].concat()),
        );
        let count = words::counted(found.len(), "ingredient");
        let mut said = vec![match found.first() {
            None => format!("None of the {}s can take the place of {}.", self.role, self.out),
            Some((first, spec)) => {
                format!(
                    "{} can take the place of {}; first {} of {}.",
                    words::upper_first(&count),
                    self.out,
                    words::newcomer_pour(first, units),
                    first.coming
                ) + &cost(frame, spec, units)
            }
        }];
        said.extend(words::question_sentences(self, units));
        Page {
            kind: format!("In place of {}", self.out),
            title: &self.title,
            said,
            warned: found.is_empty(),
            palette,
            first,
            parts: vec![rest],
            script: (all.len() > 1).then_some((SORT, SORT_HASH)),
        }
    }
}

fn choice<'a>(answer: &'a SubstitutesAnswer, one: &'a Substitute, spec: &'a SpecLine) -> Choice<'a> {
    let strays = Strays { reference: answer.reference.as_ref(), ..Strays::default() };
    Choice { strays, ..Choice::of(&one.coming, spec) }
}

fn cost(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> String {
    let known = frame.gauge("cost").filter(|g| !spec.served.get(&g.key).is_nan());
    known.map_or_else(String::new, |g| {
        format!(" It costs {}.", words::with_unit(g, spec.served.get("cost"), units))
    })
}

/// All that can come in, the nearest first.
fn ranked(answer: &SubstitutesAnswer, found: &[(&Substitute, &SpecLine)], units: UnitSystem) -> Markup {
    const SHOWN: [&str; 5] = ["sugar", "sweetness", "strength", "acid", "cost"];
    let frame = &answer.frame;
    let known = |g: &&Gauge| found.iter().any(|(_, spec)| !spec.served.get(&g.key).is_nan());
    let gauges: Vec<&Gauge> = SHOWN.iter().filter_map(|key| frame.gauge(key)).filter(known).collect();
    let (score, _) = words::score_column(&answer.aim, frame, units);
    let scored = gauges.iter().all(|g| g.key != answer.aim.of);
    let shared = found.iter().any(|(_, spec)| spec.within_all.is_some());
    sideways(&html! {
        table.matrix.sorts id="ranked" {
            caption { "Choose a row for its card; press a heading to sort." }
            thead {
                tr {
                    th scope="col" { "comes in" }
                    th scope="col" { "pour" }
                    @if scored { th scope="col" { (score) } }
                    @if !answer.notes_out.is_empty() { th scope="col" { "notes kept" } }
                    @for gauge in &gauges { th scope="col" { (name(&gauge.label)) " " small { (name(words::unit(gauge, units))) } } }
                    @if shared { th scope="col" { "holds " small { "of 100" } } }
                    th scope="col" { "allergens" }
                }
            }
            tbody {
                @for (id, (one, spec)) in found.iter().enumerate() {
                    tr {
                        th scope="row" { (pick(id, &one.coming, CARDS.min(found.len()))) }
                        (pour(one, units))
                        @if scored { td data-value=[one.score.map(plain)] { (score_text(answer, one, units)) } }
                        @if let Some(kept) = words::notes_kept(answer, one) { td data-value=(one.notes_kept.len()) { (kept) } }
                        @for gauge in &gauges {
                            @let value = spec.served.get(&gauge.key);
                            td data-value=(plain(value)) { (words::figure(gauge, value, units)) }
                        }
                        @if shared { td data-value=[spec.within_all.map(plain)] { (spec.within_all.map_or_else(|| "–".to_owned(), words::hundredths)) } }
                        td.words { (Said(&one.allergens.join(", "))) }
                    }
                }
            }
        }
    })
}

/// How much of the newcomer is poured.
fn pour(one: &Substitute, units: UnitSystem) -> Markup {
    let own = one.spec.iter().flat_map(|spec| &spec.pours).find(|p| p.ingredient == one.coming);
    html! { td data-value=[own.map(|p| plain(p.amount))] { (words::newcomer_pour(one, units)) } }
}

fn score_text(answer: &SubstitutesAnswer, one: &Substitute, units: UnitSystem) -> String {
    one.score.map_or_else(String::new, |score| words::score_text(&answer.aim, &answer.frame, score, units))
}

/// A figure to sort by; nothing where it is not known.
fn plain(value: f64) -> String {
    if value.is_finite() { number::trimmed(value, 6) } else { String::new() }
}

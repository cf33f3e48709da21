//! The answer to a brief, and a given spec held against it.

use super::choice::Choice;
use super::choices::choices;
use super::fill::Palette;
use super::page::{Page, Paged, Part};
use super::strips::Strays;
use super::{sections, track};
use crate::answer::{CheckAnswer, SpecAnswer, SpecLine, steadier_specs};
use crate::quantity::UnitSystem;
use crate::quantity::number::fixed;
use crate::render::document::{self, Block, Told as _};
use crate::render::words;
use crate::solve::Ending;

/// The page of an answer that is no conflict.
pub fn page(answer: &SpecAnswer, units: UnitSystem) -> Page<'_> {
    let all = specs(answer);
    let palette = Palette::of(all.iter().map(|choice| choice.spec));
    let first = choices(&answer.frame, &all, &palette, units);
    let some = answer.best.is_some();
    let said = said(answer, units);
    Page {
        parts: parts(answer, &said, &palette, units),
        kind: if some { "Spec" } else { "No spec" }.to_owned(),
        title: &answer.title,
        said,
        warned: !(some && answer.outcome == Ending::Found),
        palette,
        first,
        script: None,
    }
}

/// The best, what is steadier, the alternatives, the reference; where there is none, the free amounts.
pub fn specs(answer: &SpecAnswer) -> Vec<Choice<'_>> {
    let strays = Strays { reference: answer.reference.as_ref(), ..Strays::default() };
    let Some(best) = &answer.best else {
        return answer.unrounded.iter().map(|free| Choice::of("in free amounts", free)).collect();
    };
    let mut all = vec![Choice {
        strays: Strays { service: answer.service.as_ref(), certainty: answer.certainty.as_ref(), ..strays },
        ..Choice::of("the best", best)
    }];
    all.extend(steadier_specs(&answer.steadier).into_iter().map(|(levels, spec)| {
        let levels: Vec<String> = levels.iter().map(|level| fixed(*level, 0)).collect();
        Choice { strays, ..Choice::of(&format!("steadier, for {} of 100", levels.join(" and ")), spec) }
    }));
    all.extend(
        answer
            .alternatives
            .iter()
            .enumerate()
            .map(|(at, spec)| Choice { strays, ..Choice::of(&format!("alternative {}", at + 1), spec) }),
    );
    all.extend(answer.reference.iter().map(|spec| Choice::of("the reference", spec)));
    all
}

/// What to pour and what it costs; in how many serves it holds, and why not in all.
pub fn said(answer: &SpecAnswer, units: UnitSystem) -> Vec<String> {
    let Some(best) = &answer.best else { return vec![words::outcome_sentences(answer, units)] };
    let mut said = vec![headline(answer, best, units)];
    said.extend(answer.service.as_ref().map(|s| words::service_sentence(&answer.frame, s)));
    if answer.outcome == Ending::Stopped {
        said.push(words::outcome_sentences(answer, units));
    }
    said
}

fn headline(answer: &SpecAnswer, best: &SpecLine, units: UnitSystem) -> String {
    let names: Vec<&str> = best.pours.iter().map(|p| p.ingredient.as_str()).collect();
    let names = words::upper_first(&words::listed(&names));
    let aim = words::aim_sentence(answer, best.score, units);
    // The aim's own sentence tells the cost where that is the aim.
    if let Some(cost) = aim.strip_prefix("Cost: ") {
        return format!("{names} for {cost}");
    }
    let cost = answer.frame.gauge("cost").map(|g| words::with_unit(g, best.served.get("cost"), units));
    let cost =
        cost.filter(|_| !best.served.get("cost").is_nan()).map_or_else(String::new, |c| format!(" for {c}"));
    format!("{names}{cost}. {aim}")
}

/// What the answer hangs on, what brings what, where the drink comes from, how sure it is: what no picture shows.
pub fn parts(answer: &SpecAnswer, said: &[String], palette: &Palette, units: UnitSystem) -> Vec<Part> {
    let track = track::figure(&answer.frame, &answer.track, units);
    let track = track.map(|body| Part::new("track", "The track of the drink", body));
    let pictured = [&PICTURED[..], &[document::Part::Alternatives, document::Part::Limits]].concat();
    let mut document = answer.full(units);
    let noted = answer.best.as_ref().is_some_and(|best| !best.notes.is_empty());
    for section in &mut document.sections {
        match section.part {
            // Beside each strip stands how many serves hold it, and what it varies with.
            document::Part::Service => section.blocks.retain(|block| !matches!(block, Block::Table(_))),
            // Once for all cards.
            document::Part::Proof if noted => section.blocks.push(Block::plain(words::COUNTED)),
            _ => {}
        }
    }
    track.into_iter().chain(sections::parts(&document, &pictured, said, palette)).collect()
}

/// What card, strips and imprint show.
const PICTURED: [document::Part; 3] = [document::Part::Card, document::Part::Glass, document::Part::Asked];

impl Paged for CheckAnswer {
    /// The page of a given spec.
    fn page(&self, units: UnitSystem) -> Page<'_> {
        let (frame, spec) = (&self.frame, &self.spec);
        let palette = Palette::of([spec]);
        let strays = Strays { service: Some(&self.service), ..Strays::default() };
        let first =
            choices(frame, &[Choice { strays, ..Choice::of("the spec given", spec) }], &palette, units);
        let change = (!spec.change.is_empty()).then(|| words::against(spec, units));
        let said = [Some(words::verdict(self)), Some(words::service_sentence(frame, &self.service)), change];
        let said: Vec<String> = said.into_iter().flatten().collect();
        Page {
            parts: sections::parts(&self.full(units), &PICTURED, &said, &palette),
            kind: "A given spec, measured".to_owned(),
            title: &self.title,
            said,
            warned: !self.meets,
            palette,
            first,
            script: None,
        }
    }
}

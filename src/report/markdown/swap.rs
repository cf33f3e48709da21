//! The swap, what each ingredient brings, and what moved against the reference.

use super::{Markdown, escaped, list, table};
use crate::report::gather::{ContributionLine, Frame, Gauge, SpecAnswer, SpecLine};
use crate::report::words;

impl Markdown {
    /// What was swapped; nothing where nothing was.
    pub(super) fn swap(&self, answer: &SpecAnswer) -> String {
        let Some(swap) = &answer.swap else { return String::new() };
        format!("\n## The swap\n\n{}", list(&words::swap_sentences(&answer.frame, swap, self.units)))
    }

    /// What each pour and the ice bring.
    pub(super) fn brings(&self, frame: &Frame, spec: &SpecLine) -> String {
        let gauges = words::brought(frame, spec, |_| true);
        let shares = spec.contributions.iter().map(|line| self.shares(&line.ingredient, &gauges, line));
        let sum = std::iter::once(self.served("in the glass", &gauges, spec));
        let mut out = format!(
            "\n## What each ingredient brings\n\n{}",
            table(&self.head(&gauges), &sides(&gauges), shares.chain(sum))
        );
        if let Some(sentence) = words::sweetness_sentence(spec) {
            out += &format!("\n{}\n", escaped(&sentence));
        }
        out
    }

    /// What moved against the reference.
    pub(super) fn against(&self, frame: &Frame, reference: &SpecLine, spec: &SpecLine) -> String {
        let gauges = words::brought(frame, spec, |_| true);
        let both = |g: &&Gauge| (reference.served.get(&g.key), spec.served.get(&g.key));
        let moved = gauges.iter().map(|g| {
            let (before, after) = both(g);
            words::moved(g, before, after, self.units)
        });
        let moved: Vec<String> = std::iter::once("moved".to_owned()).chain(moved).collect();
        let rows = [
            self.served("the reference", &gauges, reference),
            self.served("this spec", &gauges, spec),
            moved,
        ];
        let turned = words::came_and_went(reference, spec, self.units);
        let turned = turned.iter().map(|(name, line)| self.shares(name, &gauges, line));
        let rows = rows.into_iter().chain(turned);
        format!("\n## Beside the reference\n\n{}", table(&self.head(&gauges), &sides(&gauges), rows))
    }

    fn head(&self, gauges: &[&Gauge]) -> Vec<String> {
        let heading = |g: &&Gauge| escaped(format!("{} {}", g.label, words::unit(g, self.units)).trim_end());
        std::iter::once(String::new()).chain(gauges.iter().map(heading)).collect()
    }

    fn shares(&self, name: &str, gauges: &[&Gauge], line: &ContributionLine) -> Vec<String> {
        let shares = gauges.iter().map(|g| words::share(g, line.share.get(&g.key), self.units));
        std::iter::once(escaped(name)).chain(shares).collect()
    }

    fn served(&self, name: &str, gauges: &[&Gauge], spec: &SpecLine) -> Vec<String> {
        let figures = gauges.iter().map(|g| words::figure(g, spec.served.get(&g.key), self.units));
        std::iter::once(name.to_owned()).chain(figures).collect()
    }
}

fn sides(gauges: &[&Gauge]) -> String {
    format!("l{}", "r".repeat(gauges.len()))
}

//! Markdown: a card and tables that print on one page.

mod batch;
mod hangs;
mod service;
mod substitutes;
mod swap;
mod sweep;

use std::fmt::Write as _;

use super::gather::{
    BatchAnswer, CheckAnswer, ConflictLine, Frame, LarderAnswer, Need, SpecAnswer, SpecLine,
    SubstitutesAnswer, SweepAnswer,
};
use super::{Exporter, words};
use crate::quantity::{UnitSystem, number};

/// Writes Markdown.
pub struct Markdown {
    units: UnitSystem,
}

impl Markdown {
    /// A writer that shows volumes in these units.
    pub fn new(units: UnitSystem) -> Self {
        Self { units }
    }

    fn card(&self, frame: &Frame, spec: &SpecLine) -> String {
        let rows = spec.pours.iter().map(|pour| {
            let (amount, unit) = words::amount_digits(pour.amount(), self.units);
            let cost = pour.cost.map_or_else(String::new, |c| number::fixed(c, 2));
            vec![format!("{amount} {unit}"), escaped(&pour.ingredient), cost]
        });
        let priced = spec.pours.iter().any(|pour| pour.cost.is_some());
        let head = ["amount", "ingredient", if priced { &frame.currency } else { "" }];
        let method = escaped(&words::method_sentences(frame, spec, self.units));
        format!("{}\n{method}\n", table(&head, "rlr", rows))
    }

    fn glass(&self, frame: &Frame, spec: &SpecLine) -> String {
        let rows =
            frame.gauges.iter().filter(|g| g.limited() || !spec.served.get(&g.key).is_nan()).map(|gauge| {
                let value = spec.served.get(&gauge.key);
                let margin = words::nearest_margin(gauge, &spec.margins);
                let margin = margin.map_or_else(String::new, |m| words::margin_words(gauge, m, self.units));
                let value = escaped(&words::with_unit(gauge, value, self.units));
                vec![escaped(&gauge.label), value, words::range_words(gauge, self.units), margin]
            });
        table(&["in the glass", "value", "asked for", "margin"], "lrll", rows)
    }

    fn alternatives(&self, answer: &SpecAnswer, best: &SpecLine) -> String {
        let rows = answer.alternatives.iter().enumerate().map(|(at, spec)| {
            let score = words::score_text(&answer.aim, &answer.frame, spec.score, self.units);
            let worse = words::worse_words(answer, best.score, spec.score, self.units).unwrap_or_default();
            let moves = words::moves(&spec.change, self.units);
            vec![(at + 1).to_string(), escaped(&moves), escaped(&score), escaped(&worse)]
        });
        let aim = escaped(&answer.aim.of);
        table(&["", "against the best", &aim, ""], "rlrl", rows)
    }
}

impl Exporter for Markdown {
    fn spec(&self, answer: &SpecAnswer) -> String {
        let outcome = escaped(&words::outcome_sentences(answer, self.units));
        let mut out = format!("# {}\n\n", escaped(&answer.title));
        if let Some(best) = &answer.best {
            let aim = escaped(&words::aim_sentence(answer, best.score, self.units));
            let _ = write!(out, "{}\n**{aim}**\n", self.card(&answer.frame, best));
            out += &self.swap(answer);
            let _ = write!(out, "\n## In the glass\n\n{}", self.glass(&answer.frame, best));
            out += &self.brings(&answer.frame, best);
            if let Some(reference) = answer.reference.as_ref().filter(|_| !best.change.is_empty()) {
                out += &self.against(&answer.frame, reference, best);
            }
            if let Some(service) = &answer.service {
                out += &service::section(&answer.frame, service, &self.certainty(answer));
            }
            if !answer.alternatives.is_empty() {
                let _ = write!(
                    out,
                    "\n## Next best, each with another set of ingredients\n\n{}",
                    self.alternatives(answer, best)
                );
            }
            let _ = write!(out, "\n{outcome}\n");
            out += &self.looser(answer, best);
        } else if let Some(conflict) = &answer.conflict {
            let _ = writeln!(out, "{outcome}");
            out += &self.swap(answer);
            out += &service::paragraphs(&self.certainty(answer));
            out += &self.conflict(&answer.frame, conflict);
        } else {
            let _ = writeln!(out, "{outcome}");
            out += &service::paragraphs(&self.certainty(answer));
            if let Some(free) = &answer.unrounded {
                let _ = write!(out, "\n## With free amounts\n\n{}\n", self.card(&answer.frame, free));
                out += &self.glass(&answer.frame, free);
            }
        }
        out + &cautions(&answer.cautions)
    }

    fn substitutes(&self, answer: &SubstitutesAnswer) -> String {
        self.ranked(answer)
    }

    fn sweep(&self, answer: &SweepAnswer) -> String {
        self.curve(answer)
    }

    fn check(&self, answer: &CheckAnswer) -> String {
        let mut out = format!("# {}\n\n{}", escaped(&answer.title), self.card(&answer.frame, &answer.spec));
        let _ = write!(out, "\n## In the glass\n\n{}", self.glass(&answer.frame, &answer.spec));
        out += &self.brings(&answer.frame, &answer.spec);
        out.push('\n');
        if answer.meets {
            out += "This spec meets every target and every rule of the brief.\n";
        } else {
            out += "This spec does not meet the brief:\n\n";
            for miss in &answer.misses {
                let _ = writeln!(out, "- {}", escaped(&words::miss(&answer.frame, miss, self.units)));
            }
        }
        out += &service::section(&answer.frame, &answer.service, &[]);
        out + &cautions(&answer.cautions)
    }

    fn batch(&self, answer: &BatchAnswer) -> String {
        batch::card(answer, self.units) + &cautions(&answer.cautions)
    }

    fn larder(&self, answer: &LarderAnswer) -> String {
        let rows = answer.ingredients.iter().map(|line| {
            let figure = |value| number::trimmed(value, 1);
            let mut row = vec![escaped(&line.name), line.role.to_owned(), line.form.to_owned()];
            row.extend([line.strength.typical, line.sugar.typical, line.acid.typical].map(figure));
            row.extend([line.allergens.join(", "), escaped(&line.judged.join("; ")), escaped(&line.source)]);
            row
        });
        let head = ["ingredient", "role", "form", "% vol", "sugar", "acid", "allergens", "judged", "source"];
        table(&head, "lllrrrlll", rows)
            + "\nSugar and acid (titratable, as citric) in g/L; of powders in g/kg.\n\n"
            + &escaped(answer.attribution)
            + "\n"
    }
}

impl Markdown {
    /// What is sure, and what that costs.
    fn certainty(&self, answer: &SpecAnswer) -> Vec<String> {
        let certainty = answer.certainty.as_ref();
        certainty.map_or_else(Vec::new, |c| words::certainty_sentences(answer, c, self.units))
    }

    /// What the answer hangs on, what the nearest looser limits would bring, and who is in play.
    fn looser(&self, answer: &SpecAnswer, best: &SpecLine) -> String {
        let found = answer.sensitivity.as_ref();
        let mut out = found.map_or_else(String::new, |found| hangs::limits(answer, found, self.units));
        let shown = answer.next.iter().filter(|n| words::shows(answer, best.score, n, self.units));
        let items: Vec<String> = shown.map(|n| words::next(answer, best.score, n, self.units)).collect();
        if !items.is_empty() {
            out += "\n## What the nearest looser limit would bring, in pours\n\n";
            out += &list(&items);
        }
        out += &found.map_or_else(String::new, hangs::prices);
        if let Some(in_play) = &answer.in_play {
            out += "\n## Ingredients in play\n\n";
            out += &list(&words::in_play_sentences(in_play));
        }
        out
    }

    /// What conflicts, what alone would be enough, and the smallest change of all.
    fn conflict(&self, frame: &Frame, conflict: &ConflictLine) -> String {
        let mut sentences = words::reach_sentences(frame, conflict, self.units);
        if sentences.is_empty() {
            sentences.extend(words::conflict_sentence(frame, conflict, self.units));
        }
        sentences.extend(words::steps_sentence(conflict, self.units));
        let mut out = sentences.iter().fold(String::new(), |out, s| out + "\n" + &escaped(s) + "\n");
        let cores: Vec<String> =
            conflict.cores.iter().map(|core| words::core_words(frame, core, self.units)).collect();
        if !cores.is_empty() {
            out += "\n## What does not go together\n\n";
            out += &list(&cores);
        }
        let needs =
            |needs: &[Need]| needs.iter().map(|n| words::need(frame, n, self.units)).collect::<Vec<_>>();
        if !conflict.enough.is_empty() {
            out += "\n## Any one of these changes would be enough\n\n";
            out += &list(&needs(&conflict.enough));
        }
        if !conflict.proved {
            out += "\nNot everything was searched: smaller changes may do.\n";
        }
        if let Some(spec) = &conflict.spec {
            let (total, changes) = (number::percent(conflict.total, 0), list(&needs(&conflict.relax)));
            let (card, glass) = (self.card(frame, spec), self.glass(frame, spec));
            // Writing to a string cannot fail.
            let _ = write!(out, "\n## The smallest change in all ({total})\n\n{changes}\n{card}\n{glass}");
        }
        out
    }
}

/// A bullet an item.
fn list(items: &[String]) -> String {
    items.iter().fold(String::new(), |list, item| list + "- " + &escaped(item) + "\n")
}

fn cautions(cautions: &[String]) -> String {
    if cautions.is_empty() {
        return String::new();
    }
    let items: Vec<String> = cautions.iter().map(|c| format!("- {}", escaped(c))).collect();
    format!("\n## Mind\n\n{}\n", items.join("\n"))
}

/// A table; `sides` says for each column whether it stands left (`l`) or right (`r`).
fn table<H: AsRef<str>>(head: &[H], sides: &str, rows: impl Iterator<Item = Vec<String>>) -> String {
    let rule: Vec<&str> = sides.chars().map(|s| if s == 'r' { "--:" } else { ":--" }).collect();
    let line = |cells: &[String]| format!("| {} |\n", cells.join(" | "));
    let head: Vec<String> = head.iter().map(|h| h.as_ref().to_owned()).collect();
    let rule: Vec<String> = rule.into_iter().map(str::to_owned).collect();
    [head, rule].into_iter().chain(rows).map(|cells| line(&cells)).collect()
}

/// Text in which nothing is markup: what comes from a brief is shown as it is written.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::new();
    for letter in text.chars() {
        match letter {
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '|' | '#' | '~' | '!' | '&' => {
                out.extend(['\\', letter]);
            }
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_no_markup() {
        assert_eq!(escaped("<b>*x*|[y](z)\n# q"), "\\<b\\>\\*x\\*\\|\\[y\\](z) \\# q");
    }
}

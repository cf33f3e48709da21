//! CSV for a spreadsheet: one row a figure, numbers not rounded, no cell that would run as a formula.

mod batch;
mod service;
mod substitutes;
mod swap;
mod sweep;
mod why;

use super::Exporter;
use super::gather::{
    BatchAnswer, CheckAnswer, Frame, LarderAnswer, LarderLine, Miss, Outcome, Span, SpecAnswer, SpecLine,
    SubstitutesAnswer, SweepAnswer,
};

/// Writes CSV.
pub struct Csv;

/// The columns of `spec` and `check`.
const HEAD: [&str; 8] = ["spec", "what", "name", "value", "unit", "cost", "min", "max"];
/// The columns of `larder`.
const LARDER: [&str; 30] = [
    "name",
    "also",
    "group",
    "role",
    "form",
    "strength",
    "strength min",
    "strength max",
    "sugar",
    "sugar min",
    "sugar max",
    "polyols",
    "acid",
    "acid min",
    "acid max",
    "acids",
    "sweetness",
    "sweetness min",
    "sweetness max",
    "density",
    "caffeine",
    "caffeine min",
    "caffeine max",
    "sodium",
    "allergens",
    "may hold",
    "handling",
    "judged",
    "source",
    "note",
];

/// What stands in a cell.
#[derive(Debug, Clone, Copy)]
enum Cell<'a> {
    Text(&'a str),
    Number(f64),
    Nothing,
}

impl From<Option<f64>> for Cell<'_> {
    fn from(value: Option<f64>) -> Self {
        value.map_or(Cell::Nothing, Cell::Number)
    }
}

use Cell::{Nothing, Number, Text};

impl Exporter for Csv {
    fn spec(&self, answer: &SpecAnswer) -> String {
        let mut out = Sheet::with_head(&HEAD);
        out.fact("title", &answer.title);
        out.fact("currency", &answer.currency);
        out.fact("outcome", outcome_word(answer.outcome));
        out.fact("aim", &format!("{} {}", answer.aim.direction, answer.aim.of));
        out.row(&[
            Nothing,
            Text("answer"),
            Text("bound"),
            answer.bound.into(),
            Nothing,
            Nothing,
            Nothing,
            Nothing,
        ]);
        out.fact("complete", if answer.complete { "true" } else { "false" });
        if let Some(best) = &answer.best {
            out.spec("best", &answer.frame, best);
            out.brings("best", &answer.frame, best);
        }
        for (at, spec) in answer.alternatives.iter().enumerate() {
            out.spec(&format!("alternative {}", at + 1), &answer.frame, spec);
        }
        if let Some(free) = &answer.unrounded {
            out.spec("unrounded", &answer.frame, free);
        }
        out.swap(answer);
        answer.service.iter().for_each(|service| out.service(service));
        answer.certainty.iter().for_each(|certainty| out.certainty(certainty));
        out.why(answer);
        answer.cautions.iter().for_each(|c| out.fact("caution", c));
        out.text
    }

    fn substitutes(&self, answer: &SubstitutesAnswer) -> String {
        substitutes::sheet(answer)
    }

    fn sweep(&self, answer: &SweepAnswer) -> String {
        sweep::sheet(answer)
    }

    fn check(&self, answer: &CheckAnswer) -> String {
        let mut out = Sheet::with_head(&HEAD);
        out.fact("title", &answer.title);
        out.fact("meets", if answer.meets { "true" } else { "false" });
        out.spec("given", &answer.frame, &answer.spec);
        out.brings("given", &answer.frame, &answer.spec);
        for miss in &answer.misses {
            match miss {
                Miss::Target { target, side, by, .. } => {
                    let name = format!("{target} {side}");
                    out.row(&[
                        Text("given"),
                        Text("misses by"),
                        Text(&name),
                        Number(*by),
                        Nothing,
                        Nothing,
                        Nothing,
                        Nothing,
                    ]);
                }
                Miss::Rule { rule } => {
                    out.row(&[
                        Text("given"),
                        Text("breaks"),
                        Text(rule),
                        Nothing,
                        Nothing,
                        Nothing,
                        Nothing,
                        Nothing,
                    ]);
                }
            }
        }
        out.service(&answer.service);
        answer.cautions.iter().for_each(|c| out.fact("caution", c));
        out.text
    }

    fn batch(&self, answer: &BatchAnswer) -> String {
        batch::sheet(answer).text
    }

    fn larder(&self, answer: &LarderAnswer) -> String {
        let mut out = Sheet::with_head(&LARDER);
        answer.ingredients.iter().for_each(|line| out.ingredient(line));
        out.text
    }
}

/// The word of the contract for how a search ended.
fn outcome_word(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Found => "found",
        Outcome::Conflict => "conflict",
        Outcome::Stopped => "stopped",
    }
}

/// Rows that grow.
struct Sheet {
    text: String,
}

impl Sheet {
    fn with_head(head: &[&str]) -> Self {
        let mut sheet = Self { text: String::new() };
        sheet.row(&head.iter().map(|h| Text(h)).collect::<Vec<_>>());
        sheet
    }

    fn row(&mut self, cells: &[Cell]) {
        let cells: Vec<String> = cells.iter().map(written).collect();
        self.text.push_str(&cells.join(","));
        self.text.push('\n');
    }

    fn fact(&mut self, name: &str, value: &str) {
        self.row(&[Nothing, Text("answer"), Text(name), Text(value), Nothing, Nothing, Nothing, Nothing]);
    }

    fn spec(&mut self, which: &str, frame: &Frame, spec: &SpecLine) {
        let line = |what, name, value, unit, rest: [Cell<'static>; 3]| {
            let [cost, min, max] = rest;
            [Text(which), Text(what), Text(name), Number(value), Text(unit), cost, min, max]
                .map(|c| written(&c))
                .join(",")
        };
        let mut rows: Vec<String> = Vec::new();
        for pour in &spec.pours {
            let cost = [pour.cost.into(), Nothing, Nothing];
            rows.push(line("pour", pour.ingredient.as_str(), pour.amount, pour.unit, cost));
        }
        for gauge in &frame.gauges {
            let limits = [Nothing, gauge.min.into(), gauge.max.into()];
            rows.push(line("served", &gauge.key, spec.served.get(&gauge.key), &gauge.unit, limits));
        }
        for change in &spec.change {
            let rest = [Nothing, Nothing, Nothing];
            rows.push(line("change", &change.ingredient, change.by, change.unit.symbol(), rest));
        }
        for row in rows {
            self.text.push_str(&row);
            self.text.push('\n');
        }
    }

    fn ingredient(&mut self, line: &LarderLine) {
        let span = |s: &Span| [Number(s.typical), s.min.into(), s.max.into()];
        let [also, judged] = [&line.also, &line.judged].map(|texts| texts.join("; "));
        let [allergens, may_hold, handling] =
            [&line.allergens, &line.may_hold, &line.handling].map(|words| words.join("; "));
        let mut cells = [&line.name, &also].map(|t| Text(t)).to_vec();
        cells.extend([line.group, line.role, line.form].map(Text));
        cells.extend(span(&line.strength));
        cells.extend(span(&line.sugar));
        cells.push(Number(line.polyols));
        cells.extend(span(&line.acid));
        cells.push(Text(&line.acids));
        cells.extend(span(&line.sweetness));
        cells.push(line.density.into());
        cells.extend(span(&line.caffeine));
        cells.push(Number(line.sodium));
        cells.extend([&allergens, &may_hold, &handling, &judged, &line.source, &line.note].map(|t| Text(t)));
        self.row(&cells);
    }
}

/// A cell as it stands in the file. Text that a spreadsheet would run gets an apostrophe before it;
/// undefined numbers are empty.
fn written(cell: &Cell) -> String {
    match cell {
        // Adding 0 takes the sign from a negative zero.
        Number(value) if value.is_finite() => format!("{}", value + 0.0),
        Number(_) | Nothing => String::new(),
        Text(text) => quoted(text),
    }
}

pub(super) fn quoted(text: &str) -> String {
    let runs = text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']);
    let text = if runs { format!("'{text}") } else { text.to_owned() };
    if text.contains([',', '"', '\n', '\r']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_cell_runs_and_numbers_stay_numbers() {
        for evil in ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"] {
            let cell = quoted(evil);
            assert!(cell.trim_start_matches('"').starts_with('\''), "{cell:?}");
        }
        assert_eq!(written(&Number(-0.5)), "-0.5");
        assert_eq!(written(&Number(-0.0)), "0");
        assert_eq!(written(&Number(f64::NAN)), "");
        assert_eq!(quoted("sugar, \"white\""), "\"sugar, \"\"white\"\"\"");
    }
}

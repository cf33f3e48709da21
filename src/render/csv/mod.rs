//! CSV for a spreadsheet: one row a figure, numbers not rounded, no cell that would run as a formula.

mod batch;
mod menu;
mod notebook;
mod service;
mod substitutes;
mod swap;
mod sweep;
mod why;

use super::Exporter;
use crate::answer::{
    Asked, BatchAnswer, CalibrationAnswer, CheckAnswer, FlightAnswer, Frame, LarderAnswer, LarderLine,
    LessonsAnswer, MenuAnswer, Miss, Span, SpecAnswer, SpecLine, Spelled as _, SubstitutesAnswer,
    SweepAnswer,
};
use crate::quantity::Currency;

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
        out.currency(&answer.currency);
        out.fact("outcome", answer.outcome.spelled());
        out.fact("aim", &format!("{} {}", answer.aim.direction.word(), answer.aim.of));
        out.row(&[Nothing, Text("answer"), Text("bound"), answer.bound.into()]);
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
        out.asked(answer.asked.as_ref());
        out.finish()
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
                    let name = format!("{target} {}", side.keyword());
                    out.row(&[Text("given"), Text("misses by"), Text(&name), Number(*by)]);
                }
                Miss::Rule { rule } => {
                    out.row(&[Text("given"), Text("breaks"), Text(rule)]);
                }
            }
        }
        out.service(&answer.service);
        answer.cautions.iter().for_each(|c| out.fact("caution", c));
        out.asked(answer.asked.as_ref());
        out.finish()
    }

    fn batch(&self, answer: &BatchAnswer) -> String {
        batch::sheet(answer).finish()
    }

    fn larder(&self, answer: &LarderAnswer) -> String {
        let mut out = Sheet::with_head(&LARDER);
        answer.ingredients.iter().for_each(|line| out.ingredient(line));
        out.finish()
    }

    fn flight(&self, answer: &FlightAnswer) -> String {
        notebook::flight(answer)
    }

    fn lessons(&self, answer: &LessonsAnswer) -> String {
        notebook::lessons(answer)
    }

    fn menu(&self, answer: &MenuAnswer) -> String {
        menu::sheet(answer)
    }

    fn calibration(&self, answer: &CalibrationAnswer) -> String {
        notebook::calibration(answer)
    }
}

/// Rows that grow, all as long as their head.
struct Sheet {
    rows: csv::Writer<Vec<u8>>,
    columns: usize,
}

impl Sheet {
    fn with_head(head: &[&str]) -> Self {
        let rows = csv::WriterBuilder::new().terminator(csv::Terminator::Any(b'\n')).from_writer(vec![]);
        let mut sheet = Self { rows, columns: head.len() };
        sheet.row(&head.iter().map(|h| Text(h)).collect::<Vec<_>>());
        sheet
    }

    /// A row; where cells are left out at its end, nothing stands there.
    fn row(&mut self, cells: &[Cell]) {
        let cells = cells.iter().chain(std::iter::repeat(&Nothing)).take(self.columns);
        // Writing to memory cannot fail, and every row has as many cells as the head.
        let _ = self.rows.write_record(cells.map(written));
    }

    fn finish(self) -> String {
        let bytes = self.rows.into_inner().unwrap_or_default();
        String::from_utf8(bytes).unwrap_or_default()
    }

    fn asked(&mut self, asked: Option<&Asked>) {
        let Some(asked) = asked else { return };
        self.fact("brief", &asked.brief);
        asked.set.iter().for_each(|set| self.fact("set", set));
        asked.swap.iter().for_each(|swap| self.fact("swap", swap));
        self.fact("version", asked.version);
    }

    fn fact(&mut self, name: &str, value: &str) {
        self.row(&[Nothing, Text("answer"), Text(name), Text(value)]);
    }

    /// Where no price is named, neither is a currency.
    fn currency(&mut self, code: &str) {
        if code != Currency::NONE {
            self.fact("currency", code);
        }
    }

    fn spec(&mut self, which: &str, frame: &Frame, spec: &SpecLine) {
        let which = Text(which);
        for pour in &spec.pours {
            let (name, amount) = (Text(&pour.ingredient), Number(pour.amount));
            self.row(&[which, Text("pour"), name, amount, Text(pour.unit.spelled()), pour.cost.into()]);
        }
        let money = frame.currency != Currency::NONE;
        for gauge in frame.gauges.iter().filter(|gauge| money || gauge.unit != Currency::NONE) {
            let (value, min, max) = (Number(spec.served.get(&gauge.key)), gauge.min.into(), gauge.max.into());
            self.row(&[which, Text("served"), Text(&gauge.key), value, Text(&gauge.unit), Nothing, min, max]);
        }
        for note in &spec.notes {
            self.row(&[which, Text("note"), Text(&note.note), Text(&note.from.join("; "))]);
        }
        for change in &spec.change {
            let (name, by) = (Text(&change.ingredient), Number(change.by));
            self.row(&[which, Text("change"), name, by, Text(change.unit.symbol())]);
        }
    }

    fn ingredient(&mut self, line: &LarderLine) {
        let span = |s: &Span| [Number(s.typical), s.min.into(), s.max.into()];
        let [also, judged] = [&line.also, &line.judged].map(|texts| texts.join("; "));
        let [allergens, may_hold, handling] =
            [&line.allergens, &line.may_hold, &line.handling].map(|words| words.join("; "));
        let mut cells = [&line.name, &also].map(|t| Text(t)).to_vec();
        cells.extend([line.group, line.role, line.form.spelled()].map(Text));
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
        Text(text) => quiet(text),
    }
}

/// A text as one cell, quoted where it has to be.
pub(super) fn quoted(text: &str) -> String {
    let text = quiet(text);
    if text.contains([',', '"', '\n', '\r']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

/// Text that a spreadsheet would not run.
fn quiet(text: &str) -> String {
    let runs = text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']);
    if runs { format!("'{text}") } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_cell_runs_and_numbers_stay_numbers() {
        for evil in ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"] {
            let cell = quiet(evil);
            assert!(cell.starts_with('\''), "{cell:?}");
        }
        assert_eq!(written(&Number(-0.5)), "-0.5");
        assert_eq!(written(&Number(-0.0)), "0");
        assert_eq!(written(&Number(f64::NAN)), "");
        let mut sheet = Sheet::with_head(&["a", "b", "c"]);
        sheet.row(&[Text("sugar, \"white\""), Number(1.5)]);
        assert_eq!(sheet.finish(), "a,b,c\n\"sugar, \"\"white\"\"\",1.5,\n");
    }
}

//! Built-in ingredients as rows.

use super::{Cell, Rows, Sheet};
use crate::answer::{LarderAnswer, LarderLine, Spelled as _};

/// A column: its heading, and what stands in it.
type Column = (&'static str, fn(&LarderLine) -> Cell<'_>);

const COLUMNS: [Column; 30] = [
    ("name", |line| Cell::from(&line.name)),
    ("also", |line| Cell::from(&line.also)),
    ("group", |line| Cell::from(line.group)),
    ("role", |line| Cell::from(line.role)),
    ("form", |line| Cell::from(line.form.spelled())),
    ("strength", |line| Cell::from(line.strength.typical)),
    ("strength min", |line| Cell::from(line.strength.min)),
    ("strength max", |line| Cell::from(line.strength.max)),
    ("sugar", |line| Cell::from(line.sugar.typical)),
    ("sugar min", |line| Cell::from(line.sugar.min)),
    ("sugar max", |line| Cell::from(line.sugar.max)),
    ("polyols", |line| Cell::from(line.polyols)),
    ("acid", |line| Cell::from(line.acid.typical)),
    ("acid min", |line| Cell::from(line.acid.min)),
    ("acid max", |line| Cell::from(line.acid.max)),
    ("acids", |line| Cell::from(&line.acids)),
    ("sweetness", |line| Cell::from(line.sweetness.typical)),
    ("sweetness min", |line| Cell::from(line.sweetness.min)),
    ("sweetness max", |line| Cell::from(line.sweetness.max)),
    ("density", |line| Cell::from(line.density)),
    ("caffeine", |line| Cell::from(line.caffeine.typical)),
    ("caffeine min", |line| Cell::from(line.caffeine.min)),
    ("caffeine max", |line| Cell::from(line.caffeine.max)),
    ("sodium", |line| Cell::from(line.sodium)),
    ("allergens", |line| Cell::from(&line.allergens)),
    ("may hold", |line| Cell::from(&line.may_hold)),
    ("handling", |line| Cell::from(&line.handling)),
    ("judged", |line| Cell::from(&line.judged)),
    ("source", |line| Cell::from(&line.source)),
    ("note", |line| Cell::from(&line.note)),
];

impl Rows for LarderAnswer {
    fn rows(&self) -> String {
        let mut out = Sheet::with_head(&COLUMNS.map(|(head, _)| head));
        for line in &self.ingredients {
            out.row(&COLUMNS.map(|(_, cell)| cell(line)));
        }
        out.finish()
    }
}

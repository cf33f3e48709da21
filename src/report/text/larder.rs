//! The built-in ingredients as a table, or with their sources.

use super::page::{Ink, Page, cut, left, right};
use crate::quantity::number;
use crate::report::gather::{Detail, LarderAnswer, LarderLine, Span};

/// Writes the list.
pub fn write(page: &mut Page, answer: &LarderAnswer) {
    match answer.detail {
        Detail::Figures => table(page, &answer.ingredients),
        Detail::Sources => answer.ingredients.iter().for_each(|line| whole(page, line)),
    }
}

fn table(page: &mut Page, lines: &[LarderLine]) {
    let head = |a: &str, b: &str, c: &str, d: &str, e: &str| {
        format!("{}  {}{}{}{}", left(a, 30), left(b, 10), right(c, 12), right(d, 13), right(e, 13))
    };
    page.line(&[(Ink::Strong, &head("", "", "strength", "sugar", "acid"))]);
    page.line(&[(Ink::Faint, &head("ingredient", "role", "% vol", "g/L", "g/L"))]);
    for line in lines {
        let name = format!("{}{}", cut(&line.name, 27), mark(line));
        let text = head(&name, line.role, &span(line.strength), &span(line.sugar), &span(line.acid));
        page.line(&[(Ink::Plain, &text)]);
    }
    page.gap();
    if lines.iter().any(|l| l.form == "powder") {
        page.paragraph(0, Ink::Faint, "# powder: weighed, sugar and acid in g/kg.");
    }
    if lines.iter().any(|l| !l.judged.is_empty()) {
        page.paragraph(0, Ink::Faint, "* some figures are judgement or from memory: --sources says which.");
    }
    page.paragraph(
        0,
        Ink::Faint,
        "Acid is titratable acid as citric. Natural ranges in brackets are in --sources.",
    );
}

fn mark(line: &LarderLine) -> String {
    let powder = if line.form == "powder" { " #" } else { "" };
    let judged = if line.judged.is_empty() { "" } else { " *" };
    format!("{powder}{judged}").replace("# *", "#*")
}

fn span(span: Span) -> String {
    number::trimmed(span.typical, 1)
}

fn whole(page: &mut Page, line: &LarderLine) {
    page.gap();
    page.line(&[(Ink::Strong, &line.name), (Ink::Plain, &format!("  {}, {}", line.role, line.form))]);
    let per = if line.form == "powder" { "g/kg" } else { "g/L" };
    let mut figures = vec![
        ranged("strength", line.strength, "% vol"),
        ranged("sugar", line.sugar, per),
        ranged("acid", line.acid, per),
    ];
    figures
        .extend((line.polyols > 0.0).then(|| format!("polyols {} {per}", number::trimmed(line.polyols, 1))));
    figures.extend(line.density.map(|d| format!("density {} g/ml", number::trimmed(d, 4))));
    figures.extend(
        (line.caffeine > 0.0).then(|| format!("caffeine {} m{per}", number::trimmed(line.caffeine, 0))),
    );
    if line.sweetness != 1.0 {
        figures
            .push(format!("its sugars are {} times as sweet as sucrose", number::trimmed(line.sweetness, 2)));
    }
    page.paragraph(2, Ink::Plain, &figures.join(", "));
    let note = |page: &mut Page, head: &str, text: &str| {
        if !text.is_empty() {
            page.paragraph(2, Ink::Faint, &format!("{head}: {text}"));
        }
    };
    note(page, "Also", &line.also.join(", "));
    note(page, "Allergens", &line.allergens.join(", "));
    note(page, "Care", &line.handling.join(", "));
    note(page, "Judgement or memory", &line.judged.join("; "));
    note(page, "Source", &line.source);
    note(page, "Note", &line.note);
}

/// `acid 61 (55 to 70) g/L`.
fn ranged(name: &str, span: Span, unit: &str) -> String {
    let typical = number::trimmed(span.typical, 1);
    match (span.min, span.max) {
        (Some(min), Some(max)) if max > min => {
            format!("{name} {typical} ({} to {}) {unit}", number::trimmed(min, 1), number::trimmed(max, 1))
        }
        _ => format!("{name} {typical} {unit}"),
    }
}

//! The built-in ingredients as a table, or with their sources.

use super::page::{Ink, Page, cut, left, right};
use crate::quantity::number;
use crate::report::gather::{Detail, LarderAnswer, LarderLine, Span};

/// Writes the list.
pub fn write(page: &mut Page, answer: &LarderAnswer) {
    match answer.detail {
        Detail::Figures => table(page, &answer.ingredients),
        Detail::Sources => {
            answer.ingredients.iter().for_each(|line| whole(page, line));
            sources(page, answer);
        }
    }
}

fn table(page: &mut Page, lines: &[LarderLine]) {
    let head = |cells: [&str; 5]| {
        let [name, role, strength, sugar, acid] = cells;
        let figures = [strength, sugar, acid].map(|figure| right(figure, 11)).concat();
        format!("{}  {}{figures}", left(name, 34), left(role, 10))
    };
    page.line(&[(Ink::Strong, &head(["", "", "strength", "sugar", "acid"]))]);
    page.line(&[(Ink::Faint, &head(["ingredient", "role", "% vol", "g/L", "g/L"]))]);
    for line in lines {
        let name = format!("{}{}", cut(&line.name, 30), mark(line));
        let [strength, sugar, acid] =
            [line.strength, line.sugar, line.acid].map(|s| number::trimmed(s.typical, 1));
        page.line(&[(Ink::Plain, &head([&name, line.role, &strength, &sugar, &acid]))]);
    }
    page.gap();
    if lines.iter().any(|l| l.from == "house") {
        page.paragraph(0, Ink::Faint, "+ from the house.");
    }
    if lines.iter().any(|l| l.form == "powder") {
        page.paragraph(0, Ink::Faint, "# powder: weighed, sugar and acid in g/kg.");
    }
    if lines.iter().any(|l| l.guessed) {
        page.paragraph(0, Ink::Faint, "* one of these figures is judgement or from memory.");
    }
    let rest = "Acid is titratable acid as citric. Ranges, allergens, notes, sources: --sources.";
    page.paragraph(0, Ink::Faint, rest);
}

fn mark(line: &LarderLine) -> &'static str {
    match (line.from == "house", line.form == "powder", line.guessed) {
        (true, true, _) => " +#",
        (true, false, _) => " +",
        (false, true, true) => " #*",
        (false, true, false) => " #",
        (false, false, true) => " *",
        (false, false, false) => "",
    }
}

fn whole(page: &mut Page, line: &LarderLine) {
    page.gap();
    page.line(&[(Ink::Strong, &line.name), (Ink::Plain, &format!("  {}, {}", line.role, line.form))]);
    page.paragraph(2, Ink::Plain, &figures(line).join(", "));
    let mut note = |head: &str, text: &str| {
        if !text.is_empty() {
            page.paragraph(2, Ink::Faint, &format!("{head}: {text}"));
        }
    };
    note("Also", &line.also.join(", "));
    note("Price", line.price.as_deref().unwrap_or_default());
    note("Acids", &line.acids);
    note("Allergens", &line.allergens.join(", "));
    note("Some makes hold", &line.may_hold.join(", "));
    note("Care", &line.handling.join(", "));
    note("Notes (ours, a judgement)", &line.notes.join(", "));
    note("Judgement or memory", &line.judged.join("; "));
    note("Source", &line.source);
    note("Note", &line.note);
}

fn figures(line: &LarderLine) -> Vec<String> {
    let per = if line.form == "powder" { "g/kg" } else { "g/L" };
    let mut figures = vec![
        ranged("strength", line.strength, "% vol", 1),
        ranged("sugar", line.sugar, per, 1),
        ranged("acid", line.acid, per, 1),
    ];
    if let Some(solid) = line.solid {
        figures.push(format!("{solid} {} {per}", number::trimmed(line.polyols, 1)));
    }
    if let Some(density) = line.density {
        figures.push(format!("density {} g/ml", number::trimmed(density, 4)));
    }
    if line.caffeine.typical > 0.0 {
        figures.push(ranged("caffeine", line.caffeine, &format!("m{per}"), 0));
    }
    if line.sweetness.typical != 1.0 && line.sugar.typical + line.polyols > 0.0 {
        figures.push(ranged("sweetness", line.sweetness, "times sucrose's", 2));
    }
    figures
}

/// `acid 61 (55 to 70) g/L`
fn ranged(name: &str, span: Span, unit: &str, digits: usize) -> String {
    let figure = |value| number::trimmed(value, digits);
    let typical = figure(span.typical);
    match (span.min, span.max) {
        (Some(min), Some(max)) if max > min => {
            format!("{name} {typical} ({} to {}) {unit}", figure(min), figure(max))
        }
        _ => format!("{name} {typical} {unit}"),
    }
}

/// The works that the sources name, and what their licences ask to be said.
fn sources(page: &mut Page, answer: &LarderAnswer) {
    if !answer.references.is_empty() {
        page.section("Works named above");
        for (short, full) in &answer.references {
            page.item(&format!("{short}: {full}"));
        }
    }
    page.gap();
    page.paragraph(0, Ink::Faint, answer.attribution);
}

//! Findings as text: file, line and column, the line itself with a mark under it, what is wrong, what
//! to do.

use std::ops::Range;

use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Origin, Padding, Renderer, Snippet};

use crate::finding::{Finding, Severity, line_and_column};
use crate::report::Colour;

/// Lines longer than this many columns are cut around the mark.
const WIDEST: usize = 80;

/// So many findings are drawn; who has mended these runs it again.
const MOST: usize = 50;

/// Draws findings, one under the other.
pub fn draw(findings: &[Finding], source_name: &str, text: &str, colour: Colour) -> String {
    let renderer = match colour {
        Colour::Plain => Renderer::plain(),
        Colour::Styled => Renderer::styled(),
    };
    let renderer = renderer.term_width(WIDEST);
    let mut drawn = String::new();
    for finding in findings.iter().take(MOST) {
        drawn.push_str(&one(finding, source_name, text, &renderer));
        drawn.push_str("\n\n");
    }
    if findings.len() > MOST {
        drawn.push_str(&format!("and {} more like these\n", findings.len() - MOST));
    }
    drawn
}

fn one(finding: &Finding, source_name: &str, text: &str, renderer: &Renderer) -> String {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    let title = level.primary_title(finding.what.as_str()).id(finding.code);
    let group = match &finding.place {
        Some(place) => Group::with_title(title).element(snippet(text, place).path(source_name)),
        None => Group::with_title(title).element(Origin::path(source_name)),
    };
    let group = if finding.help.is_empty() {
        group
    } else {
        group.element(Padding).element(Level::HELP.message(finding.help.as_str()))
    };
    renderer.render(&[group])
}

/// The line on which a finding begins, with its mark.
fn snippet<'a>(text: &'a str, place: &Range<usize>) -> Snippet<'a, Annotation<'a>> {
    let start = boundary(text, place.start);
    let line_start = text[..start].rfind('\n').map_or(0, |at| at + 1);
    let line_end = text[start..].find('\n').map_or(text.len(), |at| start + at);
    let line = text[line_start..line_end].trim_end_matches('\r');
    let from = (start - line_start).min(line.len());
    let to = (boundary(text, place.end).max(start) - line_start).min(line.len());
    let (number, _) = line_and_column(text, start);
    Snippet::source(line).line_start(number).annotation(AnnotationKind::Primary.span(from..to))
}

/// The nearest place at or before `at` where a character begins.
fn boundary(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

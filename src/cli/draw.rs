//! Findings as text: file, line and column, the line itself with a mark under it, what is wrong, what
//! to do.

use std::fmt::Write as _;
use std::ops::Range;

use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Origin, Padding, Renderer, Snippet};

use crate::finding::{Finding, Severity, Text, line_and_column};
use crate::render::Colour;

/// Lines longer than this many columns are cut around the mark.
const WIDEST: usize = 80;

/// So many findings are drawn; who has mended these runs it again.
const MOST: usize = 50;

/// A text in which findings have their places.
#[derive(Debug, Clone, Copy)]
pub struct Source<'a> {
    /// What it is called.
    pub name: &'a str,
    /// The text.
    pub text: &'a str,
}

/// Draws findings about one text, one under the other.
pub fn draw(findings: &[Finding], source_name: &str, text: &str, colour: Colour) -> String {
    draw_with(findings, Source { name: source_name, text }, None, colour)
}

/// Draws findings about a text and the house that it names.
pub fn draw_with(
    findings: &[Finding],
    given: Source<'_>,
    house: Option<Source<'_>>,
    colour: Colour,
) -> String {
    let renderer = match colour {
        Colour::Plain => Renderer::plain(),
        Colour::Styled => Renderer::styled(),
    };
    let renderer = renderer.term_width(WIDEST);
    let mut drawn = String::new();
    for finding in findings.iter().take(MOST) {
        let source = if finding.text == Text::House { house.unwrap_or(given) } else { given };
        drawn.push_str(&one(finding, source, &renderer));
        drawn.push_str("\n\n");
    }
    if findings.len() > MOST {
        let _ = writeln!(drawn, "and {} more like these", findings.len() - MOST);
    }
    drawn
}

fn one(finding: &Finding, Source { name: source_name, text }: Source<'_>, renderer: &Renderer) -> String {
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

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(text: &str, place: Range<usize>) -> String {
        draw(&[Finding::error("a-code", place, "what is wrong", "what to do")], "f.toml", text, Colour::Plain)
    }

    #[test]
    fn the_line_stands_under_its_place_with_a_mark() {
        let expected = "error[a-code]: what is wrong\n --> f.toml:2:5\n  |\n2 | b = 22\n  |     ^^\n  |\n  \
                        = help: what to do\n\n";
        assert_eq!(drawn("a = 1\nb = 22\nc = 3\n", 10..12), expected);
        assert_eq!(drawn("a = 1\r\nb = 22\r\nc = 3\r\n", 11..13), expected);
    }

    #[test]
    fn a_finding_without_a_place_names_the_file_alone() {
        let finding = Finding { place: None, ..Finding::warning("a-code", 0..0, "what is odd", "") };
        assert_eq!(
            draw(&[finding], "standard input", "", Colour::Plain),
            "warning[a-code]: what is odd\n--> standard input\n\n"
        );
    }

    #[test]
    fn columns_count_characters_and_wide_ones_are_marked_whole() {
        let text = "ä = \"🍋🍋\" # x";
        assert!(drawn(text, 5..15).contains("f.toml:1:5"));
        assert!(drawn(text, 5..15).contains("\n  |     ^^^^^^\n"), "{}", drawn(text, 5..15));
    }

    #[test]
    fn no_place_whatever_makes_it_panic() {
        for text in
            ["", "\n", "\r\n", "é", "a\té🍋\u{0}\u{1b}[31m\r\nb\u{feff}\u{202e}", "\u{301}\u{301}x\n\n"]
        {
            for start in 0..text.len() + 3 {
                for end in 0..text.len() + 3 {
                    assert!(drawn(text, Range { start, end }).contains("what to do"));
                }
            }
        }
    }

    #[test]
    fn control_characters_of_the_text_do_not_reach_the_terminal() {
        let shown = drawn("a = \"\u{1b}[31m\u{7}\"", 4..8);
        assert!(!shown.contains('\u{1b}') && !shown.contains('\u{7}'), "{shown:?}");
    }

    #[test]
    fn a_long_line_is_cut_around_its_mark() {
        let text = format!("a = \"{}\" b{}", "x".repeat(5000), " ".repeat(5000));
        let shown = drawn(&text, 5007..5008);
        assert!(shown.contains("f.toml:1:5008"));
        assert!(shown.lines().all(|line| line.chars().count() < 100), "{shown}");
    }
}

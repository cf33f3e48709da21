//! A page of so many columns: wrapping, padding and ink.

use std::fmt::Write as _;

use anstyle::{AnsiColor, Style};
use textwrap::{Options, WordSeparator, WordSplitter, WrapAlgorithm};
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use crate::render::document::Tone;
use crate::render::words::clean;
use crate::render::{Colour, Look};

/// How a text of this tone is set where there is colour.
fn style(tone: Tone) -> Style {
    let style = Style::new();
    match tone {
        Tone::Plain => style,
        Tone::Strong => style.bold(),
        Tone::Aside => style.dimmed(),
        Tone::Good => style.fg_color(Some(AnsiColor::Green.into())),
        Tone::Edge => style.fg_color(Some(AnsiColor::Yellow.into())),
        Tone::Alarm => style.bold().fg_color(Some(AnsiColor::Red.into())),
    }
}

/// Text that grows line by line.
pub struct Page {
    text: String,
    colour: Colour,
    width: usize,
}

impl Page {
    /// An empty page.
    pub fn new(look: Look) -> Self {
        Self { text: String::new(), colour: look.colour, width: look.width }
    }

    /// How many columns it has.
    pub fn width(&self) -> usize {
        self.width
    }

    /// The finished text.
    pub fn finish(self) -> String {
        self.text
    }

    /// An empty line, unless one stands there already.
    pub fn gap(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    /// One line of pieces, each in its tone; spaces at the end of the line go.
    pub fn line(&mut self, pieces: &[(Tone, &str)]) {
        let last = pieces.iter().rposition(|(_, text)| !text.trim_end().is_empty());
        let kept = last.map_or(&[][..], |at| &pieces[..=at]);
        for (at, (tone, text)) in kept.iter().enumerate() {
            let text = if Some(at) == last { text.trim_end() } else { text };
            self.paint(style(*tone), text);
        }
        self.text.push('\n');
    }

    fn paint(&mut self, style: Style, text: &str) {
        let text = clean(text);
        // Writing to a string cannot fail.
        let _ = match self.colour {
            Colour::Styled => write!(self.text, "{style}{text}{style:#}"),
            Colour::Plain => write!(self.text, "{text}"),
        };
    }

    /// The title of the page.
    pub fn heading(&mut self, text: &str) {
        for line in wrap(text, self.width) {
            self.paint(style(Tone::Strong).underline(), &line);
            self.text.push('\n');
        }
    }

    /// Wrapped text.
    pub fn paragraph(&mut self, indent: usize, tone: Tone, text: &str) {
        for line in wrap(text, self.width - indent) {
            self.line(&[(Tone::Plain, &" ".repeat(indent)), (tone, &line)]);
        }
    }

    /// Wrapped text after a dash.
    pub fn item(&mut self, text: &str) {
        for (at, line) in wrap(text, self.width - 4).iter().enumerate() {
            self.line(&[(Tone::Plain, if at == 0 { "  - " } else { "    " }), (Tone::Plain, line)]);
        }
    }
}

/// How many columns a text takes.
pub fn width(text: &str) -> usize {
    clean(text).width()
}

/// Text filled up with spaces at its right.
pub fn left(text: &str, columns: usize) -> String {
    format!("{text}{}", " ".repeat(columns.saturating_sub(width(text))))
}

/// Text filled up with spaces at its left.
pub fn right(text: &str, columns: usize) -> String {
    format!("{}{text}", " ".repeat(columns.saturating_sub(width(text))))
}

/// Text cut to so many columns, with a sign where something is missing.
pub fn cut(text: &str, columns: usize) -> String {
    if width(text) <= columns {
        return text.to_owned();
    }
    let mut kept = String::new();
    for letter in clean(text).chars() {
        if width(&kept) + letter.width().unwrap_or(1) + 1 > columns {
            break;
        }
        kept.push(letter);
    }
    kept + "…"
}

/// Lines of at most so many columns, broken between words; a word that is longer is broken inside.
/// A number keeps the word after it: `2.5 ml` stands on one line.
pub fn wrap(text: &str, columns: usize) -> Vec<String> {
    let options = Options::new(columns)
        .word_separator(WordSeparator::AsciiSpace)
        .word_splitter(WordSplitter::NoHyphenation)
        .wrap_algorithm(WrapAlgorithm::FirstFit);
    let text = bound(&clean(text));
    textwrap::wrap(&text, options).into_iter().map(|line| line.replace(BINDING, " ")).collect()
}

/// A space at which no line is broken.
const BINDING: char = '\u{a0}';

/// Numbers bound to the word after them.
fn bound(text: &str) -> String {
    let number = |w: &str| w.ends_with(|c: char| c.is_ascii_digit()) && w.len() < 8;
    let mut bound = String::new();
    let mut last = "";
    for word in text.split_whitespace() {
        if !bound.is_empty() {
            bound.push(if number(last) { BINDING } else { ' ' });
        }
        bound.push_str(word);
        last = word;
    }
    bound
}

/// A column of numbers with their decimal points under each other.
pub fn aligned(numbers: &[String]) -> Vec<String> {
    let split = |n: &str| n.find('.').unwrap_or(n.len());
    let whole = numbers.iter().map(|n| width(&n[..split(n)])).max().unwrap_or(0);
    let rest = numbers.iter().map(|n| width(&n[split(n)..])).max().unwrap_or(0);
    let align = |n: &String| {
        let at = split(n);
        format!("{}{}", right(&n[..at], whole), left(&n[at..], rest))
    };
    numbers.iter().map(align).collect()
}

/// The text without its colours.
#[cfg(test)]
pub fn uncoloured(text: &str) -> String {
    let mut pieces = text.split('\u{1b}');
    let first = pieces.next().unwrap_or_default().to_owned();
    pieces.fold(first, |bare, piece| bare + piece.split_once('m').map_or("", |(_, rest)| rest))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_wrap_at_the_column_and_long_ones_break() {
        assert_eq!(wrap("a bb ccc", 4), ["a bb", "ccc"]);
        assert_eq!(wrap("abcdefgh ij", 4), ["abcd", "efgh", "ij"]);
        assert_eq!(wrap("酒酒酒", 4), ["酒酒", "酒"]);
        assert_eq!(wrap("", 4), [""]);
        assert_eq!(wrap("pour 2.5 ml gin", 10), ["pour", "2.5 ml gin"]);
    }

    #[test]
    fn numbers_stand_with_their_points_in_line() {
        let column = aligned(&["30".to_owned(), "22.5".to_owned(), "0.3".to_owned()]);
        assert_eq!(column, ["30  ", "22.5", " 0.3"]);
    }

    #[test]
    fn a_cut_text_keeps_its_width() {
        assert_eq!(cut("sugar, white", 6), "sugar…");
        assert_eq!(cut("酒酒酒", 4), "酒…");
        assert_eq!(cut("gin", 3), "gin");
    }

    #[test]
    fn lines_end_without_spaces_and_colour_changes_no_letter() {
        let mut plain = Page::new(Look::default());
        plain.line(&[(Tone::Good, "a  "), (Tone::Plain, "  ")]);
        assert_eq!(plain.finish(), "a\n");
        let mut styled = Page::new(Look { colour: Colour::Styled, ..Look::default() });
        styled.line(&[(Tone::Good, "a  "), (Tone::Plain, "  ")]);
        assert_eq!(uncoloured(&styled.finish()), "a\n");
    }
}

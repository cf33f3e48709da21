//! How sure: a simulated service, and what certainty costs.

use super::page::{Ink, Page, WIDTH, cut, left, right, width, wrap};
use crate::report::gather::{Frame, ServiceLine};
use crate::report::words;

/// The longest name of a target that is shown whole.
const NAME: usize = 16;

/// Writes the sentence, a line a target, and how the check was made.
pub fn write(page: &mut Page, frame: &Frame, service: &ServiceLine, certainty: &[String]) {
    page.section("In service");
    page.paragraph(2, Ink::Strong, &words::service_sentence(frame, service));
    page.gap();
    targets(page, frame, service);
    if !service.targets.is_empty() {
        page.gap();
    }
    for text in certainty {
        page.paragraph(2, Ink::Plain, text);
    }
    for text in words::service_basis(service) {
        page.paragraph(2, Ink::Faint, &text);
    }
}

fn targets(page: &mut Page, frame: &Frame, service: &ServiceLine) {
    let label = |target: &str| frame.gauge(target).map_or(target.to_owned(), |g| cut(&g.label, NAME));
    let names: Vec<String> = service.targets.iter().map(|t| label(&t.target)).collect();
    let shares: Vec<String> = service.targets.iter().map(|t| words::share_words(t.within)).collect();
    let widest =
        |texts: &[String], least: usize| texts.iter().map(|t| width(t)).max().unwrap_or(0).max(least);
    let (name_columns, share_columns) = (widest(&names, 0), widest(&shares, 6));
    let head = 2 + name_columns + 2 + share_columns + 2;
    let heads =
        format!("{}{}  varies most with", " ".repeat(2 + name_columns + 2), right("within", share_columns));
    if !service.targets.is_empty() {
        page.line(&[(Ink::Faint, &heads)]);
    }
    for ((target, name), share) in service.targets.iter().zip(&names).zip(&shares) {
        for (at, line) in wrap(&words::varies_with(target), WIDTH - head).iter().enumerate() {
            let (name, share) = if at == 0 { (name.as_str(), share.as_str()) } else { ("", "") };
            let missed = service.most_missed.as_ref().is_some_and(|m| m.target == target.target);
            let ink = if missed { Ink::Edge } else { Ink::Plain };
            page.line(&[
                (Ink::Plain, &format!("  {}  ", left(name, name_columns))),
                (ink, &right(share, share_columns)),
                (Ink::Faint, &format!("  {line}")),
            ]);
        }
    }
}

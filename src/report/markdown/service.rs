//! How sure, as a sentence, a table and paragraphs.

use super::{escaped, table};
use crate::report::gather::{Frame, ServiceLine};
use crate::report::words;

/// A simulated service, and what certainty costs.
pub fn section(frame: &Frame, service: &ServiceLine, certainty: &[String]) -> String {
    let sentence = escaped(&words::service_sentence(frame, service));
    let rows = service.targets.iter().map(|target| {
        let label = frame.gauge(&target.target).map_or(target.target.as_str(), |g| g.label.as_str());
        vec![escaped(label), words::share_words(target.within), escaped(&words::varies_with(target))]
    });
    let mut out = format!("\n## In service\n\n**{sentence}**\n");
    if !service.targets.is_empty() {
        out += "\n";
        out += &table(&["target", "within", "varies most with"], "lrl", rows);
    }
    out + &paragraphs(certainty) + &paragraphs(&words::service_basis(service))
}

/// A paragraph a text.
pub fn paragraphs(texts: &[String]) -> String {
    texts.iter().fold(String::new(), |out, text| out + "\n" + &escaped(text) + "\n")
}

//! Findings as text.
use crate::finding::{Finding, line_and_column};
use crate::report::Colour;
/// Draws findings.
pub fn draw(findings: &[Finding], source_name: &str, text: &str, _colour: Colour) -> String {
    findings
        .iter()
        .map(|f| {
            let place = f
                .place
                .as_ref()
                .map(|p| line_and_column(text, p.start))
                .map_or(String::new(), |(l, c)| format!(":{l}:{c}"));
            format!("{source_name}{place}: {}: {}\n  help: {}\n", f.code, f.what, f.help)
        })
        .collect()
}

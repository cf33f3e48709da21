//! Where a page comes from, so that its answer can be had again.

use maud::{Markup, html};

use super::picture::Said;

/// The brief's file, what was changed for this run, the program and the day.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Imprint {
    /// The brief, as it was named.
    pub brief: String,
    /// The brief itself, as it was read.
    pub text: String,
    /// What the command line changed in it: `--set` and `--swap`, as they were given.
    pub changes: Vec<String>,
    /// The version of the program.
    pub version: String,
    /// The day, as the clock of the caller has it: `2026-11-29`.
    pub date: String,
}

impl Imprint {
    /// The lines of it, and the brief itself folded.
    pub fn write(&self) -> Markup {
        let changes = if self.changes.is_empty() { vec!["nothing".to_owned()] } else { self.changes.clone() };
        html! {
            dl.imprint {
                @for (what, said) in [("Brief", &self.brief), ("Worked out", &self.date), ("By washline", &self.version)] {
                    @if !said.is_empty() { div { dt { (what) } dd { (Said(said)) } } }
                }
                div { dt { "Changed for this run" } @for change in &changes { dd { (Said(change)) } } }
            }
            @if !self.text.is_empty() {
                details.brief { summary { "The brief as it was read" } pre tabindex="0" { @for line in self.text.lines() { (Said(line)) "\n" } } }
            }
        }
    }
}

//! A trade-off curve as tables.

use std::fmt::Write as _;

use super::{Markdown, escaped, list, table};
use crate::report::gather::SweepAnswer;
use crate::report::words;

impl Markdown {
    /// The curve, the switches and the specs along it.
    pub(super) fn curve(&self, answer: &SweepAnswer) -> String {
        let mut out = format!("# {}\n\n{}\n", escaped(&answer.title), escaped(&words::axis_words(answer)));
        if !answer.switches.is_empty() {
            let switches: Vec<String> =
                answer.switches.iter().map(|s| words::switch_sentence(answer, s)).collect();
            let _ = write!(out, "\n## Where the set of ingredients switches\n\n{}", list(&switches));
        }
        let rows = words::runs(answer).into_iter().filter_map(|run| {
            let point = answer.points.get(run.start)?;
            Some(vec![
                words::run_range(answer, &run),
                escaped(&words::run_score(answer, &run, self.units)),
                escaped(&words::pours_words(point, self.units)),
            ])
        });
        let head = [
            escaped(format!("{} {}", answer.over, answer.unit).trim_end()),
            escaped(&words::score_column(&answer.aim, &answer.frame, self.units).0),
            "the best spec".to_owned(),
        ];
        let _ = write!(out, "\n## The specs along the way\n\n{}", table(&head, "rrl", rows));
        let _ = write!(out, "\n{}\n", escaped(&words::sweep_proof(answer)));
        out
    }
}

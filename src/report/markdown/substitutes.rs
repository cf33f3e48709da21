//! What could come in, ranked, as a table.

use std::fmt::Write as _;

use super::{Markdown, escaped, list, table};
use crate::report::gather::SubstitutesAnswer;
use crate::report::words;

impl Markdown {
    /// The list and what it rests on.
    pub(super) fn ranked(&self, answer: &SubstitutesAnswer) -> String {
        let heading = escaped(&words::substitutes_heading(answer));
        let mut out = format!("# {}\n\n## {heading}\n", escaped(&answer.title));
        let question = words::question_sentences(answer, self.units);
        if !question.is_empty() {
            let _ = write!(out, "\n{}", list(&question));
        }
        let gauges = words::substitute_gauges(answer);
        let found = answer.ranked.iter().filter_map(|s| Some((s, s.spec.as_ref()?)));
        let rows: Vec<Vec<String>> = found
            .enumerate()
            .map(|(at, (substitute, spec))| {
                let mut row = vec![(at + 1).to_string(), escaped(&substitute.coming)];
                row.push(words::newcomer_pour(substitute, self.units));
                row.push(escaped(&words::score_text(&answer.aim, &answer.frame, spec.score, self.units)));
                row.extend(gauges.iter().map(|g| words::figure(g, spec.served.get(&g.key), self.units)));
                row.push(escaped(
                    &words::substitute_note(answer, substitute, self.units).unwrap_or_default(),
                ));
                row
            })
            .collect();
        let mut head = vec![String::new(), "comes in".to_owned(), "pour".to_owned()];
        head.push(words::score_column(&answer.aim, &answer.frame, self.units).0);
        head.extend(gauges.iter().map(|g| escaped(&format!("{} {}", g.label, words::unit(g, self.units)))));
        head.push("what else".to_owned());
        let sides = format!("rlrr{}l", "r".repeat(gauges.len()));
        if !rows.is_empty() {
            let _ = write!(out, "\n{}", table(&head, &sides, rows.into_iter()));
        }
        let _ = write!(
            out,
            "\n{}",
            list(&[words::near_sentences(answer, self.units), words::rest_sentences(answer)].concat())
        );
        out
    }
}

//! What could come in, ranked, as rows.

use super::Cell::Text;
use super::{HEAD, Sheet};
use crate::answer::{Spelled as _, SubstitutesAnswer};

/// The list.
pub fn sheet(answer: &SubstitutesAnswer) -> String {
    let mut out = Sheet::with_head(&HEAD);
    out.fact("title", &answer.title);
    out.currency(&answer.currency);
    out.fact("aim", &format!("{} {}", answer.aim.direction.word(), answer.aim.of));
    out.fact("goes out", &answer.out);
    out.fact("held by", answer.held_by.spelled());
    if let Some(reference) = &answer.reference {
        out.spec("reference", &answer.frame, reference);
    }
    for substitute in &answer.ranked {
        let name = Text(&substitute.coming);
        let word = Text(substitute.outcome.spelled());
        out.row(&[name, Text("outcome"), Text("outcome"), word]);
        out.row(&[name, Text("score"), Text("score"), substitute.score.into()]);
        for note in &substitute.notes_kept {
            out.row(&[name, Text("keeps note"), Text(note)]);
        }
        if let Some(spec) = &substitute.spec {
            out.spec(&substitute.coming, &answer.frame, spec);
        }
    }
    for untried in &answer.untried {
        let (name, why) = (Text(&untried.coming), Text(&untried.why));
        out.row(&[name, Text("not tried"), why]);
    }
    out.asked(answer.asked.as_ref());
    out.finish()
}

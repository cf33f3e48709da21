//! What `[[bring]]` brought in and the brief cannot use as it stands: it stays out, and that is said.

use crate::brief::Brief;
use crate::read::codes;
use crate::read::findings::Findings;
use crate::read::house::Brought;
use crate::read::shape::shown;

/// Leaves out what has no price where the brief asks for the cost.
pub fn leave_out(brief: &mut Brief, brought: &[Brought], findings: &mut Findings) {
    if !brief.asks_for_cost() {
        return;
    }
    let mut places: Vec<_> = brought.iter().map(|one| one.place.clone()).collect();
    places.dedup();
    for place in places {
        let here: Vec<&str> =
            brought.iter().filter(|one| one.place == place).map(|one| one.name.as_str()).collect();
        let unpriced =
            |c: &&mut crate::brief::Candidate| c.cost_per_unit.is_none() && here.contains(&c.name.as_str());
        let mut names = Vec::new();
        for candidate in brief.candidates.iter_mut().filter(unpriced) {
            candidate.out = true;
            names.push(format!("\"{}\"", shown(&candidate.name)));
        }
        if !names.is_empty() {
            let what = format!("no price is known for {}, so they stay out", names.join(", "));
            let help = "give them prices in the house, or list them as [[candidate]] with one";
            findings.warning(codes::LEFT_OUT, place, what, help);
        }
    }
}

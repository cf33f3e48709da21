//! Swaps tried beside each other: each alone, in the brief as it stands.

use serde::{Deserialize, Serialize};

use super::play::{Play, edited};
use super::told::{Told, told};
use super::{Beside, read};
use crate::answer::{Frame, SpecLine, spec_line};
use crate::explain::variation::within_all;
use crate::quantity::UnitSystem;
use crate::render::html::live::{Tried, tried};
use crate::scenario::swap::best;
use crate::solve::Stop;

/// So many swaps are tried at once; more are not compared by eye.
const MOST: usize = 8;

/// Swaps to try.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Try {
    /// Which tab asks.
    pub tab: String,
    /// The text of the brief.
    pub text: String,
    /// What goes and what comes.
    pub swaps: Vec<Play>,
}

/// What came of them.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Trial {
    /// The table.
    pub html: String,
    /// What is wrong with the brief itself.
    pub findings: Vec<Told>,
}

/// Solves the brief as it stands, and with each swap.
pub fn tries(ask: &Try, house: &Beside, stop: &Stop) -> Trial {
    let now = match read(&ask.text, house) {
        Ok(reading) => reading,
        Err(findings) => return Trial { findings: told(&ask.text, &findings), ..Trial::default() },
    };
    let mut rows =
        vec![Tried { label: "as it stands".to_owned(), swap: None, found: one(&ask.text, house, stop) }];
    for swap in ask.swaps.iter().take(MOST) {
        let Play::Swap { old, new, .. } = swap else { continue };
        let found = edited(&ask.text, std::slice::from_ref(swap), house)
            .map_err(|told| sentences(&told))
            .and_then(|text| one(&text, house, stop));
        rows.push(Tried { label: format!("{new} for {old}"), swap: serde_json::to_string(swap).ok(), found });
    }
    Trial {
        html: tried(&Frame::of(&now.brief), &rows, UnitSystem::Metric).into_string(),
        findings: Vec::new(),
    }
}

fn sentences(told: &[Told]) -> String {
    told.iter().map(|one| one.said.as_str()).collect::<Vec<_>>().join("; ")
}

/// The best spec of a text, or why there is none.
fn one(text: &str, house: &Beside, stop: &Stop) -> Result<SpecLine, String> {
    let reading = read(text, house).map_err(|findings| sentences(&told(text, &findings)))?;
    let brief = &reading.brief;
    let solved = best(brief, stop);
    let Some(spec) = solved.specs.first() else { return Err("no spec meets the brief".to_owned()) };
    Ok(spec_line(brief, spec, None).in_service(Some(within_all(brief, &spec.pours))))
}

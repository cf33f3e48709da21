//! When each candidate joins the drink, and how cold.

use super::serve::Bar;
use crate::brief::{Candidate, Handling};
use crate::liquid::{FRIDGE, Method, ROOM, Stage};
use crate::read::file::{self, At};

/// What is kept there.
const CHILLED: [Handling; 4] =
    [Handling::Carbonated, Handling::FreshJuice, Handling::Dairy, Handling::RawEgg];

/// Gives every candidate its stage and temperature: what holds gas tops the drink up, and what spoils or goes
/// flat is kept cold, unless the brief says otherwise.
pub fn all(written: &[At<file::Candidate>], candidates: Vec<Candidate>, bar: &Bar) -> Vec<Candidate> {
    let works = matches!(bar.serve.method, Method::Shake | Method::Stir | Method::Blend);
    let one = |(written, mut candidate): (&At<file::Candidate>, Candidate)| {
        let gas = candidate.handling.contains(&Handling::Carbonated);
        let tops = written.top.as_ref().map_or(gas, |top| top.value);
        candidate.stage = if tops { Stage::Topped } else { Stage::Made };
        let chilled = candidate.handling.iter().any(|handling| CHILLED.contains(handling));
        let common = if chilled { FRIDGE } else { ROOM };
        let label = &mut candidate.label;
        label.temperature = written.temperature.as_ref().map_or(common, |at| at.value);
        // Without ice that does work, what tops a drink up is poured like the rest.
        label.stage = if works { candidate.stage } else { Stage::Made };
        candidate.portion = candidate.portion.joining(label.stage, label.temperature);
        candidate
    };
    written.iter().zip(candidates).map(one).collect()
}

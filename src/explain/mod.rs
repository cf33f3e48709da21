//! What an answer means: what asks for care, which rules a given spec breaks, and why it is as it is.

pub mod cautions;
pub mod conflict;
pub mod demand;
pub mod in_play;
pub mod loosen;
pub mod oracle;
pub mod rules;
pub mod sensitivity;
pub mod steps;

use crate::brief::Brief;
use crate::solve::{Ending, Solved, Stop};

/// Why the answer to a brief is as it is.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Explanation {
    /// Who is in every, some and no spec near the best, where one was found.
    pub in_play: Option<in_play::InPlay>,
    /// Looser limits behind which something better can be poured.
    pub next: Vec<steps::NextPourable>,
    /// What is in the way, where nothing was found.
    pub conflict: Option<conflict::Conflict>,
}

/// Explains an answer.
pub fn explain(brief: &Brief, solved: &Solved, stop: &Stop) -> Explanation {
    match solved.ending {
        Ending::Found => Explanation {
            in_play: in_play::in_play(brief, solved, stop),
            next: steps::next_pourable(brief, solved, stop),
            conflict: None,
        },
        Ending::Conflict => {
            Explanation { conflict: Some(conflict::conflict(brief, stop)), ..Explanation::default() }
        }
        Ending::Stopped => Explanation::default(),
    }
}

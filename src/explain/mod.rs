//! What an answer means: what asks for care, which rules a given spec breaks, and why it is as it is.

pub mod cautions;
pub mod conflict;
pub mod contribution;
pub mod demand;
pub mod in_play;
pub mod loosen;
pub mod mend;
pub mod oracle;
pub mod rules;
pub mod sensitivity;
pub mod side_by_side;
pub mod steps;
pub mod variation;

use std::panic::resume_unwind;
use std::thread;

use self::variation::certainty::{Certainty, certainty, on_the_typical};
use crate::brief::{Brief, HoldFor};
use crate::solve::{Ending, Solved, Stop};

/// Why the answer to a brief is as it is.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Explanation {
    /// Who is in every, some and no spec near the best, where one was found.
    pub in_play: Option<in_play::InPlay>,
    /// What every limit does to the score with free pours.
    pub sensitivity: Option<sensitivity::Sensitivity>,
    /// Looser limits behind which something better can be poured.
    pub next: steps::Next,
    /// What is in the way, where nothing was found.
    pub conflict: Option<conflict::Conflict>,
    /// How the best spec does in service, where there is one.
    pub service: Option<variation::Service>,
    /// The share of serves within all targets, of every spec of the answer in its order; all of them are poured in the
    /// same serves.
    pub shares: Vec<variation::Share>,
    /// Specs that are steadier than the best, where the brief asks for them.
    pub steadier: Option<variation::steadier::Steadier>,
    /// What certainty costs, where the brief asks for it.
    pub certainty: Option<Certainty>,
}

/// Explains an answer.
pub fn explain(brief: &Brief, solved: &Solved, stop: &Stop) -> Explanation {
    let service = || variation::services(brief, &solved.specs).unzip();
    let served = || {
        let (service, shares) = service();
        let steadier = variation::steadier::steadier(brief, solved, stop);
        Explanation { service, shares: shares.unwrap_or_default(), steadier, ..Explanation::default() }
    };
    let sure = Explanation { certainty: certainty(brief, solved, stop), ..Explanation::default() };
    let in_share = matches!(brief.variation.hold, HoldFor::Share(_));
    match solved.ending {
        // Each of these is many searches, and in each every spec would have to be served.
        Ending::Found if in_share => Explanation { certainty: sure.certainty, ..served() },
        Ending::Found => {
            // What hangs on the score is asked of the spec that has the best.
            let by_score = &solved.by_score(brief);
            // What is served takes longest, and starts first; the others do not wait for it, nor for each other.
            let (served, (sensitivity, (in_play, next))) = thread::scope(|scope| {
                let served = scope.spawn(served);
                let rest = || {
                    let in_play = in_play::in_play(brief, by_score, stop);
                    (in_play, steps::next_pourable(brief, by_score, stop))
                };
                let rest = sensitivity::beside(brief, by_score, stop, rest);
                (served.join().unwrap_or_else(|fault| resume_unwind(fault)), rest)
            });
            let sensitivity = sensitivity.map(|found| found.before(&next));
            Explanation { in_play, sensitivity, next, certainty: sure.certainty, ..served }
        }
        // The brief itself can be met, only not in enough serves.
        Ending::Conflict
            if in_share && sure.certainty.as_ref().is_some_and(|c| c.typical_score.is_some()) =>
        {
            sure
        }
        Ending::Conflict if in_share => {
            let conflict = Some(conflict::conflict(&on_the_typical(brief), stop));
            Explanation { conflict, ..sure }
        }
        Ending::Conflict => Explanation { conflict: Some(conflict::conflict(brief, stop)), ..sure },
        Ending::Stopped => Explanation { certainty: sure.certainty, ..served() },
    }
}

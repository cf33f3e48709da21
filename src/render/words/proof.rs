//! How the search ended and what is proved, in words.

use super::{counted, gauge, score_text};
use crate::answer::{AimGoal, Direction, SpecAnswer};
use crate::brief::HoldFor;
use crate::quantity::{UnitSystem, number};
use crate::solve::Ending;

/// What is known about everything that is not listed.
pub fn outcome_sentences(answer: &SpecAnswer, units: UnitSystem) -> String {
    match answer.outcome {
        Ending::Found => proved(answer),
        Ending::Stopped => stopped(answer, units),
        Ending::Conflict if answer.conflict.is_some() => {
            "No spec that can be poured meets this brief.".to_owned()
        }
        Ending::Conflict if answer.certainty.as_ref().is_some_and(|c| c.typical_score.is_some()) => {
            "No spec that can be poured meets this brief as surely as it asks.".to_owned()
        }
        Ending::Conflict => conflict(answer).to_owned(),
    }
}

fn proved(answer: &SpecAnswer) -> String {
    let (listed, asked) = (answer.alternatives.len(), answer.proof.asked);
    let within = answer.proof.within.map(|w| format!(" and is at most {} % worse", number::trimmed(w, 2)));
    let within = within.unwrap_or_default();
    let sets = if !answer.complete {
        "Not proved: other sets of ingredients may come before those listed.".to_owned()
    } else if asked == 0 {
        String::new()
    } else if listed == 0 {
        format!("No other set of ingredients meets the brief{within}.")
    } else if listed < asked {
        let sets = counted(listed, "other set");
        format!("{} of ingredients can meet the brief{within}: there are no more.", super::upper_first(&sets))
    } else {
        "No other set of ingredients comes before those listed.".to_owned()
    };
    let nothing = match answer.proof.hold {
        HoldFor::Typical => "nothing better can be poured",
        HoldFor::Worst => "nothing better can be poured that holds for every composition",
        HoldFor::Share(_) => "nothing better can be poured that holds in enough of these serves",
    };
    let nothing = match (&answer.as_good, answer.proof.hold) {
        (Some(good), HoldFor::Typical) if as_many(answer, good.to) => {
            "nothing that can be poured covers more of the notes".to_owned()
        }
        (Some(good), HoldFor::Typical) => {
            format!("nothing that can be poured is better by more than {}", amount(answer, good.to))
        }
        _ => nothing.to_owned(),
    };
    format!("Proved: {nothing}. {sets}").trim_end().to_owned()
}

/// By which two orders the spec was chosen: `Differences of up to 0.01 GBP do not matter: of the 14 specs as good as the
/// best this one holds in the most serves.` Nothing where one criterion decided.
pub fn as_good_sentence(answer: &SpecAnswer) -> Option<String> {
    let good = answer.as_good.as_ref().filter(|good| good.served > 1 || !good.all)?;
    let many = as_many(answer, good.to);
    let like = if many { "that cover as many notes" } else { "as good as the best" };
    let which = if good.all {
        format!("of the {} specs {like} this one holds in the most serves", good.served)
    } else {
        format!("of those {like} this one is the steadiest of the {} looked at", good.served)
    };
    Some(if many {
        format!("{}.", super::upper_first(&which))
    } else {
        format!("Differences of up to {} do not matter: {which}.", amount(answer, good.to))
    })
}

/// Whether only specs that cover as many notes are as good: there are no parts of notes.
fn as_many(answer: &SpecAnswer, to: f64) -> bool {
    matches!(answer.aim.goal, AimGoal::Notes(_)) && to < 1.0
}

/// A difference of what is aimed for, with its unit.
fn amount(answer: &SpecAnswer, by: f64) -> String {
    let unit = match answer.aim.goal {
        AimGoal::Measure(_) => {
            gauge(&answer.aim, &answer.frame).map_or_else(String::new, |gauge| gauge.unit.clone())
        }
        AimGoal::Ingredient(unit) => unit.symbol().to_owned(),
        AimGoal::Reference => "ml".to_owned(),
        AimGoal::Middle => String::new(),
        AimGoal::Notes(_) => "notes".to_owned(),
    };
    format!("{} {unit}", number::trimmed(by, 4)).trim_end().to_owned()
}

fn stopped(answer: &SpecAnswer, units: UnitSystem) -> String {
    let bound = answer.bound.map(|b| score_text(&answer.aim, &answer.frame, b, units));
    let found = if answer.best.is_some() {
        "Stopped before the end: this is the best found so far, not proved to be the best."
    } else {
        "Stopped before any spec was found; that does not mean that there is none."
    };
    let bound = match (bound, answer.aim.direction) {
        (Some(bound), Direction::Highest) => format!(" Nothing can be over {bound}."),
        (Some(bound), _) => format!(" Nothing can be under {bound}."),
        (None, _) => String::new(),
    };
    format!("{found}{bound} A longer --time-limit may do more.")
}

fn conflict(answer: &SpecAnswer) -> &'static str {
    if answer.unrounded.is_some() {
        "No spec that can be poured meets this brief, although free amounts would: the pour steps, smallest \
         pours or counts are in the way. Try a smaller step, or loosen a limit that the free amounts below touch."
    } else {
        "No spec meets this brief, and no free amounts were found that would: what it asks for does not go \
         together with these ingredients. Loosen a limit, or offer an ingredient that brings what is missing."
    }
}

/// What steps, smallest pours and counts cost: the score that free amounts would reach.
pub fn without_steps(answer: &SpecAnswer, units: UnitSystem) -> Option<String> {
    let (best, free) = (answer.best.as_ref()?, answer.unrounded.as_ref()?);
    let reached = score_text(&answer.aim, &answer.frame, free.score, units);
    let here = score_text(&answer.aim, &answer.frame, best.score, units);
    if free.change.is_empty() {
        return None;
    }
    Some(if reached == here {
        format!("Any amounts of any number of ingredients would reach {reached} as well.")
    } else {
        format!(
            "Any amounts of any number of ingredients would reach {reached}: the rest is what steps, smallest \
             pours and counts cost."
        )
    })
}

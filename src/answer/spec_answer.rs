//! The answer to a brief.

use super::check::given;
use super::spec::{self, SpecLine};
use super::steadier::{self, AsGoodLine, SteadierLine, SteadiestLine};
use super::swap::SwapLine;
use super::track::TrackPoint;
use super::why::{self, ConflictLine, NextLine};
use super::{Asked, FORMAT, Frame};
use crate::brief::{Aim, Brief, Goal, HoldFor, Measure, Nearest, Pour};
use crate::explain::Explanation;
use crate::explain::cautions::{cautions, hazards};
use crate::explain::in_play::InPlay;
use crate::explain::sensitivity::Sensitivity;
use crate::explain::variation::certainty::Certainty;
use crate::explain::variation::{Service, within_all};
use crate::quantity::Unit;
use crate::solve::{Ending, Solved, Spec};

/// What was aimed for.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct AimLine {
    /// Which way is better.
    pub direction: Direction,
    /// A target, a property, an ingredient, `reference`, `middle` or `notes`.
    pub of: String,
    /// The notes that are to be covered, where these are aimed at.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<String>,
    /// What that is.
    #[serde(skip)]
    pub goal: AimGoal,
}

impl AimLine {
    /// The measure, where it is one.
    pub fn measure(&self) -> Option<Measure> {
        if let AimGoal::Measure(measure) = self.goal { Some(measure) } else { None }
    }
}

/// Which way an aim is better.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Direction {
    /// The lower the better.
    Lowest,
    /// The higher the better.
    Highest,
    /// The nearer the better.
    Nearest,
}

impl Direction {
    /// The word of the brief.
    pub fn word(self) -> &'static str {
        match self {
            Self::Lowest => "lowest",
            Self::Highest => "highest",
            Self::Nearest => "nearest",
        }
    }
}

/// What is aimed at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AimGoal {
    /// A measure of the drink.
    Measure(Measure),
    /// How much of an ingredient, in this unit.
    Ingredient(Unit),
    /// As little as can be poured differently from the reference.
    Reference,
    /// The middle of the ranges.
    Middle,
    /// As many as possible of so many notes.
    Notes(usize),
}

/// How much of the answer is proved, for the formats that say it in words.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Proof {
    /// How many alternatives were asked for.
    pub asked: usize,
    /// At most so many % worse than the best.
    pub within: Option<f64>,
    /// For which compositions, or in which share of serves.
    pub hold: HoldFor,
}

/// The answer to a brief.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SpecAnswer {
    /// Version of this object.
    pub format: u32,
    /// What the drink is called.
    pub title: String,
    /// ISO 4217.
    pub currency: String,
    /// How the search ended.
    pub outcome: Ending,
    /// What was aimed for.
    pub aim: AimLine,
    /// The best spec.
    pub best: Option<SpecLine>,
    /// No pourable spec scores better than this.
    pub bound: Option<f64>,
    /// Specs with other sets of ingredients, next best first.
    pub alternatives: Vec<SpecLine>,
    /// Proved that no other ingredient set comes before those listed.
    pub complete: bool,
    /// The optimum with free pours.
    pub unrounded: Option<SpecLine>,
    /// Which ingredients are in every, some and no spec near the best; nothing where it is not proved.
    pub in_play: Option<InPlay>,
    /// What every limit is worth.
    pub sensitivity: Option<Sensitivity>,
    /// How the best spec does in service.
    pub service: Option<Service>,
    /// What was made of differences that do not matter; nothing where all do.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub as_good: Option<AsGoodLine>,
    /// The best specs that hold in at least so many serves; levels that the best meets are left out.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub steadier: Vec<SteadierLine>,
    /// The spec that holds in the most serves of all that were looked at.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub steadiest: Option<SteadiestLine>,
    /// What certainty costs, where the brief asks for the worst case.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub certainty: Option<Certainty>,
    /// Why there is no spec, where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub conflict: Option<ConflictLine>,
    /// The spec that the drink comes from, measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<SpecLine>,
    /// What was swapped, and what that holds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub swap: Option<SwapLine>,
    /// What asks for care.
    pub cautions: Vec<String>,
    /// Where the drink stood in sugar and acid, and what was said of it there; nothing where nothing was kept or
    /// tasted.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub track: Vec<TrackPoint>,
    /// What was asked, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
    /// What can hurt somebody in the spec that is shown first.
    #[serde(skip)]
    pub care: Vec<String>,
    /// What waits behind looser limits.
    #[serde(skip)]
    pub next: Vec<NextLine>,
    /// The question.
    #[serde(skip)]
    pub frame: Frame,
    /// What was asked to be proved.
    #[serde(skip)]
    pub proof: Proof,
}

/// Builds the answer to a brief.
pub fn spec_answer(brief: &Brief, solved: &Solved) -> SpecAnswer {
    let best = solved.specs.first();
    let reference = brief.reference.as_ref().map(|r| r.pours.as_slice());
    let others = solved.specs.get(1..).unwrap_or_default();
    let against = best.map(|b| b.pours.as_slice());
    SpecAnswer {
        format: FORMAT,
        title: brief.title.clone(),
        currency: brief.currency.code().to_owned(),
        outcome: solved.ending,
        aim: aim_line(brief),
        best: best.map(|s| spec::line_with_shares(brief, s, reference)),
        bound: solved.bound,
        alternatives: others.iter().map(|s| spec::line(brief, s, against)).collect(),
        complete: solved.complete,
        unrounded: solved.unrounded.as_ref().map(|s| spec::line(brief, s, against)),
        in_play: None,
        sensitivity: None,
        service: None,
        as_good: steadier::as_good(solved),
        steadier: vec![],
        steadiest: None,
        certainty: None,
        conflict: None,
        reference: reference.map(|pours| of_reference(brief, pours)),
        swap: None,
        cautions: cautions(brief, &solved.specs),
        track: vec![],
        asked: None,
        care: best.map_or_else(Vec::new, |spec| hazards(brief, spec)),
        next: vec![],
        frame: Frame::of(brief),
        proof: Proof {
            asked: brief.answer.alternatives,
            within: brief.answer.within,
            hold: brief.variation.hold,
        },
    }
}

/// The answer together with why it is as it is.
pub fn explained(brief: &Brief, solved: &Solved, why: &Explanation) -> SpecAnswer {
    let plain = spec_answer(brief, solved);
    let share = |at: usize| why.shares.get(at).copied();
    let others = plain.alternatives.into_iter().zip(1..);
    SpecAnswer {
        best: plain.best.map(|best| best.in_service(share(0))),
        alternatives: others.map(|(spec, at)| spec.in_service(share(at))).collect(),
        sensitivity: why.sensitivity.clone(),
        in_play: why.in_play.clone(),
        steadier: why.steadier.as_ref().map_or_else(Vec::new, |s| steadier::steadier(brief, solved, s)),
        steadiest: why
            .steadier
            .as_ref()
            .and_then(|s| s.steadiest.as_ref())
            .map(|s| steadier::steadiest(brief, s, solved.specs.first().map(|best| best.pours.as_slice()))),
        service: why.service.clone(),
        certainty: why.certainty.clone(),
        conflict: why.conflict.as_ref().map(|found| why::conflict(brief, found)),
        next: solved.specs.first().map_or_else(Vec::new, |best| why::next(brief, best, &why.next.found)),
        cautions: cautions(brief, shown(solved, why)),
        care: shown(solved, why).first().map_or_else(Vec::new, |spec| hazards(brief, spec)),
        ..plain
    }
}

/// The specs that people see: the answer, or the one that the smallest change would make possible.
fn shown<'a>(solved: &'a Solved, why: &'a Explanation) -> &'a [Spec] {
    let way_out = why.conflict.as_ref().and_then(|conflict| conflict.relaxed.as_ref());
    if solved.specs.is_empty() {
        way_out.map_or(&[], |relaxed| std::slice::from_ref(&relaxed.spec))
    } else {
        &solved.specs
    }
}

/// The reference, measured.
pub fn of_reference(brief: &Brief, pours: &[Pour]) -> SpecLine {
    let spec = given(brief, pours);
    let share = within_all(brief, &spec.pours);
    spec::line_with_shares(brief, &spec, None).in_service(Some(share))
}

/// The aim in the words of the brief.
pub fn aim_line(brief: &Brief) -> AimLine {
    let (direction, goal) = match brief.aim {
        Aim::Lowest(goal) => (Direction::Lowest, Some(goal)),
        Aim::Highest(goal) => (Direction::Highest, Some(goal)),
        Aim::Nearest(_) => (Direction::Nearest, None),
        Aim::Notes => (Direction::Highest, None),
    };
    let (of, goal) = match (goal, brief.aim) {
        (Some(Goal::Measure(m)), _) => (brief.measure_name(m), AimGoal::Measure(m)),
        (Some(Goal::Ingredient(at)), _) => {
            let candidate = &brief.candidates[at];
            (candidate.name.as_str(), AimGoal::Ingredient(candidate.unit()))
        }
        (None, Aim::Nearest(Nearest::Middle)) => ("middle", AimGoal::Middle),
        (None, Aim::Notes) => ("notes", AimGoal::Notes(brief.notes.aimed.len())),
        (None, _) => ("reference", AimGoal::Reference),
    };
    AimLine { direction, of: of.to_owned(), notes: brief.notes.aimed.clone(), goal }
}

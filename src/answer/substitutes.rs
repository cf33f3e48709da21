//! Every ingredient of a kind tried in the place of one, ranked.

use super::spec::{self, SpecLine};
use super::spec_answer::{aim_line, of_reference};
use super::{AimLine, Asked, FORMAT, Frame, HeldLine, swap_line};
use crate::brief::Brief;
use crate::explain::cautions::cautions;
use crate::explain::conflict::Relaxed;
use crate::explain::contribution::{Contribution, Source};
use crate::explain::loosen::Change;
use crate::explain::variation::within_all;
use crate::read::{HeldBy, Shelf, Swapped, Trials};
use crate::scenario::swap::ranked;
use crate::solve::{Ending, Solved};

/// A ranked list of what could come in.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SubstitutesAnswer {
    /// Version of this object.
    pub format: u32,
    /// What the drink is called.
    pub title: String,
    /// ISO 4217.
    pub currency: String,
    /// What is aimed for in each.
    pub aim: AimLine,
    /// What goes out.
    pub out: String,
    /// Its role, and that of everything tried.
    pub role: &'static str,
    /// What is held at the reference's own values.
    pub held: Vec<HeldLine>,
    /// `brief`, or `custom` where the brief has no `[hold]`.
    pub held_by: HeldBy,
    /// The brief's own aim, where the nearest to the reference took its place.
    pub aim_set_aside: Option<String>,
    /// Proportions that were left out, as they name what goes out.
    pub proportions_left_out: Vec<String>,
    /// The notes of what goes out.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub notes_out: Vec<String>,
    /// The spec that the drink comes from, measured.
    pub reference: Option<SpecLine>,
    /// What works, best first; then what was stopped; then what no spec meets the brief with.
    pub ranked: Vec<Substitute>,
    /// Where nothing works: what comes nearest, and by what it misses; the least first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub nearest: Vec<NearMiss>,
    /// What could not be tried, each with the reason.
    pub untried: Vec<Untried>,
    /// What was asked, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
    /// The question.
    #[serde(skip)]
    pub frame: Frame,
}

/// One ingredient tried.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Substitute {
    /// What comes in.
    #[serde(rename = "in")]
    pub coming: String,
    /// `brief` or `larder`.
    pub from: Shelf,
    /// How the search ended.
    pub outcome: Ending,
    /// The aim's value of the best spec with it.
    pub score: Option<f64>,
    /// The best spec with it.
    pub spec: Option<SpecLine>,
    /// The notes of what goes out that the spec carries all the same.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub notes_kept: Vec<String>,
    /// What asks for care in it.
    pub cautions: Vec<String>,
    /// Allergens of what comes in.
    pub allergens: Vec<&'static str>,
}

impl Substitute {
    /// What the newcomer itself brings.
    pub fn brings(&self) -> Option<&Contribution> {
        let lines = &self.spec.as_ref()?.contributions;
        lines.iter().find(|line| line.source == Source::Pour && line.ingredient == self.coming)
    }
}

/// An ingredient with which the brief is only just missed.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct NearMiss {
    /// What comes in.
    #[serde(rename = "in")]
    pub coming: String,
    /// The figures that would let a spec through.
    pub needs: Vec<Change>,
    /// The sum of the changes, each over the figure that is asked for.
    pub total: f64,
    /// The best spec then.
    pub spec: SpecLine,
}

/// So many near misses are told.
const MISSES: usize = 3;

/// What comes nearest of the trials that could be read, given by how much each misses.
pub fn near_misses(trials: &Trials, misses: &[Option<Relaxed>]) -> Vec<NearMiss> {
    let readable = trials.trials.iter().filter_map(|t| Some((t, t.reading.as_ref().ok()?)));
    let mut near: Vec<NearMiss> = readable
        .zip(misses)
        .filter_map(|((trial, reading), miss)| {
            let (brief, miss) = (&reading.brief, miss.as_ref()?);
            Some(NearMiss {
                coming: trial.new.clone(),
                needs: miss.changes.clone(),
                total: miss.total,
                spec: spec::line(brief, &miss.spec, None),
            })
        })
        .collect();
    near.sort_by(|a, b| a.total.total_cmp(&b.total));
    near.truncate(MISSES);
    near
}

/// One ingredient that could not be tried.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Untried {
    /// Which.
    #[serde(rename = "in")]
    pub coming: String,
    /// Why not, in a word that does not change.
    pub code: &'static str,
    /// Why not.
    pub why: String,
}

/// A brief that was tried, with its swap and its answer.
#[derive(Debug, Clone, Copy)]
struct Tried<'a> {
    new: &'a str,
    from: Shelf,
    brief: &'a Brief,
    swapped: Option<&'a Swapped>,
    solved: &'a Solved,
}

/// Builds the list; `solved` are the answers to the trials that could be read, in their order. `None` where
/// none could.
pub fn substitutes_answer(trials: &Trials, solved: &[Solved]) -> Option<SubstitutesAnswer> {
    let readable = trials.trials.iter().filter_map(|t| Some((t, t.reading.as_ref().ok()?)));
    let tried: Vec<Tried> = readable
        .zip(solved)
        .map(|((trial, reading), solved)| Tried {
            new: &trial.new,
            from: trial.from,
            brief: &reading.brief,
            swapped: reading.swapped.as_ref(),
            solved,
        })
        .collect();
    let first = tried.first()?;
    let swap = first.swapped.map(|swapped| swap_line(first.brief, swapped))?;
    let briefs: Vec<Brief> = tried.iter().map(|t| t.brief.clone()).collect();
    let brief = first.brief;
    let going = brief.find(&trials.old).map_or(&[][..], |at| &brief.candidates[at].notes);
    let notes: Vec<String> = going.iter().map(|note| note.trim().to_lowercase()).collect();
    let kept: Vec<Vec<String>> = tried.iter().map(|t| kept(t, &notes)).collect();
    let counts: Vec<usize> = kept.iter().map(Vec::len).collect();
    let places = ranked(&briefs, solved, &counts).into_iter();
    let ranked = places.filter_map(|at| Some((tried.get(at)?, kept.get(at)?)));
    Some(SubstitutesAnswer {
        format: FORMAT,
        title: brief.title.clone(),
        currency: brief.currency.code().to_owned(),
        aim: aim_line(brief),
        out: trials.old.clone(),
        role: trials.role.keyword(),
        held: swap.held,
        held_by: swap.held_by,
        aim_set_aside: swap.aim_set_aside,
        proportions_left_out: swap.proportions_left_out,
        reference: brief.reference.as_ref().map(|r| of_reference(brief, &r.pours)),
        ranked: ranked.map(|(tried, kept)| substitute(tried, kept)).collect(),
        notes_out: notes.clone(),
        nearest: vec![],
        untried: untried(trials),
        asked: None,
        frame: Frame::of(brief),
    })
}

/// The notes that the best spec of a trial carries.
fn kept(tried: &Tried, notes: &[String]) -> Vec<String> {
    let pours = tried.solved.specs.first().map_or(&[][..], |spec| &spec.pours);
    notes.iter().filter(|note| tried.brief.carriers(note, pours).next().is_some()).cloned().collect()
}

fn substitute(tried: &Tried, kept: &[String]) -> Substitute {
    let (brief, best) = (tried.brief, tried.solved.specs.first());
    let reference = brief.reference.as_ref().map(|r| r.pours.as_slice());
    let newcomer = brief.find(tried.new).map(|at| &brief.candidates[at]);
    Substitute {
        coming: tried.new.to_owned(),
        from: tried.from,
        outcome: tried.solved.ending,
        score: best.map(|spec| spec.score),
        notes_kept: kept.to_vec(),
        spec: best.map(|spec| {
            let share = within_all(brief, &spec.pours);
            spec::line_with_shares(brief, spec, reference).in_service(Some(share))
        }),
        cautions: cautions(brief, &tried.solved.specs),
        allergens: newcomer.map_or_else(Vec::new, |c| c.allergens.iter().map(|a| a.keyword()).collect()),
    }
}

fn untried(trials: &Trials) -> Vec<Untried> {
    let refused = trials.trials.iter().filter_map(|t| Some((t, t.reading.as_ref().err()?.first()?)));
    refused
        .map(|(trial, finding)| Untried {
            coming: trial.new.clone(),
            code: finding.code,
            why: finding.what.clone(),
        })
        .collect()
}

//! Looking for a proof that a checker accepts: a tree of its own, grown after the search, which knows only what the
//! checker knows, and the answer.

mod grow;
mod hint;
mod stated;

use std::fmt;

use crate::brief::Brief;
use crate::brief::edit::Demand;
use crate::liquid::Drink;
use crate::model::{Model, Objective};
use crate::proof::{
    Claim, FIRST, Facts, Ground, What, but_line, claim, claim_line, facts_text, of_core, of_core_but,
    spec_line, views,
};
use crate::search::seek;
use crate::solve::{Ending, SearchLimits, SearchMode, Solved, Stop};
use grow::{Ended, Grower};

/// Why there is no proof.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoProof {
    /// The brief has something that these proofs do not speak of.
    Beyond(&'static str),
    /// The search was stopped: nothing is proved.
    Stopped,
    /// None was found within reason: how far it came.
    NotFound(String),
    /// What it was written to took no more: that knows why.
    Unwritten,
}

impl From<fmt::Error> for NoProof {
    fn from(_: fmt::Error) -> Self {
        Self::Unwritten
    }
}

/// What a proof is written to, line by line as it is found: no proof is ever held as a whole.
pub trait Paper: fmt::Write {
    /// Takes back all that was written: what was begun came to nothing, and a smaller proof begins.
    ///
    /// # Errors
    /// Where it cannot be taken back.
    fn blank(&mut self) -> fmt::Result;
}

impl Paper for String {
    fn blank(&mut self) -> fmt::Result {
        self.clear();
        Ok(())
    }
}

/// So many lines a claim about all sets may take, before the best spec alone is proved.
const SETS: usize = 30_000;
const ALONE: usize = 60_000;

/// A spec that keeps the others of a core is looked for in so many nodes.
const ANY: u64 = 15_000;

/// Proves an answer on `paper`; `cores` are the conflicts where nothing can be poured. What stands on the paper is a
/// proof only where this succeeds.
///
/// # Errors
/// Why there is no proof.
pub fn prove(
    brief: &Brief,
    solved: &Solved,
    cores: &[Vec<Demand>],
    digest: u64,
    stop: &Stop,
    paper: &mut impl Paper,
) -> Result<(), NoProof> {
    Facts::of(brief).map_err(NoProof::Beyond)?;
    match solved.ending {
        Ending::Stopped => Err(NoProof::Stopped),
        Ending::Conflict => conflicts(brief, cores, digest, stop, paper),
        Ending::Found => found(brief, solved, digest, stop, paper),
    }
}

/// The lines before the first part.
fn begun(paper: &mut dyn Paper, digest: u64, parts: usize) -> fmt::Result {
    write!(paper, "{FIRST}\nbrief {digest:016x}\nparts {parts}\n")
}

fn conflicts(
    brief: &Brief,
    cores: &[Vec<Demand>],
    digest: u64,
    stop: &Stop,
    paper: &mut impl Paper,
) -> Result<(), NoProof> {
    let each = |cores: &[Vec<Demand>], paper: &mut dyn Paper| {
        begun(paper, digest, cores.len())?;
        cores.iter().try_for_each(|core| {
            let open = of_core(brief, core);
            let facts = Facts::of(&open).map_err(NoProof::Beyond)?;
            let buts: Vec<String> = core.iter().filter_map(|one| but(brief, core, *one, stop)).collect();
            grown(&facts, &What::Nothing(core.clone()), (&[], &buts), (ALONE, stop), paper)
        })
    };
    if !cores.is_empty() {
        match each(cores, paper) {
            // Where few demands leave too much to go through, all of them leave less.
            Err(NoProof::NotFound(_)) => paper.blank()?,
            ended => return ended,
        }
    }
    each(&[vec![]], paper)
}

/// A spec that keeps the others of a core.
fn but(brief: &Brief, core: &[Demand], demand: Demand, stop: &Stop) -> Option<String> {
    let open = of_core_but(brief, core, demand);
    let model = Model::new(&open);
    let objective = Objective::of(&model);
    let found = seek(&model, &objective, SearchMode::Any, None, SearchLimits { stop, nodes: ANY });
    let entry = found.entries.first()?;
    let mut steps = vec![0; model.columns.len()];
    entry.set.iter().zip(&entry.units).for_each(|(column, units)| steps[*column] = units.round() as i64);
    Some(but_line(demand, &steps))
}

fn found(
    brief: &Brief,
    solved: &Solved,
    digest: u64,
    stop: &Stop,
    paper: &mut impl Paper,
) -> Result<(), NoProof> {
    let facts = Facts::of(brief).map_err(NoProof::Beyond)?;
    let steps: Option<Vec<Vec<i64>>> = solved.specs.iter().map(|spec| facts.steps(&spec.pours)).collect();
    let steps = steps.ok_or_else(|| not_found("a spec is not in whole steps"))?;
    begun(paper, digest, 1)?;
    if solved.complete {
        match grown(&facts, &What::Sets, (&steps, &[]), (SETS, stop), paper) {
            Err(NoProof::Unwritten) => return Err(NoProof::Unwritten),
            Err(_) => {
                paper.blank()?;
                begun(paper, digest, 1)?;
            }
            Ok(()) => return Ok(()),
        }
    }
    grown(&facts, &What::Best, (&steps[..1], &[]), (ALONE, stop), paper)
}

fn not_found(why: &str) -> NoProof {
    NoProof::NotFound(why.to_owned())
}

/// One part of a proof: what is known is written at once, its tree as it grows.
fn grown(
    facts: &Facts,
    what: &What,
    (specs, buts): (&[Vec<i64>], &[String]),
    (most, stop): (usize, &Stop),
    paper: &mut dyn Paper,
) -> Result<(), NoProof> {
    let picks = picks(facts.brief);
    let views = views(facts, &picks).ok_or_else(|| not_found("there is no such corner"))?;
    let Claim { cutoffs, .. } = claim(what.clone(), facts, &views, specs).map_err(not_found)?;
    writeln!(paper, "{}", claim_line(what))?;
    for picks in &picks {
        let words: Vec<String> = picks.iter().map(ToString::to_string).collect();
        writeln!(paper, "view {}", words.join(" "))?;
    }
    paper.write_str(&facts_text(facts, &views))?;
    specs.iter().try_for_each(|steps| writeln!(paper, "{}", spec_line(steps)))?;
    buts.iter().try_for_each(|line| writeln!(paper, "{line}"))?;
    let ground = Ground::new(facts, views, cutoffs).ok_or_else(|| not_found("figures are too large"))?;
    writeln!(paper, "tree")?;
    Grower::new(&ground, stop, most, paper).grow().map_err(|ended| match ended {
        Ended::Tired => not_found("the tree became too large"),
        Ended::Left(steps) => NoProof::NotFound(format!("{} is left", spec_line(&steps))),
        Ended::Beyond => not_found("no lines hold"),
        Ended::Unwritten => NoProof::Unwritten,
    })?;
    Ok(writeln!(paper, "end")?)
}

/// The worst corners of every limit, where limits have to hold for every composition: once by the drink that all
/// ingredients together make.
fn picks(brief: &Brief) -> Vec<Vec<usize>> {
    let model = Model::new(brief);
    let Some(spread) = &model.spread else { return vec![] };
    let everything = model.typical.iter().zip(&model.columns).map(|(p, c)| (p, c.unit));
    let drink = Drink::of(everything, brief.serve.melting());
    let mut all: Vec<Vec<usize>> =
        model.limits.iter().map(|limit| spread.picks(&model, limit, &drink)).collect();
    all.sort();
    all.dedup();
    all
}

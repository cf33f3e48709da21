//! Looking for a proof that a checker accepts: a tree of its own, grown after the search, which knows only what the
//! checker knows, and the answer.

mod grow;
mod hint;
mod stated;

use crate::brief::Brief;
use crate::brief::edit::Demand;
use crate::liquid::Drink;
use crate::model::{Model, Objective};
use crate::proof::FIRST;
use crate::proof::{
    Claim, Facts, Ground, Step, What, but_line, claim, claim_line, facts_text, of_core, of_core_but,
    spec_line, views,
};
use crate::solve::search::seek;
use crate::solve::{Ending, Patience, Quest, Solved, Stop};
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
}

/// So many lines a claim about all sets may take, before the best spec alone is proved.
const SETS: usize = 12_000;
const ALONE: usize = 60_000;

/// A spec that keeps the others of a core is looked for in so many nodes.
const ANY: u64 = 15_000;

/// Proves an answer; `cores` are the conflicts where nothing can be poured.
///
/// # Errors
/// Why there is no proof.
pub fn prove(
    brief: &Brief,
    solved: &Solved,
    cores: &[Vec<Demand>],
    digest: u64,
    stop: &Stop,
) -> Result<String, NoProof> {
    Facts::of(brief).map_err(NoProof::Beyond)?;
    let parts = match solved.ending {
        Ending::Stopped => return Err(NoProof::Stopped),
        Ending::Conflict => conflicts(brief, cores, stop)?,
        Ending::Found => vec![found(brief, solved, stop)?],
    };
    Ok(format!("{FIRST}\nbrief {digest:016x}\nparts {}\n{}", parts.len(), parts.concat()))
}

fn conflicts(brief: &Brief, cores: &[Vec<Demand>], stop: &Stop) -> Result<Vec<String>, NoProof> {
    let whole = [vec![]];
    let cores = if cores.is_empty() { &whole[..] } else { cores };
    let part = |core: &Vec<Demand>| {
        let open = of_core(brief, core);
        let facts = Facts::of(&open).map_err(NoProof::Beyond)?;
        let buts: Vec<String> = core.iter().filter_map(|one| but(brief, core, *one, stop)).collect();
        grown(&facts, &What::Nothing(core.clone()), (&[], &buts), (ALONE, stop))
    };
    cores.iter().map(part).collect()
}

/// A spec that keeps the others of a core.
fn but(brief: &Brief, core: &[Demand], demand: Demand, stop: &Stop) -> Option<String> {
    let open = of_core_but(brief, core, demand);
    let model = Model::new(&open);
    let objective = Objective::of(&model);
    let found = seek(&model, &objective, Quest::Any, None, Patience { stop, nodes: ANY });
    let entry = found.entries.first()?;
    let mut steps = vec![0; model.columns.len()];
    entry.set.iter().zip(&entry.units).for_each(|(column, units)| steps[*column] = units.round() as i64);
    Some(but_line(demand, &steps))
}

fn found(brief: &Brief, solved: &Solved, stop: &Stop) -> Result<String, NoProof> {
    let facts = Facts::of(brief).map_err(NoProof::Beyond)?;
    let steps: Option<Vec<Vec<i64>>> = solved.specs.iter().map(|spec| facts.steps(&spec.pours)).collect();
    let steps = steps.ok_or_else(|| not_found("a spec is not in whole steps"))?;
    if solved.complete {
        let all = grown(&facts, &What::Sets, (&steps, &[]), (SETS, stop));
        if all.is_ok() {
            return all;
        }
    }
    grown(&facts, &What::Best, (&steps[..1], &[]), (ALONE, stop))
}

fn not_found(why: &str) -> NoProof {
    NoProof::NotFound(why.to_owned())
}

/// One part of a proof.
fn grown(
    facts: &Facts,
    what: &What,
    (specs, buts): (&[Vec<i64>], &[String]),
    (most, stop): (usize, &Stop),
) -> Result<String, NoProof> {
    let picks = picks(facts.brief);
    let views = views(facts, &picks).ok_or_else(|| not_found("there is no such corner"))?;
    let Claim { cutoffs, .. } = claim(what.clone(), facts, &views, specs).map_err(not_found)?;
    let mut text = format!("{}\n", claim_line(what));
    for picks in &picks {
        let words: Vec<String> = picks.iter().map(ToString::to_string).collect();
        text.push_str(&format!("view {}\n", words.join(" ")));
    }
    text.push_str(&facts_text(facts, &views));
    specs.iter().for_each(|steps| text.push_str(&format!("{}\n", spec_line(steps))));
    buts.iter().for_each(|line| text.push_str(&format!("{line}\n")));
    let ground = Ground::new(facts, views, cutoffs).ok_or_else(|| not_found("figures are too large"))?;
    let tree = Grower::new(&ground, stop, most).grow().map_err(|ended| match ended {
        Ended::Tired => not_found("the tree became too large"),
        Ended::Left(steps) => NoProof::NotFound(format!("{} is left", spec_line(&steps))),
        Ended::Beyond => not_found("no lines hold"),
    })?;
    text.push_str("tree\n");
    tree.iter().for_each(|step: &Step| text.push_str(&format!("{step}\n")));
    text.push_str("end\n");
    Ok(text)
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

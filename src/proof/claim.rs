//! What a proof claims: of specs that stand in it that nothing is better by more than matters, or that nothing can be
//! poured. The specs are measured, and the cutoffs of the tree follow from them: a proof cannot choose its own.

use std::borrow::Cow;

use super::facts::{Facts, LOOSE};
use super::node::Cutoffs;
use super::point::Point;
use super::reader::{Reader, Refusal};
use super::text;
use crate::brief::edit::{Demand, without};
use crate::brief::{Brief, Pour};
use crate::liquid::Portion;

/// What is claimed.
#[derive(Debug, Clone, PartialEq)]
pub enum What {
    /// Nothing that can be poured is better than the first spec by more than matters.
    Best,
    /// The same of every spec among those of its set, and no other set comes before them by more than matters.
    Sets,
    /// These demands cannot be kept together; all of the brief's, where there are none.
    Nothing(Vec<Demand>),
}

/// A claim with the specs that bear it out.
#[derive(Debug, Clone, PartialEq)]
pub struct Claim {
    /// What is claimed.
    pub what: What,
    /// The scores of the specs, as they are at least; the lower the better.
    pub scores: Vec<f64>,
    /// What is poured of each.
    pub pours: Vec<Vec<Pour>>,
    /// What the tree has to show.
    pub cutoffs: Cutoffs,
    /// Of demands that cannot be kept together: specs show that without any one of them the rest can.
    pub irreducible: bool,
}

/// A part of a proof, before its specs are measured.
pub struct Section<'b> {
    /// What it claims.
    pub claim: What,
    /// The brief, or what is left of it without all but the demands of a conflict.
    pub brief: Cow<'b, Brief>,
}

/// The line that states a claim.
pub fn line(what: &What) -> String {
    match what {
        What::Best => "claim best".to_owned(),
        What::Sets => "claim sets".to_owned(),
        What::Nothing(core) => {
            let demands: String = core.iter().map(|one| format!(" {}", text::demand(*one))).collect();
            format!("claim nothing{demands}")
        }
    }
}

/// The brief with no more demands than those of a core.
pub fn of_core<'b>(brief: &'b Brief, core: &[Demand]) -> Cow<'b, Brief> {
    if core.is_empty() {
        return Cow::Borrowed(brief);
    }
    Cow::Owned(with_only(brief, |one| core.contains(&one)))
}

/// The brief with the demands of a core but one.
pub fn of_core_but(brief: &Brief, core: &[Demand], but: Demand) -> Brief {
    with_only(brief, |one| one != but && core.contains(&one))
}

fn with_only(brief: &Brief, kept: impl Fn(Demand) -> bool) -> Brief {
    let others: Vec<Demand> = Demand::all(brief).into_iter().filter(|one| !kept(*one)).collect();
    without(brief, &others)
}

/// Reads what a section claims.
pub(super) fn read<'b>(brief: &'b Brief, reader: &mut Reader) -> Result<Section<'b>, Refusal> {
    let Some(words) = reader.after("claim") else {
        reader.next()?;
        return Err(reader.refuse("a part begins with its claim"));
    };
    let claim = match words.split(' ').collect::<Vec<_>>()[..] {
        ["best"] => What::Best,
        ["sets"] => What::Sets,
        ["nothing", ref core @ ..] => {
            let all = Demand::all(brief);
            let named = |word: &&str| all.iter().copied().find(|one| text::demand(*one) == *word);
            let core: Option<Vec<Demand>> = core.iter().map(named).collect();
            What::Nothing(core.ok_or_else(|| reader.refuse("the brief has no such demand"))?)
        }
        _ => return Err(reader.refuse("nobody claims such a thing")),
    };
    let brief = match &claim {
        What::Nothing(core) => of_core(brief, core),
        _ => Cow::Borrowed(brief),
    };
    Ok(Section { claim, brief })
}

/// A spec as a line: the steps of what is poured.
pub fn spec(steps: &[i64]) -> String {
    let used = steps.iter().enumerate().filter(|(_, steps)| **steps != 0);
    format!("spec{}", used.map(|(column, steps)| format!(" {column}:{steps}")).collect::<String>())
}

/// A spec that keeps all of a core but one demand, as a line.
pub fn but(demand: Demand, steps: &[i64]) -> String {
    spec(steps).replacen("spec", &format!("but {}", text::demand(demand)), 1)
}

/// Measures the specs that keep all of a core but one demand; whether there is one a demand.
fn irreducible(what: &What, brief: &Brief, reader: &mut Reader) -> Result<bool, Refusal> {
    let What::Nothing(core) = what else { return Ok(false) };
    let mut left = core.clone();
    while let Some((word, words)) = reader.after("but").and_then(|line| line.split_once(' ')) {
        let named = core.iter().copied().find(|one| text::demand(*one) == word);
        let demand = named.ok_or_else(|| reader.refuse("it is none of these demands"))?;
        let open = of_core_but(brief, core, demand);
        let facts = Facts::of(&open).map_err(|what| reader.refuse(format!("nothing is proved of {what}")))?;
        let steps = steps(&facts, words).ok_or_else(|| reader.refuse("this is no spec of the brief"))?;
        if !holds(&facts, &steps).map_err(|what| reader.refuse(what))? {
            return Err(reader.refuse("it does not keep the rest"));
        }
        left.retain(|one| *one != demand);
    }
    Ok(left.is_empty() && !core.is_empty())
}

/// Compares the facts that a section states, reads its views and measures its specs.
pub(super) fn witnessed(
    what: What,
    (whole, facts): (&Brief, &Facts),
    reader: &mut Reader,
) -> Result<(Claim, Vec<Vec<Portion>>), Refusal> {
    let mut picks = vec![];
    while let Some(words) = reader.after("view") {
        let all: Option<Vec<usize>> = words.split(' ').map(|word| word.parse().ok()).collect();
        picks.push(all.ok_or_else(|| reader.refuse("a view names a corner of every ingredient"))?);
    }
    let views = views(facts, &picks).ok_or_else(|| reader.refuse("there is no such corner"))?;
    for line in text::facts(facts, &views).lines() {
        reader.expect(line, "the brief says otherwise")?;
    }
    let mut specs = vec![];
    while let Some(words) = reader.after("spec") {
        specs.push(steps(facts, words).ok_or_else(|| reader.refuse("this is no spec of the brief"))?);
    }
    let irreducible = irreducible(&what, whole, reader)?;
    reader.expect("tree", "a tree follows the specs")?;
    let claim = claim(what, facts, &views, &specs).map_err(|what| reader.refuse(what))?;
    Ok((Claim { irreducible, ..claim }, views))
}

fn steps(facts: &Facts, words: &str) -> Option<Vec<i64>> {
    let mut all = vec![0; facts.columns.len()];
    for word in words.split(' ') {
        let (column, steps) = word.split_once(':')?;
        *all.get_mut(column.parse::<usize>().ok()?)? = steps.parse().ok()?;
    }
    Some(all)
}

/// The typical compositions, then those of the corners that are named; nothing where there is no such corner.
pub fn views(facts: &Facts, picks: &[Vec<usize>]) -> Option<Vec<Vec<Portion>>> {
    let mut views = vec![facts.typical()];
    for picks in picks {
        let corner = |(column, pick): (usize, &usize)| facts.corners(column).get(*pick).copied();
        let all: Option<Vec<Portion>> = picks.iter().enumerate().map(corner).collect();
        views.push(all.filter(|all| all.len() == facts.columns.len())?);
    }
    Some(views)
}

/// What follows from specs that hold.
///
/// # Errors
/// Why they do not bear the claim.
pub fn claim(
    what: What,
    facts: &Facts,
    views: &[Vec<Portion>],
    specs: &[Vec<i64>],
) -> Result<Claim, &'static str> {
    if let What::Nothing(_) = what {
        return Ok(Claim {
            what,
            scores: vec![],
            pours: vec![],
            cutoffs: Cutoffs::NOTHING,
            irreducible: false,
        });
    }
    let mut sets: Vec<(Vec<usize>, f64)> = vec![];
    let mut scores = vec![];
    for steps in specs {
        if !holds(facts, steps)? {
            return Err("a spec breaks a limit or a rule of the brief");
        }
        let point = Point::new(facts, &views[0], steps);
        let score = point.score();
        if !(score.low.is_finite() && score.high - score.low <= LOOSE * (1.0 + score.low.abs())) {
            return Err("a spec has no score");
        }
        let set: Vec<usize> = (0..steps.len()).filter(|c| steps[*c] > 0).collect();
        if sets.iter().any(|(other, _)| *other == set) {
            return Err("two specs are of the same set");
        }
        scores.push(score.low);
        sets.push((set, cutoff(facts, score.low)));
    }
    let Some(first) = sets.first().map(|(_, cutoff)| *cutoff) else {
        return Err("no spec is claimed to be the best");
    };
    let cutoffs = match what {
        What::Best if specs.len() > 1 => return Err("more than one spec is claimed to be the best"),
        What::Best => Cutoffs { others: first, sets: vec![] },
        _ => Cutoffs { others: others(facts, &scores, &sets), sets },
    };
    let pours = specs.iter().map(|steps| facts.pours(steps)).collect();
    Ok(Claim { what, scores, pours, cutoffs, irreducible: false })
}

/// Whether a spec keeps the rules and the limits, at every corner where limits hold for all of them.
fn holds(facts: &Facts, steps: &[i64]) -> Result<bool, &'static str> {
    let kept = |portions: &Vec<Portion>| {
        let point = Point::new(facts, portions, steps);
        facts.limits.iter().all(|limit| point.keeps(limit))
    };
    Ok(rules_kept(facts, steps) && kept(&facts.typical()) && all_corners(facts, steps)?.iter().all(kept))
}

/// More corners than this are not looked at one by one.
const CORNERS: usize = 1 << 14;

/// Every combination of corners of what is poured; none where the typical compositions alone count.
fn all_corners(facts: &Facts, steps: &[i64]) -> Result<Vec<Vec<Portion>>, &'static str> {
    let mut all = vec![facts.typical()];
    for column in (0..steps.len()).filter(|c| steps[*c] > 0) {
        let corners = facts.corners(column);
        if all.len() * corners.len() > CORNERS {
            return Err("a spec has too many corners");
        }
        let with = |portions: &Vec<Portion>, corner: &Portion| {
            let mut portions = portions.clone();
            portions[column] = *corner;
            portions
        };
        all = all
            .iter()
            .flat_map(|portions| corners.iter().map(move |corner| with(portions, corner)))
            .collect();
    }
    Ok(all)
}

/// Nothing is better than a score by more than matters: under this.
fn cutoff(facts: &Facts, score: f64) -> f64 {
    score - facts.matters(score) - LOOSE * score.abs() - 1e-12
}

/// Under which no spec of a set that is not listed lies: where as many are listed as were wanted, what comes before the
/// last of them; else what is within the wanted share of the best, or anything.
fn others(facts: &Facts, scores: &[f64], sets: &[(Vec<usize>, f64)]) -> f64 {
    let answer = &facts.brief.answer;
    let least = scores.iter().copied().fold(f64::INFINITY, f64::min);
    if sets.len() > answer.alternatives {
        return sets.iter().map(|(_, cutoff)| *cutoff).fold(f64::NEG_INFINITY, f64::max);
    }
    answer.within.map_or(f64::INFINITY, |percent| {
        let best = least - facts.matters(least);
        cutoff(facts, best + percent / 100.0 * best.abs())
    })
}

/// Whether steps keep what can be counted: least and most, what is measured, what has to be used, groups and ratios.
fn rules_kept(facts: &Facts, steps: &[i64]) -> bool {
    let fits = |(column, steps): (&super::facts::Column, &i64)| match *steps {
        0 => !column.must,
        steps => (column.least..=column.most).contains(&steps) && column.below(steps) == steps,
    };
    let used = |group: &super::facts::Group| group.members.iter().filter(|c| steps[**c] > 0).count();
    let amount = |at: Option<usize>| at.map_or(0.0, |c| facts.columns[c].unit * steps[c] as f64);
    let ratio = |ratio: &super::facts::Ratio| {
        let at = super::rows::loosened(ratio.side, ratio.value);
        let (of, to) = (amount(ratio.of), amount(ratio.to));
        if ratio.side == crate::brief::Side::Min { of >= at * to } else { of <= at * to }
    };
    facts.columns.iter().zip(steps).all(fits)
        && facts.groups.iter().all(|group| (group.min..=group.max).contains(&used(group)))
        && facts.ratios.iter().all(ratio)
}

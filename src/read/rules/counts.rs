//! Can so many ingredients be used? What is provable without solving.

use crate::brief::{Brief, Choose};
use crate::quantity::Unit;
use crate::read::codes;
use crate::read::file::{self, At, File, listed};
use crate::read::findings::Findings;
use crate::read::shape::shown;

/// Checks usable candidates, `must`, `choose` and `proportion`.
pub fn check(file: &File, brief: &Brief, findings: &mut Findings) {
    usable(file, brief, findings);
    musts(file, brief, findings);
    choices(file, brief, findings);
    proportions(file, brief, findings);
}

fn usable(file: &File, brief: &Brief, findings: &mut Findings) {
    let Some(list) = file.candidate.as_ref() else { return };
    if brief.usable().next().is_none() && !findings.is_spoiled("candidate") {
        let place = list.value.first().map_or_else(|| list.place(), At::place);
        let what = if list.value.is_empty() { "there is no ingredient" } else { "every ingredient is out" };
        findings.error(codes::NO_CANDIDATES, place, what, "add a [[candidate]] that may be used");
    }
}

fn musts(file: &File, brief: &Brief, findings: &mut Findings) {
    let mut count = 0;
    for (written, candidate) in listed(file.candidate.as_ref()).iter().zip(&brief.candidates) {
        let (Some(must), true) = (&written.must, candidate.must) else { continue };
        count += usize::from(!candidate.out);
        if candidate.out {
            let what = format!("\"{}\" has to be used, and is out", shown(&candidate.name));
            findings.error(codes::MUST_AND_OUT, must.place(), what, "keep one of must and out");
        } else if brief.serve.most == Some(count - 1) {
            let what = format!("{count} ingredients have to be used, and at most {} may be", count - 1);
            findings.error(
                codes::TOO_MANY_MUSTS,
                must.place(),
                what,
                "raise most in [serve], or drop a must",
            );
        }
    }
}

fn choices(file: &File, brief: &Brief, findings: &mut Findings) {
    // Rules that could not be read are missing in the brief: their places would not match.
    let rules = listed(file.choose.as_ref());
    if rules.len() != brief.choose.len() {
        return;
    }
    for (rule, choose) in rules.iter().zip(&brief.choose) {
        let may = choose.members.iter().filter(|at| !brief.candidates[**at].out).count();
        let must = choose.members.iter().filter(|at| brief.candidates[**at].must).count();
        too_few(choose, may, rule.min.as_ref(), brief.serve.most, findings);
        if let Some(max) = rule.max.as_ref().filter(|max| max.value < must) {
            let what = format!(
                "at most {} of {} may be used, and {must} have to be",
                max.value,
                shown(&choose.label)
            );
            findings.error(codes::TOO_MANY_MUSTS, max.place(), what, "raise max, or drop a must");
        }
    }
    together(rules, brief, findings);
}

/// Groups that share no ingredient need as many as their mins together, and what has to be used
/// outside of them comes on top.
fn together(rules: &[At<file::Choose>], brief: &Brief, findings: &mut Findings) {
    let Some(most) = brief.serve.most else { return };
    let must = |at: &usize| brief.candidates[*at].must && !brief.candidates[*at].out;
    let musts = (0..brief.candidates.len()).filter(must).count();
    let mut counted: Vec<usize> = vec![];
    // How many more than what has to be used anyway.
    let mut further = 0;
    for (rule, choose) in rules.iter().zip(&brief.choose) {
        let Some(min) = &rule.min else { continue };
        // Of one group that alone needs too many, another finding tells.
        if min.value > most || choose.members.iter().any(|at| counted.contains(at)) {
            continue;
        }
        counted.extend(&choose.members);
        let before = musts + further;
        further += min.value.saturating_sub(choose.members.iter().filter(|at| must(at)).count());
        if before <= most && musts + further > most {
            let what = format!(
                "with this, at least {} ingredients have to be used, and at most {most} may be",
                musts + further
            );
            findings.error(codes::TOO_FEW, min.place(), what, "lower min, or raise most in [serve]");
        }
    }
}

fn too_few(
    choose: &Choose,
    may: usize,
    min: Option<&At<usize>>,
    most: Option<usize>,
    findings: &mut Findings,
) {
    let Some(min) = min else { return };
    let label = shown(&choose.label);
    if min.value > may && !findings.is_spoiled("candidate") {
        let what = format!("at least {} of {label} are asked for, and {may} may be used", min.value);
        findings.error(codes::TOO_FEW, min.place(), what, "lower min, or add ingredients");
    } else if most.is_some_and(|most| most < min.value) {
        let what = format!("at least {} of {label} are more than all ingredients together may be", min.value);
        findings.error(codes::TOO_FEW, min.place(), what, "lower min, or raise most in [serve]");
    }
}

fn proportions(file: &File, brief: &Brief, findings: &mut Findings) {
    let find = |name: &Option<At<String>>| name.as_ref().and_then(|n| brief.find(n));
    for rule in listed(file.proportion.as_ref()) {
        let (of, to) = (find(&rule.of), find(&rule.to));
        if of.is_some() && of == to {
            let what = "a ratio of an ingredient to itself is always 1";
            findings.error(codes::SAME_INGREDIENT, rule.place(), what, "name two different ingredients");
        }
        for name in [&rule.of, &rule.to].into_iter().flatten() {
            let candidate = brief.find(name).map(|at| &brief.candidates[at]);
            if candidate.is_some_and(|c| c.unit() == Unit::G) {
                let what = format!("\"{}\" is a powder, and proportions are by poured volume", shown(name));
                let help = "name two liquids; bound a powder by min and max";
                findings.error(codes::POWDER_BY_VOLUME, name.place(), what, help);
            }
        }
    }
}

//! What certainty costs and whose spread is to blame, against enumeration of the narrowed briefs.

use std::sync::atomic::{AtomicUsize, Ordering};

use washline::brief::{Brief, HoldFor, Natural, Pour, Range, serve_with};
use washline::explain::variation::certainty::{Certainty, Known, Narrow, certainty};
use washline::liquid::{Form, Label, Portion};
use washline::solve::{Spec, Stop, solve};

use crate::effort::one_in;
use crate::enumerator::enumerate;
use crate::exact::{over_both_cores, some};
use crate::worst::varied;

/// The halvings of the answer end within this share of a range.
const FINEST: f64 = 1.0 / 128.0;

/// The brief with the ranges of some candidates drawn towards their typical values.
fn narrow(brief: &Brief, candidates: &[usize], share: f64) -> Brief {
    let mut brief = brief.clone();
    for &at in candidates {
        let candidate = &mut brief.candidates[at];
        let to = |range: &mut Option<Range>, typical: f64| {
            if let Some(range) = range {
                range.min = typical - (typical - range.min) * share;
                range.max = typical + (range.max - typical) * share;
            }
        };
        let Natural { strength, sugar, acid } = &mut candidate.natural;
        to(strength, candidate.label.strength);
        to(sugar, candidate.label.sugar);
        to(acid, candidate.label.acid);
    }
    brief
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0)
}

/// The typical brief's best, and what it would bring to know one ingredient.
fn costs(brief: &Brief, best: &Spec, found: &Certainty) -> Result<(), String> {
    let mut typical = brief.clone();
    typical.variation.hold = HoldFor::Typical;
    let scores = [enumerate(&typical).first().map(|f| f.score), found.typical_score];
    if !matches!(scores, [Some(a), Some(b)] if same(a, b)) {
        return Err(format!("for the typical composition: {scores:?}"));
    }
    for pour in &best.pours {
        let score = enumerate(&narrow(brief, &[pour.candidate], 0.0)).first().map(|f| f.score);
        let told = found
            .known
            .iter()
            .find(|k| k.ingredient == brief.candidates[pour.candidate].name)
            .map(|k| k.score);
        let better = score.filter(|s| !same(*s, best.score));
        match (better, told) {
            (None, None) => {}
            (Some(a), Some(b)) if same(a, b) => {}
            other => return Err(format!("knowing {}: {other:?}", pour.candidate)),
        }
    }
    let gain = |known: &Known| (known.score - best.score).abs();
    if !found.known.is_sorted_by(|a, b| gain(a) >= gain(b)) {
        return Err(format!("not the most first: {:?}", found.known));
    }
    Ok(())
}

/// Every combination of the corners of what is poured.
fn corners(brief: &Brief, pours: &[Pour]) -> Vec<Vec<(usize, Portion)>> {
    pours.iter().fold(vec![vec![]], |all, pour| {
        let candidate = &brief.candidates[pour.candidate];
        let (label, natural) = (candidate.label, candidate.natural);
        let ends = |range: Option<Range>, typical: f64| range.map_or(vec![typical], |r| vec![r.min, r.max]);
        let mut next = vec![];
        for strength in ends(natural.strength, label.strength) {
            for sugar in ends(natural.sugar, label.sugar) {
                for acid in ends(natural.acid, label.acid) {
                    let portion = Label { strength, sugar, acid, ..label }.portion().expect("a liquid");
                    next.extend(all.iter().map(|one| {
                        let mut one: Vec<(usize, Portion)> = one.clone();
                        one.push((pour.candidate, portion));
                        one
                    }));
                }
            }
        }
        next
    })
}

/// Every target lies where its corners put it.
fn reach(brief: &Brief, best: &Spec, found: &Certainty) -> Result<(), String> {
    let served: Vec<_> = corners(brief, &best.pours)
        .iter()
        .map(|corner| {
            serve_with(brief, &best.pours, |at| {
                corner.iter().find(|(c, _)| *c == at).map_or(&brief.candidates[at].portion, |(_, p)| p)
            })
        })
        .collect();
    if let Some(target) = brief.targets.iter().find(|t| found.reach.iter().all(|r| r.measure != t.measure)) {
        return Err(format!("no reach of {target:?}"));
    }
    for reach in &found.reach {
        let values = || served.iter().map(|s| s.value(reach.measure));
        let (min, max) = (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max));
        if values().all(f64::is_finite) && !(same(min, reach.min) && same(max, reach.max)) {
            return Err(format!("{reach:?}, and not {min} to {max}"));
        }
    }
    Ok(())
}

/// The ranges of some candidates, and those drawn towards their typical values.
fn ranges(brief: &Brief, candidates: &[usize], share: f64) -> Vec<Narrow> {
    let narrowed = narrow(brief, candidates, share);
    let of = |at: usize| {
        let candidate = &brief.candidates[at];
        let (now, then) = (candidate.natural, narrowed.candidates[at].natural);
        let content = if candidate.label.form == Form::Powder { "g/kg" } else { "g/L" };
        [
            ("strength", "% vol", now.strength, then.strength),
            ("sugar", content, now.sugar, then.sugar),
            ("acid", content, now.acid, then.acid),
        ]
        .into_iter()
        .filter_map(move |(figure, unit, now, range)| {
            let (now, range) = now.zip(range).filter(|(now, _)| now.max > now.min)?;
            let [now, needed] = [now, range].map(|range| [range.min, range.max]);
            Some(Narrow { ingredient: candidate.name.clone(), figure, unit, now, needed })
        })
    };
    candidates.iter().flat_map(|at| of(*at)).collect()
}

/// The share that is named does, one a little greater does not, and nobody is named in vain.
fn blame(brief: &Brief, found: &Certainty) -> Result<(), String> {
    let can = |candidates: &[usize], share: f64| !enumerate(&narrow(brief, candidates, share)).is_empty();
    if found.blame.is_empty() {
        return Err("nobody is to blame".to_owned());
    }
    for blame in &found.blame {
        let candidates: Vec<usize> = blame.ingredients.iter().filter_map(|name| brief.find(name)).collect();
        if blame.ranges != ranges(brief, &candidates, blame.share) {
            return Err(format!("{blame:?}: these are not its ranges"));
        }
        if !can(&candidates, blame.share) || can(&candidates, blame.share + FINEST) {
            return Err(format!("{blame:?} is no limit"));
        }
        for left in &candidates {
            let others: Vec<usize> = candidates.iter().copied().filter(|c| c != left).collect();
            if !others.is_empty() && can(&others, 0.0) {
                return Err(format!("{left} is named in vain in {blame:?}"));
            }
        }
    }
    let alone: Vec<&str> =
        brief.usable().filter(|at| can(&[*at], 0.0)).map(|at| brief.candidates[at].name.as_str()).collect();
    let named: Vec<&str> =
        found.blame.iter().filter(|b| b.ingredients.len() == 1).map(|b| b.ingredients[0].as_str()).collect();
    if alone == named { Ok(()) } else { Err(format!("{alone:?} each would do alone, and not {named:?}")) }
}

#[test]
fn certainty_agrees_with_enumeration() {
    let (costly, blamed) = (AtomicUsize::new(0), AtomicUsize::new(0));
    over_both_cores(some(3000..3060, 6), |seed| {
        let brief = varied(seed);
        let solved = solve(&brief, &Stop::default());
        let found = certainty(&brief, &solved, &Stop::default()).expect("the worst case was asked for");
        match solved.specs.first() {
            Some(best) => {
                costly.fetch_add(usize::from(!found.known.is_empty()), Ordering::Relaxed);
                costs(&brief, best, &found)?;
                reach(&brief, best, &found)
            }
            None if found.typical_score.is_some() => {
                blamed.fetch_add(1, Ordering::Relaxed);
                blame(&brief, &found)
            }
            None => Ok(()),
        }
    });
    let (costly, blamed) = (costly.into_inner(), blamed.into_inner());
    let of = one_in(6);
    assert!(
        costly * of >= 5 && blamed * of >= 5,
        "certainty costs in {costly} briefs, and is out of reach in {blamed}"
    );
}

/// By hand: 30 ml of gin of 38 to 42 % vol bring 0.6 % vol more or less into 100 ml, 50 ml of wine of 16 to 20 % vol bring
/// one; allowed are 0.3. To know either alone is not enough, and the syrup has nothing to do with it.
#[test]
fn where_nobody_alone_is_to_blame_as_few_as_are_together_are_named() {
    let of = |name: &str, figure: &str, ml: u32| {
        format!(
            "[[candidate]]\nname = \"{name}\"\nrole = \"modifier\"\n{figure}\nmust = true\nmin = \"{ml} ml\"\nmax = \"{ml} ml\"\n"
        )
    };
    let text = format!(
        "[serve]\nmethod = \"none\"\npour = \"10 ml\"\n[variation]\nhold = \"worst\"\n\
         [targets]\nvolume = {{ min = 95, max = 105 }}\nstrength = {{ min = 20.6, max = 21.2 }}\n\
         [aim]\nto = 0\nlowest = \"strength\"\n{}{}{}{}",
        of("gin", "strength = { typical = 40, min = 38, max = 42 }", 30),
        of("syrup", "sugar = { typical = 620, min = 600, max = 640 }", 10),
        of("wine", "strength = { typical = 18, min = 16, max = 20 }", 50),
        of("water", "", 10)
    );
    let brief = washline::read::read(text.as_bytes(), &[]).unwrap_or_else(|f| panic!("{f:#?}")).brief;
    let solved = solve(&brief, &Stop::default());
    let found = certainty(&brief, &solved, &Stop::default()).expect("the worst case was asked for");
    let named: Vec<&[String]> = found.blame.iter().map(|b| b.ingredients.as_slice()).collect();
    assert_eq!(named, [["gin", "wine"]], "{found:#?}");
    blame(&brief, &found).expect("a share that does, and no greater one");
}

//! Two halves make a whole: the best spec of a brief is the better one of the two that follow from a cut
//! through a range, or from asking for an ingredient and leaving it out. And a limit that is loosened, or
//! a double of what is there, never makes the best spec worse. On files with every feature, and on shelves
//! that are too large to enumerate.

use std::ops::Range;

use washline::brief::{Aim, Brief, HoldFor, Measure, Nearest, Target};
use washline::read::read;
use washline::solve::{Ending, Stop, solve};

use crate::exact::{over_both_cores, some};
use crate::files::file;
use crate::shelf::shelf;

/// Relative difference of two scores that are the same.
const SAME: f64 = 1e-9;

/// The brief of a seed: every third is a shelf.
fn brief(seed: u64) -> Brief {
    let mut brief = if seed.is_multiple_of(3) {
        shelf(12 + (seed % 7) as usize, seed).brief()
    } else {
        read(file(seed).as_bytes(), &[]).expect("a brief").brief
    };
    brief.answer.alternatives = 0;
    brief
}

/// The best score, lower is better; infinite where there is none.
fn best(brief: &Brief) -> Result<f64, String> {
    let solved = solve(brief, &Stop::default());
    let score = match solved.ending {
        Ending::Stopped => return Err("a search without a limit was stopped".to_owned()),
        Ending::Conflict => return Ok(f64::INFINITY),
        Ending::Found => solved.specs.first().ok_or("found, but no spec")?.score,
    };
    Ok(if matches!(brief.aim, Aim::Highest(_)) { -score } else { score })
}

fn same(a: f64, b: f64) -> bool {
    a == b || (a - b).abs() <= SAME * a.abs().max(b.abs()).max(1e-3)
}

/// `whole` is the lower of the halves.
fn halves(what: &str, whole: f64, halves: [Result<f64, String>; 2]) -> Result<(), String> {
    let [first, second] = halves;
    let (first, second) = (first?, second?);
    if same(whole, first.min(second)) {
        return Ok(());
    }
    Err(format!("{what}: {whole} as a whole, {first} and {second} in halves"))
}

/// Of which briefs something holds.
#[derive(Clone, Copy, PartialEq)]
enum Of {
    All,
    /// Those whose aim stays where it is when a limit moves: not the distance from the middles.
    FixedAims,
}

/// Asks of every seed's brief, or of one in `share`, what must hold of it and of its best score.
fn ask(
    seeds: Range<u64>,
    share: usize,
    of: Of,
    holds: impl Fn(u64, &Brief, f64) -> Result<(), String> + Sync,
) {
    over_both_cores(some(seeds, share), |seed| {
        let brief = brief(seed);
        if of == Of::FixedAims && matches!(brief.aim, Aim::Nearest(Nearest::Middle)) {
            return Ok(());
        }
        holds(seed, &brief, best(&brief)?)
    });
}

/// Every two-sided range, cut in its middle.
#[test]
fn the_better_half_of_a_range_is_the_whole() {
    ask(20_000..20_120, 4, Of::FixedAims, |_, brief, whole| {
        for (at, target) in brief.targets.iter().enumerate() {
            let Some((min, max)) = target.min.zip(target.max).filter(|(min, max)| min < max) else {
                continue;
            };
            let middle = f64::midpoint(min, max);
            let half = |min, max| {
                let mut half = brief.clone();
                half.targets[at] = Target { min: Some(min), max: Some(max), ..*target };
                // Under the worst case a spec may reach over the cut: then no half has it.
                best(&half)
            };
            let both = [half(min, middle), half(middle, max)];
            if brief.variation.hold == HoldFor::Worst {
                let [first, second] = both;
                let better = first?.min(second?);
                if better < whole && !same(better, whole) {
                    return Err(format!("{:?}: {whole} as a whole, {better} in a half", target.measure));
                }
            } else {
                halves(&format!("{:?}", target.measure), whole, both)?;
            }
        }
        Ok(())
    });
}

/// Every ingredient, asked for and left out.
#[test]
fn with_and_without_an_ingredient_is_the_whole() {
    ask(21_000..21_120, 8, Of::All, |_, brief, whole| {
        let free = |at: &usize| !brief.candidates[*at].out && !brief.candidates[*at].must;
        for at in (0..brief.candidates.len()).filter(free) {
            let (mut with, mut without) = (brief.clone(), brief.clone());
            with.candidates[at].must = true;
            without.candidates[at].out = true;
            halves(&brief.candidates[at].name, whole, [best(&with), best(&without)])?;
        }
        Ok(())
    });
}

/// A range written as two targets, one for each side.
#[test]
fn a_range_may_be_stated_in_two_pieces() {
    ask(22_000..22_090, 4, Of::FixedAims, |_, brief, whole| {
        let mut split = brief.clone();
        split.targets = brief
            .targets
            .iter()
            .flat_map(|t| [Target { max: None, ..*t }, Target { min: None, ..*t }])
            .filter(|t| t.min.is_some() || t.max.is_some())
            .collect();
        let pieces = best(&split)?;
        if same(whole, pieces) { Ok(()) } else { Err(format!("{whole} whole, {pieces} in pieces")) }
    });
}

/// A second bottle of the same thing under another name, where nothing counts bottles.
#[test]
fn a_double_never_makes_it_worse() {
    ask(23_000..23_090, 4, Of::All, |seed, brief, whole| {
        let mut more = brief.clone();
        let at = seed as usize % brief.candidates.len();
        let mut double = brief.candidates[at].clone();
        "another ".clone_into(&mut double.name);
        double.name += &brief.candidates[at].name;
        double.must = false;
        more.candidates.push(double);
        let doubled = best(&more)?;
        if doubled <= whole || same(doubled, whole) {
            Ok(())
        } else {
            Err(format!("{whole}, then {doubled}"))
        }
    });
}

/// Every limit a little looser: never worse; a little tighter: never better.
#[test]
fn looser_is_never_worse_and_tighter_never_better() {
    ask(24_000..24_090, 4, Of::FixedAims, |_, brief, whole| {
        let moved = |by: f64| {
            let mut moved = brief.clone();
            for target in &mut moved.targets {
                target.min = target.min.map(|min| min - by * min.abs());
                target.max = target.max.map(|max| max + by * max.abs());
            }
            best(&moved)
        };
        let (looser, tighter) = (moved(0.03)?, moved(-0.003)?);
        if (looser > whole && !same(looser, whole)) || (tighter < whole && !same(tighter, whole)) {
            return Err(format!("{whole}; looser {looser}, tighter {tighter}"));
        }
        Ok(())
    });
}

/// The measures of the cuts above: were there ranges at all?
#[test]
fn there_is_something_to_cut() {
    let two_sided = |t: &Target| t.measure != Measure::Volume && t.min < t.max && t.min.is_some();
    let cut = (20_000..20_120).filter(|seed| brief(*seed).targets.iter().any(two_sided)).count();
    assert!(cut >= 60, "{cut} of 120 briefs have a range besides their volume");
}

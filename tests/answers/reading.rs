//! The reader against the generator: the same brief, once as a file and once made directly.

use washline::brief::{Brief, Candidate};
use washline::read::read;

use crate::briefs::{Aims, seeded};
use crate::exact::over_both_cores;
use crate::plan::Plan;
use crate::shelf::shelf;

#[test]
fn a_file_reads_as_the_brief_that_was_meant() {
    over_both_cores(0..200, |seed| same(&seeded(seed, Aims::Plain)));
    over_both_cores(0..100, |seed| same(&seeded(seed, Aims::Nearest)));
    over_both_cores(0..100, |seed| same(&seeded(seed, Aims::Notes)));
    over_both_cores(0..4, |seed| same(&shelf(60, seed)));
}

fn same(plan: &Plan) -> Result<(), String> {
    let text = plan.toml();
    let read = read(text.as_bytes(), &[]).map_err(|findings| format!("{findings:#?}\n{text}"))?.brief;
    let meant = plan.brief();
    let (left, right) = (without_candidates(&read), without_candidates(&meant));
    if left != right {
        let (left, right) = (format!("{left:#?}"), format!("{right:#?}"));
        let lines = left.lines().zip(right.lines()).filter(|(a, b)| a != b);
        let lines: Vec<String> = lines.map(|(a, b)| format!("{a} is not {b}")).collect();
        return Err(format!("{}\n{text}", lines.join("\n")));
    }
    if read.candidates.len() != meant.candidates.len() {
        return Err(format!("{} candidates\n{text}", read.candidates.len()));
    }
    for (read, meant) in read.candidates.iter().zip(&meant.candidates) {
        if !alike(read, meant) {
            return Err(format!("read {read:#?}\nmeant {meant:#?}"));
        }
    }
    Ok(())
}

/// All but the candidates, and the words for groups, which are the reader's own; targets and
/// what is held in the order in which they are shown.
fn without_candidates(brief: &Brief) -> Brief {
    let mut rest = Brief { candidates: vec![], ..brief.clone() };
    rest.targets.sort_by_key(|t| t.measure);
    rest.hold.sort_by_key(|h| h.measure);
    for choose in &mut rest.choose {
        choose.label.clear();
    }
    rest
}

/// What decides; amounts and costs to within the rounding of one operation.
fn alike(a: &Candidate, b: &Candidate) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-12 * a.abs().max(b.abs());
    let both = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => near(a, b),
        (None, None) => true,
        _ => false,
    };
    a.name == b.name
        && a.role == b.role
        && a.label == b.label
        && a.portion == b.portion
        && a.carries == b.carries
        && a.yielded == b.yielded
        && both(a.cost_per_unit, b.cost_per_unit)
        && a.step == b.step
        && near(a.least, b.least)
        && both(a.most, b.most)
        && (a.must, a.out) == (b.must, b.out)
        && a.notes == b.notes
}

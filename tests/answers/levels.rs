//! What the enumerator goes through for one candidate: its amounts, and the corners of its composition.

use washline::brief::{Brief, Candidate, HoldFor, Origin, Range, Step};
use washline::liquid::Label;

use crate::enumerator::WITHIN;
use crate::glass::{Contents, contents};

/// What can be measured from `least` to `most`, one after another: whole steps, or every sum of the sizes of
/// jiggers, found by pouring one more of each.
pub fn amounts(step: &Step, least: f64, most: f64) -> Vec<f64> {
    let sizes: Vec<f64> = match step {
        Step::Every(step) => vec![*step],
        Step::Jigger(jigger) => jigger.sizes().collect(),
        Step::Free => panic!("free pours cannot be enumerated"),
    };
    let mut sums: Vec<f64> = vec![0.0];
    for size in sizes {
        for from in sums.clone() {
            let more = (1..).map(|times| from + f64::from(times) * size);
            sums.extend(more.take_while(|sum| *sum <= most * (1.0 + WITHIN)));
        }
    }
    sums.retain(|sum| *sum > 0.0 && *sum >= least * (1.0 - WITHIN));
    sums.sort_by(f64::total_cmp);
    sums.dedup_by(|a, b| (*a - *b).abs() <= 1e-6);
    sums
}

/// What a unit brings at every corner of the natural ranges.
pub fn corners(brief: &Brief, candidate: &Candidate) -> Vec<Contents> {
    if brief.variation.hold != HoldFor::Worst {
        return vec![];
    }
    let ends = |range: Option<Range>, typical: f64| range.map_or(vec![typical], |r| vec![r.min, r.max]);
    let (natural, label) = (candidate.natural, candidate.label);
    let mut all = vec![];
    for strength in ends(natural.strength, label.strength) {
        for sugar in ends(natural.sugar, label.sugar) {
            for acid in ends(natural.acid, label.acid) {
                // A corner of what is made in house is a label, too.
                let corner = Label { strength, sugar, acid, ..label };
                let origin = if corner == label { candidate.origin.clone() } else { Origin::Brief };
                all.push(contents(&Candidate { label: corner, origin, ..candidate.clone() }));
            }
        }
    }
    all
}

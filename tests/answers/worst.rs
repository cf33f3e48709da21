//! `hold = "worst"`: the search against enumeration in which every spec is filled once for every
//! combination of the corners of its ingredients' natural ranges.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use washline::brief::{Brief, HoldFor, Range};
use washline::liquid::Form;
use washline::solve::{Stop, solve};

use crate::briefs::{Aims, seeded};
use crate::enumerator::enumerate;
use crate::exact::{compare, over_both_cores};

/// A seeded brief whose liquids vary: two or three of them, by up to a tenth in one or two figures.
pub fn varied(seed: u64) -> Brief {
    let aims = if seed.is_multiple_of(3) { Aims::Nearest } else { Aims::Plain };
    let mut brief = seeded(seed, aims).brief();
    let mut rng = Pcg64Mcg::seed_from_u64(seed ^ 0x5eed);
    brief.variation.hold = HoldFor::Worst;
    let mut range = |typical: f64, most: f64| {
        let by = typical * rng.random_range(0.0..0.1);
        rng.random_bool(0.6).then(|| Range { min: typical - by, max: (typical + by).min(most) })
    };
    for candidate in brief.candidates.iter_mut().filter(|c| c.label.form == Form::Liquid).take(3) {
        candidate.natural.strength = range(candidate.label.strength, 90.0);
        candidate.natural.sugar = range(candidate.label.sugar, 860.0);
        candidate.natural.acid = range(candidate.label.acid, 200.0);
    }
    brief
}

/// 150 briefs, about half of which can still be met.
#[test]
fn the_worst_case_agrees_with_every_corner() {
    let met = std::sync::atomic::AtomicUsize::new(0);
    over_both_cores(3000..3150, |seed| {
        let brief = varied(seed);
        let found = enumerate(&brief);
        if !found.is_empty() {
            met.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
        }
        compare(&brief, &solve(&brief, &Stop::default()), &found)
    });
    let met = met.into_inner();
    assert!((40..150).contains(&met), "{met} of 150 can be met: the briefs ask for too little or too much");
}

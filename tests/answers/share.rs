//! `hold = { share = … }`: the search against enumeration, in which every spec that meets the brief is
//! served and counted.

use std::sync::atomic::{AtomicUsize, Ordering};

use rand::SeedableRng;
use rand::seq::IndexedRandom;
use rand_pcg::Pcg64Mcg;
use washline::brief::{Brief, HoldFor};
use washline::solve::{Stop, solve};

use crate::briefs::{Aims, seeded};
use crate::enumerator::enumerate;
use crate::exact::{compare, over_both_cores};
use crate::worst::vary;

/// A seeded brief that has to hold in a share of its serves; its liquids vary, and the hand is off.
fn varied(seed: u64) -> Brief {
    let aims = if seed.is_multiple_of(3) { Aims::Nearest } else { Aims::Plain };
    let mut brief = seeded(seed, aims).brief();
    let mut rng = Pcg64Mcg::seed_from_u64(seed ^ 0x5e12);
    let share = *[0.2, 0.4, 0.6, 0.8, 0.9, 0.95, 0.99].choose(&mut rng).expect("a share");
    brief.variation.hold = HoldFor::Share(share);
    brief.variation.pour_error = Some(*[0.1, 0.3, 0.6, 1.0].choose(&mut rng).expect("an error"));
    brief.variation.bar_step = Some(5.0);
    vary(&mut brief, &mut rng, 0.5);
    brief
}

/// 80 briefs, about a third of which can be met: the best, the alternatives, their order and the proof.
#[test]
fn a_share_agrees_with_serving_every_spec() {
    let (met, several) = (AtomicUsize::new(0), AtomicUsize::new(0));
    over_both_cores(5000..5080, |seed| {
        let brief = varied(seed);
        let found = enumerate(&brief);
        met.fetch_add(usize::from(!found.is_empty()), Ordering::Relaxed);
        several.fetch_add(usize::from(found.len() > 1), Ordering::Relaxed);
        compare(&brief, &solve(&brief, &Stop::default()), &found)
    });
    let (met, several) = (met.into_inner(), several.into_inner());
    assert!((16..74).contains(&met) && several >= 8, "{met} of 80 can be met, {several} in several ways");
}

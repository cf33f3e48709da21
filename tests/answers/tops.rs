//! What tops a drink up does not meet the ice that shakes it: the search against enumeration with a
//! second physics, briefs with toppers in them.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use washline::brief::{Brief, HoldFor};
use washline::liquid::{Form, Method, Stage};
use washline::solve::{Stop, solve};

use crate::briefs::{Aims, seeded_with};
use crate::enumerator::enumerate;
use crate::exact::{compare, over_both_cores};
use crate::plan::Plan;
use crate::worst::vary;

/// A seeded brief of a drink that is shaken or stirred, one to all of its liquids poured on top.
fn topped(seed: u64) -> Plan {
    let aims = if seed.is_multiple_of(3) { Aims::Nearest } else { Aims::Plain };
    let mut rng = Pcg64Mcg::seed_from_u64(seed ^ 0x70b5);
    seeded_with(seed, aims, |plan| {
        if !matches!(plan.method, Method::Shake | Method::Stir | Method::Blend) {
            (plan.method, plan.melt) = (Method::Shake, None);
        }
        let chance = rng.random_range(0.2..0.8);
        for item in plan.items.iter_mut().filter(|item| item.label.form == Form::Liquid) {
            if rng.random_bool(chance) {
                item.label.stage = Stage::Topped;
            }
        }
    })
}

/// The same, to hold for every composition of the first liquids.
fn worst(seed: u64) -> Brief {
    let mut brief = topped(seed).brief();
    brief.variation.hold = HoldFor::Worst;
    vary(&mut brief, &mut Pcg64Mcg::seed_from_u64(seed ^ 0x5eed), 0.6);
    brief
}

fn agrees(brief: &Brief) -> Result<(), String> {
    compare(brief, &solve(brief, &Stop::default()), &enumerate(brief))
}

#[test]
fn topped_drinks_agree_with_enumeration() {
    over_both_cores(7000..7060, |seed| agrees(&topped(seed).brief()));
}

#[test]
fn topped_drinks_at_their_worst_agree_with_enumeration() {
    over_both_cores(7400..7420, |seed| agrees(&worst(seed)));
}

#[test]
#[ignore = "minutes"]
fn many_more_topped_drinks_agree_with_enumeration() {
    over_both_cores(7000..7400, |seed| agrees(&topped(seed).brief()));
    over_both_cores(7400..7500, |seed| agrees(&worst(seed)));
}

//! Drinks that are served on ice: the search against enumeration with a second balance of heat, found by
//! bisection; temperatures from a freezer to hot, toppers, crushed ice, glasses that the ice shares.

use rand::seq::IndexedRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use washline::brief::{Brief, GlassIce, HoldFor};
use washline::liquid::ice::{Balance, Strained};
use washline::liquid::{Dilution, Form, Method, Stage};
use washline::solve::{Stop, solve};

use crate::briefs::{Aims, seeded_with};
use crate::effort::one_in;
use crate::enumerator::{enumerate, judge};
use crate::exact::{compare, over_both_cores, some};
use crate::glass;
use crate::worst::vary;

/// Temperatures of a bar: freezer, fridge, shelf, and something hot.
const TEMPERATURES: [f64; 6] = [-18.0, 2.0, 5.0, 5.0, 20.0, 60.0];

/// A seeded brief of a drink on ice: half of them shaken or stirred before it.
pub fn on_ice(seed: u64) -> Brief {
    let aims = if seed.is_multiple_of(3) { Aims::Nearest } else { Aims::Plain };
    let mut rng = Pcg64Mcg::seed_from_u64(seed ^ 0x1ce);
    let method = *[Method::Shake, Method::Stir, Method::Build, Method::None].choose(&mut rng).expect("one");
    let works = matches!(method, Method::Shake | Method::Stir);
    let plan = seeded_with(seed, aims, |plan| {
        (plan.method, plan.melt) = (method, None);
        for item in &mut plan.items {
            let tops = works && item.label.form == Form::Liquid && rng.random_bool(0.4);
            item.label.stage = if tops { Stage::Topped } else { Stage::Made };
            item.label.temperature = *TEMPERATURES.choose(&mut rng).expect("one");
        }
    });
    let mut brief = plan.brief();
    let balance = Balance { crushed: rng.random_bool(0.3), strained: Strained::of(method), more: 0.0 };
    if method == Method::Build {
        (brief.serve.dilution, brief.serve.spread) = (Dilution::Share(0.0), 0.0);
    }
    let mass = f64::from(rng.random_range(40..=120));
    brief.serve.ice = Some(GlassIce { mass, crushed: balance.crushed, balance: Some(balance) });
    if let Some(glass) = &mut brief.serve.glass {
        glass.ice = mass / 0.9167;
        glass.brim += glass.ice;
    }
    measured_anew(&mut brief, &mut rng);
    brief
}

/// The targets are laid around a drink without ice in its glass: they are moved by what the ice does to it.
fn measured_anew(brief: &mut Brief, rng: &mut Pcg64Mcg) {
    let amounts: Vec<(usize, f64)> = brief
        .usable()
        .map(|at| (at, brief.candidates[at].least * f64::from(rng.random_range(1..=2))))
        .collect();
    let with = glass::measure(brief, amounts.iter().copied());
    let mut dry = brief.clone();
    dry.serve.ice = None;
    if dry.serve.method == Method::Build {
        dry.serve.dilution = Dilution::Share(0.24);
    }
    let without = glass::measure(&dry, amounts.iter().copied());
    let targets: Vec<_> = brief
        .targets
        .iter()
        .map(|target| {
            let (now, then) = (with.value(brief, target.measure), without.value(&dry, target.measure));
            let factor = if now > 0.0 && then > 0.0 { now / then } else { 1.0 };
            let mut target = *target;
            target.min = target.min.map(|min| (min * factor * 1e4).round() / 1e4);
            target.max = target.max.map(|max| (max * factor * 1e4).round() / 1e4);
            target
        })
        .collect();
    brief.targets = targets;
}

fn worst(seed: u64) -> Brief {
    let mut brief = on_ice(seed);
    brief.variation.hold = HoldFor::Worst;
    vary(&mut brief, &mut Pcg64Mcg::seed_from_u64(seed ^ 0x5eed), 0.6);
    brief
}

fn agrees(brief: &Brief) -> Result<(), String> {
    let found = enumerate(brief);
    if let Some(best) = found.first() {
        judge(brief, &best.pours)?;
    }
    compare(brief, &solve(brief, &Stop::default()), &found)
}

#[test]
fn drinks_on_ice_agree_with_enumeration() {
    let met = std::sync::atomic::AtomicUsize::new(0);
    over_both_cores(some(8000..8060, 4), |seed| {
        let brief = on_ice(seed);
        met.fetch_add(usize::from(!enumerate(&brief).is_empty()), std::sync::atomic::Ordering::Relaxed);
        agrees(&brief)
    });
    let met = met.into_inner() * one_in(4);
    assert!((15..60).contains(&met), "{met} of 60 can be met: the briefs ask for too little or too much");
}

#[test]
fn drinks_on_ice_at_their_worst_agree_with_enumeration() {
    over_both_cores(some(8400..8420, 10), |seed| agrees(&worst(seed)));
}

#[test]
#[ignore = "minutes"]
fn many_more_drinks_on_ice_agree_with_enumeration() {
    over_both_cores(8000..8400, |seed| agrees(&on_ice(seed)));
    over_both_cores(8400..8500, |seed| agrees(&worst(seed)));
}

//! The service check against closed forms: where one thing varies, the share is a known probability.
//!
//! Probabilities are computed with `libm`'s error function, which shares nothing with the simulation.
//! A count of n serves of probability p is within four standard deviations of p, √(p(1-p)/n) each,
//! in all but 6 of 100,000 cases; the random numbers are fixed, so what passes once always passes.

use std::num::NonZeroUsize;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use washline::brief::{Brief, JIGGER, Measure, Natural, Pour, PourError, Poured, Range, Role};
use washline::explain::variation::{Service, service, service_on};
use washline::liquid::{Form, Label, Method};
use washline::simulate::{Cause, SERVES};

use crate::briefs::{Aims, seeded};
use crate::glass::{measure, melt_share};
use crate::plan::{Item, Plan};

/// P(X ≤ x) of a normal variable of mean 0 and standard deviation 1: (1 + erf(x/√2)) / 2.
pub fn normal(x: f64) -> f64 {
    0.5 * (1.0 + libm::erf(x / std::f64::consts::SQRT_2))
}

#[track_caller]
pub fn close(found: f64, probability: f64) {
    let deviation = (probability * (1.0 - probability) / SERVES as f64).sqrt();
    assert!((found - probability).abs() <= 4.0 * deviation, "{found} is not {probability} ± {deviation}");
}

/// Pours off by so many ml, whatever the amount.
pub fn off(ml: f64) -> Poured {
    Poured::Stated(PourError::fixed(ml))
}

/// One liquid without ice, of this label and these ranges, poured with this error.
fn one(label: Label, natural: Natural, error: f64, plan: impl Fn(Plan) -> Plan) -> Brief {
    let mut brief = plan(Plan::of(vec![Item::liquid("a liquid", Role::Base, label, 1000)])).brief();
    brief.candidates[0].natural = natural;
    brief.variation.pour_error = Some(off(error));
    brief
}

fn poured(brief: &Brief, amount: f64) -> Service {
    service(brief, &[Pour { candidate: 0, amount }])
}

fn share(service: &Service, measure: Measure) -> f64 {
    service.targets.iter().find(|t| t.measure == measure).expect("a target").within
}

/// A liquid alone fills what is poured of it: the volume is N(50, 1.5²) ml, so that 48 to 51.5 ml holds
/// with Φ(1) - Φ(-4/3).
#[test]
fn the_hand_alone_is_a_normal_probability() {
    let brief = one(Label::default(), Natural::default(), 1.5, |p| p.with(Measure::Volume, 48.0, 51.5));
    let service = poured(&brief, 50.0);
    close(service.within_all.found, normal(1.0) - normal(-4.0 / 3.0));
    let brief = one(Label::default(), Natural::default(), 1.5, |p| p.with(Measure::Volume, None, 52.5));
    close(poured(&brief, 50.0).within_all.found, normal(5.0 / 3.0));
}

/// What is poured is never less than nothing: a pour of 1 ± 2 ml is nothing with Φ(-1/2).
#[test]
fn nobody_pours_less_than_nothing() {
    let brief = one(Label::default(), Natural::default(), 2.0, |p| p.with(Measure::Volume, None, 1e-9));
    close(poured(&brief, 1.0).within_all.found, normal(-0.5));
}

/// A liquid alone has its own acid, whatever is poured of it: uniform from 40 to 70, so that 45 to 62
/// holds with 17/30; and the volume varies on its own, so that both hold with the product.
#[test]
fn fruit_alone_is_a_uniform_share() {
    let label = Label { acid: 56.0, density: Some(1.035), ..Label::default() };
    let natural = Natural { acid: Some(Range { min: 40.0, max: 70.0 }), ..Natural::default() };
    let brief =
        one(label, natural, 1.0, |p| p.with(Measure::Acid, 45.0, 62.0).with(Measure::Volume, 49.0, 51.0));
    let service = poured(&brief, 50.0);
    let (acid, volume) = (17.0 / 30.0, normal(1.0) - normal(-1.0));
    close(share(&service, Measure::Acid), acid);
    close(share(&service, Measure::Volume), volume);
    close(service.within_all.found, acid * volume);
    let parts = |measure| {
        service.targets.iter().find(|t| t.measure == measure).expect("a target").varies_with.clone()
    };
    assert_eq!(parts(Measure::Acid)[0].of, Cause::Nature(0));
    assert!((parts(Measure::Acid)[0].share - 1.0).abs() < 1e-9, "nothing but the fruit moves the acid");
    assert_eq!(parts(Measure::Volume)[0].of, Cause::Pour(0));
}

/// Strength is uniform, too, and the same whether the water is found from the density or filled up.
#[test]
fn a_weak_bottle_is_a_uniform_share() {
    let label = Label { strength: 20.0, sugar: 100.0, ..Label::default() };
    let natural = Natural { strength: Some(Range { min: 18.0, max: 21.0 }), ..Natural::default() };
    let brief = one(label, natural, 1.0, |p| p.with(Measure::Strength, 19.0, 20.4));
    close(poured(&brief, 40.0).within_all.found, 1.4 / 3.0);
}

/// Built on ice, 0.24 ± 0.05 ml of water per ml melt: of 60 ml uniform from 11.4 to 17.4 ml.
#[test]
fn the_ice_alone_is_a_uniform_share() {
    let brief = one(Label::default(), Natural::default(), 0.0, |p| {
        Plan { method: Method::Build, ..p }.with(Measure::Melt, 12.0, 16.0)
    });
    close(poured(&brief, 60.0).within_all.found, 4.0 / 6.0);
    let given = one(Label::default(), Natural::default(), 0.0, |p| {
        Plan { method: Method::Build, melt: Some(24.0), ..p }.with(Measure::Melt, 14.3, 14.5)
    });
    assert_eq!(poured(&given, 60.0).within_all.found, 1.0, "the bar's own melt stays");
}

/// A finer tool is off by less: half the bar's step, half the error. A scale of 0.2 g steps is off by
/// 0.1 g. Where the brief states nothing, a millilitre is taken.
#[test]
fn the_step_of_the_tool_matters() {
    let mut brief = one(Label::default(), Natural::default(), 2.0, |p| p.with(Measure::Volume, 49.0, 51.0));
    brief.variation.bar_step = Some(10.0);
    close(poured(&brief, 50.0).within_all.found, normal(1.0) - normal(-1.0));
    brief.variation.bar_step = Some(2.5);
    close(poured(&brief, 50.0).within_all.found, normal(0.5) - normal(-0.5));
    brief.variation.pour_error = None;
    close(poured(&brief, 50.0).within_all.found, normal(1.0 / JIGGER) - normal(-1.0 / JIGGER));
    let powder = Label { form: Form::Powder, acid: 1000.0, ..Label::default() };
    let mut item = Item::liquid("a powder", Role::Sour, powder, 1000);
    item.pour = Some(0.2);
    // 3 kcal/g: 2 g ± 0.1 g are 6 ± 0.3 kcal.
    let mut brief = Plan::of(vec![item]).with(Measure::Energy, 5.7, 6.15).brief();
    brief.variation.pour_error = Some(off(2.0));
    close(poured(&brief, 2.0).within_all.found, normal(0.5) - normal(-1.0));
}

/// What it misses and why: an acid over its most in half of the serves, by nothing but the fruit.
#[test]
fn the_cause_is_named() {
    let label = Label { acid: 56.0, density: Some(1.035), ..Label::default() };
    let natural = Natural { acid: Some(Range { min: 52.0, max: 60.0 }), ..Natural::default() };
    let brief = one(label, natural, 1.0, |p| p.with(Measure::Acid, None, 58.0));
    let missed = poured(&brief, 50.0).most_missed.expect("misses");
    close(missed.share, 0.25);
    assert_eq!((missed.by_compositions, missed.by_pours, missed.by_ice), (1.0, 0.0, 0.0));
    let mended: Vec<(Cause, f64)> = missed.mended.iter().map(|part| (part.of, part.share)).collect();
    assert_eq!(mended, [(Cause::Nature(0), 1.0)]);
    assert!(!missed.at_rest);
}

/// Seeded briefs with ranges, each with a spec of everything that it may use.
fn varied(seed: u64) -> (Brief, Vec<Pour>) {
    let mut brief = seeded(seed, Aims::Plain).brief();
    for candidate in brief.candidates.iter_mut().filter(|c| c.label.form == Form::Liquid) {
        let acid = candidate.label.acid;
        candidate.natural.acid = Some(Range { min: 0.8 * acid, max: 1.1 * acid });
    }
    let pours = brief.usable().map(|candidate| Pour { candidate, amount: brief.candidates[candidate].least });
    let pours = pours.collect();
    (brief, pours)
}

#[test]
fn the_same_on_any_number_of_threads_and_twice() {
    for seed in 0..4 {
        let (brief, pours) = varied(seed);
        let on = |threads| service_on(&brief, &pours, NonZeroUsize::new(threads).expect("a thread"));
        let one = on(1);
        for threads in [1, 2, 3, 7, 64] {
            // NaN is unlike itself: compared as written.
            assert_eq!(format!("{:?}", on(threads)), format!("{one:?}"), "seed {seed} on {threads}");
        }
    }
}

/// The order of the ingredients and who else stands on the shelf change nothing.
#[test]
fn another_order_is_the_same_service() {
    let (brief, mut pours) = varied(5);
    let before = service(&brief, &pours);
    let mut turned = brief.clone();
    turned.candidates.reverse();
    let last = brief.candidates.len() - 1;
    for pour in &mut pours {
        pour.candidate = last - pour.candidate;
    }
    pours.rotate_left(1);
    let after = service(&turned, &pours);
    assert_eq!(after.within_all, before.within_all);
    let shares = |service: &Service| service.targets.iter().map(|t| t.within).collect::<Vec<_>>();
    assert_eq!(shares(&after), shares(&before));
}

/// A shaken sour served by a second hand: other random numbers, and the tests' own physics. Two counts
/// of the same probability differ by less than four standard deviations of their difference.
#[test]
fn a_second_hand_and_a_second_physics_count_the_same() {
    let label = |strength, sugar, acid| Label { strength, sugar, acid, ..Label::default() };
    let lime = Label { density: Some(1.0348), ..label(0.0, 16.0, 56.0) };
    let items = vec![
        Item::liquid("rum", Role::Base, label(40.0, 2.0, 0.0), 1700),
        Item::liquid("lime", Role::Sour, lime, 700),
        Item::liquid("syrup", Role::Sweetener, label(0.0, 615.0, 0.0), 200),
    ];
    let plan = Plan { method: Method::Shake, pour: 2.5, ..Plan::of(items) }
        .with(Measure::Volume, 140.0, 160.0)
        .with(Measure::Strength, 15.5, 17.0)
        .with(Measure::Sugar, 70.0, 85.0)
        .with(Measure::Acid, 8.0, 10.0)
        .with(Measure::SugarAcid, 7.0, 10.0);
    let mut brief = plan.brief();
    brief.candidates[1].natural.acid = Some(Range { min: 48.0, max: 64.0 });
    brief.candidates[1].natural.sugar = Some(Range { min: 13.0, max: 20.0 });
    brief.candidates[0].natural.strength = Some(Range { min: 39.0, max: 41.0 });
    brief.variation.pour_error = Some(off(0.8));
    let amounts = [60.0, 22.5, 17.5];
    let pours: Vec<Pour> =
        amounts.iter().enumerate().map(|(candidate, &amount)| Pour { candidate, amount }).collect();
    let first = service(&brief, &pours);
    let second = second_hand(&brief, &amounts);
    let alike = |a: f64, b: f64| {
        let p = 0.5 * (a + b);
        assert!((a - b).abs() <= 4.0 * (2.0 * p * (1.0 - p) / SERVES as f64).sqrt(), "{a} and {b}");
    };
    assert!((0.1..0.9).contains(&first.within_all.found), "{first:?}");
    alike(first.within_all.found, second[0]);
    for (target, share) in first.targets.iter().zip(&second[1..]) {
        alike(target.within, *share);
    }
}

/// The shares within all and within each target: normals by Box and Muller, volumes by `glass.rs`.
fn second_hand(brief: &Brief, amounts: &[f64]) -> Vec<f64> {
    let mut rng = Pcg64Mcg::seed_from_u64(20_260_101);
    let mut counts = vec![0_usize; 1 + brief.targets.len()];
    for _ in 0..SERVES {
        let mut poured = brief.clone();
        let mut spec = vec![];
        for (at, &amount) in amounts.iter().enumerate() {
            let (u, v): (f64, f64) = (rng.random(), rng.random());
            let normal = (-2.0 * (1.0 - u).ln()).sqrt() * (std::f64::consts::TAU * v).cos();
            spec.push((at, (amount + 0.8 * normal).max(0.0)));
            let candidate = &mut poured.candidates[at];
            let mut drawn = |range: Option<Range>, figure: &mut f64| {
                if let Some(range) = range {
                    *figure = rng.random_range(range.min..range.max);
                }
            };
            drawn(candidate.natural.strength, &mut candidate.label.strength);
            drawn(candidate.natural.sugar, &mut candidate.label.sugar);
            drawn(candidate.natural.acid, &mut candidate.label.acid);
        }
        let before: f64 = spec.iter().map(|&(at, a)| a * poured.candidates[at].label.strength / 100.0).sum();
        let volume: f64 = spec.iter().map(|&(_, a)| a).sum();
        let share = melt_share(Method::Shake, None, before / volume) + rng.random_range(-0.05..0.05);
        poured.serve.melt = Some(100.0 * share);
        let glass = measure(&poured, spec);
        let met: Vec<bool> = brief
            .targets
            .iter()
            .map(|t| {
                let value = glass.value(brief, t.measure);
                t.min.is_none_or(|min| value >= min) && t.max.is_none_or(|max| value <= max)
            })
            .collect();
        counts[0] += usize::from(met.iter().all(|m| *m));
        counts[1..].iter_mut().zip(met).for_each(|(count, met)| *count += usize::from(met));
    }
    counts.into_iter().map(|count| count as f64 / SERVES as f64).collect()
}

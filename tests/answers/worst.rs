//! `hold = "worst"`: the search against enumeration in which every spec is filled once for every
//! combination of the corners of its ingredients' natural ranges.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use washline::brief::{Brief, HoldFor, Range};
use washline::explain::explain;
use washline::liquid::Form;
use washline::read::read;
use washline::solve::{Stop, solve};

use crate::briefs::{Aims, seeded};
use crate::effort::one_in;
use crate::enumerator::enumerate;
use crate::exact::{compare, over_both_cores, some};

/// A seeded brief whose liquids vary: two or three of them, by up to a tenth in one or two figures.
pub fn varied(seed: u64) -> Brief {
    let aims = if seed.is_multiple_of(3) { Aims::Nearest } else { Aims::Plain };
    let mut brief = seeded(seed, aims).brief();
    brief.variation.hold = HoldFor::Worst;
    vary(&mut brief, &mut Pcg64Mcg::seed_from_u64(seed ^ 0x5eed), 0.6);
    brief
}

/// Gives the first liquids natural ranges, each of their figures with a chance.
pub fn vary(brief: &mut Brief, rng: &mut Pcg64Mcg, chance: f64) {
    let mut range = |typical: f64, most: f64| {
        let by = typical * rng.random_range(0.0..0.1);
        rng.random_bool(chance).then(|| Range { min: typical - by, max: (typical + by).min(most) })
    };
    for candidate in brief.candidates.iter_mut().filter(|c| c.label.form == Form::Liquid).take(3) {
        candidate.natural.strength = range(candidate.label.strength, 90.0);
        candidate.natural.sugar = range(candidate.label.sugar, 860.0);
        candidate.natural.acid = range(candidate.label.acid, 200.0);
    }
}

/// 150 briefs, about half of which can still be met.
#[test]
fn the_worst_case_agrees_with_every_corner() {
    let met = std::sync::atomic::AtomicUsize::new(0);
    over_both_cores(some(3000..3150, 6), |seed| {
        let brief = varied(seed);
        let found = enumerate(&brief);
        if !found.is_empty() {
            met.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
        }
        compare(&brief, &solve(&brief, &Stop::default()), &found)
    });
    let met = met.into_inner() * one_in(6);
    assert!((40..150).contains(&met), "{met} of 150 can be met: the briefs ask for too little or too much");
}

/// What cannot be met at its worst, though typical bottles could meet it, is explained at its worst: something
/// is in the way.
#[test]
fn a_conflict_of_the_worst_case_is_explained_at_its_worst() {
    let mut told = 0;
    for seed in 3000..3060 {
        let brief = varied(seed);
        let mut typical = brief.clone();
        typical.variation.hold = HoldFor::Typical;
        if !enumerate(&brief).is_empty() || enumerate(&typical).is_empty() {
            continue;
        }
        let stop = Stop::default();
        let conflict = explain(&brief, &solve(&brief, &stop), &stop).conflict.expect("a conflict");
        assert!(!conflict.cores.is_empty(), "seed {seed}: nothing is in the way: {conflict:?}");
        told += 1;
    }
    assert!(told >= 3, "only {told} briefs are kept from being met by the worst case alone");
}

/// Ben-Tal, El Ghaoui, Nemirovski, *Robust Optimization* (2009), example 1.1.1, in our words: of two raw
/// materials one holds 10 and may hold 9.95 to 10.05, the other 20 and may hold 19.6 to 20.4 of what is
/// needed; they cost 100 and 199.90. What is needed follows from the published amount of drug I, half of
/// which it is. Tens of grams per kilogram are per cent by volume here, kilograms are millilitres.
fn raw_materials(hold: &str, drug: f64) -> Brief {
    let text = |grams: f64| {
        format!(
            "title = \"Two raw materials\"\ncurrency = \"USD\"\n\
             [serve]\nmethod = \"none\"\npour = \"1 ml\"\n[targets]\nethanol = {{ min = {grams} }}\n\
             [aim]\nto = 0\nlowest = \"cost\"\n[variation]\nhold = \"{hold}\"\n\
             [[candidate]]\nname = \"raw I\"\nprice = \"100 per 1 ml\"\nmax = \"2000 ml\"\n\
             strength = {{ typical = 10, min = 9.95, max = 10.05 }}\n\
             [[candidate]]\nname = \"raw II\"\nprice = \"199.90 per 1 ml\"\nmax = \"2000 ml\"\n\
             strength = {{ typical = 20, min = 19.6, max = 20.4 }}\n"
        )
    };
    let brief = |grams| read(text(grams).as_bytes(), &[]).expect("a sound brief").brief;
    let pure = brief(1.0).candidates[0].portion.masses.ethanol / 0.1;
    brief(0.5 * drug / 0.1 * pure)
}

/// Without its spread the second material is the cheaper one, for sure the first; the published amounts
/// and profits come out, by hand from the amounts: 5500 for a unit of drug I, less the materials.
#[test]
fn a_published_robust_program_has_its_published_optimum() {
    // Published to three decimals: drug I is known to 3e-5 of itself, which is 6e-4 of the profit.
    for (hold, drug, raw, profit) in [
        ("typical", 17.552, ("raw II", 438.789, 199.9), 8819.658),
        ("worst", 17.467, ("raw I", 877.732, 100.0), 8294.567),
    ] {
        let (name, amount, price) = raw;
        let brief = raw_materials(hold, drug);
        let free = solve(&brief, &Stop::default()).unrounded.expect("an optimum");
        let [pour] = free.pours.as_slice() else { panic!("{:?}", free.pours) };
        assert_eq!(brief.candidates[pour.candidate].name, name);
        assert!((pour.amount / amount - 1.0).abs() < 5e-5, "{hold}: {} for {amount}", pour.amount);
        let own = 5500.0 * drug - price * pour.amount;
        assert!((own / profit - 1.0).abs() < 1e-3, "{hold}: {own} for {profit}");
    }
}

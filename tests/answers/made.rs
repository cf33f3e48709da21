//! What is made in house: the reader's mass balance against one by hand and against the second
//! physics, and specs with preparations in them against enumeration.

use std::fmt::Write as _;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use washline::brief::{Brief, Candidate};
use washline::liquid::Form;
use washline::read::read;
use washline::solve::{Stop, solve};

use crate::briefs::{Aims, seeded};
use crate::enumerator::enumerate;
use crate::exact::{compare, over_both_cores};
use crate::glass::{Contents, Sums, contents, volume_of};

#[track_caller]
fn near(what: &str, value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{what}: {value} is not {expected} within {tolerance}");
}

fn brief(text: &str) -> Brief {
    read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}\n{text}")).brief
}

fn candidate<'b>(brief: &'b Brief, name: &str) -> &'b Candidate {
    &brief.candidates[brief.find(name).expect("a candidate")]
}

const BAR: &str = r#"
title = "Preparations"
currency = "GBP"
[serve]
method = "none"
pour = "5 ml"
[targets]
volume = { min = 50, max = 100 }
[aim]
to = 0
lowest = "cost"
[[candidate]]
name = "sugar"
form = "powder"
sugar = 1000
price = "1.20 per 1 kg"
max = "5 g"
[[candidate]]
name = "water"
price = "0.00 per 1 l"
[[candidate]]
name = "spirit"
strength = 40
price = "14.00 per 700 ml"
[[candidate]]
name = "syrup"
made = { by = "weight", parts = { "sugar" = 2, "water" = 1 }, loss = 5 }
[[candidate]]
name = "half spirit"
made = { by = "volume", parts = { "spirit" = 1, "water" = 1 } }
[[candidate]]
name = "sweet spirit"
made = { by = "volume", parts = { "syrup" = 1, "half spirit" = 3 }, loss = 10 }
"#;

/// The sucrose polynomial of Bubník et al. (1995) by another program: 2:1 by weight holds 884.5 g/L.
#[test]
fn a_syrup_by_weight() {
    let brief = brief(BAR);
    let syrup = candidate(&brief, "syrup");
    near("sugar", 1000.0 * syrup.portion.sugars, 884.5, 0.06);
    // 1.3267 g/ml, two thirds of it sugar.
    near("mass", syrup.portion.mass, 884.5 * 1.5 / 1000.0, 1e-4);
    // 884.5 g at 1.20 per kg make a litre, of which 950 ml reach a glass.
    near("cost", 1000.0 * syrup.cost_per_unit.expect("a cost"), 1.2 * 0.8845 / 0.95, 1e-4);
}

/// Equal volumes of 40 % vol and water by the printed densities (European Pharmacopoeia / OIML R 22):
/// (94.805 + 99.820)/2 g of 20 % vol, 0.97356 g/ml, are 99.956 ml: 20.009 % vol, and the money of half
/// a ml of spirit in 0.99956 ml.
#[test]
fn a_spirit_let_down_by_volume() {
    let brief = brief(BAR);
    let half = candidate(&brief, "half spirit");
    near("strength", 100.0 * half.portion.strength, 20.009, 0.001);
    near("cost", half.cost_per_unit.expect("a cost"), 0.02 / 2.0 / 0.999_56, 1e-6);
}

/// A preparation of preparations: a part of syrup and three of the let-down spirit. A little less than
/// their sum comes out, so a little more than a quarter of the sugar and three quarters of the spirit.
#[test]
fn a_preparation_of_preparations() {
    let brief = brief(BAR);
    let (syrup, half, sweet) =
        (candidate(&brief, "syrup"), candidate(&brief, "half spirit"), candidate(&brief, "sweet spirit"));
    let swelling = sweet.portion.sugars / (syrup.portion.sugars / 4.0);
    assert!((1.0..1.02).contains(&swelling), "{swelling}");
    near("strength", sweet.portion.strength, 0.75 * half.portion.strength * swelling, 1e-12);
    let parts = syrup.cost_per_unit.expect("a cost") + 3.0 * half.cost_per_unit.expect("a cost");
    near("cost", sweet.cost_per_unit.expect("a cost"), parts / 4.0 * swelling / 0.9, 1e-12);
}

/// Two parts of a seeded brief, mixed: what one ml of it brings.
fn mixed(parts: &[(&Candidate, f64)], by_weight: bool, loss: f64) -> Contents {
    let mut sums = Sums::default();
    let mut excess = 0.0;
    for &(part, amount) in parts {
        let each = contents(part);
        // A liquid's amount is in ml, or in g by weight.
        let mass = each.ethanol + each.water + each.solids + each.acid;
        let amount = if by_weight && part.label.form == Form::Liquid { amount / mass } else { amount };
        sums = sums.plus(amount, &each, &[0.0; 2]);
        excess += amount * each.excess;
    }
    let made = volume_of(&sums) + excess;
    Contents {
        ethanol: sums.ethanol / made,
        water: sums.water / made,
        solids: sums.solids / made,
        acid: sums.acid / made,
        excess: excess / made,
        poured: 1.0,
        worked: 1.0,
        // % vol over 100: the ethanol, were it pure (0.789 239 g/ml, OIML R 22), over the whole.
        strength: sums.ethanol / 0.789_239_123_3 / made,
        sugars: sums.sugars / made,
        sweet: sums.sweet / made,
        kcal: sums.kcal / made,
        cost: sums.cost / made / (1.0 - loss / 100.0),
        made: [0.0; 4],
        heat: 0.0,
    }
}

/// Seeded briefs with one preparation more, made of two of their liquids.
#[test]
fn preparations_agree_with_a_second_physics_and_with_enumeration() {
    over_both_cores(0..200, |seed| {
        let plan = seeded(seed, Aims::Plain);
        let liquids: Vec<usize> =
            (0..plan.items.len()).filter(|&at| plan.items[at].label.form == Form::Liquid).collect();
        if plan.items.len() > 6 || liquids.len() < 2 {
            return Ok(());
        }
        let mut rng = Pcg64Mcg::seed_from_u64(seed);
        let (first, second) = (liquids[0], liquids[1]);
        let (one, two) = (f64::from(rng.random_range(1..=5)), f64::from(rng.random_range(1..=5)));
        let (by_weight, loss) = (rng.random_bool(0.5), f64::from(rng.random_range(0..=20)));
        let by = if by_weight { "weight" } else { "volume" };
        let names = (&plan.items[first].name, &plan.items[second].name);
        let mut text = plan.toml();
        let _ = writeln!(
            text,
            "[[candidate]]\nname = \"made in house\"\nrole = \"modifier\"\nmax = \"20 ml\"\n\
             made = {{ by = \"{by}\", parts = {{ \"{}\" = {one}, \"{}\" = {two} }}, loss = {loss} }}",
            names.0, names.1
        );
        let brief = brief(&text);
        let made = brief.candidates.last().ok_or("no candidate")?;
        let parts = [(&brief.candidates[first], one), (&brief.candidates[second], two)];
        same(&contents(made), &mixed(&parts, by_weight, loss))?;
        compare(&brief, &solve(&brief, &Stop::default()), &enumerate(&brief))
    });
}

fn same(read: &Contents, meant: &Contents) -> Result<(), String> {
    let figures = |c: &Contents| {
        [
            c.ethanol, c.water, c.solids, c.acid, c.excess, c.poured, c.strength, c.sugars, c.sweet, c.kcal,
            c.cost,
        ]
    };
    let near = figures(read).iter().zip(figures(meant)).all(|(a, b)| (a - b).abs() <= 1e-9);
    if near { Ok(()) } else { Err(format!("read {read:?}\nmeant {meant:?}")) }
}

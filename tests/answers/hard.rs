//! The hard corners: shelves that are asked what the search likes least. For the benchmark and for the
//! tests of searches that are stopped.

use rand::SeedableRng;
use rand::seq::IndexedRandom;
use rand_pcg::Pcg64Mcg;
use washline::brief::{Aim, Brief, Goal, HoldFor, Measure, Nearest, Pour, Range, Role};

use crate::plan::{Group, Members, Plan};
use crate::shelf::shelf;

/// Makes the brief of a number of candidates and a seed.
type Make = fn(usize, u64) -> Brief;

/// All of them, by name.
pub const CORNERS: [(&str, Make); 11] = [
    ("no strength target", |count, seed| no_strength(count, seed).brief()),
    ("steps of 0.5 ml", |count, seed| Plan { pour: 0.5, ..shelf(count, seed) }.brief()),
    ("twelve ingredients", |count, seed| Plan { most: Some(12), ..shelf(count, seed) }.brief()),
    ("lowest strength", |count, seed| aimed(count, seed, Measure::Strength).brief()),
    ("lowest sugar to acid", |count, seed| aimed(count, seed, Measure::SugarAcid).brief()),
    ("lowest energy", |count, seed| aimed(count, seed, Measure::Energy).brief()),
    ("nearest the reference", |count, seed| near_reference(count, seed).brief()),
    ("nearest the middle", |count, seed| {
        Plan { aim: Aim::Nearest(Nearest::Middle), ..shelf(count, seed) }.brief()
    }),
    ("every composition", worst),
    ("fifty groups", |count, seed| grouped(count, seed).brief()),
    ("near doubles", |count, seed| doubled(count, seed).brief()),
];

fn no_strength(count: usize, seed: u64) -> Plan {
    let mut plan = shelf(count, seed);
    plan.targets.retain(|target| target.measure != Measure::Strength);
    plan
}

fn aimed(count: usize, seed: u64, measure: Measure) -> Plan {
    Plan { aim: Aim::Lowest(Goal::Measure(measure)), ..shelf(count, seed) }
}

/// A reference that is nearly, but not quite, what is asked.
fn near_reference(count: usize, seed: u64) -> Plan {
    let mut plan = shelf(count, seed);
    let pour = |candidate, amount| Pour { candidate, amount };
    plan.reference = vec![pour(0, 45.0), pour(1, 22.5), pour(2, 15.0), pour(3, 10.0), pour(4, 15.0)];
    plan.aim = Aim::Nearest(Nearest::Reference);
    plan
}

/// Sours whose acid varies by three hundredths either way.
fn worst(count: usize, seed: u64) -> Brief {
    let mut brief = shelf(count, seed).brief();
    brief.variation.hold = HoldFor::Worst;
    for candidate in brief.candidates.iter_mut().filter(|c| c.role == Role::Sour) {
        let acid = candidate.label.acid;
        candidate.natural.acid = Some(Range { min: 0.97 * acid, max: 1.03 * acid });
    }
    brief
}

/// Fifty groups of four, of each at most two.
fn grouped(count: usize, seed: u64) -> Plan {
    let mut plan = shelf(count, seed);
    let mut rng = Pcg64Mcg::seed_from_u64(seed);
    for _ in 0..50 {
        let members: Vec<usize> = (5..count).collect::<Vec<_>>().sample(&mut rng, 4).copied().collect();
        plan.choose.push(Group { members: Members::Among(members), min: None, max: Some(2) });
    }
    plan
}

/// A quarter of the shelf, each four times: the same bottle at prices a few hundredths apart.
fn doubled(count: usize, seed: u64) -> Plan {
    let mut plan = shelf(count, seed);
    let kinds = (count / 4).max(5);
    for at in kinds..count {
        let mut item = plan.items[at % kinds].clone();
        item.name = format!("{} again {at}", item.name);
        item.cents += at as u32;
        plan.items[at] = item;
    }
    plan
}

//! How long one shelf for a whole menu takes: 20 drinks over 60 bottles, the fewest and the cheapest of a few more.
//!
//! `cargo bench --bench menu [SEEDS]` prints a line a menu: how many bottles each drink may choose from, seconds, how many
//! bottles, whether that is proved, and how far the cheapest week is from its bound.

use std::env;
use std::time::Instant;

use rand::seq::{IndexedRandom, SliceRandom};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use washline::brief::{Brief, Measure, Role};
use washline::menu::Bottles;
use washline::menu::oracle::Oracle;
use washline::menu::shelf::{Wish, shelf as on_one_shelf};
use washline::solve::Stop;

#[allow(dead_code)]
#[path = "peers/processor.rs"]
mod processor;
// The tests' own briefs; what only the tests need of them is unused here.
#[allow(dead_code)]
#[path = "../tests/answers/glass.rs"]
mod glass;
#[allow(dead_code)]
#[path = "../tests/answers/plan.rs"]
mod plan;
#[path = "../tests/answers/shelf.rs"]
mod shelf;

use plan::Plan;

const DRINKS: usize = 20;
const BOTTLES: usize = 60;
/// A drink may be so much worse than its own best.
const WITHIN: f64 = 0.05;
/// The cheapest shelf has so many bottles more than the fewest.
const MORE: usize = 3;

fn main() {
    let words: Vec<String> = env::args().skip(1).filter(|word| word != "--bench").collect();
    let seeds: u64 = words.first().and_then(|word| word.parse().ok()).unwrap_or(3);
    for choose_from in [15, 25, BOTTLES] {
        for seed in 0..seeds {
            processor::say(&measured(choose_from, seed));
        }
    }
}

fn measured(choose_from: usize, seed: u64) -> String {
    let briefs = menu(choose_from, seed);
    let bottles = Bottles::of(&briefs);
    let serves: Vec<f64> = briefs.iter().filter_map(|brief| brief.serves).collect();
    let stop = Stop::default();
    let timed = |wish: Wish| {
        let start = Instant::now();
        let oracle = Oracle::new((&briefs, &bottles), &serves, WITHIN, (2, &stop));
        let found = on_one_shelf(&oracle, wish, &|| ());
        (found, start.elapsed().as_secs_f64())
    };
    let (fewest, fewest_took) = timed(Wish::Fewest);
    let (cheapest, cheapest_took) = timed(Wish::AtMost(fewest.bottles.len() + MORE));
    let gap = cheapest.least.map_or(f64::NAN, |least| 100.0 * (1.0 - least.bound / least.spend));
    format!(
        "{choose_from:3} a drink, seed {seed}: fewest {:2} of {} (proved {}, shelves {}{}) in {fewest_took:.1} s; cheapest of {} within {gap:.2} % in {cheapest_took:.1} s",
        fewest.bottles.len(),
        fewest.unshared,
        fewest.fewest.proved(),
        fewest.as_good.len(),
        if fewest.all { "" } else { "+" },
        fewest.bottles.len() + MORE,
    )
}

/// Drinks of a bar, each over some of its bottles and laid around a sour of them.
fn menu(choose_from: usize, seed: u64) -> Vec<Brief> {
    let mut rng = Pcg64Mcg::seed_from_u64(seed);
    let bar = shelf::shelf(BOTTLES, seed);
    (0..DRINKS)
        .map(|_| {
            let mut chosen: Vec<usize> = (0..BOTTLES).collect();
            chosen.shuffle(&mut rng);
            // One of each that a sour needs, then what else comes.
            let first = |role: Role| chosen.iter().copied().find(|at| bar.items[*at].role == role);
            let needed: Vec<usize> = [Role::Base, Role::Sour, Role::Sweetener, Role::Lengthener]
                .into_iter()
                .filter_map(first)
                .collect();
            chosen.retain(|at| !needed.contains(at));
            chosen.splice(0..0, needed);
            chosen.truncate(choose_from);
            let items = chosen.iter().map(|at| bar.items[*at].clone()).collect();
            let mut plan = Plan { items, targets: vec![], ..bar.clone() };
            let mut poured = |low: u32, high: u32| 2.5 * f64::from(rng.random_range(low..=high));
            let pours = [(0, poured(14, 24)), (1, poured(6, 12)), (2, poured(4, 10)), (3, poured(2, 12))];
            let middle = glass::measure(&plan.brief(), pours);
            for (measure, either_way) in [
                (Measure::Volume, 8.0),
                (Measure::Strength, 0.6),
                (Measure::Sugar, 6.0),
                (Measure::Acid, 0.5),
            ] {
                let value = (middle.value(&plan.brief(), measure) * 10.0).round() / 10.0;
                plan = plan.with(measure, (value - either_way).max(0.0), value + either_way);
            }
            let mut brief = plan.brief();
            brief.serves = [20.0, 40.0, 60.0].choose(&mut rng).copied();
            brief
        })
        .collect()
}

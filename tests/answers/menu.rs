//! One shelf for many drinks against enumeration: every spec of every drink by the second physics, then every shelf there
//! can be, one after the other. The packs of a week are counted here a second time, from the contract.

use std::collections::BTreeSet;
use std::sync::atomic::{AtomicUsize, Ordering};

use rand::seq::{IndexedRandom, SliceRandom};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use washline::brief::{Aim, Brief, Goal, Measure, Role, Stock, Stored};
use washline::liquid::Label;
use washline::menu::fewest::fewest;
use washline::menu::least::{Least, least};
use washline::menu::oracle::Oracle;
use washline::menu::shelf::{Shelf, Wish, shelf};
use washline::menu::{Bottles, Set};
use washline::quantity::Amount;
use washline::solve::Stop;

use crate::enumerator::{Found, enumerate};
use crate::exact::{over_both_cores, some};
use crate::glass;
use crate::plan::{Group, Item, Members, Plan};

/// So many bottles, and so many drinks that share them.
const BOTTLES: usize = 12;
const DRINKS: usize = 5;

/// The bottles of a bar.
fn bar(rng: &mut Pcg64Mcg) -> Vec<Item> {
    let mut item = |at: usize| {
        let (role, strength, sugar, acid) = match at {
            0..=3 => (Role::Base, rng.random_range(30..=60), 0, 0),
            4..=6 => (
                Role::Modifier,
                rng.random_range(12..=25),
                rng.random_range(0..=200),
                rng.random_range(0..=6),
            ),
            7..=8 => (Role::Sour, 0, rng.random_range(10..=30), rng.random_range(40..=65)),
            9..=10 => (Role::Sweetener, 0, rng.random_range(400..=800), 0),
            _ => (Role::Lengthener, 0, rng.random_range(0..=100), rng.random_range(0..=8)),
        };
        let [strength, sugar, acid] = [strength, sugar, acid].map(f64::from);
        let label = Label { strength, sugar, acid, ..Label::default() };
        let mut item = Item::liquid(format!("bottle {at:02}"), role, label, rng.random_range(300..=3000));
        item.pack = *[250, 500, 700, 750, 1000].choose(rng).expect("a size");
        item.yielded = if rng.random_bool(0.2) { 0.9 } else { 1.0 };
        item.max = Some(30.0);
        item
    };
    (0..BOTTLES).map(&mut item).collect()
}

/// A drink of some of the bottles, laid around a spec of them, so that it can be made.
fn drink(bar: &[Item], rng: &mut Pcg64Mcg) -> Brief {
    let mut chosen: Vec<usize> = (0..BOTTLES).collect();
    chosen.shuffle(rng);
    chosen.truncate(rng.random_range(4..=6));
    chosen.sort_unstable();
    let mut plan = Plan::of(chosen.iter().map(|at| bar[*at].clone()).collect());
    let amounts: Vec<(usize, f64)> =
        (0..chosen.len().min(4)).map(|at| (at, 5.0 * f64::from(rng.random_range(1..=5)))).collect();
    let middle = glass::measure(&plan.brief(), amounts);
    let share: f64 = *[0.06, 0.12, 0.25].choose(rng).expect("a share");
    for measure in [Measure::Volume, Measure::Strength, Measure::Sugar, Measure::Acid] {
        let value = middle.value(&plan.brief(), measure);
        if value > 0.5 {
            plan = plan.with(measure, value * (1.0 - share), value * (1.0 + share));
        }
    }
    plan.aim = match rng.random_range(0..4) {
        0 => Aim::Lowest(Goal::Measure(Measure::Strength)),
        1 => Aim::Highest(Goal::Ingredient(0)),
        _ => Aim::Lowest(Goal::Measure(Measure::Cost)),
    };
    if rng.random_bool(0.3) {
        plan.choose.push(Group { members: Members::Role(Role::Modifier), min: None, max: Some(1) });
    }
    let mut brief = plan.brief();
    brief.serves = Some(f64::from(rng.random_range(10..=80)));
    brief
}

/// What stands there of each bottle and how it keeps: in every drink the same.
fn stored(rng: &mut Pcg64Mcg) -> Vec<Stored> {
    let mut one = || Stored {
        stock: match rng.random_range(0..5) {
            0 => Stock::Packs(1.0),
            1 => Stock::Amount(Amount::ml(400.0)),
            _ => Stock::default(),
        },
        keeps_days: rng.random_bool(0.3).then(|| f64::from(rng.random_range(1..=9))),
        least_order: rng.random_bool(0.2).then(|| rng.random_range(2..=4)),
    };
    (0..BOTTLES).map(|_| one()).collect()
}

fn menu(seed: u64) -> Vec<Brief> {
    let mut rng = Pcg64Mcg::seed_from_u64(seed);
    let bar = bar(&mut rng);
    let stored = stored(&mut rng);
    let mut briefs: Vec<Brief> = (0..DRINKS).map(|_| drink(&bar, &mut rng)).collect();
    for candidate in briefs.iter_mut().flat_map(|brief| &mut brief.candidates) {
        candidate.stored = stored[number(&candidate.name)];
    }
    briefs
}

/// `bottle 07` is 7.
fn number(name: &str) -> usize {
    name.rsplit(' ').next().and_then(|number| number.parse().ok()).expect("a number")
}

/// A drink by enumeration: the best spec of every set of ingredients, best first, with the bottles as bits.
struct Enumerated<'a> {
    brief: &'a Brief,
    specs: Vec<(u32, Found)>,
    /// How many of them are good enough.
    good: usize,
}

impl<'a> Enumerated<'a> {
    fn of(brief: &'a Brief, within: f64) -> Self {
        let specs: Vec<(u32, Found)> =
            enumerate(brief).into_iter().map(|found| (opens(brief, &found), found)).collect();
        let best = specs.first().map_or(0.0, |(_, found)| found.score);
        let good = |score: f64| (score - best).abs() <= (within + 1e-9) * best.abs();
        let good = specs.iter().take_while(|(_, found)| good(found.score)).count();
        Self { brief, specs, good }
    }

    /// Its best spec on a shelf, if that is good enough.
    fn on(&self, shelf: u32) -> Option<&Found> {
        self.specs[..self.good].iter().find(|(bits, _)| bits & !shelf == 0).map(|(_, found)| found)
    }
}

/// The bottles of a spec.
fn opens(brief: &Brief, found: &Found) -> u32 {
    found.pours.iter().fold(0, |bits, (at, _)| bits | 1 << number(&brief.candidates[*at].name))
}

/// Money for a week of these specs, counted from what the contract says of packs.
fn spend(drinks: &[Enumerated], specs: &[&Found]) -> f64 {
    let mut need = [0.0; BOTTLES];
    let mut bottles = [None; BOTTLES];
    for (drink, spec) in drinks.iter().zip(specs) {
        for (at, amount) in &spec.pours {
            let candidate = &drink.brief.candidates[*at];
            let bottle = number(&candidate.name);
            need[bottle] += drink.brief.serves.expect("serves") * amount / candidate.yielded;
            bottles[bottle] = Some(candidate);
        }
    }
    let of_bottle = |at: usize| {
        let Some(candidate) = bottles[at] else { return 0.0 };
        let price = candidate.price.as_ref().expect("a price");
        let (pack, money) = (price.pack.value, price.amount.to_string().parse::<f64>().expect("money"));
        let there = match candidate.stored.stock {
            Stock::Packs(packs) => packs * pack,
            Stock::Amount(amount) => amount.value,
        };
        let missing = (need[at] - there).max(0.0);
        if missing <= 1e-6 {
            return 0.0;
        }
        let openings = candidate.stored.keeps_days.map_or(1.0, |days| (7.0 / days).ceil());
        let packs = openings * (missing / openings / pack - 1e-9).ceil();
        money * packs.max(f64::from(candidate.stored.least_order.unwrap_or(1)))
    };
    (0..BOTTLES).map(of_bottle).sum()
}

/// Every shelf of at most so many bottles on which every drink is good enough, with its specs.
fn shelves<'e>(drinks: &'e [Enumerated], most: usize) -> Vec<(u32, Vec<&'e Found>)> {
    let all = (0..1_u32 << BOTTLES).filter(|shelf| shelf.count_ones() as usize <= most);
    all.filter_map(|shelf| Some((shelf, drinks.iter().map(|drink| drink.on(shelf)).collect::<Option<_>>()?)))
        .collect()
}

fn found(briefs: &[Brief], wish: Wish, within: f64) -> (Bottles, Shelf) {
    let bottles = Bottles::of(briefs);
    let stop = Stop::default();
    let serves: Vec<f64> = briefs.iter().map(|brief| brief.serves.expect("serves")).collect();
    let oracle = Oracle::new((briefs, &bottles), &serves, within, (1, &stop));
    let shelf = shelf(&oracle, wish, &|| ());
    (bottles, shelf)
}

fn bits(bottles: &Bottles, set: &Set) -> u32 {
    set.iter().fold(0, |bits, at| bits | 1 << number(&bottles.all[at].name))
}

/// The menu of a seed without drinks that nothing makes; nothing where fewer than two are left.
fn makeable(seed: u64) -> Option<Vec<Brief>> {
    let briefs: Vec<Brief> = menu(seed).into_iter().filter(|brief| !enumerate(brief).is_empty()).collect();
    (briefs.len() > 1).then_some(briefs)
}

#[test]
fn the_fewest_bottles_agree_with_enumeration() {
    over_both_cores(0..60, |seed| {
        let Some(briefs) = makeable(seed) else { return Ok(()) };
        let within = [0.0, 0.05, 0.3][seed as usize % 3];
        let drinks: Vec<Enumerated> = briefs.iter().map(|brief| Enumerated::of(brief, within)).collect();
        let all = shelves(&drinks, BOTTLES);
        let fewest = all.iter().map(|(shelf, _)| shelf.count_ones()).min().ok_or("no shelf at all")?;
        let mut expected: Vec<u32> =
            all.iter().map(|(shelf, _)| *shelf).filter(|shelf| shelf.count_ones() == fewest).collect();
        let (bottles, shelf) = found(&briefs, Wish::Fewest, within);
        let mut told: Vec<u32> = shelf.as_good.iter().map(|set| bits(&bottles, set)).collect();
        expected.sort_unstable();
        told.sort_unstable();
        if !shelf.fewest.proved() || !shelf.all && expected.len() < 30 {
            return Err(format!("not proved: {:?}", shelf.fewest));
        }
        if shelf.all && told != expected || told.iter().any(|one| !expected.contains(one)) {
            return Err(format!("{told:?}, and by enumeration {expected:?}"));
        }
        // What goes without a bottle: every drink that no good enough spec is left for.
        let here = bits(&bottles, &shelf.bottles);
        for one in &shelf.worth {
            let without = here & !(1 << number(&bottles.all[one.bottle].name));
            let lost: Vec<usize> = (0..drinks.len()).filter(|at| drinks[*at].on(without).is_none()).collect();
            if lost != one.drinks {
                return Err(format!(
                    "without {}: {:?}, not {lost:?}",
                    bottles.all[one.bottle].name, one.drinks
                ));
            }
        }
        Ok(())
    });
}

/// Whether all drinks are listed, every second one, or none: what is not listed is searched.
fn listed(oracle: &Oracle, every: Option<usize>) {
    for drink in every.into_iter().flat_map(|every| oracle.drinks.iter().step_by(every)) {
        drink.list(oracle.bottles, (oracle.stop, u64::MAX));
    }
}

#[test]
fn what_a_drink_can_be_poured_as_agrees_with_enumeration() {
    let count = AtomicUsize::new(0);
    over_both_cores(200..240, |seed| {
        let Some(briefs) = makeable(seed) else { return Ok(()) };
        let (bottles, stop) = (Bottles::of(&briefs), Stop::default());
        let within = [0.05, 0.3][seed as usize % 2];
        let oracle = Oracle::new((&briefs, &bottles), &[], within, (1, &stop));
        listed(&oracle, Some(1));
        for drink in &oracle.drinks {
            let all = Enumerated::of(&briefs[drink.number], within);
            let mut expected: Vec<(u32, f64)> = vec![];
            for (bits, found) in &all.specs[..all.good] {
                if !expected.iter().any(|(better, _)| better & !bits == 0) {
                    expected.push((*bits, found.score));
                }
            }
            let offers = drink.listed().ok_or("not listed")?;
            let told = offers.iter().map(|offer| (bits(&bottles, &offer.opens), offer.spec.score));
            let same = |(a, b): (&(u32, f64), (u32, f64))| a.0 == b.0 && (a.1 - b.1).abs() < 1e-6;
            if offers.len() != expected.len() || !expected.iter().zip(told).all(same) {
                return Err(format!("{offers:?}, and by enumeration {expected:?}"));
            }
            count.fetch_add(expected.len() - 1, Ordering::Relaxed);
        }
        Ok(())
    });
    assert!(count.into_inner() > 100, "hardly a drink that can be poured in two ways");
}

#[test]
fn the_cheapest_shelf_agrees_with_enumeration() {
    over_both_cores(some(520..580, 8), |seed| {
        let Some(briefs) = makeable(seed) else { return Ok(()) };
        let within = [0.05, 0.2][seed as usize % 2];
        let drinks: Vec<Enumerated> = briefs.iter().map(|brief| Enumerated::of(brief, within)).collect();
        let count = shelves(&drinks, BOTTLES).iter().map(|(shelf, _)| shelf.count_ones() as usize).min();
        let count = count.ok_or("no shelf at all")?;
        for most in [count.saturating_sub(1), count, count + 1, BOTTLES] {
            let all = shelves(&drinks, most);
            let expected = all.iter().map(|(_, specs)| spend(&drinks, specs)).reduce(f64::min);
            let (bottles, shelf) = found(&briefs, Wish::AtMost(most), within);
            if expected.is_none() && shelf.fewest.bound <= most {
                return Err(format!("{most} are too few, and not proved to be"));
            }
            agrees(expected, shelf.least.as_ref()).map_err(|fault| format!("{most} bottles: {fault}"))?;
            if let (Some(expected), Some(least)) = (expected, &shelf.least) {
                let cheapest = all.iter().filter(|(_, specs)| spend(&drinks, specs) < expected + 1e-6);
                let opened = |specs: &[&Found]| {
                    drinks.iter().zip(specs).fold(0, |all, (drink, spec)| all | opens(drink.brief, spec))
                };
                let expected: BTreeSet<u32> = cheapest.map(|(_, specs)| opened(specs)).collect();
                let told: BTreeSet<u32> = least.as_good.iter().map(|set| bits(&bottles, set)).collect();
                if !least.all || told != expected {
                    return Err(format!(
                        "{most} bottles: {told:?} cost the same, by enumeration {expected:?}"
                    ));
                }
            }
            // Where drinks have more to choose from than can be listed, they are searched.
            for every in [None, Some(2)] {
                let (bottles, stop) = (Bottles::of(&briefs), Stop::default());
                let serves: Vec<f64> = briefs.iter().filter_map(|brief| brief.serves).collect();
                let oracle = Oracle::new((&briefs, &bottles), &serves, within, (1, &stop));
                listed(&oracle, every);
                let (fewest, cuts) = fewest(&oracle, &|| ());
                let least = least(&oracle, &cuts, &fewest.shelves, most, &|| ());
                agrees(expected, least.as_ref())
                    .map_err(|fault| format!("{most} bottles, listed {every:?}: {fault}"))?;
            }
        }
        Ok(())
    });
}

/// Whether a shelf is proved to cost what the cheapest by enumeration does.
fn agrees(expected: Option<f64>, least: Option<&Least>) -> Result<(), String> {
    match (expected, least) {
        (None, None) => Ok(()),
        (Some(expected), Some(least)) if (least.spend - expected).abs() < 1e-6 => {
            let proved = least.proved() && least.bound <= expected + 1e-6;
            if proved { Ok(()) } else { Err(format!("{} not proved, bound {}", least.spend, least.bound)) }
        }
        (expected, least) => {
            let least = least.map(|least| (least.spend, least.bound));
            Err(format!("{least:?}, and by enumeration {expected:?}"))
        }
    }
}

/// Of these menus some are easy: the tests above would say little, were most of them made by every shelf.
#[test]
fn the_menus_ask_something() {
    let asked = (0..30).filter_map(makeable).filter(|briefs| {
        let drinks: Vec<Enumerated> = briefs.iter().map(|brief| Enumerated::of(brief, 0.05)).collect();
        let open = drinks.iter().filter(|drink| drink.good > 1).count();
        let fewest = shelves(&drinks, BOTTLES).iter().map(|(shelf, _)| shelf.count_ones()).min().unwrap_or(0);
        let unshared =
            drinks.iter().filter_map(|drink| Some(drink.specs.first()?.0)).fold(0, |all, one| all | one);
        open > 0 && fewest < unshared.count_ones()
    });
    let count = asked.count();
    assert!(count >= 8, "sharing saves a bottle in {count} of 30 menus");
}

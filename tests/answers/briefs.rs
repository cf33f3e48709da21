//! Seeded random briefs that are small enough to enumerate: seven candidates at most, 5 ml steps,
//! and between them every method, target, aim and rule of the contract.
//!
//! Most are laid around a spec that is drawn first and measured, so that about two in three can be
//! met; the rest ask for something near it that may or may not exist.

#[path = "noted.rs"]
mod noted;

use rand::seq::{IndexedRandom, SliceRandom};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use washline::brief::{
    Aim, Brief, Glass, Goal, Hold, Measure, Menu, Nearest, Per, Pour, Property, Proportion, Role, Target,
};
use washline::liquid::{Form, Label, Method};

use crate::glass::{self, Glass as Filled};
use crate::plan::{Group, Item, Members, Plan};
use noted::add_notes;

/// More combinations than this and the largest amounts are cut.
const COMBINATIONS: f64 = 5e6;

/// Which aims a brief may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Aims {
    /// Lowest and highest.
    Plain,
    /// As close as possible to the reference or to the middle; `hold` too.
    Nearest,
    /// As many notes as possible; groups of what carries a note, too.
    Notes,
}

/// The brief of a seed.
pub fn seeded(seed: u64, aims: Aims) -> Plan {
    seeded_with(seed, aims, |_| ())
}

/// The brief of a seed whose bar is `changed` before anything is asked of it.
pub fn seeded_with(seed: u64, aims: Aims, changed: impl FnOnce(&mut Plan)) -> Plan {
    let mut rng = Pcg64Mcg::seed_from_u64(seed);
    let mut plan = blank(&mut rng);
    add_items(&mut plan, &mut rng);
    changed(&mut plan);
    add_properties(&mut plan, &mut rng);
    let spec = draw_spec(&plan, &mut rng);
    add_rules(&mut plan, &spec, &mut rng);
    let brief = plan.brief();
    let glass = glass::measure(&brief, spec.iter().copied());
    add_targets(&mut plan, &brief, &glass, &mut rng);
    plan.aim = draw_aim(&plan, &brief, &glass, aims, &mut rng);
    if aims == Aims::Nearest {
        add_reference(&mut plan, &spec, &mut rng);
    }
    if aims == Aims::Notes {
        add_notes(&mut plan, &spec, &mut rng);
    }
    plan.answer.alternatives = rng.random_range(0..=8);
    if rng.random_bool(0.2) {
        plan.answer.within = Some(f64::from(rng.random_range(5..=40)));
    }
    plan
}

/// Rounded to `digits` decimals: what a person would write.
fn written(value: f64, digits: i32) -> f64 {
    let scale = 10f64.powi(digits);
    (value * scale).round() / scale
}

fn between(rng: &mut Pcg64Mcg, low: f64, high: f64, digits: i32) -> f64 {
    written(rng.random_range(low..=high), digits)
}

fn blank(rng: &mut Pcg64Mcg) -> Plan {
    const METHODS: [Method; 8] = {
        use Method::{Blend, Build, None, Shake, Stir};
        [Shake, Shake, Shake, Stir, Stir, Build, None, Blend]
    };
    let method = *METHODS.choose(rng).expect("a method");
    let given = method == Method::Blend || rng.random_bool(0.15);
    Plan {
        method,
        melt: given.then(|| f64::from(rng.random_range(5..=80))),
        smallest: rng.random_bool(0.3).then(|| *[5.0, 7.5, 10.0].choose(rng).expect("a pour")),
        most: rng.random_bool(0.5).then(|| rng.random_range(2..=5)),
        menu: rng.random_bool(0.4).then(|| Menu {
            price: between(rng, 7.0, 16.0, 2),
            tax: *[0.0, 10.0, 20.0].choose(rng).expect("a tax"),
        }),
        ..Plan::of(vec![])
    }
}

/// A base, then a draw of what else a bar holds.
fn add_items(plan: &mut Plan, rng: &mut Pcg64Mcg) {
    let count = *[3, 4, 5, 6, 6, 7, 7, 7, 7, 7].choose(rng).expect("a count");
    let mut roles = vec![Role::Base, Role::Sour, Role::Sweetener];
    while roles.len() < count {
        roles.push(*Role::ALL.choose(rng).expect("a role"));
    }
    roles.shuffle(rng);
    plan.items = roles.iter().enumerate().map(|(at, &role)| item(at, role, rng)).collect();
    if rng.random_bool(0.15) && plan.items.len() > 4 {
        let out = rng.random_range(0..plan.items.len());
        plan.items[out].out = true;
    }
    trim(plan);
    make_room(plan);
}

/// Raises what is less than the least pour: the reader would refuse it.
fn make_room(plan: &mut Plan) {
    let brief = plan.brief();
    for (item, candidate) in plan.items.iter_mut().zip(&brief.candidates) {
        item.max = item.max.map(|max| written(max.max(candidate.least), 3));
    }
}

/// Cuts the largest ranges until the combinations are few enough.
fn trim(plan: &mut Plan) {
    loop {
        let levels: Vec<f64> = plan
            .items
            .iter()
            .map(|i| i.max.map_or(1.0, |max| max / i.pour.unwrap_or(plan.pour)) + 1.0)
            .collect();
        if levels.iter().product::<f64>() <= COMBINATIONS {
            return;
        }
        let widest = (0..levels.len()).max_by(|&a, &b| levels[a].total_cmp(&levels[b])).expect("an item");
        let item = &mut plan.items[widest];
        let step = item.pour.unwrap_or(plan.pour);
        item.max = item.max.map(|max| written(max - step, 3));
    }
}

fn item(at: usize, role: Role, rng: &mut Pcg64Mcg) -> Item {
    let label = label(role, rng);
    let name = format!("{} {}", role.keyword(), (b'a' + at as u8) as char);
    let mut item = Item::liquid(name, role, label, rng.random_range(80..=4500));
    if role == Role::Water {
        item.cents = rng.random_range(0..=3);
    }
    item.max = Some(5.0 * f64::from(rng.random_range(3..=12)));
    match role {
        Role::Bitters | Role::Seasoning => {
            item.pour = Some(*[1.0, 2.0].choose(rng).expect("a pour"));
            item.max = item.pour.map(|pour| pour * f64::from(rng.random_range(1..=4)));
        }
        Role::Lengthener | Role::Water if rng.random_bool(0.5) => {
            item.pour = Some(10.0);
            item.max = Some(10.0 * f64::from(rng.random_range(3..=9)));
        }
        Role::Sour | Role::Sweetener if rng.random_bool(0.25) => {
            item.pour = Some(2.5);
            item.max = Some(2.5 * f64::from(rng.random_range(4..=12)));
        }
        _ => {}
    }
    if label.form == Form::Powder {
        item.pour = Some(0.5);
        item.max = Some(0.5 * f64::from(rng.random_range(2..=6)));
        item.pack = 1000;
    } else if rng.random_bool(0.2) {
        // Not always a whole number of steps: it rounds inwards.
        item.min = Some(between(rng, 2.0, 12.0, 1));
    }
    if rng.random_bool(0.2) {
        item.yielded = between(rng, 0.6, 0.98, 2);
    }
    item
}

/// A composition of the kind that the role has in a bar.
fn label(role: Role, rng: &mut Pcg64Mcg) -> Label {
    let mut label = Label::default();
    let (strength, sugar, acid) = match role {
        Role::Base => ((37.5, 57.0), (0.0, 2.0), (0.0, 0.5)),
        Role::Modifier => ((11.0, 32.0), (20.0, 380.0), (0.0, 7.0)),
        Role::Sour => ((0.0, 0.0), (5.0, 60.0), (8.0, 62.0)),
        Role::Sweetener => ((0.0, 0.0), (250.0, 880.0), (0.0, 15.0)),
        Role::Bitters => ((28.0, 45.0), (0.0, 60.0), (0.0, 1.0)),
        Role::Lengthener => ((0.0, 12.0), (0.0, 110.0), (0.0, 7.0)),
        Role::Seasoning => ((0.0, 50.0), (0.0, 20.0), (0.0, 20.0)),
        Role::Texture => ((0.0, 0.0), (0.0, 30.0), (0.0, 2.0)),
        Role::Water => ((0.0, 0.0), (0.0, 0.0), (0.0, 0.0)),
    };
    let mut draw =
        |(low, high): (f64, f64), digits| if low < high { between(rng, low, high, digits) } else { low };
    label.strength = draw(strength, 1);
    label.sugar = draw(sugar, 0);
    label.acid = draw(acid, 1);
    let dice = rng.random_range(0..100);
    match role {
        Role::Sour if dice < 25 => {
            // Citric, malic or lactic acid as it is sold, counted as citric.
            label = Label { form: Form::Powder, acid: between(rng, 700.0, 1000.0, 0), ..Label::default() };
        }
        Role::Sweetener if dice < 15 => {
            label = Label { form: Form::Powder, sugar: between(rng, 900.0, 1000.0, 0), ..Label::default() };
        }
        Role::Sour | Role::Texture if dice < 55 => label.density = Some(between(rng, 1.02, 1.06, 3)),
        _ => {}
    }
    if label.sugar > 100.0 && dice % 3 == 0 {
        label.sweetness = between(rng, 0.4, 1.3, 2);
    }
    label
}

fn add_properties(plan: &mut Plan, rng: &mut Pcg64Mcg) {
    for (name, unit) in [("caffeine", "mg"), ("bitterness", "units")] {
        if !rng.random_bool(0.3) {
            continue;
        }
        let per = if rng.random_bool(0.5) { Per::Serve } else { Per::Litre };
        plan.properties.push(Property { name: name.to_owned(), unit: unit.to_owned(), per });
        for item in &mut plan.items {
            let carried = if rng.random_bool(0.4) { between(rng, 10.0, 900.0, 0) } else { 0.0 };
            item.carries.push(carried);
        }
    }
}

/// A spec that can be poured: two to five of the candidates.
fn draw_spec(plan: &Plan, rng: &mut Pcg64Mcg) -> Vec<(usize, f64)> {
    let brief = plan.brief();
    let mut usable: Vec<usize> = brief.usable().collect();
    usable.shuffle(rng);
    let count = rng.random_range(2..=usable.len().min(plan.most.unwrap_or(5)).max(2));
    let mut spec = vec![];
    for &at in usable.iter().take(count) {
        let candidate = &brief.candidates[at];
        let washline::brief::Step::Every(step) = candidate.step else { continue };
        let least = (candidate.least / step).round() as u32;
        let most = (candidate.most.unwrap_or(60.0) / step).round() as u32;
        if least <= most {
            spec.push((at, f64::from(rng.random_range(least..=most)) * step));
        }
    }
    // Something has to be poured: the first usable liquid, if the draw was all powder.
    if !spec.iter().any(|&(at, _)| brief.candidates[at].portion.poured > 0.0) {
        spec.extend(
            usable
                .iter()
                .find(|&&at| brief.candidates[at].portion.poured > 0.0)
                .map(|&at| (at, brief.candidates[at].least.max(30.0))),
        );
    }
    spec.sort_by_key(|&(at, _)| at);
    spec
}

/// Rules that the drawn spec keeps, most of the time.
fn add_rules(plan: &mut Plan, spec: &[(usize, f64)], rng: &mut Pcg64Mcg) {
    let used = |at: usize| spec.iter().any(|&(other, _)| other == at);
    if rng.random_bool(0.3) {
        let &(at, _) = spec.choose(rng).expect("a pour");
        plan.items[at].must = true;
    }
    for _ in 0..2 {
        if rng.random_bool(0.3) {
            let members = if rng.random_bool(0.5) {
                Members::Role(plan.items.choose(rng).expect("an item").role)
            } else {
                let mut all: Vec<usize> = (0..plan.items.len()).collect();
                all.shuffle(rng);
                all.truncate(rng.random_range(2..=3));
                Members::Among(all)
            };
            let count = match &members {
                Members::Role(role) => {
                    (0..plan.items.len()).filter(|&at| plan.items[at].role == *role && used(at)).count()
                }
                Members::Among(all) => all.iter().filter(|&&at| used(at)).count(),
                Members::Note(_) => unreachable!("notes come later"),
            };
            let min = rng.random_bool(0.6).then_some(count);
            let max = (min.is_none() || rng.random_bool(0.5)).then(|| count.max(1));
            plan.choose.push(Group { members, min, max });
        }
    }
    let liquids: Vec<(usize, f64)> =
        spec.iter().copied().filter(|&(at, _)| plan.items[at].label.form == Form::Liquid).collect();
    if liquids.len() >= 2 && rng.random_bool(0.35) {
        let pair: Vec<_> = liquids.sample(rng, 2).copied().collect();
        let ratio = pair[0].1 / pair[1].1;
        let min = rng.random_bool(0.7).then(|| written(ratio * rng.random_range(0.5..1.0), 3).max(0.001));
        let max = (min.is_none() || rng.random_bool(0.6))
            .then(|| written(ratio * rng.random_range(1.0..2.0) + 0.001, 3));
        plan.proportions.push(Proportion { of: pair[0].0, to: pair[1].0, min, max });
    }
}

fn measures(plan: &Plan) -> Vec<Measure> {
    let mut all: Vec<Measure> =
        Measure::BUILT_IN.into_iter().filter(|&m| m != Measure::PourCost || plan.menu.is_some()).collect();
    all.extend((0..plan.properties.len()).map(Measure::Property));
    all
}

/// Ranges around what the spec measures; in half of the briefs, one of them moves off it.
fn add_targets(plan: &mut Plan, brief: &Brief, glass: &Filled, rng: &mut Pcg64Mcg) {
    let mut all = measures(plan);
    all.retain(|&m| m != Measure::Volume && glass.value(brief, m).is_finite());
    all.shuffle(rng);
    all.truncate(rng.random_range(1..=5));
    all.insert(0, Measure::Volume);
    // Strength decides the melt: it is asked for in most briefs, as in a bar.
    if !all.contains(&Measure::Strength) && rng.random_bool(0.6) {
        all.push(Measure::Strength);
    }
    let astray = rng.random_bool(0.5).then(|| *all.choose(rng).expect("a measure"));
    for measure in all {
        let mut value = glass.value(brief, measure);
        if astray == Some(measure) {
            value *= *[0.5, 0.8, 1.2, 1.6].choose(rng).expect("a factor");
        }
        plan.targets.push(target(measure, value, rng));
    }
    if rng.random_bool(0.25) {
        let headroom = if rng.random_bool(0.5) { 5.0 } else { between(rng, 0.0, 15.0, 0) };
        let brim = (glass.volume * rng.random_range(1.0..1.4) / (1.0 - headroom / 100.0)).ceil();
        plan.glass = Some(Glass { brim, headroom, ice: 0.0 });
    }
}

fn target(measure: Measure, value: f64, rng: &mut Pcg64Mcg) -> Target {
    let digits = match measure {
        Measure::Volume | Measure::Energy => 0,
        Measure::Cost => 2,
        _ => 1,
    };
    let width = *[0.02, 0.05, 0.1, 0.2, 0.3, 0.5].choose(rng).expect("a width");
    let off = |rng: &mut Pcg64Mcg| value * rng.random_range(0.0..=width);
    // Outwards to the digits that a person writes, so that the spec stays inside.
    let scale = 10f64.powi(digits);
    let min = ((value - off(rng)) * scale).floor() / scale;
    let max = ((value + off(rng)) * scale).ceil() / scale;
    match rng.random_range(0..10) {
        0 | 1 => Target { measure, min: Some(min), max: None },
        2 | 3 => Target { measure, min: None, max: Some(max) },
        // A limit that touches: exactly what the spec measures, or both ends on it.
        4 if width < 0.05 => Target { measure, min: Some(value), max: None },
        5 if width < 0.05 => Target { measure, min: Some(value), max: Some(value) },
        _ => Target { measure, min: Some(min), max: Some(max) },
    }
}

fn draw_aim(plan: &Plan, brief: &Brief, glass: &Filled, aims: Aims, rng: &mut Pcg64Mcg) -> Aim {
    if aims == Aims::Nearest {
        let two_sided = plan.targets.iter().any(|t| t.min.is_some() && t.max.is_some() && t.min != t.max);
        return Aim::Nearest(if two_sided && rng.random_bool(0.5) {
            Nearest::Middle
        } else {
            Nearest::Reference
        });
    }
    let goal = if rng.random_bool(0.15) {
        let usable: Vec<usize> = brief.usable().collect();
        Goal::Ingredient(*usable.choose(rng).expect("a candidate"))
    } else {
        let mut all = measures(plan);
        // A ratio over nothing is no score: only where the drink has acid for certain.
        let sour =
            plan.targets.iter().any(|t| t.measure == Measure::Acid && t.min.is_some_and(|min| min > 0.0));
        all.retain(|&m| glass.value(brief, m).is_finite() && (m != Measure::SugarAcid || sour));
        if rng.random_bool(0.3) {
            Goal::Measure(Measure::Cost)
        } else {
            Goal::Measure(*all.choose(rng).expect("a measure"))
        }
    };
    if rng.random_bool(0.5) { Aim::Lowest(goal) } else { Aim::Highest(goal) }
}

/// The drawn spec, moved a little, as what the drink comes from; now and then something in it is out.
fn add_reference(plan: &mut Plan, spec: &[(usize, f64)], rng: &mut Pcg64Mcg) {
    for &(at, amount) in spec {
        let step = plan.items[at].pour.unwrap_or(plan.pour);
        let moved = amount + step * f64::from(rng.random_range(-1..=1));
        plan.reference.push(Pour { candidate: at, amount: moved.max(step) });
    }
    // With a group, taking one out may leave too few for it, which the reader would refuse.
    if rng.random_bool(0.3) && plan.choose.is_empty() {
        let &(at, _) = spec.choose(rng).expect("a pour");
        plan.items[at].out = !plan.items[at].must;
    }
    for (measure, within) in
        [(Measure::Strength, 1.0), (Measure::Sugar, 12.0), (Measure::Acid, 1.5), (Measure::Volume, 12.0)]
    {
        if rng.random_bool(0.15) {
            plan.hold.push(Hold { measure, within });
        }
    }
}

//! Briefs as large as a bar's shelf: candidates of the kinds and compositions that a bar holds, eight
//! target sides, 2.5 ml steps, at most six ingredients. For the benchmark and for the tests that
//! compare whole searches with each other.

use rand::seq::IndexedRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use washline::brief::{Measure, Role};
use washline::liquid::{Label, Method};

use crate::glass::{self, Glass};
use crate::plan::{Item, Plan};

/// One kind of ingredient: what share of a shelf it is, the middle half of the compositions that
/// published tables give for it, and what 700 ml may cost (invented, hundredths).
struct Kind {
    role: Role,
    share: u32,
    strength: (f64, f64),
    sugar: (f64, f64),
    acid: (f64, f64),
    cents: (u32, u32),
}

/// Quartiles over the generic ingredients of national food tables and producers' rules, group by
/// group: spirits, wines, liqueurs, citrus and other juices, syrups, sodas, teas, dairy, bitters.
const KINDS: [Kind; 10] = [
    Kind {
        role: Role::Base,
        share: 16,
        strength: (40.0, 47.0),
        sugar: (0.0, 2.0),
        acid: (0.0, 0.4),
        cents: (1200, 4200),
    },
    Kind {
        role: Role::Modifier,
        share: 12,
        strength: (16.0, 18.0),
        sugar: (4.0, 130.0),
        acid: (3.8, 4.7),
        cents: (800, 2200),
    },
    Kind {
        role: Role::Modifier,
        share: 17,
        strength: (18.0, 30.0),
        sugar: (240.0, 340.0),
        acid: (0.0, 2.0),
        cents: (1400, 3600),
    },
    Kind {
        role: Role::Bitters,
        share: 3,
        strength: (35.0, 45.0),
        sugar: (0.0, 40.0),
        acid: (0.0, 0.0),
        cents: (4000, 9000),
    },
    Kind {
        role: Role::Sour,
        share: 8,
        strength: (0.0, 0.0),
        sugar: (22.0, 87.0),
        acid: (16.0, 54.0),
        cents: (300, 900),
    },
    Kind {
        role: Role::Sour,
        share: 8,
        strength: (0.0, 0.0),
        sugar: (34.0, 133.0),
        acid: (4.3, 20.0),
        cents: (150, 700),
    },
    Kind {
        role: Role::Sweetener,
        share: 20,
        strength: (0.0, 0.0),
        sugar: (560.0, 860.0),
        acid: (0.0, 2.7),
        cents: (150, 1100),
    },
    Kind {
        role: Role::Lengthener,
        share: 7,
        strength: (0.0, 0.0),
        sugar: (40.0, 100.0),
        acid: (1.4, 3.5),
        cents: (100, 400),
    },
    Kind {
        role: Role::Lengthener,
        share: 10,
        strength: (0.0, 0.0),
        sugar: (0.0, 0.0),
        acid: (0.2, 2.5),
        cents: (40, 300),
    },
    Kind {
        role: Role::Texture,
        share: 6,
        strength: (0.0, 0.0),
        sugar: (4.0, 40.0),
        acid: (0.0, 0.6),
        cents: (150, 900),
    },
];

/// The brief of `count` candidates for a seed: as cheap as possible, around a sour that is drawn from
/// the shelf and measured, so that it can be met.
pub fn shelf(count: usize, seed: u64) -> Plan {
    let mut rng = Pcg64Mcg::seed_from_u64(seed);
    let items: Vec<Item> = (0..count).map(|at| item(at, &mut rng)).collect();
    let mut plan = Plan::of(items);
    plan.method = Method::Shake;
    plan.pour = 2.5;
    plan.smallest = Some(5.0);
    plan.most = Some(6);
    let glass = drawn_sour(&plan, &mut rng);
    let brief = plan.brief();
    for (measure, either_way) in
        [(Measure::Volume, 8.0), (Measure::Strength, 0.6), (Measure::Sugar, 6.0), (Measure::Acid, 0.5)]
    {
        let value = (glass.value(&brief, measure) * 10.0).round() / 10.0;
        plan = plan.with(measure, (value - either_way).max(0.0), value + either_way);
    }
    plan
}

fn item(at: usize, rng: &mut Pcg64Mcg) -> Item {
    // The first five are what a sour needs; the rest comes as a shelf has it.
    let kind = match at {
        0 => &KINDS[0],
        1 => &KINDS[4],
        2 => &KINDS[6],
        3 => &KINDS[2],
        4 => &KINDS[8],
        _ => KINDS.choose_weighted(rng, |kind| kind.share).expect("shares that add up"),
    };
    let mut draw = |(low, high): (f64, f64)| {
        let value = if low < high { rng.random_range(low..=high) } else { low };
        (value * 10.0).round() / 10.0
    };
    let label = Label {
        strength: draw(kind.strength),
        sugar: draw(kind.sugar),
        acid: draw(kind.acid),
        ..Label::default()
    };
    let mut item = Item::liquid(
        format!("{} {at}", kind.role.keyword()),
        kind.role,
        label,
        rng.random_range(kind.cents.0..=kind.cents.1),
    );
    if kind.role == Role::Bitters {
        item.max = Some(5.0);
    }
    item
}

/// A sour of the shelf: one base, one sour, one sweetener, and some of the first modifier.
fn drawn_sour(plan: &Plan, rng: &mut Pcg64Mcg) -> Glass {
    let steps = |rng: &mut Pcg64Mcg, low: u32, high: u32| 2.5 * f64::from(rng.random_range(low..=high));
    let pours = [
        (0, steps(rng, 14, 24)),
        (1, steps(rng, 6, 12)),
        (2, steps(rng, 4, 10)),
        (3, steps(rng, 2, 8)),
        (4, steps(rng, 2, 12)),
    ];
    glass::measure(&plan.brief(), pours)
}

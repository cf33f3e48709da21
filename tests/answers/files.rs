//! Seeded files with every feature: the briefs of `briefs.rs`, with preparations (some made of others),
//! natural ranges, the worst case and aims at ratios laid over them.

use std::fmt::Write as _;

use rand::seq::IndexedRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use toml::{Table, Value};
use washline::brief::{Aim, Goal, Measure};
use washline::liquid::Form;

use crate::briefs::{Aims, seeded};
use crate::plan::{Item, Plan};

/// Preparations come into briefs of no more combinations than this, so that all stay small.
const ROOM: f64 = 3e5;
/// The file of a seed.
pub fn file(seed: u64) -> String {
    let mut rng = Pcg64Mcg::seed_from_u64(seed ^ 0x00ca_b1e5);
    let aims = if rng.random_bool(0.3) { Aims::Nearest } else { Aims::Plain };
    let mut plan = seeded(seed, aims);
    if aims == Aims::Plain && rng.random_bool(0.15) {
        plan.aim = ratio(&plan, &mut rng);
    }
    let mut text = plan.toml();
    if combinations(&plan) <= ROOM {
        add_preparations(&plan, &mut text, &mut rng);
    }
    let mut table: Table = toml::from_str(&text).expect("a file that is TOML");
    if rng.random_bool(0.35) {
        add_ranges(&mut table, &mut rng);
        if rng.random_bool(0.7) {
            let worst: Table = [("hold".to_owned(), Value::from("worst"))].into_iter().collect();
            table.insert("variation".to_owned(), worst.into());
        }
    }
    if seed % 4 == 1 {
        add_jiggers(&mut table, &mut Pcg64Mcg::seed_from_u64(seed ^ 0x0f11_1ed5));
    }
    toml::to_string(&table).expect("a table that is TOML")
}

/// Sizes of jiggers, ml, and how a brief writes them.
const JIGGERS: [(&[u32], &str); 5] = [
    (&[15, 20, 25], "[\"15 ml\", \"20 ml\", \"25 ml\"]"),
    (&[10, 15], "[\"1 cl\", 15]"),
    (&[15, 20, 30, 40], "\"jigger 30/40\""),
    (&[12, 18], "[\"12 ml\", \"1.8 cl\"]"),
    (&[10, 25], "[\"25 ml\", \"10 ml\"]"),
];

/// Measures in place of steps, for liquids that leave room for any sum of them.
fn add_jiggers(table: &mut Table, rng: &mut Pcg64Mcg) {
    let smallest = table["serve"].get("smallest").and_then(ml).unwrap_or(0.0);
    let Some(Value::Array(candidates)) = table.get_mut("candidate") else { panic!("no candidates") };
    let liquids = candidates.iter_mut().filter_map(Value::as_table_mut).filter(|c| !c.contains_key("form"));
    for candidate in liquids {
        let (sizes, written) = JIGGERS.choose(rng).expect("jiggers");
        let Some(most) = candidate.get("max").and_then(ml) else { continue };
        let least = candidate.get("min").and_then(ml).unwrap_or(0.0).max(smallest);
        let sums = sizes.iter().flat_map(|a| sizes.iter().flat_map(move |b| [*a, a + b])).map(f64::from);
        if sums.into_iter().any(|sum| least <= sum && sum <= most) {
            let written: Table = toml::from_str(&format!("pour = {written}")).expect("TOML");
            candidate.extend(written);
        }
    }
}

/// The millilitres of an amount that the briefs write.
fn ml(value: &Value) -> Option<f64> {
    value.as_str()?.strip_suffix(" ml")?.parse().ok()
}

fn combinations(plan: &Plan) -> f64 {
    let levels = |item: &Item| item.max.map_or(1.0, |m| m / item.pour.unwrap_or(plan.pour)) + 1.0;
    plan.items.iter().map(levels).product()
}

/// An aim at a share or a ratio: `sugar_acid` may be undefined, `pour_cost` needs a menu.
fn ratio(plan: &Plan, rng: &mut Pcg64Mcg) -> Aim {
    let measure = match (plan.menu, rng.random_range(0..4)) {
        (Some(_), 0) => Measure::PourCost,
        (_, 1) => Measure::Sweetness,
        _ => Measure::SugarAcid,
    };
    let goal = Goal::Measure(measure);
    if rng.random_bool(0.5) { Aim::Lowest(goal) } else { Aim::Highest(goal) }
}

/// One or two things made in house: of two of the bar's, then of the first and another.
fn add_preparations(plan: &Plan, text: &mut String, rng: &mut Pcg64Mcg) {
    let liquids: Vec<&str> =
        plan.items.iter().filter(|i| i.label.form == Form::Liquid).map(|i| i.name.as_str()).collect();
    let all: Vec<&str> = plan.items.iter().map(|i| i.name.as_str()).collect();
    let count = *[0, 0, 1, 1, 2].choose(rng).expect("a count");
    let mut last: Option<&str> = None;
    for name in ["house mix", "house blend"].into_iter().take(count) {
        let first = last.unwrap_or_else(|| liquids.choose(rng).expect("a liquid"));
        let by = if rng.random_bool(0.5) { "weight" } else { "volume" };
        let from = if by == "weight" { &all } else { &liquids };
        let Some(second) =
            from.iter().filter(|n| **n != first).copied().collect::<Vec<_>>().choose(rng).copied()
        else {
            return;
        };
        let (one, two, loss) = (rng.random_range(2..=6), rng.random_range(1..=2), rng.random_range(0..=15));
        let most = *[10, 15, 20].choose(rng).expect("an amount");
        let _ = writeln!(
            text,
            "[[candidate]]\nname = \"{name}\"\nrole = \"modifier\"\npour = \"5 ml\"\nmax = \"{most} ml\"\n\
             made = {{ by = \"{by}\", parts = {{ \"{first}\" = {one}, \"{second}\" = {two} }}, loss = {loss} }}"
        );
        last = Some(name);
    }
}

/// Natural ranges of two or three ingredients, up to a tenth to either side.
fn add_ranges(table: &mut Table, rng: &mut Pcg64Mcg) {
    let Some(Value::Array(candidates)) = table.get_mut("candidate") else { panic!("no candidates") };
    let labelled = candidates.iter_mut().filter_map(Value::as_table_mut).filter(|c| !c.contains_key("made"));
    for candidate in labelled.filter(|c| !c.contains_key("form")).take(3) {
        for (figure, most) in [("strength", 90.0), ("sugar", 860.0), ("acid", 200.0)] {
            let Some(typical) = candidate.get(figure).and_then(Value::as_float) else { continue };
            if typical == 0.0 || rng.random_bool(0.4) {
                continue;
            }
            let by = typical * rng.random_range(0.0..0.1);
            let ends =
                [("typical", typical), ("min", typical - by), ("max", (typical + by).min(most).max(typical))];
            let range: Table =
                ends.into_iter().map(|(key, figure)| (key.to_owned(), figure.into())).collect();
            candidate.insert(figure.to_owned(), range.into());
        }
    }
}

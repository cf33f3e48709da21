//! Accidents to values: a file stays TOML, but figures, amounts and keys are others.

use std::convert::Infallible;

use rand::seq::IndexedRandom;
use rand::{Rng, RngExt, SeedableRng, TryRng};
use rand_pcg::Pcg64Mcg;
use toml::{Table, Value};

use crate::files;

const FACTORS: [f64; 12] = [0.0, -1.0, 1e-12, 1e-6, 1e-3, 0.5, 1.0 - 1e-9, 1.0 + 1e-9, 2.0, 10.0, 1e6, 1e300];
const AMOUNTS: [&str; 14] = [
    "0.1 ml",
    "0.25 ml",
    "1 ml",
    "2.5 ml",
    "7 ml",
    "30 ml",
    "500 ml",
    "1 l",
    "1 dash",
    "1 barspoon",
    "0.5 fl oz",
    "0.1 g",
    "3 g",
    "free",
];
const PRICES: [&str; 6] = [
    "0 per 1 l",
    "0.01 per 1 l",
    "9000.00 per 10 ml",
    "0.000001 per 1 kg",
    "123456.78 per 700 ml",
    "1 per 1 g",
];

/// A seeded brief with up to three accidents.
pub fn file(seed: u64) -> String {
    drawn(seed, &mut Pcg64Mcg::seed_from_u64(seed ^ 0x0f11e))
}

/// The brief that bytes stand for: two for the seed, the others for each thing that may happen to it. So a
/// fuzzer that turns a byte turns one accident.
pub fn spelt(bytes: &[u8]) -> String {
    let mut bytes = Spelt(bytes);
    let seed = bytes.next_u32() % 0x1_0000;
    drawn(seed.into(), &mut bytes)
}

/// Bytes in place of chance: one after another, then nothing but zeros.
struct Spelt<'a>(&'a [u8]);

impl TryRng for Spelt<'_> {
    type Error = Infallible;

    fn try_next_u32(&mut self) -> Result<u32, Infallible> {
        self.try_next_u64().map(|figure| (figure >> 32) as u32)
    }

    /// Two bytes fill a figure: what is drawn from it hangs on its first digits.
    fn try_next_u64(&mut self) -> Result<u64, Infallible> {
        let mut two = [0; 2];
        self.try_fill_bytes(&mut two)?;
        Ok(u64::from(u16::from_be_bytes(two)) * 0x0001_0001_0001_0001)
    }

    fn try_fill_bytes(&mut self, all: &mut [u8]) -> Result<(), Infallible> {
        let (given, rest) = self.0.split_at(all.len().min(self.0.len()));
        all.fill(0);
        all[..given.len()].copy_from_slice(given);
        self.0 = rest;
        Ok(())
    }
}

fn drawn(seed: u64, rng: &mut impl Rng) -> String {
    let mut table: Table = toml::from_str(&files::file(seed)).expect("a file that is TOML");
    for _ in 0..rng.random_range(0..=3) {
        accident(&mut table, rng);
    }
    if rng.random_bool(0.15) {
        add(&mut table, rng);
    }
    toml::to_string(&table).expect("a table that is TOML")
}

/// Something that the seeded briefs have not.
fn add(table: &mut Table, rng: &mut impl Rng) {
    let extra = *[
        "[variation]\npour_error = \"1 ml\"\nhold = { share = 90 }\n",
        "[variation]\npour_error = \"0 ml\"\n",
        "[serve]\nmethod = \"none\"\npour = \"free\"\n",
        "[serve]\nmethod = \"stir\"\npour = \"0.1 ml\"\nmost = 2\n",
        "[aim]\nnearest = \"middle\"\n",
        "[aim]\nlowest = \"melt\"\n",
        "[answer]\nalternatives = 0\nwithin = 0\n",
        "[answer]\nalternatives = 40\n",
    ]
    .choose(rng)
    .expect("a piece");
    let extra: Table = toml::from_str(extra).expect("TOML");
    table.extend(extra);
}

fn accident(table: &mut Table, rng: &mut impl Rng) {
    let keys: Vec<String> = table.keys().cloned().collect();
    let Some(key) = keys.choose(rng) else { return };
    match table.get_mut(key) {
        Some(_) if rng.random_bool(0.04) => drop(table.remove(key)),
        Some(Value::Table(inner)) => accident(inner, rng),
        Some(Value::Array(all)) if rng.random_bool(0.1) => {
            if let Some(one) = all.choose(rng).cloned() {
                all.push(one);
            }
        }
        Some(Value::Array(all)) => {
            let count = all.len().max(1);
            if let Some(Value::Table(inner)) = all.get_mut(rng.random_range(0..count)) {
                accident(inner, rng);
            }
        }
        Some(value) => *value = other(value, rng),
        None => {}
    }
}

/// Another value of the same kind.
fn other(value: &Value, rng: &mut impl Rng) -> Value {
    let factor = *FACTORS.choose(rng).expect("a factor");
    match value {
        Value::Float(figure) => Value::Float(figure * factor),
        Value::Integer(count) if rng.random_bool(0.5) => Value::Integer(count + rng.random_range(-2..=2)),
        Value::Integer(count) => Value::Float(*count as f64 * factor),
        Value::Boolean(flag) => Value::Boolean(!flag),
        Value::String(text) if text.contains(" per ") => Value::from(*PRICES.choose(rng).expect("a price")),
        Value::String(text) if text.ends_with(" ml") || text.ends_with(" g") => {
            Value::from(*AMOUNTS.choose(rng).expect("an amount"))
        }
        other => other.clone(),
    }
}

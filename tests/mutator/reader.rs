//! The reader on damaged files.

use rand::seq::IndexedRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use washline::read::{Changes, Setting, Swap, read, starter};

use super::checks;
use super::damage::damaged;
use super::run::{further, over};
use crate::effort::some;
use crate::files;

/// The folders whose briefs are the corpus.
const FOLDERS: [&str; 3] = ["problems-demo", "tests/good", "tests/bad"];

/// Every brief of the project.
pub fn corpus() -> Vec<Vec<u8>> {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut paths: Vec<_> = FOLDERS
        .iter()
        .flat_map(|folder| std::fs::read_dir(root.join(folder)).expect("a folder"))
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .collect();
    paths.sort();
    let mut all: Vec<Vec<u8>> = paths.iter().map(|path| std::fs::read(path).expect("a brief")).collect();
    all.push(starter().as_bytes().to_vec());
    all.extend((0..20).map(|seed| files::file(seed).into_bytes()));
    all
}

fn damaged_file(corpus: &[Vec<u8>], rng: &mut Pcg64Mcg) -> Vec<u8> {
    let (one, other) = (corpus.choose(rng).expect("a brief"), corpus.choose(rng).expect("a brief"));
    damaged(one, other, rng)
}

fn read_damaged(seeds: impl Iterator<Item = u64> + Clone + Send) {
    let corpus = corpus();
    over(seeds, |seed| {
        let bytes = damaged_file(&corpus, &mut Pcg64Mcg::seed_from_u64(seed));
        if seed % 16 == 0 && read(&bytes, &[]) != read(&bytes, &[]) {
            return Err("read twice, it is another brief".to_owned());
        }
        checks::file(&bytes)
    });
}

#[test]
fn no_file_breaks_the_reader() {
    read_damaged(some(0..6_000, 9));
}

#[test]
#[ignore = "minutes"]
fn no_file_of_very_many_breaks_the_reader() {
    read_damaged(further(6_000, 194_000));
}

/// Keys and values of settings, and names to swap, as they are meant.
const SETTINGS: [(&str, &str); 14] = [
    ("targets.strength.max", "10"),
    ("targets.volume", "{ min = 90, max = 120 }"),
    ("serve.pour", "free"),
    ("serve.melt", "45"),
    ("serve.glass", "160 ml"),
    ("candidate.\"lime juice\".price", "0.28 per 25 ml"),
    ("candidate.\"aged rum\".max", "30 ml"),
    ("candidate.\"aged rum\".must", "true"),
    ("aim.highest", "strength"),
    ("answer.within", "20"),
    ("variation.hold", "worst"),
    ("variation.hold", "{ share = 95 }"),
    ("menu.price", "12"),
    ("hold.sugar", "5"),
];
const SWAPS: [(&str, &str); 4] =
    [("lime juice", "verjus"), ("aged rum", "fino sherry"), ("simple syrup", "honey"), ("water", "water")];

fn text(good: &str, rng: &mut Pcg64Mcg) -> String {
    if rng.random_bool(0.4) {
        return good.to_owned();
    }
    String::from_utf8_lossy(&damaged(good.as_bytes(), b"targets.max=1 per {}", rng)).into_owned()
}

fn changes(rng: &mut Pcg64Mcg) -> Changes {
    let settings = (0..rng.random_range(0..=3)).map(|_| {
        let (key, value) = *SETTINGS.choose(rng).expect("a setting");
        Setting { key: text(key, rng), value: text(value, rng) }
    });
    let settings = settings.collect();
    let swaps = (0..rng.random_range(0..=2)).map(|_| {
        let (old, new) = *SWAPS.choose(rng).expect("a swap");
        Swap { old: text(old, rng), new: text(new, rng) }
    });
    Changes { settings, swaps: swaps.collect(), ..Changes::default() }
}

/// Damaged settings and swaps on whole and on damaged files.
#[test]
fn no_setting_and_no_swap_breaks_the_reader() {
    let corpus = corpus();
    over(some(0..4_000, 9), |seed| {
        let mut rng = Pcg64Mcg::seed_from_u64(seed ^ 0x5e77_1465);
        let bytes = if rng.random_bool(0.8) {
            corpus.choose(&mut rng).expect("a brief").clone()
        } else {
            damaged_file(&corpus, &mut rng)
        };
        checks::changed(&bytes, &changes(&mut rng))
    });
}

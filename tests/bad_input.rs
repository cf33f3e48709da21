//! Bad input: one golden file per finding code, drawn as a user sees it, and what no file can hold.
//!
//! `tests/bad/NAME.toml` is the brief, `NAME.expected` what is said about it. Lines `# --set KEY=VALUE`
//! are settings, `# --swap OLD=NEW` swaps. After a change of words: `REDRAW=1 cargo test --test bad_input`, then read the diff.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use washline::cli::draw::{Source, draw, draw_with};
use washline::finding::Finding;
use washline::read::{Changes, House, Setting, Swap, codes, house_named, read, read_changed};
use washline::render::Colour;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad")
}

fn bad_files() -> Vec<PathBuf> {
    let entries = fs::read_dir(folder()).expect("tests/bad");
    let mut files: Vec<_> = entries.map(|e| e.expect("an entry").path()).collect();
    files.retain(|path| path.extension().is_some_and(|e| e == "toml"));
    files.sort();
    files
}

/// What the comments of a file ask for: `# --set KEY=VALUE`, `# --swap OLD=NEW`.
fn changes(text: &str) -> Changes {
    let given = |option: &'static str| {
        let pairs = text.lines().filter_map(move |line| line.strip_prefix(option)?.split_once('='));
        pairs.map(|(left, right)| (left.to_owned(), right.to_owned()))
    };
    Changes {
        house: house(text),
        settings: given("# --set ").map(|(key, value)| Setting { key, value }).collect(),
        swaps: given("# --swap ").map(|(old, new)| Swap { old, new }).collect(),
    }
}

/// The house that a file names, which stands in a folder of its own.
fn house(text: &str) -> Option<Arc<House>> {
    let name = house_named(text.as_bytes(), &Changes::default())?.path;
    let bytes = fs::read(folder().join(&name)).expect("the house");
    Some(Arc::new(House { name, bytes }))
}

/// Findings as a user sees them.
fn drawn(bytes: &[u8], name: &str) -> String {
    let text = String::from_utf8_lossy(bytes);
    let changes = changes(&text);
    let house =
        changes.house.as_ref().map(|h| (h.name.clone(), String::from_utf8_lossy(&h.bytes).into_owned()));
    let house = house.as_ref().map(|(name, text)| Source { name, text });
    draw_with(&findings(bytes, &changes), Source { name, text: &text }, house, Colour::Plain)
}

/// Errors, or the warnings of a brief that can be used.
fn findings(bytes: &[u8], changes: &Changes) -> Vec<Finding> {
    read_changed(bytes, changes).map_or_else(|errors| errors, |reading| reading.warnings)
}

#[test]
fn every_bad_file_is_told_as_expected() {
    for path in bad_files() {
        let bytes = fs::read(&path).expect("a file");
        let name = path.file_name().expect("a name").to_string_lossy();
        let drawn = drawn(&bytes, &name);
        let expected = path.with_extension("expected");
        if std::env::var_os("REDRAW").is_some() {
            fs::write(&expected, &drawn).expect("written");
        }
        assert_eq!(drawn, fs::read_to_string(&expected).expect("an expected file"), "{name}");
        assert!(!drawn.is_empty(), "{name} has no finding");
    }
}

#[test]
fn every_code_has_a_bad_file() {
    let mut found = BTreeSet::new();
    for path in bad_files() {
        let bytes = fs::read(&path).expect("a file");
        let text = String::from_utf8_lossy(&bytes);
        found.extend(findings(&bytes, &changes(&text)).iter().map(|f| f.code));
    }
    // Files of megabytes are made below instead of kept.
    let made = [codes::TOO_LARGE, codes::TOO_MANY];
    let lacking: Vec<_> =
        codes::ALL.iter().filter(|code| !found.contains(*code) && !made.contains(code)).collect();
    assert!(lacking.is_empty(), "no file in tests/bad shows {lacking:?}");
    assert!(found.iter().all(|code| codes::ALL.contains(code)));
}

/// The code of the only finding.
#[track_caller]
fn only(bytes: &[u8]) -> Finding {
    let mut findings = findings(bytes, &Changes::default());
    assert_eq!(findings.len(), 1, "{:#?}", &findings[..findings.len().min(5)]);
    findings.remove(0)
}

const BARE: &str =
    "[serve]\nmethod = \"none\"\n[targets]\nvolume = { max = 9 }\n[aim]\nlowest = \"volume\"\n";

#[test]
fn ten_megabytes_are_too_large() {
    assert_eq!(only(&vec![b'#'; 10_000_000]).code, codes::TOO_LARGE);
}

#[test]
fn twenty_thousand_ingredients_are_read_and_one_more_is_not() {
    let one = |at: usize| format!("[[candidate]]\nname = \"n{at}\"");
    let list = |count: usize| (0..count).map(one).collect::<Vec<_>>().join("\n");
    assert_eq!(only(format!("{BARE}{}", list(20_001)).as_bytes()).code, codes::TOO_MANY);
    assert!(read(format!("{BARE}{}", list(20_000)).as_bytes(), &[]).is_ok());
}

#[test]
fn deep_nesting_overflows_nothing() {
    let deep = [
        format!("a = {}{}", "[".repeat(500_000), "]".repeat(500_000)),
        format!("a = {}1{}", "{ a = ".repeat(100_000), " }".repeat(100_000)),
        format!("{} = 1", vec!["a"; 1_000_000].join(".")),
        format!("[{}]", vec!["a"; 1_000_000].join(".")),
    ];
    for text in deep {
        let found = findings(text.as_bytes(), &Changes::default());
        assert!(found.iter().all(|f| f.code == codes::NOT_TOML), "{:?}", found.first());
        assert!(!draw(&found, "deep.toml", &text, Colour::Plain).is_empty());
    }
    let key = vec!["a"; 100_000].join(".");
    let settings = vec![Setting { key, value: "[".repeat(100_000) }];
    let found = findings(BARE.as_bytes(), &Changes { settings, ..Changes::default() });
    assert!(found.iter().any(|f| f.code == codes::BAD_SETTING));
}

#[test]
fn a_hundred_thousand_mistakes_are_bounded_and_quick_to_draw() {
    let text = (0..100_000).map(|at| format!("key{at} = 1")).collect::<Vec<_>>().join("\n");
    let found = findings(text.as_bytes(), &Changes::default());
    assert_eq!(found.len(), 1000);
    let drawn = draw(&found, "many.toml", &text, Colour::Plain);
    assert!(drawn.ends_with("and 950 more like these\n"), "{}", &drawn[drawn.len() - 60..]);
}

#[test]
fn what_follows_from_a_mistake_is_not_told_again() {
    // A method of the wrong kind is one finding, not also a missing one; a price that cannot be read is
    // not also a price that lacks; a currency that is none is not also no currency.
    let text = "currency = 7\n[serve]\nmethod = 5\n[targets]\nvolume = { max = \"big\" }\n[aim]\nlowest = \"cost\"\n\
                [[candidate]]\nname = \"spirit\"\nprice = 14\n";
    let codes: Vec<_> = findings(text.as_bytes(), &Changes::default()).iter().map(|f| f.code).collect();
    assert_eq!(codes, [codes::WRONG_TYPE; 4]);
}

/// A generator of our own (xorshift): the same mutations in every run.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % sides.max(1) as u64).unwrap_or(0)
    }
}

#[test]
fn no_mutation_of_a_brief_makes_the_reader_or_the_drawing_panic() {
    let mut seeds: Vec<Vec<u8>> = bad_files().iter().map(|path| fs::read(path).expect("a file")).collect();
    seeds.push(include_bytes!("good/damson-and-bay.toml").to_vec());
    seeds.push(washline::read::starter().as_bytes().to_vec());
    let pieces: [&[u8]; 16] = [
        b"\"",
        b"{",
        b"}",
        b"[",
        b"]]",
        b"=",
        b"\n",
        b"-1",
        b"nan",
        b"1e308",
        b"0",
        b"'''",
        b".",
        "é".as_bytes(),
        b"\r\n",
        b"\xff",
    ];
    let mut dice = Dice(0x5eed);
    for _ in 0..4_000 {
        let mut bytes = seeds[dice.roll(seeds.len())].clone();
        for _ in 0..=dice.roll(4) {
            let at = dice.roll(bytes.len() + 1);
            let to = (at + dice.roll(12)).min(bytes.len());
            match dice.roll(3) {
                0 => drop(bytes.drain(at..to)),
                1 => drop(bytes.splice(at..to, pieces[dice.roll(pieces.len())].iter().copied())),
                _ => {
                    let donor = &seeds[dice.roll(seeds.len())];
                    let from = dice.roll(donor.len());
                    let end = (from + dice.roll(80)).min(donor.len());
                    bytes.splice(at..at, donor[from..end].iter().copied());
                }
            }
        }
        let found = findings(&bytes, &Changes::default());
        draw(&found, "mutated.toml", &String::from_utf8_lossy(&bytes), Colour::Styled);
    }
}

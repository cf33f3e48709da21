//! Readers of CPLEX-LP text and free MPS, written from the formats' descriptions and as simple as our
//! own texts allow. They share nothing with the writers.

use std::collections::BTreeMap;

/// On which side of its number a row's sum is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    AtLeast,
    AtMost,
    Equal,
}

/// A row.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadRow {
    pub name: String,
    pub terms: BTreeMap<String, f64>,
    pub side: Side,
    pub at: f64,
}

/// A program.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Read {
    pub objective: BTreeMap<String, f64>,
    pub rows: Vec<ReadRow>,
    /// Least and most by variable.
    pub bounds: BTreeMap<String, (f64, f64)>,
    /// Variables that are whole.
    pub whole: Vec<String>,
}

fn number(text: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("`{text}` is no number"))
}

/// Reads CPLEX-LP text.
pub fn read_lp(text: &str) -> Read {
    assert!(text.is_ascii(), "beyond ASCII");
    assert!(text.lines().all(|line| line.len() <= 255), "a line too long for some readers");
    let mut read = Read::default();
    let mut section = "";
    let mut words: Vec<&str> = vec![];
    for line in text.lines().filter(|line| !line.starts_with('\\')) {
        match line {
            "Minimize" | "Subject To" | "Bounds" | "General" | "Binary" | "End" => {
                close(&mut read, section, &mut words);
                section = line;
            }
            _ if section == "Bounds" && !line.is_empty() => lp_bound(&mut read, line),
            _ => words.extend(line.split_whitespace()),
        }
    }
    assert_eq!(section, "End");
    // A variable that no bound names is at least nothing.
    let named: Vec<String> =
        read.rows.iter().flat_map(|r| r.terms.keys()).chain(read.objective.keys()).cloned().collect();
    named.into_iter().for_each(|name| {
        read.bounds.entry(name).or_insert((0.0, f64::INFINITY));
    });
    read.whole.sort();
    tidied(read)
}

/// Zero figures say nothing.
fn tidied(mut read: Read) -> Read {
    read.objective.retain(|_, f| *f != 0.0);
    read.rows.iter_mut().for_each(|row| row.terms.retain(|_, f| *f != 0.0));
    read
}

fn close(read: &mut Read, section: &str, words: &mut Vec<&str>) {
    match section {
        "Minimize" => {
            assert_eq!(words.first(), Some(&"aim:"));
            read.objective = terms(&words[1..]);
        }
        "Subject To" => {
            let starts: Vec<usize> = (0..words.len()).filter(|at| words[*at].ends_with(':')).collect();
            for (at, start) in starts.iter().enumerate() {
                let end = starts.get(at + 1).copied().unwrap_or(words.len());
                read.rows.push(lp_row(&words[*start..end]));
            }
        }
        "General" => read.whole.extend(words.iter().map(|word| (*word).to_owned())),
        "Binary" => {
            for word in words.iter() {
                read.whole.push((*word).to_owned());
                read.bounds.insert((*word).to_owned(), (0.0, 1.0));
            }
        }
        _ => assert!(words.is_empty(), "{words:?}"),
    }
    words.clear();
}

fn lp_row(words: &[&str]) -> ReadRow {
    let [name, terms_of @ .., side, at] = words else { panic!("{words:?}") };
    let side = match *side {
        ">=" => Side::AtLeast,
        "<=" => Side::AtMost,
        "=" => Side::Equal,
        other => panic!("{other}"),
    };
    ReadRow { name: name.trim_end_matches(':').to_owned(), terms: terms(terms_of), side, at: number(at) }
}

fn terms(words: &[&str]) -> BTreeMap<String, f64> {
    let term = |words: &[&str]| {
        let [sign, figure, name] = words else { panic!("{words:?}") };
        let sign = if *sign == "-" { -1.0 } else { 1.0 };
        ((*name).to_owned(), sign * number(figure))
    };
    let all: BTreeMap<String, f64> = words.chunks(3).map(term).collect();
    assert_eq!(all.len() * 3, words.len(), "a variable twice in a row");
    all
}

fn lp_bound(read: &mut Read, line: &str) {
    let words: Vec<&str> = line.split_whitespace().collect();
    let (name, bounds) = match words.as_slice() {
        [name, "free"] => (name, (f64::NEG_INFINITY, f64::INFINITY)),
        [name, ">=", low] => (name, (number(low), f64::INFINITY)),
        [name, "=", at] => (name, (number(at), number(at))),
        [low, "<=", name, "<=", high] => (name, (number(low), number(high))),
        _ => panic!("{line}"),
    };
    read.bounds.insert((*name).to_owned(), bounds);
}

/// Reads free MPS.
pub fn read_mps(text: &str) -> Read {
    let mut read = Read::default();
    let mut section = "";
    let mut whole = false;
    for line in text.lines().filter(|line| !line.starts_with('*')) {
        let words: Vec<&str> = line.split_whitespace().collect();
        if !line.starts_with(' ') {
            section = words[0];
            continue;
        }
        match (section, words.as_slice()) {
            ("ROWS", ["N", "aim"]) => {}
            ("ROWS", [kind, name]) => {
                let side = match *kind {
                    "G" => Side::AtLeast,
                    "L" => Side::AtMost,
                    "E" => Side::Equal,
                    other => panic!("{other}"),
                };
                read.rows.push(ReadRow { name: (*name).to_owned(), terms: BTreeMap::new(), side, at: 0.0 });
            }
            ("COLUMNS", [_, "'MARKER'", which]) => whole = *which == "'INTORG'",
            ("COLUMNS", [name, row, figure]) => {
                let new = read.bounds.insert((*name).to_owned(), (0.0, f64::INFINITY)).is_none();
                if whole && new {
                    read.whole.push((*name).to_owned());
                }
                let terms = match *row {
                    "aim" => &mut read.objective,
                    _ => &mut row_of(&mut read.rows, row).terms,
                };
                assert!(terms.insert((*name).to_owned(), number(figure)).is_none(), "{line}");
            }
            ("RHS", [_, row, figure]) => row_of(&mut read.rows, row).at = number(figure),
            ("BOUNDS", words) => mps_bound(&mut read, words),
            _ => panic!("{section}: {line}"),
        }
    }
    assert_eq!(section, "ENDATA");
    read.whole.sort();
    tidied(read)
}

fn row_of<'a>(rows: &'a mut [ReadRow], name: &str) -> &'a mut ReadRow {
    rows.iter_mut().find(|row| row.name == name).unwrap_or_else(|| panic!("no row {name}"))
}

fn mps_bound(read: &mut Read, words: &[&str]) {
    let [kind, _, name, rest @ ..] = words else { panic!("{words:?}") };
    let bounds = read.bounds.get_mut(*name).unwrap_or_else(|| panic!("no column {name}"));
    match (*kind, rest) {
        ("FR", []) => *bounds = (f64::NEG_INFINITY, f64::INFINITY),
        ("FX", [at]) => *bounds = (number(at), number(at)),
        ("LO", [low]) => bounds.0 = number(low),
        ("UP", [high]) => bounds.1 = number(high),
        _ => panic!("{words:?}"),
    }
}

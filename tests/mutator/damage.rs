//! Accidents to bytes: flips, splices, cuts, doubled lines, foreign characters, huge numbers, deep nesting.

use rand::RngExt;
use rand::seq::IndexedRandom;
use rand_pcg::Pcg64Mcg;

/// What has broken readers before: quotes, brackets, marks, numbers at the edges, characters that are
/// wide, joined, invisible or no characters at all.
const PIECES: [&[u8]; 52] = [
    b"\"",
    b"\"\"\"",
    b"'",
    b"'''",
    b"[",
    b"[[",
    b"]]",
    b"{",
    b"}",
    b"=",
    b".",
    b",",
    b"#",
    b"\\",
    b"\n",
    b"\r\n",
    b"\r",
    b"\t",
    b"\0",
    b"\x7f",
    b"\xff\xfe",
    b"\xc3",
    b"\xed\xa0\x80",
    b"\xf0\x9f\x8d\x8b",
    b"e\xcc\x81",
    b"\xe2\x80\xae",
    b"\xef\xbb\xbf",
    b"\xc3\xa9",
    b"\\u0000",
    b"\\UFFFFFFFF",
    b"1e999",
    b"-1e999",
    b"nan",
    b"-inf",
    b"1e-320",
    b"-0.0",
    b"9223372036854775808",
    b"0x7f",
    b"1_0",
    b"00",
    b"1979-05-27T07:32:00Z",
    b"0 ml",
    b"1e9 ml",
    b"0.0000001 ml",
    b"-5 ml",
    b"1 dash",
    b"0 per 0 ml",
    b" per ",
    b"[[candidate]]\n",
    b"[targets]\n",
    b"made = { by = \"weight\", parts = {} }\n",
    b"a.b.c.d.e.f = 1\n",
];

/// The input with one to four accidents; `other` lends pieces.
pub fn damaged(input: &[u8], other: &[u8], rng: &mut Pcg64Mcg) -> Vec<u8> {
    let mut bytes = input.to_vec();
    for _ in 0..rng.random_range(1..=4) {
        accident(&mut bytes, other, rng);
    }
    bytes
}

/// A random stretch of at most `most` bytes.
fn stretch(length: usize, most: usize, rng: &mut Pcg64Mcg) -> std::ops::Range<usize> {
    let start = rng.random_range(0..=length);
    start..(start + rng.random_range(0..=most)).min(length)
}

fn accident(bytes: &mut Vec<u8>, other: &[u8], rng: &mut Pcg64Mcg) {
    let length = bytes.len();
    match rng.random_range(0..12) {
        0 if length > 0 => bytes[rng.random_range(0..length)] ^= 1 << rng.random_range(0..8),
        1 if length > 0 => bytes[rng.random_range(0..length)] = rng.random(),
        2 => drop(bytes.drain(stretch(length, 40, rng))),
        3 => bytes.truncate(rng.random_range(0..=length)),
        4 => number(bytes, rng),
        5 => swap_lines(bytes, rng),
        6 => double_line(bytes, rng),
        7 => {
            let at = rng.random_range(0..=length);
            bytes.splice(at..at, other[stretch(other.len(), 200, rng)].iter().copied());
        }
        8 => {
            let (open, close) = *[(b'[', b']'), (b'{', b'}'), (b'(', b')')].choose(rng).expect("a pair");
            let (deep, at) = (rng.random_range(1..=400), rng.random_range(0..=length));
            let nest = std::iter::repeat_n(open, deep).chain(std::iter::repeat_n(close, deep));
            bytes.splice(at..at, nest);
        }
        9 => {
            let piece = bytes[stretch(length, 12, rng)].to_vec();
            let at = rng.random_range(0..=length);
            bytes.splice(at..at, piece.repeat(rng.random_range(1..=60)));
        }
        _ => {
            let at = stretch(length, 6, rng);
            bytes.splice(at, PIECES.choose(rng).expect("a piece").iter().copied());
        }
    }
}

/// A run of digits becomes another number.
fn number(bytes: &mut Vec<u8>, rng: &mut Pcg64Mcg) {
    let starts: Vec<usize> = (0..bytes.len()).filter(|&at| bytes[at].is_ascii_digit()).collect();
    let Some(&start) = starts.choose(rng) else { return };
    let digits = bytes[start..].iter().take_while(|b| b.is_ascii_digit()).count();
    let new = match rng.random_range(0..5) {
        0 => "0".to_owned(),
        1 => format!("-{}", rng.random_range(0..1000)),
        2 => format!("{}e{}", rng.random_range(1..10), rng.random_range(-330..330)),
        3 => "9".repeat(rng.random_range(1..=400)),
        _ => format!("{}", rng.random_range(0.0..200.0)),
    };
    bytes.splice(start..start + digits, new.into_bytes());
}

fn lines(bytes: &[u8]) -> Vec<Vec<u8>> {
    bytes.split_inclusive(|&b| b == b'\n').map(<[u8]>::to_vec).collect()
}

fn swap_lines(bytes: &mut Vec<u8>, rng: &mut Pcg64Mcg) {
    let mut all = lines(bytes);
    if all.len() > 1 {
        let (a, b) = (rng.random_range(0..all.len()), rng.random_range(0..all.len()));
        all.swap(a, b);
        *bytes = all.concat();
    }
}

fn double_line(bytes: &mut Vec<u8>, rng: &mut Pcg64Mcg) {
    let mut all = lines(bytes);
    if let Some(line) = all.choose(rng).cloned() {
        let (at, times) = (rng.random_range(0..=all.len()), rng.random_range(1..=3));
        all.splice(at..at, std::iter::repeat_n(line, times));
        *bytes = all.concat();
    }
}

//! Who tastes what under which name: blind codes, and an order for every taster in which no glass profits from
//! its place.

use rand::SeedableRng;
use rand::seq::SliceRandom;
use rand_pcg::Pcg64Mcg;

use crate::brief::Pour;

/// Three-digit codes without a zero, all different and none of those `taken`, drawn from a seed: nobody reads a
/// rank into them. There are 504 of them.
pub fn codes(count: usize, seed: u64, taken: &[String]) -> Vec<String> {
    let digits = |code: &u32| [code / 100, code / 10 % 10, code % 10];
    let plain = |code: &u32| {
        let [a, b, c] = digits(code);
        ![a, b, c].contains(&0) && a != b && b != c && a != c
    };
    let mut all: Vec<u32> = (111..=999).filter(plain).collect();
    all.shuffle(&mut Pcg64Mcg::seed_from_u64(seed));
    let free: Vec<String> = all.iter().map(u32::to_string).filter(|code| !taken.contains(code)).collect();
    // Whoever has used nearly all of them up begins anew.
    if free.len() < count {
        all.iter().map(u32::to_string).take(count).collect()
    } else {
        free[..count].to_vec()
    }
}

/// Whether a glass of a flight may be called so.
pub fn is_code(name: &str) -> bool {
    name.len() == 3 && name.bytes().all(|b| b.is_ascii_digit())
}

/// A seed for what is poured: the same flight has the same codes on every machine, and another one others. FNV-1a
/// (Fowler, Noll and Vo; its 64-bit constants from memory) over places and amounts, folded to 32 bits.
pub fn seed_of<'a>(glasses: impl IntoIterator<Item = &'a [Pour]>) -> u64 {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for pour in glasses.into_iter().flatten() {
        let bytes = (pour.candidate as u64).to_le_bytes().into_iter().chain(pour.amount.to_le_bytes());
        for byte in bytes {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
    (hash >> 32) ^ (hash & 0xffff_ffff)
}

/// The orders in which tasters get the glasses (a row a taster, by their places in the flight): a Latin square
/// in which every glass also follows every other equally often.
///
/// Source: Williams, *Experimental designs balanced for the estimation of residual effects of treatments*,
/// Australian Journal of Scientific Research A 2 (1949): one square for an even number of glasses, the square and
/// its mirror for an odd one. The construction from memory; its balance is held by test.
pub fn orders(glasses: usize) -> Vec<Vec<usize>> {
    if glasses < 2 {
        return vec![(0..glasses).collect()];
    }
    // 0, 1, n-1, 2, n-2, …
    let first: Vec<usize> = (0..glasses)
        .map(|at| if at % 2 == 1 { at.div_ceil(2) } else { (glasses - at / 2) % glasses })
        .collect();
    let row = |shift: usize| first.iter().map(|at| (at + shift) % glasses).collect::<Vec<usize>>();
    let square: Vec<Vec<usize>> = (0..glasses).map(row).collect();
    if glasses.is_multiple_of(2) {
        return square;
    }
    let mirrored: Vec<Vec<usize>> = square.iter().map(|row| row.iter().rev().copied().collect()).collect();
    [square, mirrored].concat()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_differ_and_are_the_same_for_a_seed() {
        let drawn = codes(20, 7, &[]);
        let mut sorted = drawn.clone();
        sorted.sort_unstable();
        sorted.dedup();
        assert_eq!(sorted.len(), 20);
        assert!(drawn.iter().all(|code| code.len() == 3 && !code.contains('0')));
        assert_eq!(drawn, codes(20, 7, &[]));
        assert_ne!(drawn, codes(20, 8, &[]));
        // What another flight has been given is not given again.
        assert!(codes(484, 7, &drawn).iter().all(|code| !drawn.contains(code)));
    }

    #[test]
    fn another_flight_has_another_seed() {
        let glass = |amount: f64| vec![Pour { candidate: 0, amount }, Pour { candidate: 3, amount: 25.0 }];
        let (one, other) = (glass(50.0), glass(52.5));
        let seed = |glasses: [&[Pour]; 2]| seed_of(glasses);
        assert_eq!(seed([&one, &other]), seed([&one, &other]));
        assert_ne!(seed([&one, &other]), seed([&other, &one]));
    }

    /// What makes the square balanced: every glass in every place, and after every other, equally often.
    #[test]
    fn every_glass_stands_in_every_place_and_after_every_other_equally_often() {
        for glasses in 2..=9 {
            let rows = orders(glasses);
            let times = if glasses % 2 == 0 { 1 } else { 2 };
            for place in 0..glasses {
                for glass in 0..glasses {
                    assert_eq!(rows.iter().filter(|row| row[place] == glass).count(), times, "{rows:?}");
                }
            }
            for a in 0..glasses {
                for b in (0..glasses).filter(|b| *b != a) {
                    let follows =
                        |row: &Vec<usize>| row.windows(2).filter(|w| w[0] == a && w[1] == b).count();
                    assert_eq!(rows.iter().map(follows).sum::<usize>(), times, "{a} then {b}: {rows:?}");
                }
            }
        }
        assert_eq!(orders(1), [[0]]);
        assert!(orders(0)[0].is_empty());
    }
}

//! First halves by the cells that their sums lie in.

use super::tube::{Half, Tube};

/// So many of the narrowest ranges make the cells.
const SIDES: usize = 4;
/// A cell is so many times as wide as its range: a range then lies in one or two of them.
const WIDTHS: f64 = 3.0;
/// Buckets of the halves, and bits that say which hashes there are, as powers of two.
const BUCKETS: u32 = 17;
const BITS: u32 = 21;
/// No half.
const NONE: u32 = u32::MAX;

/// A half in its bucket.
struct Kept {
    half: Packed,
    hash: u32,
    next: u32,
}

/// What a half is made of; its sums are made anew.
#[derive(Clone, Copy)]
struct Packed {
    at: [u16; 3],
    amount: [u16; 3],
    count: u8,
}

/// First halves, found by what they add up to.
pub(super) struct Cells {
    sides: usize,
    /// One over the width of a cell.
    per_width: [f64; SIDES],
    buckets: Vec<u32>,
    bits: Vec<u64>,
    kept: Vec<Kept>,
}

impl Cells {
    pub fn new(tube: &Tube) -> Self {
        let sides = tube.ranges.min(SIDES);
        let per_width = std::array::from_fn(|at| {
            if at < sides { 1.0 / (WIDTHS * (tube.high[at] - tube.low[at])) } else { 0.0 }
        });
        Self {
            sides,
            per_width,
            buckets: vec![NONE; 1 << BUCKETS],
            bits: vec![0; 1 << (BITS - 6)],
            kept: vec![],
        }
    }

    pub fn len(&self) -> usize {
        self.kept.len()
    }

    /// Takes a half in.
    pub fn add(&mut self, half: &Half) {
        let mut hash = START;
        for at in 0..self.sides {
            hash = mixed(hash, floor(half.sums[at] * self.per_width[at]));
        }
        let hash = finished(hash);
        let bucket = (hash >> (32 - BUCKETS)) as usize;
        let bit = (hash >> (32 - BITS)) as usize;
        self.bits[bit >> 6] |= 1 << (bit & 63);
        let packed = Packed { at: half.at, amount: half.amount, count: half.count as u8 };
        self.kept.push(Kept { half: packed, hash, next: self.buckets[bucket] });
        self.buckets[bucket] = (self.kept.len() - 1) as u32;
    }

    /// Visits every half that makes up the ranges with another, and says how many were looked at for it.
    pub fn meet(&self, tube: &Tube, half: &Half, visit: &mut dyn FnMut(&Half)) -> u64 {
        // One or two cells a range: a cell for each way to take one of each.
        let (mut hashes, mut count) = ([START; 1 << SIDES], 1);
        for at in 0..self.sides {
            let cell_of = |end: f64| floor((end - half.sums[at]) * self.per_width[at]);
            let (low, high) = (cell_of(tube.low[at]), cell_of(tube.high[at]));
            if high > low {
                hashes.copy_within(..count, count);
                hashes[count..2 * count].iter_mut().for_each(|hash| *hash = mixed(*hash, high));
            }
            hashes[..count].iter_mut().for_each(|hash| *hash = mixed(*hash, low));
            count *= if high > low { 2 } else { 1 };
        }
        hashes[..count].iter().map(|hash| self.bucket(tube, half, finished(*hash), visit)).sum()
    }

    fn bucket(&self, tube: &Tube, half: &Half, hash: u32, visit: &mut dyn FnMut(&Half)) -> u64 {
        let bit = (hash >> (32 - BITS)) as usize;
        if self.bits[bit >> 6] & (1 << (bit & 63)) == 0 {
            return 0;
        }
        let mut looked = 0;
        let mut next = self.buckets[(hash >> (32 - BUCKETS)) as usize];
        while let Some(kept) = self.kept.get(next as usize) {
            next = kept.next;
            looked += 1;
            if kept.hash != hash {
                continue;
            }
            let Packed { at, amount, count } = kept.half;
            let count = usize::from(count);
            if tube.made_up((&at[..count], &amount[..count]), half) {
                visit(&tube.half(at, amount, count));
            }
        }
        looked
    }
}

const START: u64 = 0x51_7c_c1_b7_27_22_0a_95;

/// The whole number below: the processor's own rounding is toward nothing.
fn floor(value: f64) -> i64 {
    let whole = value as i64;
    whole - i64::from((whole as f64) > value)
}

/// A cell's number mixed into a hash.
fn mixed(hash: u64, cell: i64) -> u64 {
    (hash.rotate_left(5) ^ cell as u64).wrapping_mul(START)
}

fn finished(hash: u64) -> u32 {
    ((hash ^ (hash >> 29)).wrapping_mul(0x9e37_79b9_7f4a_7c15) >> 32) as u32
}

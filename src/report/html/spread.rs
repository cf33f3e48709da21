//! Labels that would lie on each other, moved apart.

/// Places at least `apart` from each other, in the order of `wanted` (which rises), whose squared distances
/// from the wanted ones are least in sum; between `low` and `high`, closer together if there is no room.
pub fn spread(wanted: &[f64], apart: f64, low: f64, high: f64) -> Vec<f64> {
    let gaps = wanted.len().saturating_sub(1) as f64;
    let apart = apart.min((high - low).max(0.0) / gaps.max(1.0));
    // Without their distances the places only have to rise: neighbours that do not are pooled at their mean.
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (at, place) in wanted.iter().enumerate() {
        let mut pool = (place - at as f64 * apart, 1);
        while let Some(last) = pools.last().copied().filter(|last| last.0 > pool.0) {
            let count = last.1 + pool.1;
            pool = ((last.0 * last.1 as f64 + pool.0 * pool.1 as f64) / count as f64, count);
            pools.pop();
        }
        pools.push(pool);
    }
    let bare = pools.iter().flat_map(|(mean, count)| std::iter::repeat_n(*mean, *count));
    let (least, most) = (low, (high - gaps * apart).max(low));
    bare.enumerate().map(|(at, place)| place.clamp(least, most) + at as f64 * apart).collect()
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn labels_keep_their_order_and_distance() {
        assert_eq!(spread(&[10.0, 12.0, 40.0], 10.0, 0.0, 100.0), [6.0, 16.0, 40.0]);
        assert_eq!(spread(&[90.0, 98.0], 10.0, 0.0, 100.0), [89.0, 99.0]);
        assert_eq!(spread(&[98.0, 99.0], 10.0, 0.0, 100.0), [90.0, 100.0]);
        // No room: as far apart as it goes.
        assert_eq!(spread(&[5.0, 5.0, 5.0], 10.0, 0.0, 10.0), [0.0, 5.0, 10.0]);
        assert_eq!(spread(&[], 10.0, 0.0, 10.0), Vec::<f64>::new());
    }
}

//! Independent questions on several threads, their answers in the order of the questions.

use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Answers every item, `workers` at a time. The order of the answers is that of the items, whichever is
/// done first.
pub fn side_by_side<T: Sync, A: Send>(
    items: &[T],
    workers: usize,
    answer: impl Fn(&T) -> A + Sync,
) -> Vec<A> {
    let next = AtomicUsize::new(0);
    let work = || {
        let mut done = Vec::new();
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = items.get(at) else { return done };
            done.push((at, answer(item)));
        }
    };
    let mut all: Vec<(usize, A)> = thread::scope(|scope| {
        let threads: Vec<_> = (0..workers.clamp(1, items.len().max(1))).map(|_| scope.spawn(work)).collect();
        // A fault in a thread is a fault of the run.
        threads.into_iter().flat_map(|t| t.join().unwrap_or_else(|fault| resume_unwind(fault))).collect()
    });
    all.sort_by_key(|(at, _)| *at);
    all.into_iter().map(|(_, answer)| answer).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_stand_in_the_order_of_the_questions() {
        let items: Vec<u64> = (0..200).collect();
        // The first ones take the longest.
        let slow = |at: &u64| (0..(200 - at) * 500).fold(*at, |a, b| std::hint::black_box(a ^ b ^ b));
        for workers in [0, 1, 2, 7, 300] {
            assert_eq!(side_by_side(&items, workers, slow), items);
        }
        assert!(side_by_side(&[] as &[u64], 2, slow).is_empty());
    }
}

//! Notes for seeded briefs: which ingredients carry which words, and what is asked of them.

use rand::RngExt;
use rand::seq::{IndexedRandom, SliceRandom};
use rand_pcg::Pcg64Mcg;
use washline::brief::Aim;

use crate::plan::{Group, Members, Plan};

/// Words that ingredients carry and the aim is after, and how many of those that carry one are used.
pub fn add_notes(plan: &mut Plan, spec: &[(usize, f64)], rng: &mut Pcg64Mcg) {
    const WORDS: [&str; 7] = ["apple", "bread", "citrus", "herbs", "honey", "smoke", "stone fruit"];
    let often = *[0.12, 0.25, 0.4].choose(rng).expect("a share");
    for item in &mut plan.items {
        let carried = WORDS.iter().filter(|_| rng.random_bool(often));
        item.notes = carried.map(|word| (*word).to_owned()).collect();
    }
    // The aim has to be after something that is carried.
    let first = plan.items.choose(rng).expect("an item").notes.first().cloned();
    let first = first.unwrap_or_else(|| WORDS[0].to_owned());
    if !plan.items.iter().any(|item| item.notes.contains(&first)) {
        plan.items[0].notes.push(first.clone());
    }
    let mut words: Vec<String> = WORDS.iter().map(|word| (*word).to_owned()).collect();
    words.retain(|word| *word != first);
    words.shuffle(rng);
    words.truncate(rng.random_range(0..=4));
    words.push(first);
    words.shuffle(rng);
    plan.aimed = words;
    plan.aim = Aim::Notes;
    if rng.random_bool(0.4) {
        let carried: Vec<&String> = plan.items.iter().flat_map(|item| &item.notes).collect();
        let note = (*carried.choose(rng).expect("a note")).clone();
        let of = |&&(at, _): &&(usize, f64)| plan.items[at].notes.contains(&note);
        let count = spec.iter().filter(of).count();
        let min = rng.random_bool(0.6).then_some(count);
        let max = (min.is_none() || rng.random_bool(0.5)).then(|| count.max(1));
        plan.choose.push(Group { members: Members::Note(note), min, max });
    }
}

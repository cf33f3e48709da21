//! An ingredient by the name that somebody writes on a card: case, plural, order of words, one slip.

use std::collections::BTreeSet;

use crate::larder;

/// Words that say nothing of which ingredient it is.
const FILLERS: [&str; 8] = ["fresh", "freshly", "squeezed", "chilled", "of", "the", "a", "with"];
/// The shortest name in which one slip is forgiven, in letters.
const FORGIVEN_FROM: usize = 5;

/// Where an ingredient was found, and its name there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Found {
    /// In the house.
    House(String),
    /// In the larder.
    Larder(String),
}

impl Found {
    /// Its name.
    pub fn name(&self) -> &str {
        match self {
            Self::House(name) | Self::Larder(name) => name,
        }
    }
}

/// The ingredient of a name: the house's before the larder's.
///
/// # Errors
/// The names that were perhaps meant, the likeliest first.
pub fn find(written: &str, house: &[String]) -> Result<Found, Vec<String>> {
    let at_home = |name: &&String| larder::folded(name) == larder::folded(written);
    if let Some(name) = house.iter().find(at_home) {
        return Ok(Found::House(name.clone()));
    }
    if let Some(entry) = larder::find(written) {
        // What the house calls by the larder's name is the house's.
        let name = house.iter().find(|name| **name == entry.name);
        return Ok(name.map_or_else(|| Found::Larder(entry.name.clone()), |name| Found::House(name.clone())));
    }
    forgiven(written, house, 0).or_else(|| forgiven(written, house, 1)).ok_or_else(|| meant(written, house))
}

/// What a card leaves out behind a name.
const LEFT_OUT: [&str; 5] = ["juice", "syrup", "water", "whisky", "whiskey"];

/// The ingredient that a name cut short stands for, where there is just one: `lemon` for lemon juice, `agave` for agave
/// syrup.
pub fn short(written: &str, house: &[String]) -> Option<Found> {
    let whole = LEFT_OUT.iter().filter_map(|word| forgiven(&format!("{written} {word}"), house, 0));
    let mut whole: Vec<Found> = whole.collect();
    whole.dedup();
    match whole.as_slice() {
        [one] if !written.trim().is_empty() => Some(one.clone()),
        _ => None,
    }
}

/// The only ingredient whose words, in any order, are so many slips from those that are written.
fn forgiven(written: &str, house: &[String], slips: usize) -> Option<Found> {
    let wanted = key(written);
    if wanted.is_empty() || (slips > 0 && wanted.chars().count() < FORGIVEN_FROM) {
        return None;
    }
    let near = |name: &str| strsim::osa_distance(&key(name), &wanted) <= slips;
    if let Some(name) = house.iter().find(|name| near(name)) {
        return Some(Found::House(name.clone()));
    }
    let hit = |entry: &&larder::Entry| near(&entry.name) || entry.also.iter().any(|name| near(name));
    let mut hits = larder::all().iter().filter(hit);
    let (first, second) = (hits.next()?, hits.next());
    let at_home = house.iter().find(|name| **name == first.name);
    match (at_home, second) {
        (Some(name), None) => Some(Found::House(name.clone())),
        (None, None) => Some(Found::Larder(first.name.clone())),
        _ => None,
    }
}

/// The words of a name without plural and fillers, in order of the alphabet.
fn key(name: &str) -> String {
    let folded = larder::folded(name);
    let words = folded.split(|c: char| !c.is_alphanumeric() && c != '%').filter(|word| !word.is_empty());
    let mut words: Vec<String> = words.filter(|word| !FILLERS.contains(word)).map(singular).collect();
    words.sort();
    words.join(" ")
}

fn singular(word: &str) -> String {
    match word {
        _ if word.len() > 4 && word.ends_with("ies") => format!("{}y", &word[..word.len() - 3]),
        _ if word.len() > 3 && word.ends_with('s') && !word.ends_with("ss") => {
            word[..word.len() - 1].to_owned()
        }
        _ => word.to_owned(),
    }
}

/// At most four of the larder that end as a name does that nobody knows: bitters for some bitters.
pub fn of_its_kind(written: &str) -> Vec<String> {
    let Some(last) = written.split_whitespace().next_back() else { return vec![] };
    let ends = |entry: &&larder::Entry| larder::folded(&entry.name).ends_with(&larder::folded(last));
    larder::all().iter().filter(ends).take(4).map(|entry| entry.name.clone()).collect()
}

/// At most four names that were perhaps meant.
fn meant(written: &str, house: &[String]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let close = crate::read::closest(written, house.iter().map(String::as_str));
    names.extend(close.map(str::to_owned));
    names.extend(larder::closest(written).map(|entry| entry.name.clone()));
    names.extend(larder::search(&[written]).iter().map(|entry| entry.name.clone()));
    let mut seen = BTreeSet::new();
    names.retain(|name| seen.insert(name.clone()));
    names.truncate(4);
    names
}

#[cfg(test)]
mod tests {
    use super::*;

    fn larder(name: &str) -> Option<String> {
        find(name, &[]).ok().map(|found| found.name().to_owned())
    }

    #[test]
    fn case_plural_order_and_one_slip_are_forgiven() {
        for name in
            ["Lime Juice", "juice, lime", "fresh lime juice", "lime juices", "lime jiuce", "lyme juice"]
        {
            assert_eq!(larder(name).as_deref(), Some("lime juice"), "{name}");
        }
        assert_eq!(larder("rum, aged").as_deref(), Some("aged rum"));
        assert_eq!(larder("lxme jxxce"), None);
    }

    #[test]
    fn the_house_comes_first_and_what_is_unknown_is_guessed_at() {
        let house = vec!["lime juice".to_owned(), "bay syrup".to_owned()];
        assert_eq!(find("bay syrups", &house), Ok(Found::House("bay syrup".to_owned())));
        assert_eq!(find("LIME JUICE", &house), Ok(Found::House("lime juice".to_owned())));
        assert!(find("rum", &house).is_err_and(|meant| meant.iter().any(|name| name.contains("rum"))));
    }
}

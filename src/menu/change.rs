//! The same menu without an ingredient.

use crate::brief::{Aim, Brief, Goal, Origin};

/// A drink without some ingredients.
#[derive(Debug, Clone, PartialEq)]
pub enum Without {
    /// It never had them.
    Same,
    /// It has to do without.
    Left(Box<Brief>),
    /// It has to be made with this one, or is about it; and the drink that does not.
    Barred(String, Box<Brief>),
}

/// A drink without these ingredients, and without what the house makes of them.
pub fn without(brief: &Brief, names: &[String]) -> Without {
    let gone = |name: &str| names.iter().any(|one| one.trim().eq_ignore_ascii_case(name));
    let mut left = brief.clone();
    let (mut touched, mut barred) = (false, None);
    for (at, candidate) in left.candidates.iter_mut().enumerate() {
        let made_of_it = match &candidate.origin {
            Origin::Made(made) if candidate.price.is_none() => made.parts.iter().any(|part| gone(&part.name)),
            _ => false,
        };
        if candidate.out || !(gone(&candidate.name) || made_of_it) {
            continue;
        }
        touched = true;
        if candidate.must || brief.aim == Aim::Highest(Goal::Ingredient(at)) {
            barred = barred.or_else(|| Some(candidate.name.clone()));
        }
        (candidate.out, candidate.must) = (true, false);
    }
    match (touched, barred) {
        (false, _) => Without::Same,
        (true, None) => Without::Left(Box::new(left)),
        (true, Some(name)) => Without::Barred(name, Box::new(left)),
    }
}

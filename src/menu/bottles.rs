//! What the drinks of a menu are made of, bottle by bottle.

use super::Set;
use crate::brief::{Brief, Candidate, Origin, Part, Stored};
use crate::larder::WATER;
use crate::liquid::Label;
use crate::quantity::number::trimmed;
use crate::quantity::{Price, Unit};
use crate::solve::Spec;

/// One thing that is bought.
#[derive(Debug, Clone, PartialEq)]
pub struct Bottle {
    /// Its name.
    pub name: String,
    /// What a pack costs, as the first drink that knows it has it.
    pub price: Option<Price>,
    /// How it is bought and kept.
    pub stored: Stored,
    /// What its amounts count: as the pack does, where there is one.
    pub unit: Unit,
    /// What is in it, where it is poured itself.
    pub label: Option<Label>,
}

/// How much of a bottle one ml (or g) of an ingredient takes, counted as its pack is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Use {
    /// Which bottle.
    pub bottle: usize,
    /// How much of it.
    pub each: f64,
}

/// Two drinks that do not say the same of a bottle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Disagreement {
    /// The bottle.
    pub bottle: String,
    /// The first drink that has it, and one that says otherwise, by their numbers.
    pub drinks: (usize, usize),
    /// What each says.
    pub said: (String, String),
}

/// Every bottle of a menu, and what each ingredient of each drink takes of them.
#[derive(Debug, Clone, Default)]
pub struct Bottles {
    /// In the order in which they come up.
    pub all: Vec<Bottle>,
    /// Of every drink, of every candidate.
    pub uses: Vec<Vec<Vec<Use>>>,
    /// What drinks do not agree on.
    pub disagreements: Vec<Disagreement>,
    /// Which drink a bottle came up in.
    from: Vec<usize>,
}

impl Bottles {
    /// Those of a menu.
    pub fn of(briefs: &[Brief]) -> Self {
        let mut bottles = Self::default();
        for (drink, brief) in briefs.iter().enumerate() {
            let uses =
                brief.candidates.iter().map(|candidate| bottles.taken(drink, brief, candidate)).collect();
            bottles.uses.push(uses);
        }
        bottles
    }

    /// What an ingredient takes. What has a price of its own is bought in, even where the house could make it.
    fn taken(&mut self, drink: usize, brief: &Brief, candidate: &Candidate) -> Vec<Use> {
        match &candidate.origin {
            Origin::Made(preparation) if candidate.price.is_none() => {
                preparation.parts.iter().filter_map(|part| self.part(drink, brief, part)).collect()
            }
            _ if candidate.price.is_none() && candidate.cost_per_unit == Some(0.0) => vec![],
            _ => {
                let unit = candidate.price.as_ref().map_or(candidate.unit(), |price| price.pack.unit);
                let weighed = (candidate.unit(), unit) == (Unit::Ml, Unit::G);
                let each = if weighed { candidate.portion.mass } else { 1.0 } / candidate.yielded;
                let bottle = Bottle {
                    name: candidate.name.clone(),
                    price: candidate.price.clone(),
                    stored: candidate.stored,
                    unit,
                    label: Some(candidate.label),
                };
                vec![Use { bottle: self.put(drink, bottle), each }]
            }
        }
    }

    fn part(&mut self, drink: usize, brief: &Brief, part: &Part) -> Option<Use> {
        if part.price.is_none() && part.name == WATER {
            return None;
        }
        let unit = part.price.as_ref().map_or(part.per_unit.unit, |price| price.pack.unit);
        let weighed = (part.per_unit.unit, unit) == (Unit::Ml, Unit::G);
        let each = part.per_unit.value * if weighed { part.density } else { 1.0 } / part.yielded;
        let stored = brief.find(&part.name).map(|at| brief.candidates[at].stored).unwrap_or_default();
        let bottle = Bottle { name: part.name.clone(), price: part.price.clone(), stored, unit, label: None };
        Some(Use { bottle: self.put(drink, bottle), each })
    }

    /// The number of a bottle. Where two drinks say otherwise of it, the first is believed, and it is noted.
    fn put(&mut self, drink: usize, bottle: Bottle) -> usize {
        let Some(at) = self.all.iter().position(|known| known.name == bottle.name) else {
            self.all.push(bottle);
            self.from.push(drink);
            return self.all.len() - 1;
        };
        let noted = self.disagreements.iter().any(|one| one.bottle == bottle.name && one.drinks.1 == drink);
        let known = &mut self.all[at];
        if let (Some(said), false) = (otherwise(known, &bottle), noted) {
            let drinks = (self.from[at], drink);
            self.disagreements.push(Disagreement { bottle: bottle.name.clone(), drinks, said });
        }
        if known.price.is_none() && bottle.price.is_some() {
            let label = known.label;
            *known = bottle;
            known.label = known.label.or(label);
        }
        at
    }

    /// All of them.
    pub fn every(&self) -> Set {
        Set::first(self.all.len())
    }

    /// The bottles that a candidate of a drink needs.
    pub fn needed(&self, drink: usize, candidate: usize) -> Set {
        self.uses[drink][candidate].iter().map(|one| one.bottle).collect()
    }

    /// The bottles that a spec of a drink opens.
    pub fn opened(&self, drink: usize, spec: &Spec) -> Set {
        let pours = spec.pours.iter().filter(|pour| pour.amount > 0.0);
        pours.fold(Set::default(), |set, pour| set.or(&self.needed(drink, pour.candidate)))
    }

    /// How much of every bottle so many serves of a spec take, counted as its pack is.
    pub fn add_needs(&self, drink: usize, spec: &Spec, serves: f64, needs: &mut [f64]) {
        for pour in &spec.pours {
            for one in &self.uses[drink][pour.candidate] {
                needs[one.bottle] += serves * pour.amount * one.each;
            }
        }
    }

    /// Money for one ml (or g) of a bottle, were its packs divisible; nothing for what has no price.
    pub fn unit_price(&self, at: usize) -> f64 {
        self.all[at].price.as_ref().map_or(0.0, Price::per_unit)
    }

    /// Their names, in the order of the alphabet.
    pub fn names(&self, set: &Set) -> Vec<String> {
        let mut names: Vec<String> = set.iter().map(|at| self.all[at].name.clone()).collect();
        names.sort();
        names
    }

    /// Those without a price.
    pub fn unpriced(&self, set: &Set) -> Set {
        set.iter().filter(|at| self.all[*at].price.is_none()).collect()
    }
}

/// What two drinks say of a bottle, where it is not the same.
fn otherwise(a: &Bottle, b: &Bottle) -> Option<(String, String)> {
    let prices = a.price.as_ref().zip(b.price.as_ref());
    if let Some((one, other)) = prices.filter(|(one, other)| one != other) {
        let said = |price: &Price| format!("{} per {}", price.amount, price.pack_text);
        return Some((said(one), said(other)));
    }
    let figures = |label: &Label| [label.strength, label.sugar, label.acid];
    if let Some((one, other)) = a.label.zip(b.label).filter(|(one, other)| figures(one) != figures(other)) {
        let said = |label: &Label| {
            let [strength, sugar, acid] = figures(label).map(|figure| trimmed(figure, 2));
            format!("{strength} % vol, {sugar} g/L sugar, {acid} g/L acid")
        };
        return Some((said(&one), said(&other)));
    }
    let differs = prices.is_some() && a.stored != b.stored;
    differs.then(|| ("kept or bought one way".to_owned(), "another".to_owned()))
}

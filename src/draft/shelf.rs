//! What could stand in for an ingredient: of the same role, near in figures, the house's before the larder's.

use std::sync::Arc;

use super::names::Found;
use crate::brief::{Allergen, Brief, Candidate, Role};
use crate::finding::Finding;
use crate::larder::{self, Entry};
use crate::liquid::Label;
use crate::read::{House, shelf_of};

/// So many are offered for each ingredient.
const FEW: usize = 3;
/// What counts as one step apart: % vol, g/L of sugar, g/L of acid. Common practice, no source.
const STEPS: [f64; 3] = [10.0, 100.0, 15.0];
/// Further apart than this nobody would call it a stand-in.
const FAR: f64 = 3.0;
/// How many steps it counts to stand on another shelf of the larder (a vinegar for a juice), to bring an allergen along, and
/// to carry none of the notes. Common practice, no source.
const ELSEWHERE: f64 = 2.0;
const ALLERGEN: f64 = 2.0;
const UNLIKE: f64 = 1.0;

/// The house, opened, or none.
#[derive(Debug, Default)]
pub struct Stock {
    brief: Option<Brief>,
}

/// Something that could be offered.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// What, and from where.
    pub what: Found,
    /// Its role.
    pub role: Role,
    /// Whether a price is known.
    pub priced: bool,
    /// Caffeine in mg/L.
    pub caffeine: f64,
}

/// What an offer has to be.
#[derive(Debug, Clone, Copy)]
pub struct Ask<'a> {
    /// Only what has a price.
    pub priced: bool,
    /// Nothing with caffeine.
    pub caffeine_free: bool,
    /// Not these.
    pub not: &'a [String],
}

impl Ask<'_> {
    /// Whether an offer is that.
    pub fn takes(&self, offer: &Offer) -> bool {
        (!self.priced || offer.priced)
            && (!self.caffeine_free || offer.caffeine <= 0.0)
            && !self.not.iter().any(|name| name == offer.what.name())
    }
}

impl Stock {
    /// Opens the house, where there is one.
    pub fn open(house: Option<&Arc<House>>) -> Result<Self, Vec<Finding>> {
        Ok(Self { brief: house.map(shelf_of).transpose()? })
    }

    fn all(&self) -> &[Candidate] {
        self.brief.as_ref().map_or(&[], |brief| brief.candidates.as_slice())
    }

    /// The names of everything in it.
    pub fn names(&self) -> Vec<String> {
        self.all().iter().map(|candidate| candidate.name.clone()).collect()
    }

    /// An ingredient of it.
    pub fn find(&self, name: &str) -> Option<&Candidate> {
        self.all().iter().find(|candidate| candidate.name == name)
    }

    /// The offer that a found ingredient is.
    pub fn offer(&self, what: &Found) -> Option<Offer> {
        match what {
            Found::House(name) => self.find(name).map(|candidate| self.of_house(candidate)),
            Found::Larder(name) => larder::find(name).map(of_larder),
        }
    }

    fn of_house(&self, candidate: &Candidate) -> Offer {
        let properties = self.brief.iter().flat_map(|brief| &brief.properties);
        let at = properties.clone().position(|property| property.name == "caffeine");
        Offer {
            what: Found::House(candidate.name.clone()),
            role: candidate.role,
            priced: candidate.cost_per_unit.is_some(),
            caffeine: at.map_or(0.0, |at| candidate.carried(at) * 1000.0),
        }
    }

    /// A few that could stand in for something: of its role, near in figures, from its shelf and with its notes first.
    pub fn stand_ins(&self, own: &Candidate, ask: Ask<'_>) -> Vec<Offer> {
        let shelf = larder::find(&own.name).map(|entry| entry.group);
        let suits = |role: Role, label: &Label| {
            role == own.role && label.form == own.label.form && apart(label, &own.label) <= FAR
        };
        let unlike = |has: &dyn Fn(&str) -> bool, allergens: &[Allergen]| {
            let kept = own.notes.iter().filter(|note| has(note)).count();
            let new = allergens.iter().any(|allergen| !own.allergens.contains(allergen));
            UNLIKE * (1.0 - kept as f64 / own.notes.len().max(1) as f64) + if new { ALLERGEN } else { 0.0 }
        };
        let here = self.all().iter().filter(|c| !c.out && suits(c.role, &c.label)).map(|c| {
            // The house's own come first, unless they are something else altogether.
            let unlike = unlike(&|note| c.has_note(note), &c.allergens);
            ((apart(&c.label, &own.label) + unlike) * 0.5, self.of_house(c))
        });
        let there = larder::all().iter().filter(|e| self.find(&e.name).is_none() && suits(e.role, &e.label));
        let there = there.map(|e| {
            let elsewhere = if shelf.is_none_or(|shelf| shelf == e.group) { 0.0 } else { ELSEWHERE };
            let unlike = unlike(&|note| e.has_note(note), &e.allergens);
            (apart(&e.label, &own.label) + unlike + elsewhere, of_larder(e))
        });
        let mut near: Vec<(f64, Offer)> = here.chain(there).filter(|(_, offer)| ask.takes(offer)).collect();
        near.sort_by(|a, b| a.0.total_cmp(&b.0));
        near.into_iter().take(FEW).map(|(_, offer)| offer).collect()
    }

    /// A few that carry a note: all of the house, and where that has none, some of the larder.
    pub fn with_note(&self, note: &str, ask: Ask<'_>) -> Vec<Offer> {
        let pourable = |role: Role| !matches!(role, Role::Seasoning | Role::Texture | Role::Water);
        let here = self.all().iter().filter(|c| c.has_note(note) && !c.out && pourable(c.role));
        let mut offers: Vec<Offer> = here.map(|c| self.of_house(c)).filter(|o| ask.takes(o)).collect();
        if offers.is_empty() {
            let there = larder::all().iter().filter(|e| e.has_note(note) && pourable(e.role));
            offers = there.map(of_larder).filter(|o| ask.takes(o)).take(FEW + 1).collect();
        }
        offers
    }

    /// A note of the house or the larder that was perhaps meant.
    pub fn note_like(&self, note: &str) -> Option<String> {
        let own = self.all().iter().flat_map(|candidate| &candidate.notes);
        let larder = larder::all().iter().flat_map(|entry| &entry.notes);
        let meant = crate::read::closest(note, own.chain(larder).map(String::as_str));
        meant.map(str::to_owned)
    }

    /// What makes a drink long without making it strong.
    pub fn long(&self, ask: Ask<'_>) -> Vec<Offer> {
        let weak = |c: &&Candidate| c.role == Role::Lengthener && c.label.strength < 1.0 && !c.out;
        let mut offers: Vec<Offer> = self.all().iter().filter(weak).map(|c| self.of_house(c)).collect();
        let ordinary = ["black tea", "rooibos", "apple juice", "coconut water", "soda water"];
        let larder = ordinary.into_iter().filter_map(larder::find).filter(|e| self.find(&e.name).is_none());
        offers.extend(larder.map(of_larder));
        offers.retain(|offer| ask.takes(offer));
        offers.truncate(FEW);
        offers
    }
}

fn of_larder(entry: &Entry) -> Offer {
    Offer {
        what: Found::Larder(entry.name.clone()),
        role: entry.role,
        priced: entry.name == "water",
        caffeine: entry.caffeine,
    }
}

/// How far apart two compositions are, in steps.
fn apart(a: &Label, b: &Label) -> f64 {
    let gaps = [a.strength - b.strength, a.sugar - b.sugar, a.acid - b.acid];
    gaps.iter().zip(STEPS).map(|(gap, step)| (gap / step).powi(2)).sum::<f64>().sqrt()
}

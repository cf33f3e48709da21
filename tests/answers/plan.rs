//! A brief as a generator thinks of it: plain numbers, from which both the TOML text and the
//! validated [`Brief`] are made. The two ways are independent, so that each checks the other.

#[path = "written.rs"]
mod written;

use washline::brief::{
    Aim, Answer, Brief, Candidate, Choose, Glass, Goal, Hold, Measure, Menu, Natural, Notes, Origin, Pour,
    Property, Proportion, Reference, Resolution, Role, Serve, Spread, Step, Target, Variation,
};
use washline::liquid::{Dilution, Form, Label, Method};
use washline::quantity::{Currency, Price};

/// One ingredient: figures as a brief writes them.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    pub name: String,
    pub role: Role,
    pub label: Label,
    /// Money in hundredths for the pack.
    pub cents: u32,
    /// Millilitres (grams) in the pack.
    pub pack: u32,
    pub yielded: f64,
    pub pour: Option<f64>,
    pub min: Option<f64>,
    pub max: Option<f64>,
    pub must: bool,
    pub out: bool,
    pub carries: Vec<f64>,
    pub notes: Vec<String>,
}

impl Item {
    /// A liquid that costs `cents` for 700 ml.
    pub fn liquid(name: impl Into<String>, role: Role, label: Label, cents: u32) -> Self {
        Self {
            name: name.into(),
            role,
            label,
            cents,
            pack: 700,
            yielded: 1.0,
            pour: None,
            min: None,
            max: None,
            must: false,
            out: false,
            carries: vec![],
            notes: vec![],
        }
    }

    pub fn is_powder(&self) -> bool {
        self.label.form == Form::Powder
    }

    pub fn unit(&self) -> &'static str {
        if self.is_powder() { "g" } else { "ml" }
    }
}

/// A whole brief.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    pub method: Method,
    pub melt: Option<f64>,
    /// Pour step, ml.
    pub pour: f64,
    pub smallest: Option<f64>,
    pub most: Option<usize>,
    pub glass: Option<Glass>,
    pub targets: Vec<Target>,
    pub aim: Aim,
    /// Every difference matters unless a plan says otherwise.
    pub resolution: Resolution,
    pub menu: Option<Menu>,
    pub properties: Vec<Property>,
    pub items: Vec<Item>,
    /// What an aim at notes is after.
    pub aimed: Vec<String>,
    pub choose: Vec<Group>,
    pub proportions: Vec<Proportion>,
    pub reference: Vec<Pour>,
    pub hold: Vec<Hold>,
    pub answer: Answer,
}

/// How many of a group are used.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    pub members: Members,
    pub min: Option<usize>,
    pub max: Option<usize>,
}

/// A role, a note, or candidates one by one.
#[derive(Debug, Clone, PartialEq)]
pub enum Members {
    Role(Role),
    Note(String),
    Among(Vec<usize>),
}

/// Rounded up (down) to whole steps, with room for the binary fractions of both.
fn steps_up(value: f64, step: f64) -> f64 {
    (value / step - 1e-9).ceil() * step
}

fn steps_down(value: f64, step: f64) -> f64 {
    (value / step + 1e-9).floor() * step
}

impl Plan {
    /// These items with no ice, in 5 ml steps, as cheap as possible, and nothing asked of them yet.
    pub fn of(items: Vec<Item>) -> Self {
        Self {
            method: Method::None,
            melt: None,
            pour: 5.0,
            smallest: None,
            most: None,
            glass: None,
            targets: vec![],
            aim: Aim::Lowest(Goal::Measure(Measure::Cost)),
            resolution: Resolution::FINE,
            menu: None,
            properties: vec![],
            items,
            aimed: vec![],
            choose: vec![],
            proportions: vec![],
            reference: vec![],
            hold: vec![],
            answer: Answer::default(),
        }
    }

    /// With one more target.
    pub fn with(
        mut self,
        measure: Measure,
        min: impl Into<Option<f64>>,
        max: impl Into<Option<f64>>,
    ) -> Self {
        self.targets.push(Target { measure, min: min.into(), max: max.into() });
        self
    }

    /// The brief, made without the reader.
    pub fn brief(&self) -> Brief {
        Brief {
            about: vec![],
            title: "A seeded brief".to_owned(),
            currency: Currency::parse("GBP").expect("a currency"),
            serve: Serve {
                method: self.method,
                melt: self.melt,
                spread: if self.melt.is_some() || self.method == Method::None { 0.0 } else { 0.05 },
                ice: None,
                dilution: Dilution::of(self.method, self.melt).expect("a blend with its melt"),
                most: self.most,
                glass: self.glass,
            },
            targets: self.targets.clone(),
            aim: self.aim,
            resolution: self.resolution,
            menu: self.menu,
            serves: None,
            properties: self.properties.clone(),
            candidates: self.items.iter().map(|item| self.candidate(item)).collect(),
            choose: self.choose.iter().map(|group| self.group(group)).collect(),
            proportions: self.proportions.clone(),
            reference: (!self.reference.is_empty()).then(|| Reference { pours: self.reference.clone() }),
            hold: self.hold.clone(),
            answer: self.answer.clone(),
            variation: Variation { bar_step: Some(self.pour), ..Variation::default() },
            tasted: vec![],
            weighed: vec![],
            notes: self.notes(),
        }
    }

    /// What is asked for: the notes of the aim, then those of the groups.
    fn notes(&self) -> Notes {
        let mut asked = self.aimed.clone();
        for group in &self.choose {
            if let Members::Note(note) = &group.members
                && !asked.contains(note)
            {
                asked.push(note.clone());
            }
        }
        Notes { aimed: self.aimed.clone(), asked }
    }

    fn candidate(&self, item: &Item) -> Candidate {
        let powder = item.is_powder();
        let step = item.pour.unwrap_or(self.pour);
        let smallest = if powder { step } else { self.smallest.unwrap_or(step).max(step) };
        Candidate {
            name: item.name.clone(),
            role: item.role,
            label: item.label,
            natural: Natural::default(),
            spread: Spread::default(),
            portion: item.label.portion().expect("an ingredient that can exist"),
            carries: item.carries.clone(),
            price: Some(Price::parse(&price(item)).expect("a price")),
            yielded: item.yielded,
            cost_per_unit: Some(f64::from(item.cents) / 100.0 / f64::from(item.pack) / item.yielded),
            step: Step::Every(step),
            least: steps_up(item.min.unwrap_or(0.0).max(smallest), step),
            most: item.max.map(|max| steps_down(max, step)),
            must: item.must,
            out: item.out,
            stage: item.label.stage,
            allergens: vec![],
            handling: vec![],
            notes: item.notes.clone(),
            origin: Origin::Brief,
            stored: washline::brief::Stored::default(),
        }
    }

    fn group(&self, group: &Group) -> Choose {
        let (label, members) = match &group.members {
            Members::Role(role) => {
                let all = self.items.iter().enumerate().filter(|(_, item)| item.role == *role);
                (role.keyword().to_owned(), all.map(|(at, _)| at).collect())
            }
            Members::Note(note) => {
                let all = self.items.iter().enumerate().filter(|(_, item)| item.notes.contains(note));
                (note.clone(), all.map(|(at, _)| at).collect())
            }
            Members::Among(all) => {
                let names: Vec<&str> = all.iter().map(|&at| self.items[at].name.as_str()).collect();
                (names.join(", "), all.clone())
            }
        };
        Choose { label, members, min: group.min, max: group.max }
    }
}

pub fn price(item: &Item) -> String {
    format!("{}.{:02} per {} {}", item.cents / 100, item.cents % 100, item.pack, item.unit())
}

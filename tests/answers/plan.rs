//! A brief as a generator thinks of it: plain numbers, from which both the TOML text and the
//! validated [`Brief`] are made. The two ways are independent, so that each checks the other.

use std::fmt::Write as _;

use washline::brief::{
    Aim, Answer, Brief, Candidate, Choose, Glass, Goal, Hold, Measure, Menu, Natural, Nearest, Notes, Origin,
    Per, Pour, Property, Proportion, Reference, Resolution, Role, Serve, Spread, Step, Target, Variation,
};
use washline::liquid::{Dilution, Form, Label, Method, Stage};
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

    fn is_powder(&self) -> bool {
        self.label.form == Form::Powder
    }

    fn unit(&self) -> &'static str {
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

    /// The brief as a file.
    pub fn toml(&self) -> String {
        let mut text = String::from("title = \"A seeded brief\"\ncurrency = \"GBP\"\n");
        self.write_serve(&mut text);
        self.write_targets(&mut text);
        self.write_aim(&mut text);
        self.write_menu_and_properties(&mut text);
        for item in &self.items {
            write_item(&mut text, item, &self.properties);
        }
        self.write_rules(&mut text);
        self.write_reference(&mut text);
        let _ = writeln!(text, "[answer]\nalternatives = {}", self.answer.alternatives);
        if let Some(within) = self.answer.within {
            let _ = writeln!(text, "within = {within}");
        }
        text
    }

    fn write_serve(&self, text: &mut String) {
        let method = match self.method {
            Method::Shake => "shake",
            Method::Stir => "stir",
            Method::Build => "build",
            Method::Blend => "blend",
            Method::None => "none",
        };
        let _ = writeln!(text, "[serve]\nmethod = \"{method}\"\npour = \"{} ml\"", self.pour);
        if let Some(melt) = self.melt {
            let _ = writeln!(text, "melt = {{ typical = {melt}, exact = true }}");
        }
        if let Some(smallest) = self.smallest {
            let _ = writeln!(text, "smallest = \"{smallest} ml\"");
        }
        if let Some(most) = self.most {
            let _ = writeln!(text, "most = {most}");
        }
        if let Some(glass) = self.glass {
            let _ = writeln!(text, "glass = \"{} ml\"\nheadroom = {}", glass.brim, glass.headroom);
        }
    }

    fn write_targets(&self, text: &mut String) {
        text.push_str("[targets]\n");
        for target in &self.targets {
            let sides: Vec<String> =
                target.sides().map(|(side, limit)| format!("{} = {limit:?}", side.keyword())).collect();
            let _ = writeln!(text, "{} = {{ {} }}", self.measure_name(target.measure), sides.join(", "));
        }
    }

    fn measure_name(&self, measure: Measure) -> &str {
        match measure {
            Measure::Property(at) => &self.properties[at].name,
            other => other.keyword(),
        }
    }

    fn write_aim(&self, text: &mut String) {
        let goal = |goal: Goal| match goal {
            Goal::Measure(measure) => self.measure_name(measure).to_owned(),
            Goal::Ingredient(at) => self.items[at].name.clone(),
        };
        if self.aim == Aim::Notes {
            let _ = writeln!(text, "[aim]\nhighest = {{ notes = [{}] }}", quoted(&self.aimed));
            if let Resolution::By(to) = self.resolution {
                let _ = writeln!(text, "to = {to}");
            }
            return;
        }
        let (direction, of) = match self.aim {
            Aim::Notes => return,
            Aim::Lowest(what) => ("lowest", goal(what)),
            Aim::Highest(what) => ("highest", goal(what)),
            Aim::Nearest(Nearest::Reference) => ("nearest", "reference".to_owned()),
            Aim::Nearest(Nearest::Middle) => ("nearest", "middle".to_owned()),
        };
        let _ = writeln!(text, "[aim]\n{direction} = \"{of}\"");
        // A share is what the reader takes where nothing is written.
        if let Resolution::By(to) = self.resolution {
            let _ = writeln!(text, "to = {to}");
        }
    }

    fn write_menu_and_properties(&self, text: &mut String) {
        if let Some(menu) = self.menu {
            let _ = writeln!(text, "[menu]\nprice = {}\ntax = {}", menu.price, menu.tax);
        }
        if !self.properties.is_empty() {
            text.push_str("[properties]\n");
        }
        for property in &self.properties {
            let per = match property.per {
                Per::Serve => "serve",
                Per::Litre => "litre",
            };
            let _ = writeln!(text, "{} = {{ unit = \"{}\", per = \"{per}\" }}", property.name, property.unit);
        }
    }

    fn write_rules(&self, text: &mut String) {
        for group in &self.choose {
            text.push_str("[[choose]]\n");
            let _ = match &group.members {
                Members::Role(role) => writeln!(text, "role = \"{}\"", role.keyword()),
                Members::Note(note) => writeln!(text, "note = \"{note}\""),
                Members::Among(all) => {
                    let names: Vec<String> =
                        all.iter().map(|&at| format!("\"{}\"", self.items[at].name)).collect();
                    writeln!(text, "among = [{}]", names.join(", "))
                }
            };
            write_sides(text, group.min, group.max);
        }
        for rule in &self.proportions {
            let (of, to) = (&self.items[rule.of].name, &self.items[rule.to].name);
            let _ = writeln!(text, "[[proportion]]\nof = \"{of}\"\nto = \"{to}\"");
            write_sides(text, rule.min, rule.max);
        }
    }

    fn write_reference(&self, text: &mut String) {
        if !self.reference.is_empty() {
            text.push_str("[reference]\n");
        }
        for pour in &self.reference {
            let item = &self.items[pour.candidate];
            let _ = writeln!(text, "\"{}\" = \"{} {}\"", item.name, pour.amount, item.unit());
        }
        if !self.hold.is_empty() {
            text.push_str("[hold]\n");
        }
        for hold in &self.hold {
            let _ = writeln!(text, "{} = {:?}", self.measure_name(hold.measure), hold.within);
        }
    }
}

fn write_sides<T: std::fmt::Display>(text: &mut String, min: Option<T>, max: Option<T>) {
    if let Some(min) = min {
        let _ = writeln!(text, "min = {min}");
    }
    if let Some(max) = max {
        let _ = writeln!(text, "max = {max}");
    }
}

fn quoted(words: &[String]) -> String {
    words.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", ")
}

fn price(item: &Item) -> String {
    format!("{}.{:02} per {} {}", item.cents / 100, item.cents % 100, item.pack, item.unit())
}

fn write_item(text: &mut String, item: &Item, properties: &[Property]) {
    let label = &item.label;
    let _ = writeln!(
        text,
        "[[candidate]]\nname = \"{}\"\nrole = \"{}\"\nprice = \"{}\"",
        item.name,
        item.role.keyword(),
        price(item)
    );
    if item.is_powder() {
        text.push_str("form = \"powder\"\n");
    } else {
        let _ = writeln!(text, "strength = {:?}", label.strength);
    }
    let _ = writeln!(text, "sugar = {:?}\nacid = {:?}", label.sugar, label.acid);
    if let Some(density) = label.density {
        let _ = writeln!(text, "density = {density:?}");
    }
    if label.sweetness != 1.0 {
        let _ = writeln!(text, "sweetness = {:?}", label.sweetness);
    }
    if item.yielded != 1.0 {
        let _ = writeln!(text, "yield = {:?}", item.yielded);
    }
    let unit = item.unit();
    for (key, amount) in [("pour", item.pour), ("min", item.min), ("max", item.max)] {
        if let Some(amount) = amount {
            let _ = writeln!(text, "{key} = \"{amount} {unit}\"");
        }
    }
    for (key, flag) in [("must", item.must), ("out", item.out), ("top", label.stage == Stage::Topped)] {
        if flag {
            let _ = writeln!(text, "{key} = true");
        }
    }
    if !item.notes.is_empty() {
        let _ = writeln!(text, "notes = [{}]", quoted(&item.notes));
    }
    if !item.carries.is_empty() {
        let all = properties.iter().zip(&item.carries);
        let all: Vec<String> = all.map(|(p, per_litre)| format!("{} = {per_litre:?}", p.name)).collect();
        let _ = writeln!(text, "carries = {{ {} }}", all.join(", "));
    }
}

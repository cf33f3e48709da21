//! A generator's brief as a file.

use std::fmt::Write as _;

use washline::brief::{Aim, Goal, Measure, Nearest, Per, Property, Resolution};
use washline::liquid::{Method, Stage};

use super::{Item, Members, Plan, price};

impl Plan {
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

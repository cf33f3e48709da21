//! The text of a brief that is being written.

use super::names::Found;
use super::{Ice, Wish};
use crate::brief::{Measure, Role};
use crate::liquid::Method;
use crate::read::{Keyword, quoted};

/// The text of a brief; one line a key, each with a comment.
pub struct Text(pub String);

impl Text {
    /// A line and what it is for.
    pub fn line(&mut self, line: &str, comment: &str) {
        self.0.push_str(&format!("{line:<44}  # {comment}\n"));
    }

    /// A table begins.
    pub fn table(&mut self, header: &str, comment: &str) {
        self.0.push('\n');
        self.line(header, comment);
    }

    /// What the drink is called, and its house.
    pub fn head(&mut self, title: &str, wish: &Wish) {
        self.line(&format!("title = {}", quoted(title)), "what the drink is called");
        if let Some(at) = &wish.at {
            self.line(&format!("house = {}", quoted(&at.path)), "bottles, prices and syrups, kept once");
        }
    }

    /// How it is made and served: in this step where none is wished for, and of at most so many ingredients.
    pub fn serve(
        &mut self,
        (method, ice): (Method, Option<Ice>),
        step: &str,
        most: Option<usize>,
        wish: &Wish,
    ) {
        self.table("[serve]", "how it is made and served");
        let about = "shake, stir, build, blend or none: how much ice melts in";
        self.line(&format!("method = \"{}\"", method.word()), about);
        if method == Method::Blend {
            self.line("melt = 60", "water from the ice, % of what is poured: weigh it, and give your own");
        }
        ice.iter().flat_map(|ice| ice.lines()).for_each(|(line, about)| self.line(line, about));
        let step = wish.pour.as_deref().unwrap_or(step);
        self.line(&format!("pour = {}", quoted(step)), "the step that the bar measures in");
        if let Some(most) = most {
            self.line(&format!("most = {most}"), "at most so many ingredients: one more than the drink has");
        }
        if let Some(glass) = &wish.glass {
            self.line(&format!("glass = {}", quoted(glass)), "to the brim; 5 % of it stays free");
        }
    }

    /// What is aimed for begins.
    pub fn aim(&mut self, aim: &str, comment: &str) {
        self.table("[aim]", "what makes one spec better than another: lowest, highest or nearest");
        self.line(aim, comment);
    }

    /// An ingredient, and where its figures stand.
    pub fn candidate(&mut self, what: &Found, about: &str) {
        self.table("[[candidate]]", about);
        let (from, source) = match what {
            Found::House(_) => ("house", "its figures and price stand in the house"),
            Found::Larder(_) => ("larder", "built-in figures; add price = \"17.50 per 700 ml\""),
        };
        self.line(&format!("{from} = {}", quoted(what.name())), source);
    }

    /// How many of a role.
    pub fn choose(&mut self, about: &str, role: Role, most: Option<usize>) {
        self.table("[[choose]]", about);
        self.line(&format!("role = \"{}\"", role.keyword()), "all ingredients of this role");
        self.line("min = 1", "at least so many of them");
        if let Some(most) = most {
            self.line(&format!("max = {most}"), "at most so many of them");
        }
    }
}

/// What is aimed for, where nothing else is said of it.
pub const OF_ALL: &str = "of all specs that keep to the rest";

/// A text whose first letter is a capital.
pub fn upper_first(text: &str) -> String {
    text.get(..1).map_or_else(|| text.to_owned(), |first| first.to_uppercase() + &text[1..])
}

/// The unit of a measure, in words.
pub fn unit(measure: Measure) -> &'static str {
    match measure {
        Measure::Sweetness => "g/L, as sucrose",
        Measure::Acid => "g/L, as citric",
        other => other.unit(),
    }
}

//! From the drink she knows to a brief that answers: the spec as it stands on a card, and what is to change.
//!
//! [`measured`] reads the line and measures it; [`brief`] writes a brief around it, every line with a
//! comment. What could stand in for each ingredient is looked up in the house and in the larder (`shelf`).

mod aim;
mod card;
mod line;
mod names;
mod shelf;
mod skeleton;
mod spelling;
mod text;
mod write;

use std::sync::Arc;

pub use card::{Ice, Making, making};
pub use line::{Item, Written};
pub use names::Found;
pub use skeleton::skeleton;
pub use write::brief;

use self::shelf::Stock;
use crate::brief::{Brief, Pour};
use crate::finding::Finding;
use crate::larder::Family;
use crate::liquid::Method;
use crate::read::{Changes, House, Keyword, Reading, closest, quoted, read_changed};

/// The house of a brief that is to be written: its text, and its path as the brief will name it.
#[derive(Debug, Clone)]
pub struct At {
    /// The house.
    pub house: Arc<House>,
    /// Its path relative to the brief.
    pub path: String,
}

/// What a new brief is to be.
#[derive(Debug, Clone, Default)]
pub struct Wish {
    /// The drink as it stands on a card; none where a family alone is asked for.
    pub line: Option<String>,
    /// How it is made; none: as its family is, else shaken.
    pub method: Option<Method>,
    /// The glass, a quantity to the brim.
    pub glass: Option<String>,
    /// The step that the bar measures in, a quantity.
    pub pour: Option<String>,
    /// What to aim for: `lowest cost`, `cost`, `nearest middle` (default: nearest reference).
    pub aim: Option<String>,
    /// At most this strength, % vol.
    pub lighter: Option<f64>,
    /// At most this cost a serve.
    pub under: Option<f64>,
    /// Ingredients that are not to be used.
    pub without: Vec<String>,
    /// No caffeine.
    pub caffeine_free: bool,
    /// Notes that something in it has to carry.
    pub notes: Vec<String>,
    /// The family that it is to belong to.
    pub family: Option<&'static Family>,
    /// The house.
    pub at: Option<At>,
}

/// A line that was measured without a brief.
#[derive(Debug, Clone)]
pub struct Measured {
    /// The line as a brief, with the line as its reference.
    pub brief: Brief,
    /// What is poured, in the order of the line.
    pub pours: Vec<Pour>,
    /// The line as it was read.
    pub items: Vec<Item>,
    /// The ice that the line serves it on.
    pub ice: Option<Ice>,
}

/// The method of a word.
pub fn method(word: &str) -> Option<Method> {
    Method::words()
        .into_iter()
        .find(|(known, _)| known.eq_ignore_ascii_case(word.trim()))
        .map(|(_, method)| method)
}

/// The name of the family that a slip of the pen was perhaps meant for.
pub fn closest_family(word: &str) -> Option<&'static str> {
    let meant = closest(word, crate::larder::FAMILIES.iter().map(|family| family.name));
    meant.and_then(Family::find).map(|family| family.name)
}

/// The word of a method.
pub fn method_word(method: Method) -> &'static str {
    method.word()
}

/// Reads and measures a line: made as `asked`, else as the line says, else shaken.
///
/// # Errors
/// What is wrong with the line, with places in it; or with the house.
pub fn measured(
    line: &str,
    asked: Option<Method>,
    house: Option<&Arc<House>>,
) -> Result<Measured, Vec<Finding>> {
    let stock = Stock::open(house)?;
    let items = line::read(line, &stock.names())?;
    let Making { method, ice } = making(line);
    let method = asked.or(method).unwrap_or(Method::Shake);
    let mut text = format!("[serve]\nmethod = \"{}\"\n", method.word());
    if method == Method::Blend {
        text.push_str("melt = 60\n");
    }
    ice.iter().flat_map(|ice| ice.lines()).for_each(|(line, _)| text.push_str(&format!("{line}\n")));
    if house.is_some() {
        text.insert_str(0, "house = \"house\"\n");
    }
    text.push_str("[targets]\nvolume = { max = 2000 }\n[aim]\nnearest = \"reference\"\n[reference]\n");
    for item in &items {
        text.push_str(&format!(
            "{} = \"{} {}\"\n",
            quoted(item.what.name()),
            item.amount.value,
            item.amount.unit.symbol()
        ));
    }
    for item in &items {
        text.push_str(&match &item.what {
            Found::House(name) => format!("[[candidate]]\nhouse = {}\nout = false\n", quoted(name)),
            Found::Larder(name) => format!("[[candidate]]\nlarder = {}\n", quoted(name)),
        });
        if item.top {
            text.push_str("top = true\n");
        }
    }
    let changes = Changes { house: house.cloned(), ..Changes::default() };
    let Reading { brief, .. } = read_changed(text.as_bytes(), &changes)?;
    let amount =
        |item: &Item| Some(Pour { candidate: brief.find(item.what.name())?, amount: item.amount.value });
    let pours = items.iter().filter_map(amount).collect();
    Ok(Measured { brief, pours, items, ice })
}

//! Figures that were measured, written where the figures of each thing stand: in the house or in the brief, and
//! nothing else in them touched.

use toml_edit::{ArrayOfTables, DocumentMut, InlineTable, Item, Table, TableLike, Value};

use super::edited::{as_before, document_of, number, set};
use crate::finding::Finding;
use crate::liquid::Method;

/// A figure that was measured.
#[derive(Debug, Clone, PartialEq)]
pub enum NewFigure {
    /// What an ingredient holds, g/L: under `sugar` or `acid`.
    Content {
        /// Whose it is.
        ingredient: String,
        /// `sugar` or `acid`.
        key: &'static str,
        /// Typical, least and most.
        range: [f64; 3],
    },
    /// How the ice melts into what is made like this.
    Melt {
        /// How it is made.
        method: Method,
        /// Water in % of what is poured.
        typical: f64,
        /// How far serves differ either way, in the same.
        spread: Option<f64>,
        /// The strength before the ice, % vol, at which it was weighed.
        at: f64,
    },
    /// How far one pour is off, ml (standard deviation).
    PourError(f64),
}

/// Texts with measured figures in them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Written {
    /// The brief's, where anything in it changed.
    pub brief: Option<String>,
    /// The house's, where anything in it changed.
    pub house: Option<String>,
    /// What was written, each with whether it went into the house.
    pub told: Vec<(String, Place)>,
    /// What could not be written, with the reason.
    pub left: Vec<String>,
}

/// Where a figure went.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Into the brief.
    Brief,
    /// Into the house.
    House,
}

/// A text that is edited.
struct Page {
    text: String,
    document: DocumentMut,
    changed: bool,
}

impl Page {
    fn of(text: &str, what: &str) -> Result<Self, Finding> {
        Ok(Self { text: text.to_owned(), document: document_of(text, what)?, changed: false })
    }

    fn written(self) -> Option<String> {
        self.changed.then(|| as_before(&self.text, self.document.to_string()))
    }

    /// The table of an ingredient that goes by this name.
    fn ingredient(&mut self, name: &str) -> Option<&mut Table> {
        let list = self.document.get_mut("candidate")?.as_array_of_tables_mut()?;
        list.iter_mut().find(|table| name_of(table) == Some(name))
    }
}

fn word<'t>(table: &'t Table, key: &str) -> Option<&'t str> {
    table.get(key).and_then(Item::as_str).map(str::trim)
}

fn name_of(table: &Table) -> Option<&str> {
    word(table, "name").or_else(|| word(table, "larder")).or_else(|| word(table, "house"))
}

/// Writes figures of this date into a brief, or into its house where they are the house's: an ingredient's where
/// it states them, melt and pour error where the brief does not state its own. With a house alone everything goes
/// into it.
///
/// # Errors
/// When a text cannot be added to.
pub fn figures_in(
    brief: Option<&str>,
    house: Option<&str>,
    figures: &[NewFigure],
    date: &str,
) -> Result<Written, Finding> {
    let mut brief = brief.map(|text| Page::of(text, "brief")).transpose()?;
    let mut house = house.map(|text| Page::of(text, "house")).transpose()?;
    let mut written = Written::default();
    for figure in figures {
        let found = match figure {
            NewFigure::Content { ingredient, key, range } => {
                content(&mut brief, &mut house, ingredient, (key, *range), date)
            }
            NewFigure::Melt { method, typical, spread, at } => {
                melt(&mut brief, &mut house, *method, (*typical, *spread, *at))
            }
            NewFigure::PourError(error) => pour_error(&mut brief, &mut house, *error),
        };
        match found {
            Ok(told) => written.told.push(told),
            Err(why) => written.left.push(why),
        }
    }
    written.brief = brief.and_then(Page::written);
    written.house = house.and_then(Page::written);
    Ok(written)
}

fn content(
    brief: &mut Option<Page>,
    house: &mut Option<Page>,
    name: &str,
    (key, range): (&'static str, [f64; 3]),
    date: &str,
) -> Result<(String, Place), String> {
    let states = |table: &Table| table.contains_key(key) || key == "sugar" && table.contains_key("brix");
    let in_brief = brief.as_mut().and_then(|page| page.ingredient(name));
    // A candidate that takes everything from the house has its figures there.
    let of_house = match &in_brief {
        Some(table) => table.contains_key("house") && !states(table),
        None => house.as_mut().is_some_and(|page| page.ingredient(name).is_some()),
    };
    let house_name = in_brief.as_deref().and_then(|table| word(table, "house")).unwrap_or(name).to_owned();
    let (page, place, name) =
        if of_house { (house, Place::House, house_name.as_str()) } else { (brief, Place::Brief, name) };
    let Some(page) = page else { return Err(format!("{name}: it stands nowhere that could be written to")) };
    if page.ingredient(name).is_none() {
        brought(&mut page.document, name);
    }
    let Some(table) = page.ingredient(name) else {
        return Err(format!("{name}: its table was not found"));
    };
    if table.contains_key("made") {
        return Err(format!("{key} of {name}: its recipe says what is in it; mend the recipe, or its loss"));
    }
    let mut figures = InlineTable::new();
    for (key, figure) in ["typical", "min", "max"].into_iter().zip(range) {
        figures.insert(key, number(figure));
    }
    if key == "sugar" {
        table.remove("brix");
    }
    set(table, key, Value::InlineTable(figures));
    set(table, "measured", Value::from(date));
    page.changed = true;
    let [typical, min, max] = range.map(|figure| number(figure).to_string().trim().to_owned());
    Ok((format!("{key} of {name} {typical} ({min} to {max})"), place))
}

/// What a `[[bring]]` brought from the larder stands in the brief by itself from now on.
fn brought(document: &mut DocumentMut, name: &str) {
    let list = document.entry("candidate").or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
    if let Some(list) = list.as_array_of_tables_mut() {
        let mut table = Table::new();
        table.insert("larder", Item::Value(Value::from(name)));
        list.push(table);
    }
}

fn melt(
    brief: &mut Option<Page>,
    house: &mut Option<Page>,
    method: Method,
    (typical, spread, at): (f64, Option<f64>, f64),
) -> Result<(String, Place), String> {
    let word = super::from::method_word(method);
    let mut figures = InlineTable::new();
    figures.insert("typical", number(typical));
    if let Some(spread) = spread {
        figures.insert("spread", number(spread));
    }
    figures.insert("at", number(at));
    let told = format!("melt{}", figures.to_string().trim_end()).replace("melt{", "melt {");
    let own = |page: &Page| {
        page.document
            .get("serve")
            .and_then(Item::as_table_like)
            .is_some_and(|serve| serve.contains_key("melt"))
    };
    let (page, place) = bar(brief, house, own);
    let Some(page) = page else { return Err("melt: it stands nowhere that could be written to".to_owned()) };
    let (table, key) = match place {
        Place::Brief => (under(&mut page.document, "serve"), "melt"),
        Place::House => (under(&mut page.document, "melt"), word),
    };
    let Some(table) = table else { return Err("melt: what stands there is no table".to_owned()) };
    set(table, key, Value::InlineTable(figures));
    page.changed = true;
    let of = if place == Place::House { format!(" of what is made by {word}") } else { String::new() };
    Ok((format!("{told}{of}"), place))
}

fn pour_error(
    brief: &mut Option<Page>,
    house: &mut Option<Page>,
    error: f64,
) -> Result<(String, Place), String> {
    let own = |page: &Page| {
        let table = page.document.get("variation").and_then(Item::as_table_like);
        table.is_some_and(|variation| variation.contains_key("pour_error"))
    };
    let (page, place) = bar(brief, house, own);
    let Some(page) = page else {
        return Err("pour error: it stands nowhere that could be written to".to_owned());
    };
    let text = format!("{} ml", number(error).to_string().trim());
    match place {
        Place::House => set(page.document.as_table_mut(), "pour_error", Value::from(text.as_str())),
        Place::Brief => match under(&mut page.document, "variation") {
            Some(table) => set(table, "pour_error", Value::from(text.as_str())),
            None => return Err("pour error: [variation] is no table".to_owned()),
        },
    }
    page.changed = true;
    Ok((format!("pour error {text}"), place))
}

/// Where a figure of the bar goes: into the brief that states its own, or that has no house; else the house.
fn bar<'p>(
    brief: &'p mut Option<Page>,
    house: &'p mut Option<Page>,
    own: impl Fn(&Page) -> bool,
) -> (Option<&'p mut Page>, Place) {
    match (brief, house) {
        (Some(brief), Some(house)) => {
            if own(brief) {
                (Some(brief), Place::Brief)
            } else {
                (Some(house), Place::House)
            }
        }
        (brief, None) => (brief.as_mut(), Place::Brief),
        (None, house) => (house.as_mut(), Place::House),
    }
}

/// The table under a key; a new one where there is none.
fn under<'d>(document: &'d mut DocumentMut, key: &str) -> Option<&'d mut dyn TableLike> {
    document.entry(key).or_insert_with(|| Item::Table(Table::new())).as_table_like_mut()
}

#[cfg(test)]
mod tests {
    use super::*;

    const HOUSE: &str = "# hers\ntitle = \"The Ferry Steps\"\n\n[[candidate]]\nlarder = \"lime juice\"   # \
                         squeezed\nacid   = { typical = 61, min = 56, max = 66 }   # this season\n\n[[candidate]]\nname \
                         = \"bay syrup\"\nmade = { by = \"weight\", parts = { \"sugar, white\" = 2, \"water\" = 1 } }\n";

    fn figures() -> Vec<NewFigure> {
        let content = |ingredient: &str, key, range| NewFigure::Content {
            ingredient: ingredient.to_owned(),
            key,
            range,
        };
        vec![
            content("lime juice", "acid", [57.6, 56.4, 58.9]),
            content("bay syrup", "sugar", [870.0, 865.0, 875.0]),
            NewFigure::Melt { method: Method::Shake, typical: 43.5, spread: Some(4.0), at: 24.0 },
            NewFigure::PourError(0.8),
        ]
    }

    #[test]
    fn a_house_takes_its_own_figures_and_leaves_its_recipes() {
        let written = figures_in(None, Some(HOUSE), &figures(), "2026-11-29").expect("written");
        let text = written.house.clone().expect("a house");
        for line in [
            "# hers\n",
            "larder = \"lime juice\"   # squeezed\n",
            "acid   = { typical = 57.6, min = 56.4, max = 58.9 }   # this season\n",
            "measured = \"2026-11-29\"\n",
            "[melt]\nshake = { typical = 43.5, spread = 4, at = 24 }\n",
            "pour_error = \"0.8 ml\"\n",
        ] {
            assert!(text.contains(line), "{line}: {text}");
        }
        assert_eq!(written.told.len(), 3);
        assert!(written.left[0].contains("recipe"), "{written:?}");
        assert!(!text.contains("870"), "{text}");
    }

    #[test]
    fn a_brief_keeps_what_it_states_itself() {
        let brief = "house = \"house.toml\"\n[serve]\nmethod = \"shake\"\nmelt = 45 # weighed\n[[candidate]]\nhouse = \
                     \"lime juice\"\n[[candidate]]\nlarder = \"gin\"\n";
        let mut all = figures();
        all.push(NewFigure::Content {
            ingredient: "lemon juice".to_owned(),
            key: "acid",
            range: [55.0, 54.0, 56.0],
        });
        let written = figures_in(Some(brief), Some(HOUSE), &all, "2026-11-29").expect("written");
        let (brief, house) = (written.brief.expect("a brief"), written.house.expect("a house"));
        assert!(brief.contains("melt = { typical = 43.5, spread = 4, at = 24 } # weighed\n"), "{brief}");
        assert!(
            brief.contains("larder = \"lemon juice\"\nacid = { typical = 55, min = 54, max = 56 }"),
            "{brief}"
        );
        assert!(house.contains("acid   = { typical = 57.6"), "{house}");
        assert!(house.contains("pour_error") && !house.contains("[melt]"), "{house}");
        let alone = figures_in(Some("[serve]\nmethod = \"shake\"\n"), None, &figures()[2..], "2026-11-29");
        let alone = alone.expect("written").brief.expect("a brief");
        assert!(
            alone.contains("method = \"shake\"\nmelt = { typical") && alone.contains("[variation]"),
            "{alone}"
        );
        assert!(figures_in(Some("serve = 3"), None, &figures()[2..3], "").expect("told").brief.is_none());
    }
}

//! Figures that were measured, written where the figures of each thing stand: in the house or in the brief, and
//! nothing else in them touched.

use toml_edit::{DocumentMut, InlineTable, Table, Value};

use super::edited::{as_before, document_of, ingredients, inner, list, named, number, set};
use super::file::Keyword;
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
        let tables = self.document.get_mut("candidate")?.as_array_of_tables_mut()?;
        named(tables, name).and_then(|at| tables.get_mut(at))
    }
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
    let mut pages = Pages {
        brief: brief.map(|text| Page::of(text, "brief")).transpose()?,
        house: house.map(|text| Page::of(text, "house")).transpose()?,
    };
    let mut written = Written::default();
    for figure in figures {
        let found = match figure {
            NewFigure::Content { ingredient, key, range } => pages.content(ingredient, (key, *range), date),
            NewFigure::Melt { method, typical, spread, at } => pages.melt(*method, (*typical, *spread, *at)),
            NewFigure::PourError(error) => pages.pour_error(*error),
        };
        match found {
            Ok(told) => written.told.push(told),
            Err(why) => written.left.push(why),
        }
    }
    written.brief = pages.brief.and_then(Page::written);
    written.house = pages.house.and_then(Page::written);
    Ok(written)
}

/// The texts that figures are written into.
struct Pages {
    brief: Option<Page>,
    house: Option<Page>,
}

/// What was written and where, or why nothing could be.
type Told = Result<(String, Place), String>;

impl Pages {
    fn content(&mut self, name: &str, (key, range): (&'static str, [f64; 3]), date: &str) -> Told {
        let states = |table: &Table| table.contains_key(key) || key == "sugar" && table.contains_key("brix");
        let in_brief = self.brief.as_mut().and_then(|page| page.ingredient(name));
        // A candidate that takes everything from the house has its figures there.
        let of_house = match &in_brief {
            Some(table) => table.contains_key("house") && !states(table),
            None => self.house.as_mut().is_some_and(|page| page.ingredient(name).is_some()),
        };
        let house_name = in_brief
            .as_deref()
            .and_then(|table| table.get("house")?.as_str())
            .map_or(name, str::trim)
            .to_owned();
        let (page, place, name) = if of_house {
            (&mut self.house, Place::House, house_name.as_str())
        } else {
            (&mut self.brief, Place::Brief, name)
        };
        let Some(page) = page else {
            return Err(format!("{name}: it stands nowhere that could be written to"));
        };
        // What a `[[bring]]` brought from the larder stands in the brief by itself from now on.
        if page.ingredient(name).is_none()
            && let Ok(tables) = ingredients(&mut page.document)
        {
            list(tables, "larder", name);
        }
        let Some(table) = page.ingredient(name) else {
            return Err(format!("{name}: its table was not found"));
        };
        if table.contains_key("made") {
            return Err(format!(
                "{key} of {name}: its recipe says what is in it; mend the recipe, or its loss"
            ));
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

    fn melt(&mut self, method: Method, (typical, spread, at): (f64, Option<f64>, f64)) -> Told {
        let word = method.word();
        let mut figures = InlineTable::new();
        figures.insert("typical", number(typical));
        if let Some(spread) = spread {
            figures.insert("spread", number(spread));
        }
        figures.insert("at", number(at));
        let told = format!("melt{}", figures.to_string().trim_end()).replace("melt{", "melt {");
        let place = self.of_bar("melt", [&["serve", "melt"], &["melt", word]], figures.into())?;
        let of = if place == Place::House { format!(" of what is made by {word}") } else { String::new() };
        Ok((format!("{told}{of}"), place))
    }

    fn pour_error(&mut self, error: f64) -> Told {
        let text = format!("{} ml", number(error).to_string().trim());
        let keys: [&[&str]; 2] = [&["variation", "pour_error"], &["pour_error"]];
        let place = self.of_bar("pour error", keys, text.as_str().into())?;
        Ok((format!("pour error {text}"), place))
    }

    /// Writes a figure of the bar, by its keys in a brief and in a house: into the brief that states its own, or that has no
    /// house; else into the house.
    fn of_bar(
        &mut self,
        what: &str,
        [in_brief, in_house]: [&[&str]; 2],
        figure: Value,
    ) -> Result<Place, String> {
        let states = |page: &Page| {
            let mut at = Some(page.document.as_item());
            in_brief.iter().for_each(|key| at = at.and_then(|item| item.get(*key)));
            at.is_some()
        };
        let (page, place, path) = match (&mut self.brief, &mut self.house) {
            (Some(brief), Some(_)) if states(brief) => (Some(brief), Place::Brief, in_brief),
            (_, Some(house)) => (Some(house), Place::House, in_house),
            (brief, None) => (brief.as_mut(), Place::Brief, in_brief),
        };
        let Some((page, (key, before))) = page.zip(path.split_last()) else {
            return Err(format!("{what}: it stands nowhere that could be written to"));
        };
        let Ok(table) = inner(page.document.as_table_mut(), before) else {
            return Err(format!("{what}: what stands there is no table"));
        };
        set(table, key, figure);
        page.changed = true;
        Ok(place)
    }
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

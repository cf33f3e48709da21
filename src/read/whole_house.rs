//! A whole house as a brief: each of its ingredients a candidate.

use std::sync::Arc;

use super::file::Keyword;
use super::text::quoted;
use super::{Changes, House, Weighings, house, read_changed, read_with};
use crate::brief::Brief;
use crate::finding::Finding;
use crate::liquid::Method;

/// Stands in for an ingredient.
const NOTHING: &str = "nothing";

/// The ingredients of a house, measured: as the candidates of a brief.
///
/// # Errors
/// Everything that is wrong with the house.
pub fn shelf_of(house: &Arc<House>) -> Result<Brief, Vec<Finding>> {
    let text = shelf_text(house, Method::None)?;
    let changes = Changes { house: Some(Arc::clone(house)), ..Changes::default() };
    let mut brief = read_changed(text.as_bytes(), &changes)?.brief;
    brief.candidates.retain(|candidate| candidate.name != NOTHING);
    Ok(brief)
}

/// What was weighed in a house, and its ingredients, as a brief of what is made like this. How much ice melts is
/// then by the rule, not by what the house has kept.
///
/// # Errors
/// Everything that is wrong with the house.
pub fn weighed_of(house: &Arc<House>, method: Method) -> Result<Brief, Vec<Finding>> {
    let text = shelf_text(house, method)?;
    let changes = Changes { house: Some(Arc::clone(house)), ..Changes::default() };
    Ok(read_with(text.as_bytes(), &changes, Weighings::Houses)?.brief)
}

/// A brief that brings in all of a house.
fn shelf_text(house: &Arc<House>, method: Method) -> Result<String, Vec<Finding>> {
    let shelf = house::open(house, 0)?;
    let names: Vec<String> = shelf.names().map(quoted).collect();
    let melt = if method == Method::Blend { "melt = 60\n" } else { "" };
    let title =
        shelf.title.as_deref().map_or_else(String::new, |title| format!("title = {}\n", quoted(title)));
    let mut text = format!(
        "{title}house = \"house\"\n[serve]\nmethod = \"{}\"\n{melt}[targets]\nvolume = {{ max = 2000 }}\n[aim]\n\
         lowest = \"volume\"\n",
        method.word()
    );
    if !shelf.properties.is_empty() {
        text.push_str("[properties]\n");
    }
    for (name, unit) in &shelf.properties {
        text.push_str(&format!("{} = {{ unit = {} }}\n", quoted(name), quoted(unit)));
    }
    // Where everything in a house is out, a brief still needs something that may be used.
    text.push_str(&format!("[[candidate]]\nname = {}\n", quoted(NOTHING)));
    text.push_str(&format!("[[bring]]\nfrom = \"house\"\nnames = [{}]\n", names.join(", ")));
    Ok(text)
}

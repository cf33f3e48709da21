//! In which unit the value of a brief is that a sweep moves.

use crate::brief::{Brief, Origin};
use crate::quantity::Unit;

/// The unit of a key, by its parts: `% vol`, `GBP per 700 ml`; nothing where it has none.
pub fn unit(brief: &Brief, parts: &[String], pack: Option<&str>) -> String {
    let currency = brief.currency.code();
    if let Some(pack) = pack {
        return format!("{currency} per {pack}");
    }
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    let fixed = match parts.as_slice() {
        ["targets" | "hold", key, ..] => return of_measure(brief, key),
        ["candidate", which, rest @ ..] => return of_candidate(brief, which, rest),
        ["menu", "price"] => currency,
        ["reference", name] => amount(brief, name),
        ["serve", "glass" | "pour" | "smallest"] | ["variation", "pour_error"] => "ml",
        ["serve", "melt" | "headroom"] | ["menu", "tax"] | ["answer", "within"] => "%",
        ["variation", "hold", "share"] => "% of serves",
        _ => "",
    };
    fixed.to_owned()
}

/// The value of a key in words, by its parts: `most strength`, `price of aged rum`.
pub fn words(brief: &Brief, parts: &[String]) -> String {
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    let plain = |parts: &[&str]| parts.join(" ").replace('_', " ");
    let named = |which: &str| {
        place(brief, which).map_or_else(|| which.to_owned(), |at| brief.candidates[at].name.clone())
    };
    let side = |side: &str, of: String| match side {
        "min" => format!("least {of}"),
        "max" => format!("most {of}"),
        other => format!("{} of {of}", plain(&[other])),
    };
    match parts.as_slice() {
        ["targets", key] => plain(&[key]),
        ["targets", key, which] => side(which, plain(&[key])),
        ["hold", key] => format!("{} to either side of the reference", plain(&[key])),
        ["candidate", which, key] => side(key, named(which)),
        ["candidate", which, rest @ ..] => format!("{} of {}", plain(rest), named(which)),
        ["reference", name] => format!("{name} in the reference"),
        ["serve", "most"] => "most ingredients".to_owned(),
        ["serve" | "answer" | "variation", rest @ ..] => plain(rest),
        all => plain(all),
    }
}

fn of_measure(brief: &Brief, key: &str) -> String {
    let measure = brief.measures().find(|m| brief.measure_name(*m) == key);
    measure.map_or_else(String::new, |measure| brief.measure_unit(measure))
}

fn amount(brief: &Brief, name: &str) -> &'static str {
    place(brief, name).map_or("", |at| brief.candidates[at].unit().symbol())
}

fn of_candidate(brief: &Brief, which: &str, key: &[&str]) -> String {
    let powder = place(brief, which).is_some_and(|at| brief.candidates[at].unit() == Unit::G);
    let content = if powder { "g/kg" } else { "g/L" };
    let per = if powder { "per kg" } else { "per litre" };
    match key {
        ["min" | "max" | "pour" | "pour_error"] => amount(brief, which).to_owned(),
        ["strength", ..] => "% vol".to_owned(),
        ["sugar" | "acid", ..] | ["polyols"] => content.to_owned(),
        ["brix", ..] => "g per 100 g".to_owned(),
        ["density"] => "g/ml".to_owned(),
        ["made", "loss"] => "%".to_owned(),
        ["polyol_energy"] => "kcal/g".to_owned(),
        ["other_energy"] => format!("kcal {per}"),
        ["carries", name] => match brief.properties.iter().find(|p| p.name == *name) {
            Some(property) => format!("{} {per}", property.unit),
            None => String::new(),
        },
        _ => String::new(),
    }
}

/// The candidate that a key names, or counts.
fn place(brief: &Brief, which: &str) -> Option<usize> {
    let number = || which.parse::<usize>().ok().filter(|at| *at < brief.candidates.len());
    let from = |origin: &Origin| matches!(origin, Origin::Larder { entry, .. } if entry == which);
    let larder = || brief.candidates.iter().position(|c| from(&c.origin));
    brief.find(which).or_else(larder).or_else(number)
}

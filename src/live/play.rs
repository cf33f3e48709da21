//! What can be done to a brief with a hand on the page, as changes of its text.

use serde::{Deserialize, Serialize};

use super::told::{Told, told};
use super::{Beside, read};
use crate::brief::{Brief, Measure, Side, Target};
use crate::finding::Finding;
use crate::quantity::Price;
use crate::read::edits::{self, Edit, Worth, lists};
use crate::read::{NewLimits, NewSide, figure_of, house_offers, limits_in, measure_named};
use crate::render::html::live::around;
use crate::solve::{Stop, solve};

/// One thing done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "lowercase", deny_unknown_fields)]
pub enum Play {
    /// An end of a limit is put at a figure; at nothing: it goes.
    Limit {
        /// The measure.
        key: String,
        /// `min` or `max`.
        side: String,
        /// The figure, with its unit or without.
        to: String,
    },
    /// A measure may be so far from the reference's own.
    Hold {
        /// The measure.
        key: String,
        /// How far, in its unit.
        to: f64,
    },
    /// A measure gets limits, round what the drink has.
    Bound {
        /// The measure.
        to: String,
    },
    /// A price is typed.
    Price {
        /// The ingredient.
        name: String,
        /// Money per pack; money alone keeps the pack.
        to: String,
    },
    /// The least or the most that is poured of an ingredient.
    Amount {
        /// The ingredient.
        name: String,
        /// `min` or `max`.
        side: String,
        /// A quantity; nothing: it goes.
        to: String,
    },
    /// An ingredient is struck out, has to be used, or may be used again.
    Use {
        /// The ingredient.
        name: String,
        /// `out`, `must` or `may`.
        to: String,
    },
    /// An ingredient comes in.
    Add {
        /// Its name.
        name: String,
        /// `house` or `larder`.
        from: String,
        /// Its price, where it needs one; nothing: none.
        #[serde(default)]
        price: String,
    },
    /// One ingredient goes out and another, that has to be used, comes in.
    Swap {
        /// What goes.
        old: String,
        /// What comes.
        new: String,
        /// Its price, where it needs one; nothing: none.
        #[serde(default)]
        price: String,
    },
    /// What is aimed for: `lowest cost`, `nearest middle`.
    Aim {
        /// The direction and what of.
        to: String,
    },
    /// A key of the top, or of `[serve]`, gets a text.
    Word {
        /// `title`, `serve.method`, `serve.glass` or `serve.pour`.
        key: String,
        /// The text; nothing: it goes.
        to: String,
    },
    /// The whole text is another.
    Whole {
        /// The text.
        to: String,
    },
}

impl Play {
    /// The whole text that it puts in the place of the other.
    pub fn whole(&self) -> Option<&str> {
        if let Self::Whole { to } = self { Some(to) } else { None }
    }

    /// The field on the page that it comes from, as findings name it.
    pub(super) fn field(&self) -> Option<String> {
        Some(match self {
            Self::Limit { key, side, .. } => format!("targets.{key}.{side}"),
            Self::Hold { key, .. } => format!("hold.{key}"),
            Self::Price { name, .. } => format!("candidate.{name}.price"),
            Self::Amount { name, side, .. } => format!("candidate.{name}.{side}"),
            Self::Use { name, .. } => format!("candidate.{name}"),
            Self::Aim { .. } => "aim".to_owned(),
            Self::Word { key, .. } => key.clone(),
            Self::Add { .. } => "find".to_owned(),
            Self::Swap { .. } => "new".to_owned(),
            Self::Bound { .. } | Self::Whole { .. } => return None,
        })
    }
}

/// The text with everything done, in order.
///
/// # Errors
/// What stands in the way, at the field that it concerns.
pub fn edited(text: &str, plays: &[Play], house: &Beside) -> Result<String, Vec<Told>> {
    let mut text = text.to_owned();
    for play in plays {
        text = done(&text, play, house).map_err(|findings| {
            let mut all = told(&text, &findings);
            all.iter_mut().for_each(|one| one.fields.extend(play.field()));
            all
        })?;
    }
    Ok(text)
}

fn done(text: &str, play: &Play, house: &Beside) -> Result<String, Vec<Finding>> {
    let edit = |edits: &[Edit]| edited_by(text, edits);
    match play {
        Play::Whole { to } => Ok(to.clone()),
        Play::Limit { key, side, to } => limit(text, (key, side, to), house),
        Play::Hold { key, to } => {
            let reading = read(text, house)?;
            let brief = &reading.brief;
            let text = released(text, brief, named(brief, key)?)?;
            edited_by(&text, &[Edit::Set(path(&["hold", key]), Worth::Figure(*to))])
        }
        Play::Bound { to } => bound(text, to, house),
        Play::Price { name, to } => {
            let price = priced(&read(text, house)?.brief, name, to);
            edit(&[listed(text, name, house), vec![set(&["candidate", name, "price"], &price)]].concat())
        }
        Play::Amount { name, side, to } => {
            let side = if side == "min" { "min" } else { "max" };
            edit(&[listed(text, name, house), vec![set(&["candidate", name, side], to)]].concat())
        }
        Play::Use { name, to } => {
            let text = edit(&[listed(text, name, house), used(name, to)].concat())?;
            // What the house itself has struck out comes back where the brief says so.
            let reading = read(&text, house).ok();
            let brief = reading.as_ref().map(|reading| &reading.brief);
            let still =
                brief.and_then(|brief| Some(brief.candidates[brief.find(name)?].out)).unwrap_or(false);
            let back = Edit::Set(path(&["candidate", name, "out"]), Worth::Flag(false));
            if still && to != "out" { edited_by(&text, &[back]) } else { Ok(text) }
        }
        Play::Add { name, from, price } => {
            let from = if from == "house" { "house" } else { "larder" };
            edit(&[vec![Edit::Add(from, name.clone())], price_of(name, price)].concat())
        }
        Play::Swap { old, new, price } => {
            let goes = [listed(text, old, house), used(old, "out")].concat();
            edit(&[goes, listed(text, new, house), used(new, "must"), price_of(new, price)].concat())
        }
        Play::Aim { to } => edit(&aim(to)),
        Play::Word { key, to } => {
            let texts = ["title", "serve.method", "serve.glass", "serve.pour"];
            let figures = ["serve.most", "serve.headroom"];
            let Some(known) = texts.into_iter().chain(figures).find(|known| known == key) else {
                return Err(not("this is nothing that is set here", "change the text itself"));
            };
            let key: Vec<&str> = known.split('.').collect();
            if let (true, Ok(figure)) = (figures.contains(&known), to.trim().parse()) {
                return edit(&[Edit::Set(path(&key), Worth::Figure(figure))]);
            }
            edit(&[set(&key, to)])
        }
    }
}

fn edited_by(text: &str, edits: &[Edit]) -> Result<String, Vec<Finding>> {
    edits::edited(text, edits).map_err(|finding| vec![finding])
}

fn limited(text: &str, limits: NewLimits) -> Result<String, Vec<Finding>> {
    limits_in(text, &[limits]).map_err(|finding| vec![finding])
}

fn path(parts: &[&str]) -> Vec<String> {
    parts.iter().map(|part| (*part).to_owned()).collect()
}

/// A text at a key; nothing takes the key away.
fn set(parts: &[&str], to: &str) -> Edit {
    match to.trim() {
        "" => Edit::Clear(path(parts)),
        text => Edit::Set(path(parts), Worth::Text(text.to_owned())),
    }
}

fn price_of(name: &str, price: &str) -> Vec<Edit> {
    if price.trim().is_empty() { Vec::new() } else { vec![set(&["candidate", name, "price"], price)] }
}

/// What makes the text itself list an ingredient: one that came with others, or that is new.
fn listed(text: &str, name: &str, house: &Beside) -> Vec<Edit> {
    if lists(text, name) {
        return Vec::new();
    }
    let kept =
        house_offers(house.as_deref()).iter().any(|(known, _)| known.eq_ignore_ascii_case(name.trim()));
    vec![Edit::Add(if kept { "house" } else { "larder" }, name.to_owned())]
}

fn used(name: &str, to: &str) -> Vec<Edit> {
    let (out, must) = (path(&["candidate", name, "out"]), path(&["candidate", name, "must"]));
    match to {
        "out" => vec![Edit::Clear(must), Edit::Set(out, Worth::Flag(true))],
        "must" => vec![Edit::Clear(out), Edit::Set(must, Worth::Flag(true))],
        _ => vec![Edit::Clear(out), Edit::Clear(must)],
    }
}

/// Another aim: what was said of the one before goes with it, as its `to` has another unit.
fn aim(to: &str) -> Vec<Edit> {
    let (direction, of) = to.split_once(' ').unwrap_or((to, ""));
    let mut edits: Vec<Edit> = ["lowest", "highest", "nearest", "to"]
        .into_iter()
        .map(|key| Edit::Clear(path(&["aim", key])))
        .collect();
    edits.push(set(&["aim", direction], of));
    edits
}

/// Money alone is for the pack that there is.
fn priced(brief: &Brief, name: &str, to: &str) -> String {
    let pack = brief
        .find(name)
        .and_then(|at| brief.candidates[at].price.as_ref())
        .map(|price: &Price| &price.pack_text);
    match pack {
        Some(pack) if !to.trim().is_empty() && !to.contains(" per ") => format!("{} per {pack}", to.trim()),
        _ => to.to_owned(),
    }
}

fn limit(text: &str, (key, side, to): (&str, &str, &str), house: &Beside) -> Result<String, Vec<Finding>> {
    let reading = read(text, house)?;
    let brief = &reading.brief;
    let measure = named(brief, key)?;
    let side = if side == "min" { Side::Min } else { Side::Max };
    let figure = match to.trim() {
        "" => None,
        typed => Some(figure_of(brief, measure, typed).map_err(|fault| not(&fault.what, &fault.help))?),
    };
    let own = brief.target(measure).is_some();
    // What is held at the reference's own becomes limits of its own once an end of it is moved.
    let old = brief.limits().into_iter().find(|limit| limit.measure == measure);
    let old =
        old.map_or(Target { measure, min: None, max: None }, |old| if own { old } else { rounded(old) });
    let (min, max) = match side {
        Side::Min => (figure, old.max),
        Side::Max => (old.min, figure),
    };
    let text = released(text, brief, measure)?;
    let new = figure.map_or(NewSide::Gone, NewSide::At);
    let held = brief.hold.iter().any(|hold| hold.measure == measure);
    let rest = |limit: Option<f64>| limit.filter(|_| held).map_or(NewSide::Same, NewSide::At);
    let (of_min, of_max) = if side == Side::Min { (new, rest(old.max)) } else { (rest(old.min), new) };
    let key = brief.measure_name(measure).to_owned();
    if min.is_none() && max.is_none() {
        return edited_by(&text, &[Edit::Clear(path(&["targets", &key]))]);
    }
    limited(&text, NewLimits { key, min: of_min, max: of_max, whole: (min, max) })
}

/// What is held is measured: as limits it is as fine as such figures are shown, and no tighter.
fn rounded(held: Target) -> Target {
    let scale = 10_f64.powf(held.measure.digits() as f64);
    Target {
        min: held.min.map(|min| (min * scale).floor() / scale),
        max: held.max.map(|max| (max * scale).ceil() / scale),
        ..held
    }
}

/// The text without the hold on a measure; a word for all of them becomes the rest of them.
fn released(text: &str, brief: &Brief, measure: Measure) -> Result<String, Vec<Finding>> {
    if brief.hold.iter().all(|hold| hold.measure != measure) {
        return Ok(text.to_owned());
    }
    let hold = |measure: Measure| path(&["hold", brief.measure_name(measure)]);
    edited_by(text, &[Edit::Clear(hold(measure))]).or_else(|_| {
        let rest = brief.hold.iter().filter(|one| one.measure != measure);
        let rest = rest.map(|one| Edit::Set(hold(one.measure), Worth::Figure(one.within)));
        edited_by(text, &std::iter::once(Edit::Clear(path(&["hold"]))).chain(rest).collect::<Vec<_>>())
    })
}

/// Limits round what the best drink has, so that they can be moved from there.
fn bound(text: &str, to: &str, house: &Beside) -> Result<String, Vec<Finding>> {
    let reading = read(text, house)?;
    let brief = &reading.brief;
    let measure = named(brief, to)?;
    let solved = solve(brief, &Stop::within_reason());
    let value = solved.specs.first().map_or(f64::NAN, |best| best.served.value(measure));
    if !value.is_finite() {
        return Err(not("no drink has such a figure yet", "first let something be poured"));
    }
    let (min, max) = around(measure, value);
    let new = |side: Option<f64>| side.map_or(NewSide::Same, NewSide::At);
    let key = brief.measure_name(measure).to_owned();
    limited(text, NewLimits { key, min: new(min), max: new(max), whole: (min, max) })
}

fn named(brief: &Brief, key: &str) -> Result<Measure, Vec<Finding>> {
    measure_named(brief, key).map_err(|fault| not(&fault.what, &fault.help))
}

fn not(what: &str, help: &str) -> Vec<Finding> {
    vec![Finding::placeless("not-a-figure", what, help)]
}

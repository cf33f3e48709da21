//! One spec in the words of the brief.

use crate::brief::{Brief, Figures, Measure, Pour, Role, Served, Side, poured as amount_of};
use crate::explain::cautions;
use crate::explain::contribution::{Contribution, contributions};
use crate::explain::variation::Share;
use crate::liquid::Stage;
use crate::quantity::{Amount, Unit};
use crate::solve::Spec;
use crate::tolerance;

/// A spec: what is poured and what is in the glass.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SpecLine {
    /// In card order.
    pub pours: Vec<Poured>,
    /// Water from the ice, ml.
    pub melt: f64,
    /// The aim's value.
    pub score: f64,
    /// The share of its simulated serves within all targets, 0 to 1; nothing where it was not poured so often. All
    /// specs of an answer are poured in the same serves.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub within_all: Option<f64>,
    /// Every figure of the served drink.
    pub served: Figures,
    /// How far every limit is away.
    pub margins: Vec<Margin>,
    /// What is poured differently from the spec that this one is held against.
    pub change: Vec<Change>,
    /// The notes that the brief asks for, and what of it carries them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<NoteLine>,
    /// What each pour and the ice bring into the glass; only where it is shown.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub contributions: Vec<Contribution>,
    /// Volume poured before the ice, ml.
    #[serde(skip)]
    pub poured: f64,
    /// Its allergens in words; nothing where none is known.
    #[serde(skip)]
    pub allergens: Option<String>,
    /// How high it stands in its glass, ml, less what its ice took up before any of it melted.
    #[serde(skip)]
    pub level: f64,
}

/// A note that the brief asks for.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct NoteLine {
    /// The word.
    pub note: String,
    /// What carries it, in card order; empty where nothing does.
    pub from: Vec<String>,
}

/// One line of the card.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Poured {
    /// The ingredient's name.
    pub ingredient: String,
    /// ml or g.
    pub amount: f64,
    /// `ml` or `g`.
    pub unit: Unit,
    /// Money; nothing where the ingredient has no price.
    pub cost: Option<f64>,
    /// Whether it tops the drink up, after the ice's work.
    #[serde(skip)]
    pub tops: bool,
    /// What it does in the drink.
    #[serde(skip)]
    pub role: Role,
}

impl Poured {
    /// How much of it.
    pub fn amount(&self) -> Amount {
        Amount { value: self.amount, unit: self.unit }
    }
}

/// One side of a target beside the served value.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Margin {
    /// The target's key.
    pub target: String,
    /// `min` or `max`.
    pub side: Side,
    /// The limit.
    pub limit: f64,
    /// The served value.
    pub value: f64,
    /// How far inside the limit the value is; negative outside.
    pub margin: f64,
    /// Whether the limit is met, by the tolerance of the contract.
    #[serde(skip)]
    pub met: bool,
}

/// How the use of an ingredient changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// It was not used before.
    In,
    /// It is no longer used.
    Out,
    /// More or less of it.
    Moved,
}

/// One pour against another spec.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Change {
    /// The ingredient's name.
    pub ingredient: String,
    /// ml or g more (positive) or less.
    pub by: f64,
    /// What `by` counts.
    #[serde(skip)]
    pub unit: Unit,
    /// Whether it comes in, goes out or moves.
    #[serde(skip)]
    pub turn: Turn,
}

/// A spec in words; `against` is what its changes are told from.
pub fn line(brief: &Brief, spec: &Spec, against: Option<&[Pour]>) -> SpecLine {
    SpecLine {
        pours: spec.pours.iter().map(|p| poured(brief, *p)).collect(),
        melt: spec.served.drink.melt,
        score: spec.score,
        within_all: None,
        served: spec.served.figures(brief),
        margins: margins(brief, &spec.served),
        change: against.map_or_else(Vec::new, |old| changes(brief, old, &spec.pours)),
        notes: notes(brief, &spec.pours),
        contributions: Vec::new(),
        poured: spec.served.drink.poured,
        allergens: cautions::allergens(brief, spec),
        level: spec.served.value(Measure::Level),
    }
}

/// The same, with what each pour and the ice bring.
pub fn line_with_shares(brief: &Brief, spec: &Spec, against: Option<&[Pour]>) -> SpecLine {
    SpecLine { contributions: contributions(brief, &spec.pours, &spec.served), ..line(brief, spec, against) }
}

impl SpecLine {
    /// The same, with the share of its serves within all targets.
    pub fn in_service(self, within_all: Option<Share>) -> Self {
        Self { within_all: within_all.map(|share| share.found), ..self }
    }
}

/// The notes that a brief asks for, and what of some pours carries them.
fn notes(brief: &Brief, pours: &[Pour]) -> Vec<NoteLine> {
    let name = |at: usize| brief.candidates[at].name.clone();
    let one = |note: &String| NoteLine {
        note: note.clone(),
        from: brief.carriers(note, pours).map(name).collect(),
    };
    brief.notes.asked.iter().map(one).collect()
}

fn poured(brief: &Brief, pour: Pour) -> Poured {
    let candidate = &brief.candidates[pour.candidate];
    Poured {
        ingredient: candidate.name.clone(),
        amount: pour.amount,
        unit: candidate.unit(),
        cost: candidate.cost_per_unit.map(|c| c * pour.amount),
        tops: candidate.stage == Stage::Topped,
        role: candidate.role,
    }
}

/// Every side of every target and hold beside the served value.
pub fn margins(brief: &Brief, served: &Served) -> Vec<Margin> {
    let limits = brief.limits();
    let sides = limits.iter().flat_map(|t| t.sides().map(move |(side, limit)| (t.measure, side, limit)));
    sides
        .map(|(measure, side, limit)| {
            let value = served.value(measure);
            let margin = match side {
                Side::Min => value - limit,
                Side::Max => limit - value,
            };
            let met = side.met(value, limit);
            let target = brief.measure_name(measure).to_owned();
            Margin { target, side, limit, value, margin, met }
        })
        .collect()
}

/// What `new` pours differently from `old`: first what it pours, in card order, then what it leaves out.
pub fn changes(brief: &Brief, old: &[Pour], new: &[Pour]) -> Vec<Change> {
    let gone = old.iter().filter(|p| amount_of(new, p.candidate) <= 0.0);
    new.iter()
        .chain(gone)
        .filter_map(|pour| {
            let at = pour.candidate;
            let (before, after) = (amount_of(old, at), amount_of(new, at));
            let by = after - before;
            let turn = match (before > 0.0, after > 0.0) {
                (false, _) => Turn::In,
                (_, false) => Turn::Out,
                _ => Turn::Moved,
            };
            let candidate = &brief.candidates[at];
            let change = Change { ingredient: candidate.name.clone(), by, unit: candidate.unit(), turn };
            (by.abs() > tolerance::UNUSED).then_some(change)
        })
        .collect()
}

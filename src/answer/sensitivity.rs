//! What the limits of a brief are worth.

use serde::ser::Serializer;

use crate::brief::{Brief, Side};
use crate::explain::sensitivity::{Held, Priced, Rate, Sensitivity};
use crate::explain::steps::Next;

/// What the answer hangs on.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SensitivityLine {
    /// Every limit, in the order of the brief.
    pub targets: Vec<LimitLine>,
    /// What the price of every ingredient does, in the order of the brief; on a long shelf of those that
    /// are used and the nearest to it.
    pub ingredients: Vec<PriceLine>,
    /// Of how many more ingredients the price was not looked into.
    pub not_asked: usize,
}

/// One limit: what the score with free pours does about it, and the next pourable step behind it.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LimitLine {
    /// The target's key, or the rule in words.
    pub target: String,
    /// `min` or `max`.
    pub side: Side,
    /// The limit.
    pub limit: f64,
    /// What the spec with free pours measures.
    pub value: f64,
    /// Whether the limit is reached.
    pub binding: bool,
    /// What the slopes count.
    #[serde(serialize_with = "rate")]
    pub unit: Rate,
    /// Change of the score per unit looser, at the limit; null: no room.
    pub looser: Option<f64>,
    /// Change of the score per unit tighter, at the limit; null: no room.
    pub tighter: Option<f64>,
    /// From this value of the limit on the same ingredients and limits decide; null: no end, or none that is certain
    /// (`unsure`).
    pub from: Option<f64>,
    /// Up to this value; null likewise.
    pub to: Option<f64>,
    /// The score at `from`, solved again.
    pub score_from: Option<f64>,
    /// The score at `to`, solved again.
    pub score_to: Option<f64>,
    /// The nearest looser limit that makes a better pourable spec possible.
    pub next_pourable: Option<NextStep>,
    /// Whether that is proved: the limit is the nearest, the score the best there, and null means that
    /// nothing is there.
    pub next_proved: bool,
    /// `from`, `to` or both, where solving again did not confirm how far it goes.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unsure: Vec<&'static str>,
}

/// A looser limit, and the best pourable score behind it.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct NextStep {
    /// The limit; null: only without it.
    pub limit: Option<f64>,
    /// The score.
    pub score: f64,
}

/// What the price of an ingredient does. Prices are for the pack as the brief prices it.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct PriceLine {
    /// Its name.
    pub ingredient: String,
    /// Whether the spec with free pours uses it.
    pub used: bool,
    /// What a pack costs; null: not known.
    pub price: Option<f64>,
    /// The pack.
    pub per: String,
    /// Used: from this price on the spec with free pours stays the same.
    pub from: Option<f64>,
    /// Used: up to this price it does; null: without end.
    pub to: Option<f64>,
    /// Not used: the price under which it comes in; null: it never does.
    pub enters_below: Option<f64>,
    /// The same of the best pourable spec; null where that is not proved.
    pub pourable: Option<PourableLine>,
}

/// What the price of an ingredient does to the best pourable spec.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct PourableLine {
    /// Whether that spec uses it.
    pub used: bool,
    /// Used: it stays the best from this price on.
    pub from: Option<f64>,
    /// Used: it stays the best up to this price; null: without end.
    pub to: Option<f64>,
    /// Not used: the price under which a better spec has it; null: at no price.
    pub enters_below: Option<f64>,
}

fn rate<S: Serializer>(rate: &Rate, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(rate)
}

/// The limits and prices in the words of the brief.
pub fn sensitivity(brief: &Brief, found: &Sensitivity, next: &Next) -> SensitivityLine {
    let line = |held: &Held| LimitLine {
        target: held.demand.rule(brief).unwrap_or_else(|| held.demand.name(brief)),
        side: held.side,
        limit: held.limit,
        value: held.value,
        binding: held.binding,
        unit: held.unit.clone(),
        looser: held.looser,
        tighter: held.tighter,
        from: held.from,
        to: held.to,
        score_from: held.score_from,
        score_to: held.score_to,
        next_pourable: next
            .found
            .iter()
            .find(|n| n.change.demand == held.demand && n.change.side == held.side)
            .map(|n| NextStep { limit: n.change.needed, score: n.spec.score }),
        next_proved: !next.open.contains(&held.demand),
        unsure: held.unsure.iter().map(|side| if *side == Side::Min { "from" } else { "to" }).collect(),
    };
    SensitivityLine {
        targets: found.limits.iter().map(line).collect(),
        ingredients: found.prices.iter().map(|priced| price(brief, priced)).collect(),
        not_asked: found.unasked,
    }
}

fn price(brief: &Brief, priced: &Priced) -> PriceLine {
    let turn = priced.pourable;
    PriceLine {
        ingredient: brief.candidates[priced.candidate].name.clone(),
        used: priced.used,
        price: priced.price,
        per: priced.per.clone(),
        from: priced.from,
        to: priced.to,
        enters_below: priced.enters_below,
        pourable: turn.map(|turn| PourableLine {
            used: turn.used,
            from: turn.from,
            to: turn.to,
            enters_below: turn.enters_below,
        }),
    }
}

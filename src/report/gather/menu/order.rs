//! What to buy and to make.

use super::WeekLine;
use crate::batch::{Batch, to_f64};
use crate::brief::Brief;
use crate::brief::Measure;
use crate::menu::Bottles;
use crate::menu::order::{Ordered, Preparation};
use crate::report::gather::spec::{ServedFigures, margins};
use crate::report::gather::{Margin, Money, PartLine, PreparationLine};

/// An order.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct OrderLine {
    /// Each drink that goes out.
    pub drinks: Vec<OrderedDrink>,
    /// Drinks that go out, and that no spec was found for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub without: Vec<String>,
    /// What the house has to make first.
    pub preparations: Vec<PreparationLine>,
    /// What to buy.
    pub buy: WeekLine,
    /// Money for what the serves use of it, by use; without what has no price.
    pub used: Money,
}

/// A drink of an order.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct OrderedDrink {
    /// What it is called.
    pub title: String,
    /// How many serves.
    pub serves: f64,
    /// One serve, measured again from the amounts that are measured out for all.
    pub served: ServedFigures,
    /// Targets that it misses by the rounding.
    pub misses: Vec<Margin>,
}

/// An order in the words of the briefs.
pub fn order_line(briefs: &[Brief], bottles: &Bottles, ordered: &Ordered) -> Option<OrderLine> {
    let drink = |(at, batch): &(usize, Batch)| {
        let brief = &briefs[*at];
        let properties = (0..brief.properties.len()).map(Measure::Property);
        let figures = Measure::BUILT_IN.into_iter().chain(properties);
        let figures = figures.map(|m| (brief.measure_name(m).to_owned(), batch.served.value(m)));
        let missed = |margin: &Margin| !margin.met && !margin.margin.is_nan();
        OrderedDrink {
            title: brief.title.clone(),
            serves: batch.serves,
            served: ServedFigures(figures.collect()),
            misses: margins(brief, &batch.served).into_iter().filter(missed).collect(),
        }
    };
    let preparation = |made: &Preparation| PreparationLine {
        name: made.name.clone(),
        amount: made.amount,
        unit: made.unit.symbol(),
        loss: made.loss,
        parts: made
            .parts
            .iter()
            .map(|part| PartLine {
                ingredient: part.name.clone(),
                amount: to_f64(part.amount),
                unit: part.unit.symbol(),
                weight: part.weight,
            })
            .collect(),
    };
    let wanted = |at: &usize| briefs[*at].serves.is_some_and(|serves| serves > 0.0);
    let lacking = |at: &usize| wanted(at) && !ordered.batches.iter().any(|(drink, _)| drink == at);
    Some(OrderLine {
        without: (0..briefs.len()).filter(lacking).map(|at| briefs[at].title.clone()).collect(),
        drinks: ordered.batches.iter().map(drink).collect(),
        preparations: ordered.preparations.iter().map(preparation).collect(),
        buy: super::week_line(bottles, &ordered.bill, briefs.first()?, None),
        used: Money(ordered.batches.iter().map(|(_, batch)| batch.costing.used).sum()),
    })
}

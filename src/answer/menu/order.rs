//! What to buy and to make.

use super::WeekLine;
use crate::answer::Margin;
use crate::answer::spec::margins;
use crate::batch::{Batch, Money, Recipe};
use crate::brief::{Brief, Figures};
use crate::menu::Bottles;
use crate::menu::order::Ordered;

/// An order.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct OrderLine {
    /// Each drink that goes out.
    pub drinks: Vec<OrderedDrink>,
    /// Drinks that go out, and that no spec was found for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub without: Vec<String>,
    /// What the house has to make first.
    pub preparations: Vec<Recipe>,
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
    pub served: Figures,
    /// Targets that it misses by the rounding.
    pub misses: Vec<Margin>,
}

/// An order in the words of the briefs.
pub fn order_line(briefs: &[Brief], bottles: &Bottles, ordered: &Ordered) -> Option<OrderLine> {
    let drink = |(at, batch): &(usize, Batch)| {
        let brief = &briefs[*at];
        let missed = |margin: &Margin| !margin.met && !margin.margin.is_nan();
        OrderedDrink {
            title: brief.title.clone(),
            serves: batch.serves,
            served: batch.served.figures(brief),
            misses: margins(brief, &batch.served).into_iter().filter(missed).collect(),
        }
    };
    let wanted = |at: &usize| briefs[*at].serves.is_some_and(|serves| serves > 0.0);
    let lacking = |at: &usize| wanted(at) && !ordered.batches.iter().any(|(drink, _)| drink == at);
    Some(OrderLine {
        without: (0..briefs.len()).filter(lacking).map(|at| briefs[at].title.clone()).collect(),
        drinks: ordered.batches.iter().map(drink).collect(),
        preparations: ordered.preparations.clone(),
        buy: super::week_line(bottles, &ordered.bill, briefs.first()?, None),
        used: Money(ordered.batches.iter().map(|(_, batch)| batch.costing.used.0).sum()),
    })
}

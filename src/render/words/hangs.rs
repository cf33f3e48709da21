//! What the answer hangs on, in words: what each limit costs, what is slack, what prices would change.

use super::prices::{first_price, unsaid_prices};
use super::{between, figures, item, listed, spaced};
use crate::answer::{AimGoal, Item, SpecAnswer};
use crate::brief::{Measure, Side};
use crate::explain::sensitivity::Counts;
use crate::explain::sensitivity::{Held, Sensitivity};
use crate::quantity::{UnitSystem, number};

/// The share of a limit by which all are moved, so that what they cost can be compared.
const MOVE: f64 = 0.01;
/// The smallest coin, as money is shown.
const COIN: f64 = 0.01;

/// What a limit is called: `strength at least 8 % vol`, or the rule.
pub fn limit_name(answer: &SpecAnswer, line: &Held, units: UnitSystem) -> String {
    if answer.frame.gauge(&line.target).is_none() {
        return line.target.clone();
    }
    item(
        &answer.frame,
        &Item::Target { target: line.target.clone(), side: line.side, limit: line.limit },
        units,
    )
}

/// A slope in the units that are asked for, and what it counts: per ounce where volumes are in ounces, and of the way
/// to the end of a range in percent.
struct Slope {
    value: f64,
    aim: String,
    per: String,
}

impl Slope {
    fn of(answer: &SpecAnswer, line: &Held, value: f64, units: UnitSystem) -> Self {
        let in_ounces = |counts: &Counts| *counts == Counts::Millilitres && units == UnitSystem::UsOunces;
        let rate = &line.unit;
        let (value, aim) = match &rate.aim {
            Counts::Bare => (100.0 * value, "%"),
            aim if in_ounces(aim) => (number::in_ounces(value), "oz"),
            aim => (value, aim.symbol()),
        };
        // Rules keep the words of the brief.
        let (value, per) = match &rate.limit {
            Counts::Bare => (value, ""),
            limit if in_ounces(limit) && answer.frame.gauge(&line.target).is_some() => {
                (value / number::in_ounces(1.0), "oz")
            }
            limit => (value, limit.symbol()),
        };
        Self { value, aim: aim.to_owned(), per: per.to_owned() }
    }

    /// `GBP per ml`
    fn unit(&self) -> String {
        format!("{} per {}", self.aim, if self.per.is_empty() { "1" } else { &self.per })
    }

    /// `each ml`, `each 1`
    fn each(&self) -> String {
        format!("each {}", if self.per.is_empty() { "1" } else { &self.per })
    }
}

/// Two digits that count, whatever the size.
pub fn significant(value: f64) -> String {
    let size = value.abs();
    let digits = if size > 0.0 { (1.0 - size.log10().floor()).clamp(0.0, 8.0) } else { 0.0 };
    number::trimmed(value, digits as usize)
}

fn signed(value: f64) -> String {
    let text = significant(value);
    if value > 0.0 && text != "0" { format!("+{text}") } else { text }
}

/// The most that one of a limit's slopes comes to over a hundredth of it: so limits of different units compare.
fn weight(line: &Held) -> f64 {
    let size = if line.limit == 0.0 { 1.0 } else { MOVE * line.limit.abs() };
    steepest(line) * size
}

fn steepest(line: &Held) -> f64 {
    [line.looser, line.tighter].into_iter().flatten().fold(0.0, |most, s| f64::max(most, s.abs()))
}

/// Whether a limit is worth a word: in money at least a tenth of its smallest coin for each of its own units.
fn counts(answer: &SpecAnswer, line: &Held) -> bool {
    let least = match answer.aim.measure() {
        Some(Measure::Cost) => 0.1 * COIN,
        _ => 0.0,
    };
    steepest(line) > least
}

/// Limits that are reached and cost something, the dearest first.
fn dear_limits<'a>(answer: &SpecAnswer, found: &'a Sensitivity) -> Vec<&'a Held> {
    let mut dear: Vec<&Held> =
        found.limits.iter().filter(|l| l.binding && weight(l) > 0.0 && counts(answer, l)).collect();
    dear.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
    dear
}

/// A few sentences: what costs the most, what costs nothing, which price would change the spec first.
pub fn hangs_sentences(answer: &SpecAnswer, found: &Sensitivity, units: UnitSystem) -> Vec<String> {
    let mut sentences = vec![];
    let dear = dear_limits(answer, found);
    sentences.extend(dear.first().map(|line| dearest(answer, line, units)));
    let slack = |line: &&Held| {
        line.value.is_finite()
            && !line.binding
            && weight(line) == 0.0
            && answer.frame.gauge(&line.target).is_some()
    };
    let slack: Vec<String> =
        found.limits.iter().filter(slack).map(|line| limit_name(answer, line, units)).collect();
    if !slack.is_empty() {
        sentences.push(format!("Room to spare, so it costs nothing: {}.", listed(&slack)));
    }
    sentences.extend(first_price(answer, found).or_else(|| unsaid_prices(found)));
    sentences
}

/// What the dearest limit costs, and how far that holds.
fn dearest(answer: &SpecAnswer, line: &Held, units: UnitSystem) -> String {
    let limit = format!(
        "With any amounts allowed, the limit that costs the most is {}",
        limit_name(answer, line, units)
    );
    let looser = line.looser.filter(|slope| *slope != 0.0);
    let (word, value) = looser.map_or(("tighter", line.tighter), |value| ("looser", Some(value)));
    let Some(value) = value else { return limit + "." };
    let slope = Slope::of(answer, line, value, units);
    let down = (line.side == Side::Min) == looser.is_some();
    let end = if down { line.from } else { line.to };
    let far = end.filter(|end| *end != line.limit).map_or_else(String::new, |end| {
        let way = if down { "down to" } else { "up to" };
        format!(", {way} {}", spaced(figure(answer, line, end, units), &slope.per))
    });
    let by = slope.value;
    let moved = |what: &str| format!("change {what} by {} {}", signed(by), slope.aim);
    let change = match answer.aim.goal {
        AimGoal::Measure(Measure::Cost) => {
            let way = if by > 0.0 { "dearer" } else { "cheaper" };
            format!("make the drink {} {} {way}", significant(by.abs()), slope.aim)
        }
        AimGoal::Reference => moved("what is poured differently"),
        AimGoal::Middle => moved("the distance from the middle"),
        AimGoal::Notes(_) => moved("what is covered"),
        AimGoal::Measure(_) | AimGoal::Ingredient(_) => {
            let of = answer.aim.of.as_str();
            let gauge = answer.aim.measure().and_then(|_| answer.frame.gauge(of));
            moved(&format!("the {}", gauge.map_or(of, |gauge| gauge.label.as_str())))
        }
    };
    format!("{limit}: {} {word} would {change}{far}.", slope.each())
}

/// A limit's figure, as finely as the measure is shown.
fn figure(answer: &SpecAnswer, line: &Held, value: f64, units: UnitSystem) -> String {
    match answer.frame.gauge(&line.target) {
        Some(gauge) => {
            let text = figures::figure(gauge, value, units);
            if text.contains('.') && gauge.measure != Measure::Cost {
                text.trim_end_matches('0').trim_end_matches('.').to_owned()
            } else {
                text
            }
        }
        None => number::trimmed(value, 2),
    }
}

/// The table of limits that cost something: the limit, change of the score per unit tighter and looser, what these
/// count, and between which values the same ingredients and limits decide.
pub fn limit_rows(answer: &SpecAnswer, found: &Sensitivity, units: UnitSystem) -> Vec<[String; 5]> {
    let row = |line: &Held| {
        let text = |value: Option<f64>| {
            value.map_or_else(
                || "no room".to_owned(),
                |value| signed(Slope::of(answer, line, value, units).value),
            )
        };
        [
            limit_name(answer, line, units),
            text(line.tighter),
            text(line.looser),
            Slope::of(answer, line, 0.0, units).unit(),
            within(answer, line, units),
        ]
    };
    dear_limits(answer, found).into_iter().map(row).collect()
}

/// Between which values of the limit the same decide; a question mark where that is not certain.
fn within(answer: &SpecAnswer, line: &Held, units: UnitSystem) -> String {
    let end = |value: Option<f64>, side: &str| match value {
        Some(value) => Some(figure(answer, line, value, units)),
        None => line.unsure.contains(&side).then(|| "?".to_owned()),
    };
    between(end(line.from, "from"), end(line.to, "to"), "any")
}

/// What the columns of the table of limits are.
pub const LIMITS_NOTE: &str = "What the aim gains or loses per unit when that limit alone is moved, with any \
     amounts allowed; and between which values of the limit the same ingredients and limits decide (?: not certain).";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_digits_count() {
        assert_eq!(significant(0.012_34), "0.012");
        assert_eq!(significant(1.26), "1.3");
        assert_eq!(significant(126.0), "126");
        assert_eq!(significant(0.0), "0");
        assert_eq!(signed(1.26), "+1.3");
        assert_eq!(signed(-126.0), "-126");
        assert_eq!(signed(0.0), "0");
    }
}

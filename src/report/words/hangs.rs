//! What the answer hangs on, in words: what each limit costs, what is slack, what prices would change.

use super::why::{Rounded, rounded};
use super::{figures, item, listed, upper_first};
use crate::brief::{Measure, Side};
use crate::explain::sensitivity::Counts;
use crate::quantity::{UnitSystem, number};
use crate::report::gather::{AimGoal, Item, LimitLine, PourableLine, PriceLine, SensitivityLine, SpecAnswer};

/// The share of a limit by which all are moved, so that what they cost can be compared.
const MOVE: f64 = 0.01;
/// Decimals of money.
const MONEY: usize = 2;
/// The smallest coin, as money is shown.
const COIN: f64 = 0.01;

/// A limit that costs something, as a line of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitWords {
    /// The limit.
    pub name: String,
    /// Change of the score per unit tighter.
    pub tighter: String,
    /// Change of the score per unit looser.
    pub looser: String,
    /// What these count.
    pub unit: String,
    /// Between which values the same ingredients and limits decide.
    pub within: String,
}

/// The prices of an ingredient, as a line of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceWords {
    /// The ingredient.
    pub name: String,
    /// What a pack costs.
    pub now: String,
    /// The prices over which the best pourable spec stays, or under which it comes in.
    pub poured: String,
    /// The same with any amounts allowed.
    pub free: String,
}

/// What a limit is called: `strength at least 8 % vol`, or the rule.
pub fn limit_name(answer: &SpecAnswer, line: &LimitLine, units: UnitSystem) -> String {
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
    fn of(answer: &SpecAnswer, line: &LimitLine, value: f64, units: UnitSystem) -> Self {
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
fn weight(line: &LimitLine) -> f64 {
    let size = if line.limit == 0.0 { 1.0 } else { MOVE * line.limit.abs() };
    steepest(line) * size
}

fn steepest(line: &LimitLine) -> f64 {
    [line.looser, line.tighter].into_iter().flatten().fold(0.0, |most, s| f64::max(most, s.abs()))
}

/// Whether a limit is worth a word: in money at least a tenth of its smallest coin for each of its own units.
fn counts(answer: &SpecAnswer, line: &LimitLine) -> bool {
    let least = match answer.aim.measure() {
        Some(Measure::Cost) => 0.1 * COIN,
        _ => 0.0,
    };
    steepest(line) > least
}

/// Limits that are reached and cost something, the dearest first.
fn dear_limits<'a>(answer: &SpecAnswer, found: &'a SensitivityLine) -> Vec<&'a LimitLine> {
    let mut dear: Vec<&LimitLine> =
        found.targets.iter().filter(|l| l.binding && weight(l) > 0.0 && counts(answer, l)).collect();
    dear.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
    dear
}

/// A few sentences: what costs the most, what costs nothing, which price would change the spec first.
pub fn hangs_sentences(answer: &SpecAnswer, found: &SensitivityLine, units: UnitSystem) -> Vec<String> {
    let mut sentences = vec![];
    let dear = dear_limits(answer, found);
    sentences.extend(dear.first().map(|line| dearest(answer, line, units)));
    let slack = |line: &&LimitLine| {
        line.value.is_finite()
            && !line.binding
            && weight(line) == 0.0
            && answer.frame.gauge(&line.target).is_some()
    };
    let slack: Vec<String> =
        found.targets.iter().filter(slack).map(|line| limit_name(answer, line, units)).collect();
    let slack: Vec<&str> = slack.iter().map(String::as_str).collect();
    if !slack.is_empty() {
        sentences.push(format!("Room to spare, so it costs nothing: {}.", listed(&slack)));
    }
    sentences.extend(first_price(answer, found).or_else(|| unsaid_prices(found)));
    sentences
}

/// Why nothing is said of prices, where that is so.
fn unsaid_prices(found: &SensitivityLine) -> Option<String> {
    let priced = || found.ingredients.iter().filter(|line| line.price.is_some());
    if found.ingredients.is_empty() {
        return Some(
            "Nothing is said of prices: with this aim, what they would change could not be followed."
                .to_owned(),
        );
    }
    let unproved = priced().count() > 0 && priced().all(|line| line.pourable.is_none());
    let free = priced().any(tells);
    (unproved && free).then(|| {
        "Which price would change the spec above is not proved; what is said of prices is for any amounts."
            .to_owned()
    })
}

/// What the dearest limit costs, and how far that holds.
fn dearest(answer: &SpecAnswer, line: &LimitLine, units: UnitSystem) -> String {
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
        format!(", {way} {}", with_unit(&figure(answer, line, end, units), &slope.per))
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
        AimGoal::Measure(_) | AimGoal::Ingredient(_) => {
            let of = answer.aim.of.as_str();
            let gauge = answer.aim.measure().and_then(|_| answer.frame.gauge(of));
            moved(&format!("the {}", gauge.map_or(of, |gauge| gauge.label.as_str())))
        }
    };
    format!("{limit}: {} {word} would {change}{far}.", slope.each())
}

/// A figure with its unit, if it has one.
fn with_unit(figure: &str, unit: &str) -> String {
    if unit.is_empty() { figure.to_owned() } else { format!("{figure} {unit}") }
}

/// A limit's figure, as finely as the measure is shown.
fn figure(answer: &SpecAnswer, line: &LimitLine, value: f64, units: UnitSystem) -> String {
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

/// The table of limits that cost something.
pub fn limit_rows(answer: &SpecAnswer, found: &SensitivityLine, units: UnitSystem) -> Vec<LimitWords> {
    let row = |line: &LimitLine| {
        let text = |value: Option<f64>| {
            value.map_or_else(
                || "no room".to_owned(),
                |value| signed(Slope::of(answer, line, value, units).value),
            )
        };
        LimitWords {
            name: limit_name(answer, line, units),
            tighter: text(line.tighter),
            looser: text(line.looser),
            unit: Slope::of(answer, line, 0.0, units).unit(),
            within: match (line.from, line.to) {
                (Some(from), Some(to)) => {
                    format!("{} to {}", figure(answer, line, from, units), figure(answer, line, to, units))
                }
                (Some(from), None) => format!("from {}", figure(answer, line, from, units)),
                (None, Some(to)) => format!("up to {}", figure(answer, line, to, units)),
                (None, None) => "any".to_owned(),
            },
        }
    };
    dear_limits(answer, found).into_iter().map(row).collect()
}

/// What the columns of the table of limits are.
pub const LIMITS_NOTE: &str = "What the aim gains or loses per unit when that limit alone is moved, with any \
     amounts allowed; and between which values of the limit the same ingredients and limits decide.";

/// What the columns of the table of prices are.
pub const PRICES_NOTE: &str = "Prices of a pack between which the spec stays as it is, or under which an ingredient \
     comes in: for the spec above, and for the one with any amounts allowed. Each price alone.";

/// Whether prices change anything that can be told.
fn tells(line: &PriceLine) -> bool {
    let poured = line
        .pourable
        .is_some_and(|p| p.from.is_some_and(|f| f > 0.0) || p.to.is_some() || p.enters_below.is_some());
    poured || line.from.is_some_and(|from| from > 0.0) || line.to.is_some() || line.enters_below.is_some()
}

/// A price that changes the best pourable spec: which way, at what price, and how far that is from the
/// present one as a share of it.
struct Nearest<'a> {
    line: &'a PriceLine,
    over: bool,
    at: f64,
    share: f64,
}

impl Nearest<'_> {
    /// Whether a bottle may ever cost that.
    fn near(&self) -> bool {
        let now = self.line.price.unwrap_or(f64::NAN);
        (now / 2.0..=2.0 * now).contains(&self.at)
    }
}

fn nearest(line: &PriceLine) -> Vec<Nearest<'_>> {
    let (Some(pourable), Some(now)) = (line.pourable, line.price.filter(|now| *now > 0.0)) else {
        return vec![];
    };
    let under = if pourable.used { pourable.from.filter(|from| *from > 0.0) } else { pourable.enters_below };
    let over = pourable.to.filter(|_| pourable.used);
    let near = |at: f64, over| Nearest { line, over, at, share: (at - now).abs() / now };
    under.map(|at| near(at, false)).into_iter().chain(over.map(|at| near(at, true))).collect()
}

/// Which price would change the spec first.
pub fn first_price(answer: &SpecAnswer, found: &SensitivityLine) -> Option<String> {
    let all = found.ingredients.iter().flat_map(nearest);
    let first = all.min_by(|a, b| a.share.total_cmp(&b.share))?;
    let now = first.line.price?;
    // The same figure as the range in the table has at its end.
    let used = first.line.pourable.is_some_and(|p| p.used);
    let (word, at) = match (first.over, used) {
        (true, _) => ("more", ends(first.at, now, Rounded::Down)),
        (false, true) => ("less", ends(first.at, now, Rounded::Up)),
        (false, false) => ("less", money(first.at, now, Rounded::Down)),
    };
    Some(format!(
        "The first price that would change the spec above: {} at {word} than {at} {} per {} (now {}).",
        first.line.ingredient,
        answer.currency,
        first.line.per,
        number::fixed(now, MONEY)
    ))
}

/// A price at which another spec is the best.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceTurn {
    /// The ingredient and the price: `aged rum over 17.69 GBP per 700 ml`.
    pub change: String,
    /// What a pack costs now.
    pub now: String,
    /// Whether the best spec uses it.
    pub used: bool,
}

/// For every ingredient the price nearest to its present one at which another spec is the best, within half
/// and double of it, the nearest first.
pub fn price_turns(answer: &SpecAnswer, found: &SensitivityLine) -> Vec<PriceTurn> {
    let by_share = |a: &Nearest, b: &Nearest| a.share.total_cmp(&b.share);
    let first = |line| nearest(line).into_iter().min_by(by_share);
    let mut turns: Vec<Nearest> = found.ingredients.iter().filter_map(first).filter(Nearest::near).collect();
    turns.sort_by(by_share);
    let words = |turn: &Nearest| {
        let now = turn.line.price?;
        let (word, to) = if turn.over { ("over", Rounded::Up) } else { ("under", Rounded::Down) };
        let (name, at) = (&turn.line.ingredient, money(turn.at, now, to));
        Some(PriceTurn {
            change: format!("{name} {word} {at} {} per {}", answer.currency, turn.line.per),
            now: number::fixed(now, MONEY),
            used: turn.line.pourable.is_some_and(|p| p.used),
        })
    };
    turns.iter().filter_map(words).collect()
}

/// Money, rounded so that what is said of it holds, and told apart from the present price.
fn money(value: f64, now: f64, to: Rounded) -> String {
    let text = rounded(value, now, MONEY, to);
    // At least two decimals, as money is written.
    match text.split_once('.') {
        Some((_, cents)) if cents.len() >= MONEY => text,
        Some(_) => text + "0",
        None => text + ".00",
    }
}

/// The table of prices: only those that would change something.
pub fn price_rows(found: &SensitivityLine) -> Vec<PriceWords> {
    let row = |line: &PriceLine| {
        let now = line.price.unwrap_or(f64::NAN);
        let free =
            PourableLine { used: line.used, from: line.from, to: line.to, enters_below: line.enters_below };
        PriceWords {
            name: line.ingredient.clone(),
            now: format!("{} per {}", number::fixed(now, MONEY), line.per),
            poured: line.pourable.map_or_else(|| "not proved".to_owned(), |p| range(&p, now)),
            free: range(&free, now),
        }
    };
    found.ingredients.iter().filter(|line| tells(line)).map(row).collect()
}

/// `20.00 to 26.10`, `up to 26.10`, `comes in under 4.20`, `at no price`.
fn range(line: &PourableLine, now: f64) -> String {
    if !line.used {
        let under = |at| format!("in under {}", money(at, now, Rounded::Down));
        return line.enters_below.map_or_else(|| "at no price".to_owned(), under);
    }
    let from = line.from.filter(|from| *from > 0.0).map(|from| ends(from, now, Rounded::Up));
    let to = line.to.map(|to| ends(to, now, Rounded::Down));
    match (from, to) {
        (Some(from), Some(to)) => format!("{from} to {to}"),
        (Some(from), None) => format!("from {from}"),
        (None, Some(to)) => format!("up to {to}"),
        (None, None) => "any price".to_owned(),
    }
}

/// An end of a range, rounded into it; where that would pass the present price, it is the present price
/// within what is shown.
fn ends(value: f64, now: f64, to: Rounded) -> String {
    // Hundredths, as money is shown; within a hair, one is as it stands.
    let scale = 100.0;
    let hair = 1e-6;
    let inside = match to {
        Rounded::Up => ((value * scale - hair).ceil() / scale).min(now),
        Rounded::Down => ((value * scale + hair).floor() / scale).max(now),
    };
    number::fixed(inside, MONEY)
}

/// Ingredients that come in at no price at all, and of how many nothing is known.
pub fn never_sentence(found: &SensitivityLine) -> Option<String> {
    let left_out = match found.not_asked {
        0 => None,
        1 => Some("One ingredient more is further from a change: its price was not looked into.".to_owned()),
        more => Some(format!(
            "{} ingredients more are further from a change: their prices were not looked into.",
            number::grouped(more)
        )),
    };
    let sentences: Vec<String> = never(found).into_iter().chain(left_out).collect();
    (!sentences.is_empty()).then(|| sentences.join(" "))
}

fn never(found: &SensitivityLine) -> Option<String> {
    let never = |line: &&PriceLine| {
        line.price.is_some() && line.pourable.is_some_and(|p| !p.used && p.enters_below.is_none())
    };
    let names: Vec<&str> = found.ingredients.iter().filter(never).map(|l| l.ingredient.as_str()).collect();
    // Where no price changes anything, none is worth a word.
    let any = found.ingredients.iter().any(tells);
    (any && !names.is_empty())
        .then(|| format!("{} would not come in at any price.", upper_first(&listed(&names))))
}

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

    #[test]
    fn prices_are_rounded_into_their_range_and_past_where_they_change() {
        let line = |used, from, to, enters_below| PourableLine { used, from, to, enters_below };
        assert_eq!(range(&line(true, Some(19.991), Some(26.109), None), 24.5), "20.00 to 26.10");
        assert_eq!(range(&line(true, Some(0.0), None, None), 24.5), "any price");
        assert_eq!(range(&line(true, Some(24.496), Some(24.503), None), 24.5), "24.50 to 24.50");
        assert_eq!(range(&line(false, None, None, Some(4.209)), 7.5), "in under 4.20");
        assert_eq!(range(&line(false, None, None, None), 7.5), "at no price");
        assert_eq!(money(26.101, 24.5, Rounded::Up), "26.11");
        assert_eq!(money(24.4999, 24.5, Rounded::Down), "24.49");
    }
}

//! What prices would change, in words.

use super::why::{Rounded, rounded};
use super::{between, listed, upper_first};
use crate::answer::SpecAnswer;
use crate::explain::sensitivity::{Priced, Sensitivity, Turn};
use crate::quantity::number;

/// Decimals of money.
const MONEY: usize = 2;

/// Why nothing is said of prices, where that is so.
pub fn unsaid_prices(found: &Sensitivity) -> Option<String> {
    let priced = || found.prices.iter().filter(|line| line.price.is_some());
    if found.prices.is_empty() {
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

/// What the columns of the table of prices are.
pub const PRICES_NOTE: &str = "Prices of a pack between which the spec stays as it is, or under which an ingredient \
     comes in: for the spec above, and for the one with any amounts allowed. Each price alone.";

/// Whether prices change anything that can be told.
fn tells(line: &Priced) -> bool {
    let poured = line
        .pourable
        .is_some_and(|p| p.from.is_some_and(|f| f > 0.0) || p.to.is_some() || p.enters_below.is_some());
    poured || line.from.is_some_and(|from| from > 0.0) || line.to.is_some() || line.enters_below.is_some()
}

/// A price that changes the best pourable spec: which way, at what price, and how far that is from the
/// present one as a share of it.
struct Nearest<'a> {
    line: &'a Priced,
    over: bool,
    at: f64,
    share: f64,
}

fn nearest(line: &Priced) -> Vec<Nearest<'_>> {
    let (Some(pourable), Some(now)) = (line.pourable, line.price.filter(|now| *now > 0.0)) else {
        return vec![];
    };
    let under = if pourable.used { pourable.from.filter(|from| *from > 0.0) } else { pourable.enters_below };
    let over = pourable.to.filter(|_| pourable.used);
    let near = |at: f64, over| Nearest { line, over, at, share: (at - now).abs() / now };
    under.map(|at| near(at, false)).into_iter().chain(over.map(|at| near(at, true))).collect()
}

/// Which price would change the spec first.
pub fn first_price(answer: &SpecAnswer, found: &Sensitivity) -> Option<String> {
    let all = found.prices.iter().flat_map(nearest);
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

/// The table of prices, only those that would change something: the ingredient, what a pack costs, the prices over
/// which the best pourable spec stays or under which it comes in, and the same with any amounts allowed.
pub fn price_rows(found: &Sensitivity) -> Vec<[String; 4]> {
    let row = |line: &Priced| {
        let now = line.price.unwrap_or(f64::NAN);
        let free = Turn { used: line.used, from: line.from, to: line.to, enters_below: line.enters_below };
        [
            line.ingredient.clone(),
            format!("{} per {}", number::fixed(now, MONEY), line.per),
            line.pourable.map_or_else(|| "not proved".to_owned(), |p| range(&p, now)),
            range(&free, now),
        ]
    };
    found.prices.iter().filter(|line| tells(line)).map(row).collect()
}

/// `20.00 to 26.10`, `up to 26.10`, `comes in under 4.20`, `at no price`.
fn range(line: &Turn, now: f64) -> String {
    if !line.used {
        let under = |at| format!("in under {}", money(at, now, Rounded::Down));
        return line.enters_below.map_or_else(|| "at no price".to_owned(), under);
    }
    let from = line.from.filter(|from| *from > 0.0).map(|from| ends(from, now, Rounded::Up));
    let to = line.to.map(|to| ends(to, now, Rounded::Down));
    between(from, to, "any price")
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
pub fn never_sentence(found: &Sensitivity) -> Option<String> {
    let left_out = match found.unasked {
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

fn never(found: &Sensitivity) -> Option<String> {
    let never = |line: &&Priced| {
        line.price.is_some() && line.pourable.is_some_and(|p| !p.used && p.enters_below.is_none())
    };
    let names: Vec<&str> = found.prices.iter().filter(never).map(|l| l.ingredient.as_str()).collect();
    // Where no price changes anything, none is worth a word.
    let any = found.prices.iter().any(tells);
    (any && !names.is_empty())
        .then(|| format!("{} would not come in at any price.", upper_first(&listed(&names))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_are_rounded_into_their_range_and_past_where_they_change() {
        let line = |used, from, to, enters_below| Turn { used, from, to, enters_below };
        assert_eq!(range(&line(true, Some(19.991), Some(26.109), None), 24.5), "20.00 to 26.10");
        assert_eq!(range(&line(true, Some(0.0), None, None), 24.5), "any price");
        assert_eq!(range(&line(true, Some(24.496), Some(24.503), None), 24.5), "24.50 to 24.50");
        assert_eq!(range(&line(false, None, None, Some(4.209)), 7.5), "in under 4.20");
        assert_eq!(range(&line(false, None, None, None), 7.5), "at no price");
        assert_eq!(money(26.101, 24.5, Rounded::Up), "26.11");
        assert_eq!(money(24.4999, 24.5, Rounded::Down), "24.49");
    }
}

//! A spec as it stands on a card: `50 ml aged rum, ¾ oz lime juice, 2 dashes bitters, top soda water`.

use std::ops::Range;

use super::names::{self, Found};
use super::{card, spelling};
use crate::finding::Finding;
use crate::quantity::{Amount, Unit};
use crate::read::shown;

/// What a "top" is where the glass does not say, ml. Common practice, no source.
const TOP: f64 = 90.0;
/// Less than this of anything comes in dashes or drops, ml. Common practice, no source.
const SMALL: f64 = 1.0;
/// The longest amount in words: `1 1/2 imp fl oz`.
const AMOUNT_WORDS: usize = 5;
/// What may stand between a drink's name and what is poured.
const AFTER_NAME: [char; 2] = [':', ' '];
/// What one egg gives, ml: a US large egg of 50 g without its shell, of which 33 g are white (USDA); taken as ml.
const EGG: [(&str, f64); 2] = [("egg white", 33.0), ("whole egg", 50.0)];

/// How an amount was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Written {
    /// In a unit of volume or mass.
    Measured,
    /// In ounces.
    Ounces,
    /// In dashes or drops.
    Dashes,
    /// As a top.
    Top,
    /// As a count of eggs.
    Eggs,
}

/// One pour of the line.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What is poured.
    pub what: Found,
    /// How much, ml or g.
    pub amount: Amount,
    /// How that was written.
    pub written: Written,
    /// Whether the drink is topped up with it.
    pub top: bool,
}

/// Reads a line; names are matched forgivingly.
///
/// # Errors
/// Everything that is wrong with it, all unknown ingredients at once.
pub fn read(line: &str, house: &[String]) -> Result<Vec<Item>, Vec<Finding>> {
    let (mut items, mut findings) = (Vec::<Item>::new(), Vec::new());
    for place in pieces(line, house) {
        match item(&line[place.clone()], &place, house) {
            Ok(item) => match items.iter_mut().find(|there| there.what == item.what) {
                Some(there) => there.amount.value += item.amount.value,
                None => items.push(item),
            },
            Err(finding) => findings.push(finding),
        }
    }
    if items.is_empty() && findings.is_empty() {
        let help = "write it as it stands on the card: \"50 ml aged rum, 25 ml lime juice\"";
        findings.push(Finding::error("empty-spec", 0..line.len(), "the line pours nothing", help));
    }
    if findings.is_empty() { Ok(items) } else { Err(findings) }
}

/// The pieces between commas; one that has no amount belongs to the name before it, where the two are a name
/// together: `30 g sugar, white`.
fn pieces(line: &str, house: &[String]) -> Vec<Range<usize>> {
    let mut pieces: Vec<Range<usize>> = Vec::new();
    let called = heading(line, house).map_or(0, |place| place.end);
    let from = line.len() - line[called..].trim_start_matches(AFTER_NAME).len();
    for piece in card::split(&line[from..]).into_iter().map(|piece| from + piece.start..from + piece.end) {
        let text = card::poured(card::unmarked(&line[piece.clone()])).unwrap_or_default();
        let trimmed = text.trim_end();
        if trimmed.is_empty() {
            continue;
        }
        let at = piece.end - text.len();
        let place = at..at + trimmed.len();
        let begins = spelling::begins(trimmed) || top(trimmed).is_some();
        let together = |last: &Range<usize>| {
            let both = last.start..place.end;
            !begins && item(&line[both.clone()], &both, house).is_ok()
        };
        match pieces.last_mut() {
            Some(last) if together(last) => last.end = place.end,
            _ => pieces.push(place),
        }
    }
    pieces
}

/// Where a card says what the drink is called: in its first line of several, or before a colon and what is poured;
/// unless that pours something itself, says how the drink is made, or names an ingredient whose amount was forgotten.
pub fn heading(line: &str, house: &[String]) -> Option<Range<usize>> {
    let colon =
        card::before_colon(line).filter(|(_, first)| spelling::begins(first) && !spelling::is_amount(first));
    let places = [card::first_line(line), colon.map(|(place, _)| place)];
    let place = places.into_iter().flatten().find(|place| is_called(&line[place.clone()], house))?;
    Some(place.start..place.start + line[place].trim_end_matches(AFTER_NAME).len())
}

/// Whether a text may be what a drink is called.
fn is_called(text: &str, house: &[String]) -> bool {
    let amount = spelling::begins(text) || text.contains(|c: char| c.is_ascii_digit()) || top(text).is_some();
    // A slip of the pen in its name included.
    let known = || names::find(text, house).map_or_else(|meant| !meant.is_empty(), |_| true);
    let ingredient = || known() || names::short(text, house).is_some();
    !amount && !card::is_made(text) && !ingredient()
}

/// What stands behind "top", "top with", "top up with", or before "to top": a name, or an amount and a name.
fn top(piece: &str) -> Option<&str> {
    let lower = piece.to_lowercase();
    for head in ["top up with ", "top with ", "topped with ", "top of ", "top up ", "top "] {
        if lower.starts_with(head) {
            return piece.get(head.len()..);
        }
    }
    lower.ends_with(" to top").then(|| piece.get(..piece.len() - " to top".len())).flatten()
}

fn item(piece: &str, place: &Range<usize>, house: &[String]) -> Result<Item, Finding> {
    if let Some(rest) = top(piece).map(str::trim) {
        let measured = poured(rest, place, house);
        if spelling::begins(rest) || measured.is_ok() {
            return measured.map(|item| Item { top: true, ..item });
        }
        let what = named(rest, place, house, true)?;
        return Ok(Item { what, amount: Amount::ml(TOP), written: Written::Top, top: true });
    }
    poured(piece, place, house)
}

/// An amount and what is poured, in either order.
fn poured(piece: &str, place: &Range<usize>, house: &[String]) -> Result<Item, Finding> {
    if !spelling::begins(piece) {
        return behind(piece, place, house);
    }
    let ends: Vec<usize> = word_ends(piece).into_iter().take(AMOUNT_WORDS).collect();
    // The longest beginning that is an amount and leaves a name that is known; else the longest that is one.
    let mut fault = None;
    for end in ends.iter().rev() {
        let name = piece[*end..].trim();
        let text = spelling::plain(&piece[..*end]);
        let Ok(amount) = Amount::parse(&text, Unit::Ml) else { continue };
        if name.is_empty() {
            continue;
        }
        // Two limes are no two millilitres of their juice.
        let short = text.contains(char::is_alphabetic);
        match named(name.strip_prefix("of ").unwrap_or(name), place, house, short) {
            Ok(what) => return measured(what, amount, &text, place),
            Err(finding) => fault = fault.or(Some(finding)),
        }
    }
    Err(fault.filter(|_| !spelling::is_amount(piece)).unwrap_or_else(|| {
        let what = if spelling::is_amount(piece) {
            "says how much, and not of what"
        } else {
            "is no amount and an ingredient"
        };
        let what = format!("`{}` {what}", shown(piece));
        let help = "write how much of what: 25 ml lime juice, ¾ oz lime juice, 2 dashes aromatic bitters";
        Finding::error("not-a-quantity", place.clone(), what, help)
    }))
}

/// A name with its amount behind it: `gin 50 ml`.
fn behind(piece: &str, place: &Range<usize>, house: &[String]) -> Result<Item, Finding> {
    for start in word_ends(piece) {
        let (name, amount) = piece.split_at(start);
        if spelling::is_amount(amount)
            && let Ok(read) = Amount::parse(&spelling::plain(amount), Unit::Ml)
        {
            let name = name.trim().trim_end_matches([':', '-', '–']).trim();
            let what = named(name, place, house, true)?;
            return measured(what, read, &spelling::plain(amount), place);
        }
    }
    let what = if piece.trim().eq_ignore_ascii_case("top") {
        "`top` says nothing to top it up with".to_owned()
    } else {
        format!("`{}` has no amount before it", shown(piece))
    };
    let help = "write how much: 25 ml, 2.5 cl, ¾ oz, 2 dashes, 1 barspoon, 1 egg white, or top soda water";
    Err(Finding::error("no-amount", place.clone(), what, help))
}

fn measured(what: Found, amount: Amount, written: &str, place: &Range<usize>) -> Result<Item, Finding> {
    if amount.value <= 0.0 {
        let text = format!("there is none of \"{}\"", what.name());
        return Err(Finding::error("not-a-quantity", place.clone(), text, "leave it out, or say how much"));
    }
    let unit: String = written.to_lowercase().chars().filter(|c| c.is_alphabetic()).collect();
    let egg = EGG.iter().find(|(name, _)| unit.is_empty() && *name == what.name());
    if let Some((_, each)) = egg.filter(|_| amount.value <= 4.0) {
        return Ok(Item {
            what,
            amount: Amount::ml(amount.value * each),
            written: Written::Eggs,
            top: false,
        });
    }
    let written = match unit.as_str() {
        _ if unit.ends_with("oz") => Written::Ounces,
        _ if unit.starts_with("dash") || amount.value < SMALL && unit == "ml" => Written::Dashes,
        _ => Written::Measured,
    };
    Ok(Item { what, amount, written, top: false })
}

/// Where each word of a text ends; a number that runs into its unit (`50ml`) ends there as well.
fn word_ends(text: &str) -> Vec<usize> {
    let spaces = text.char_indices().filter(|(_, c)| c.is_whitespace()).map(|(at, _)| at);
    let mut ends: Vec<usize> = spaces.collect();
    ends.push(text.len());
    ends.dedup();
    ends
}

/// The ingredient of a name, which may be cut `short`: `lemon` for lemon juice.
fn named(name: &str, place: &Range<usize>, house: &[String], short: bool) -> Result<Found, Finding> {
    let name = card::without_ice(name);
    let cut = || names::short(name, house).filter(|_| short);
    names::find(name, house).or_else(|meant| cut().ok_or(meant)).map_err(|meant| {
        let meant = if meant.is_empty() { names::of_its_kind(name) } else { meant };
        let what = format!("neither the house nor the larder knows \"{}\"", shown(name));
        if name.starts_with("part ") || name.starts_with("parts ") {
            let help = "parts have no size: write how much in ml, cl or oz";
            return Finding::error("unknown-ingredient", place.clone(), what, help);
        }
        let meant: Vec<String> = meant.iter().map(|name| format!("\"{name}\"")).collect();
        let guess =
            if meant.is_empty() { String::new() } else { format!("did you mean {}? Or ", meant.join(", ")) };
        let help = format!(
            "{guess}give its figures in a house file, and that with --house: [[candidate]] name = \"{}\", role = …, \
             strength = … % vol, sugar = … g/L, acid = … g/L",
            shown(name)
        );
        Finding::error("unknown-ingredient", place.clone(), what, help)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn items(line: &str) -> Vec<(String, f64, Written)> {
        let items = read(line, &[]).unwrap_or_else(|findings| panic!("{findings:#?}"));
        items
            .iter()
            .map(|i| (i.what.name().to_owned(), (i.amount.value * 100.0).round() / 100.0, i.written))
            .collect()
    }

    #[test]
    fn a_card_is_read_as_it_stands() {
        let read = items(
            "50 ml Aged Rum, 2.5 cl lime juice; 1 oz sugar syrup 1:1, 2 dashes aromatic bitters, 1 egg white, top with soda water",
        );
        let amounts: Vec<f64> = read.iter().map(|(_, amount, _)| *amount).collect();
        assert_eq!(amounts, [50.0, 25.0, 29.57, 1.6, 33.0, 90.0]);
        assert_eq!(read[3].2, Written::Dashes);
        assert_eq!(items("30 g sugar, white")[0].0, "sugar, white");
        let ounces = items("1 1/2 oz gin, ¾ oz lemon juice, 1½ oz vodka, 1/2 oz water");
        let ounces: Vec<f64> =
            ounces.iter().map(|(_, amount, _)| (amount / 29.5735 * 100.0).round() / 100.0).collect();
        assert_eq!(ounces, [1.5, 0.75, 1.5, 0.5]);
        assert_eq!(items("60 ml gin, soda water to top").len(), 2);
        // Whoever says how much to top it up with is taken at that.
        for top in [
            "top with 60 ml soda water",
            "60 ml soda water to top",
            "top soda water 60 ml",
            "top up with 6 cl soda",
        ] {
            let line = format!("50 ml gin, {top}, garnish with a lime wheel");
            let read = super::read(&line, &[]).expect("a line");
            let of = |item: &Item| (item.what.name().to_owned(), item.amount.value, item.top);
            let wanted = [("gin".to_owned(), 50.0, false), ("soda water".to_owned(), 60.0, true)];
            assert_eq!(read.iter().map(of).collect::<Vec<_>>(), wanted, "{top}");
        }
    }

    #[test]
    fn a_card_may_be_pasted_whole() {
        let card = "Gin Fizz, late\n\n50 ml gin\n25 ml lemon juice\n20 ml sugar syrup 1:1\nDry shake, then shake with \
                    ice\nDouble strain into a glass\nTop with soda\nGarnish: a lemon wheel";
        let names: Vec<String> = items(card).into_iter().map(|item| item.0).collect();
        assert_eq!(names, ["gin", "lemon juice", "sugar syrup 1:1", "soda water"]);
        assert_eq!(heading(card, &[]).map(|place| &card[place]), Some("Gin Fizz, late"));
        for called in ["Weir", "Gin Fizz", "Gin Sour", "Rum Punch", "The Ferryman", "Lime Rickey"] {
            assert!(heading(&format!("{called}\n50 ml gin"), &[]).is_some(), "{called}");
        }
        assert_eq!(
            items("50 ml gin, 25 ml lemon juice. Shake over ice. Top with soda, on the rocks.").len(),
            3
        );
        assert_eq!(items("1 oz. Gin, 1.5 oz. Dry vermouth. Stirred").len(), 2);
        let worked = "Muddle 10 ml sugar syrup, pour 50 ml gin, shake with 25ml lemon juice, strain into a 160 ml glass";
        assert_eq!(items(worked).iter().map(|item| item.1).collect::<Vec<f64>>(), [10.0, 50.0, 25.0]);
        assert_eq!(items("Shake 50 ml gin, 25 ml lemon juice with ice. Strain").len(), 2);
        let unknown = read("60 ml bourbon, 2 dashes harbourside bitters", &[]).expect_err("unknown");
        assert!(unknown[0].help.contains("aromatic bitters"), "{unknown:?}");
        let named = "Weir Fizz: 50 ml gin, 25 ml lemon juice";
        assert_eq!((heading(named, &[]), items(named).len()), (Some(0..9), 2));
        assert_eq!(items("Weir : 50 ml gin").len(), 1);
        assert_eq!(items("Überfähre : 50 ml gin, 25 ml lemon juice").len(), 2);
        assert_eq!(heading("gin: 50 ml, lemon juice: 25 ml", &[]), None);
        let listed = "Weir\n- 50 ml gin\n• 25 ml lemon juice\n* 20 ml sugar syrup 1:1";
        assert_eq!(items(listed).len(), 3);
        let findings = read("Weir\n - 50 ml gun smoke", &[]).expect_err("unknown");
        assert_eq!(findings[0].place, Some(8..23));
        // An ingredient whose amount was forgotten is no name of a drink.
        for card in [
            "lime juice\n50 ml gin",
            "elderflower cordail\n50 ml gin",
            "lime\n50 ml gin",
            "gin 50 ml\n25 ml lime juice",
            "Stir\n50 ml gin",
        ] {
            assert_eq!(heading(card, &[]), None, "{card}");
        }
        assert!(read("lime juice\n50 ml gin", &[]).is_err());
    }

    #[test]
    fn amounts_are_read_in_words_and_behind_their_names_and_names_cut_short() {
        let amounts = |line: &str| items(line).iter().map(|i| i.1).collect::<Vec<f64>>();
        assert_eq!(
            amounts("two ounces gin, half an ounce lemon juice, a dash of absinthe"),
            [59.15, 14.79, 0.8]
        );
        assert_eq!(amounts("gin 50 ml, lemon juice: 25 ml"), [50.0, 25.0]);
        assert_eq!(
            amounts("50 ml gin and 25 ml lemon juice - 20 ml sugar syrup 1:1,25 ml water"),
            [50.0, 25.0, 20.0, 25.0]
        );
        assert_eq!(
            amounts("1,5 oz gin, 1 teaspoon honey, an egg white, 10 drops absinthe"),
            [44.36, 5.0, 33.0, 0.5]
        );
        let names: Vec<String> =
            items("60 ml rye, 25 ml lemon, 2 cl agave, top with soda").into_iter().map(|i| i.0).collect();
        assert_eq!(names, ["bourbon", "lemon juice", "agave syrup", "soda water"]);
        for line in
            ["2 limes", "50 ml", "0 ml gin", "top", "2 parts gin", "juice of half a lime", "1/0 oz gin"]
        {
            assert!(read(line, &[]).is_err(), "{line}");
        }
    }

    #[test]
    fn what_is_unknown_is_asked_for_all_at_once() {
        let findings = read("50 ml gun smoke, 25 ml dragon tears, lime juice", &[]).expect_err("unknown");
        let codes: Vec<&str> = findings.iter().map(|finding| finding.code).collect();
        assert_eq!(codes, ["unknown-ingredient", "unknown-ingredient", "no-amount"]);
    }
}

//! A spec on one line: `50 ml aged rum, 25 ml lime juice`.
//!
//! Names may hold commas (`sugar, white`): at every amount the longest name of the brief that fits is
//! taken. Letter case does not matter.

use std::ops::Range;

use super::findings::Findings;
use crate::brief::{Brief, Pour};
use crate::finding::Finding;
use crate::quantity::{Amount, NotAQuantity, Unit, numeral};

/// What stands between pours.
const BETWEEN: [char; 4] = [',', ';', '\n', '\r'];
/// What a pour looks like.
const FORM: &str = "write each pour like `25 ml lime juice`, with commas between them";
/// The longest unit, `imp fl oz`, in words.
const UNIT_WORDS: usize = 3;
/// How many names are offered for one that is unknown.
const OFFERED: usize = 20;

/// Reads the pours of a spec, in the order of the line.
///
/// # Errors
/// Everything that is wrong with the line, each with its place in it.
pub fn read(line: &str, brief: &Brief) -> Result<Vec<Pour>, Vec<Finding>> {
    let mut pours: Vec<Pour> = Vec::new();
    let mut findings = Vec::new();
    let mut at = 0;
    while let Some(start) = next_item(line, at) {
        match item(line, start, brief) {
            Ok((pour, end)) => {
                at = end;
                match fault(brief, &pours, pour, line, start..end) {
                    Some(finding) => findings.push(finding),
                    None => pours.push(Pour { candidate: pour.candidate, amount: pour.amount.value }),
                }
            }
            Err(finding) => {
                at = item_end(line, start);
                findings.push(finding);
            }
        }
    }
    if pours.is_empty() && findings.is_empty() {
        findings.push(Finding::error("empty-spec", 0..line.len(), "the spec pours nothing", FORM));
    }
    if findings.is_empty() { Ok(pours) } else { Err(findings) }
}

/// A pour as it is written: its unit may not be the ingredient's.
#[derive(Clone, Copy)]
struct Written {
    candidate: usize,
    amount: Amount,
}

/// Where the next pour starts.
fn next_item(line: &str, at: usize) -> Option<usize> {
    let rest = line.get(at..)?;
    let skipped = rest.trim_start_matches(|c: char| c.is_whitespace() || BETWEEN.contains(&c));
    (!skipped.is_empty()).then(|| line.len() - skipped.len())
}

/// Where a pour that cannot be read is given up: at the next comma.
fn item_end(line: &str, start: usize) -> usize {
    line[start..].find(BETWEEN).map_or(line.len(), |length| start + length)
}

fn item(line: &str, start: usize, brief: &Brief) -> Result<(Written, usize), Finding> {
    let text = &line[start..];
    let digits = numeral::length(text);
    let whole = start..start + line[start..item_end(line, start)].trim_end().len();
    if digits == 0 {
        let what = format!("`{}` has no amount before it", &line[whole.clone()]);
        return Err(Finding::error("no-amount", whole, what, FORM));
    }
    let mut measured = None;
    for words in 0..=UNIT_WORDS {
        let Some(after) = skip_words(text, digits, words) else { break };
        let name_at = after + (text[after..].len() - text[after..].trim_start().len());
        let Ok(amount) = Amount::parse(&text[..after], Unit::Ml) else { continue };
        measured = Some(name_at);
        if let Some((candidate, length)) = longest_name(&text[name_at..], brief) {
            let unit = if words == 0 { brief.candidates[candidate].unit() } else { amount.unit };
            let amount = Amount { value: amount.value, unit };
            return Ok((Written { candidate, amount }, start + name_at + length));
        }
    }
    Err(match measured {
        Some(name_at) => unknown(line, start + name_at..whole.end.max(start + name_at), brief),
        None => no_quantity(text, digits, whole),
    })
}

/// Where the text goes on after so many words from `at`; `None` where there are not so many.
fn skip_words(text: &str, at: usize, words: usize) -> Option<usize> {
    let mut end = at;
    for _ in 0..words {
        let rest = &text[end..];
        let gap = rest.len() - rest.trim_start().len();
        let word =
            rest[gap..].find(|c: char| c.is_whitespace() || BETWEEN.contains(&c)).unwrap_or(rest.len() - gap);
        if word == 0 {
            return None;
        }
        end += gap + word;
    }
    Some(end)
}

/// The longest name of the brief at the start of `text` that ends where a pour may end.
fn longest_name(text: &str, brief: &Brief) -> Option<(usize, usize)> {
    let fits = |name: &str| {
        let here = text.get(..name.len()).is_some_and(|head| head.eq_ignore_ascii_case(name));
        here && text[name.len()..]
            .trim_start_matches([' ', '\t'])
            .chars()
            .next()
            .is_none_or(|c| BETWEEN.contains(&c))
    };
    let names = brief.candidates.iter().enumerate().filter(|(_, c)| fits(&c.name));
    names.map(|(at, c)| (at, c.name.len())).max_by_key(|(_, length)| *length)
}

fn unknown(line: &str, place: Range<usize>, brief: &Brief) -> Finding {
    let name = line[place.clone()].trim();
    if name.is_empty() {
        return Finding::error("no-name", place, "there is an amount, but no ingredient", FORM);
    }
    let names = || brief.candidates.iter().map(|c| c.name.as_str());
    let near = Findings::default().closest(name, names());
    let help = if let Some(near) = near {
        format!("did you mean `{near}`?")
    } else {
        let more = if brief.candidates.len() > OFFERED { "; …" } else { "" };
        format!("the brief offers {}{more}", names().take(OFFERED).collect::<Vec<_>>().join("; "))
    };
    Finding::error("unknown-ingredient", place, format!("the brief has no ingredient `{name}`"), help)
}

fn no_quantity(text: &str, digits: usize, whole: Range<usize>) -> Finding {
    let end = skip_words(text, digits, 1).unwrap_or(digits);
    let wrong = Amount::parse(&text[..end], Unit::Ml)
        .err()
        .unwrap_or_else(|| NotAQuantity { what: "this is no amount".to_owned(), help: FORM.to_owned() });
    Finding::error("not-a-quantity", whole.start..whole.start + end, wrong.what, wrong.help)
}

/// What is wrong with a pour that could be read.
fn fault(brief: &Brief, before: &[Pour], pour: Written, line: &str, place: Range<usize>) -> Option<Finding> {
    let candidate = &brief.candidates[pour.candidate];
    let name = &candidate.name;
    if pour.amount.unit != candidate.unit() {
        let unit = candidate.unit().symbol();
        let what = format!("{name} is measured in {unit}, not in {}", pour.amount.unit.symbol());
        return Some(Finding::error("wrong-unit", place, what, format!("write its amount in {unit}")));
    }
    if pour.amount.value <= 0.0 {
        let what = format!("`{}` pours nothing", &line[place.clone()]);
        return Some(Finding::error("nothing-poured", place, what, "leave it out, or write how much"));
    }
    before.iter().any(|p| p.candidate == pour.candidate).then(|| {
        Finding::error(
            "poured-twice",
            place,
            format!("{name} is poured twice"),
            "write it once, with the sum",
        )
    })
}

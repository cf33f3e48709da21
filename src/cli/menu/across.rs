//! What drinks of a menu do not agree on.

use super::files::Card;
use crate::cli::exit::Failure;
use crate::finding::{Finding, Severity};
use crate::menu::{Bottles, Set};
use crate::read::{codes, word_at};

/// Drinks of a menu that count in other money, or do not agree on a bottle.
const DISAGREES: &str = "disagrees";

/// Says what drinks do not agree on. Titles that stand twice are worth a second look; other money, and other prices of
/// the same bottle, are errors where a shelf is asked for.
///
/// # Errors
/// For whoever asks for one.
pub fn agreed(cards: &[Card], of: &[usize], bottles: &Bottles) -> Result<(), Failure> {
    titles(cards);
    let mut refused = vec![];
    refused.extend(currencies(cards, of));
    for one in &bottles.disagreements {
        let [first, second] = [one.drinks.0, one.drinks.1].map(|drink| &cards[of[drink]]);
        let what = format!(
            "{} is {} in {}, and {} in {}",
            one.bottle, one.said.0, first.file, one.said.1, second.file
        );
        let help =
            "let all of them take it from one house; or give it another name where it is another bottle";
        refused.push((of[one.drinks.1], Finding::placeless(DISAGREES, what, help)));
    }
    if bottles.all.len() > Set::MOST {
        let what = format!("there are {} bottles", bottles.all.len());
        let help = format!("a shelf is chosen of at most {}", Set::MOST);
        return Err(Failure::placeless(codes::TOO_MANY, what, help));
    }
    let mut failure = Ok(());
    for (at, finding) in refused {
        if let Some(page) = &cards[at].page {
            page.warn(&[Finding { severity: Severity::Warning, ..finding.clone() }]);
            failure = failure.and(Err(page.refused(vec![finding])));
        }
    }
    failure
}

/// Two drinks that are called the same.
fn titles(cards: &[Card]) {
    for (at, card) in cards.iter().enumerate() {
        let first = cards[..at].iter().find(|other| other.title.eq_ignore_ascii_case(&card.title));
        let (Some(first), Some(page)) = (first, &card.page) else { continue };
        let what = format!("{} is called \"{}\", too", first.file, card.title);
        let help = "give each drink a title of its own: sales and cards go by it";
        let place = word_at(&page.bytes, "title").map_or(0..0, |(_, place)| place);
        page.warn(&[Finding::warning("duplicate-title", place, what, help)]);
    }
}

/// Drinks that count in other money than the first.
fn currencies(cards: &[Card], of: &[usize]) -> Vec<(usize, Finding)> {
    let code = |at: usize| cards[at].brief().map(|brief| brief.currency.code().to_owned());
    let Some(first) =
        of.iter().copied().find(|at| code(*at).is_some_and(|code| code != crate::quantity::Currency::NONE))
    else {
        return vec![];
    };
    let others = of.iter().copied().filter(|at| code(*at) != code(first));
    others
        .filter_map(|at| {
            let (own, theirs) = (code(at)?, code(first)?);
            let page = cards[at].page.as_ref()?;
            let own = if own == crate::quantity::Currency::NONE { "no money".to_owned() } else { own };
            let what = format!("this drink counts in {own}, and {} in {theirs}", cards[first].file);
            let help = "count in one currency over the whole menu: nothing here knows what another is worth";
            let place = word_at(&page.bytes, "currency").map(|(_, place)| place);
            let finding = Finding::placeless(DISAGREES, what, help);
            Some((at, Finding { place, ..finding }))
        })
        .collect()
}

//! A shelf and an order in words.

use crate::answer::{BoughtLine, Margin, OrderLine, OrderedDrink, ShelfDrink, ShelfLine, WeekLine};
use crate::quantity::{Amount, Unit, UnitSystem, number};
use crate::render::words::{counted, listed, moves, turned_over, upper_first};

/// Shelves beyond this many are counted, not listed.
const SHELVES: usize = 5;

/// What the shelf comes to, the first sentence being the answer.
pub fn shelf_sentences(shelf: &ShelfLine) -> Vec<String> {
    let (count, drinks) = (counted(shelf.count, "bottle"), shelf.drinks.len());
    let within = number::trimmed(shelf.within, 2);
    let all = match drinks {
        1 => "the drink".to_owned(),
        2 => "both drinks".to_owned(),
        many => format!("all {many} drinks"),
    };
    let band = format!("each at most {within} % worse than its own best");
    let mut said = vec![match (shelf.asked, shelf.fits) {
        (None, _) => format!("{} make {all}, {band}.", upper_first(&count)),
        (Some(most), true) => {
            format!("Of at most {}, these {} make {all}, {band}.", counted(most, "bottle"), shelf.count)
        }
        (Some(most), false) if shelf.fewest > most => {
            format!(
                "{} cannot make {all}, {band}: it takes at least {}. These {} would.",
                upper_first(&counted(most, "bottle")),
                shelf.fewest,
                shelf.count
            )
        }
        (Some(most), false) => format!(
            "No shelf of {} was found that makes {all}; the search was stopped, and there may be one. These {} would.",
            counted(most, "bottle"),
            shelf.count
        ),
    }];
    said.push(shelf_proof(shelf));
    if shelf.unshared > shelf.count {
        said.push(format!("Poured each at its own best, they open {}.", shelf.unshared));
    }
    if !shelf.without.is_empty() {
        said.push(format!("Left out, as nothing makes them: {}.", listed(&shelf.without)));
    }
    said
}

fn shelf_proof(shelf: &ShelfLine) -> String {
    let Some((week, bound)) = shelf.week.as_ref().and_then(|week| Some((week, week.bound?))) else {
        return if shelf.proved {
            "Proved: no shelf of fewer will do.".to_owned()
        } else {
            format!(
                "The search was stopped: it takes at least {}, and a shelf of fewer than this may do.",
                shelf.fewest
            )
        };
    };
    let spend = week.currency.write(week.spend.0);
    if shelf.proved {
        return format!(
            "Bought in whole packs, a week takes {spend}, each drink poured as its best there. Proved: no other such shelf takes less."
        );
    }
    let (code, paid) = (week.currency.code(), crate::batch::to_f64(week.spend.0));
    let share = 100.0 * (paid - bound) / paid;
    format!(
        "Bought in whole packs, a week takes {spend}, each drink poured as its best there. The search was stopped: another such shelf \
         may take less, but none under {} {code}, {} % less.",
        number::fixed(bound, 2),
        number::fixed(share, 1)
    )
}

/// How much worse a drink is than its own best: `1.2 %`; nothing where it is its best.
pub fn worse(drink: &ShelfDrink) -> String {
    let worse = drink.worse.filter(|worse| *worse > 0.05);
    worse.map_or_else(String::new, |worse| format!("{} %", number::fixed(worse, 1)))
}

/// What a drink pours on the shelf, against its own best.
pub fn on_the_shelf(drink: &ShelfDrink, units: UnitSystem) -> String {
    if drink.change.is_empty() { "its own best".to_owned() } else { moves(&drink.change, units) }
}

/// What the next bottle would bring.
pub fn next_sentence(shelf: &ShelfLine) -> Option<String> {
    let currency = &shelf.week.as_ref()?.currency;
    Some(match &shelf.next {
        Some(next) => format!(
            "The next bottle would be {}: with it a week's pours cost {} {} less by use, in {}.",
            next.bottle,
            number::fixed(next.saves, 2),
            currency.code(),
            listed(&next.drinks)
        ),
        None => "No further bottle would make these pours cheaper.".to_owned(),
    })
}

/// The other shelves that are as good, each against this one.
pub fn other_shelves(shelf: &ShelfLine) -> Option<(String, Vec<String>)> {
    let (first, others) = shelf.as_good.split_first()?;
    if others.is_empty() {
        return None;
    }
    let against = |other: &Vec<String>| {
        let only = |of: &[String], not: &[String]| -> Vec<String> {
            of.iter().filter(|name| !not.contains(name)).cloned().collect()
        };
        turned_over(&listed(&only(other, first)), &listed(&only(first, other)))
    };
    let rest = others.len().saturating_sub(SHELVES);
    let mut items: Vec<String> = others.iter().take(SHELVES).map(against).collect();
    if rest > 0 {
        items.push(format!("and {rest} more"));
    }
    let count = if shelf.all { "" } else { "at least " };
    let kind = if shelf.asked.is_some() && shelf.fits { "cost the same" } else { "have as few bottles" };
    Some((
        format!("{count}{} {kind}", counted(others.len(), "other shelf")).replace("shelfs", "shelves"),
        items,
    ))
}

/// `3 × 700 ml`, or what is used where there is no price.
pub fn packs(line: &BoughtLine) -> String {
    match (line.packs, &line.pack) {
        (Some(0), _) => "none".to_owned(),
        (Some(packs), Some(pack)) => format!("{packs} × {pack}"),
        _ => "no price".to_owned(),
    }
}

/// How much of a bottle, as people read it.
pub fn amount(value: f64, unit: Unit) -> String {
    let shown = Amount { value: (value + 0.0).round(), unit };
    number::pour(shown, UnitSystem::Metric)
}

/// What becomes of what is left.
pub fn left(line: &BoughtLine) -> String {
    let stock = (line.from_stock > 0.5).then(|| format!("{} from stock", amount(line.from_stock, line.unit)));
    let left = (line.left > 0.5).then(|| format!("{} left", amount(line.left, line.unit)));
    let spoiled = (line.spoiled > 0.5).then(|| format!("{} spoils", amount(line.spoiled, line.unit)));
    [stock, left, spoiled].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// What the packs come to.
pub fn spend_sentence(week: &WeekLine) -> String {
    let unpriced: Vec<&str> =
        week.lines.iter().filter(|line| line.spend.is_none()).map(|line| line.bottle.as_str()).collect();
    let all = format!("All packs: {}", week.currency.write(week.spend.0));
    if unpriced.is_empty() {
        format!("{all}.")
    } else {
        format!("{all}, without what has no price: {}.", listed(&unpriced))
    }
}

/// The targets that a drink misses once its amounts are rounded for all its serves.
pub fn missed_by_rounding(drink: &OrderedDrink) -> Option<String> {
    let miss = |margin: &Margin| {
        let side = margin.side.keyword();
        format!(
            "{} {} (its {side} is {})",
            margin.target,
            number::trimmed(margin.value, 3),
            number::trimmed(margin.limit, 3)
        )
    };
    let missed: Vec<String> = drink.misses.iter().map(miss).collect();
    (!missed.is_empty())
        .then(|| format!("{}, rounded to what can be measured: {}.", drink.title, listed(&missed)))
}

/// Drinks that were sold and that nothing makes.
pub fn not_in_it(order: &OrderLine) -> Option<String> {
    let not = &order.without;
    (!not.is_empty()).then(|| format!("Not in it, as no spec meets the brief: {}.", listed(not)))
}

/// `By use, what is poured costs 231.40 GBP.`
pub fn used_sentence(order: &OrderLine) -> String {
    format!("By use, what is poured costs {}.", order.buy.currency.write(order.used.0))
}

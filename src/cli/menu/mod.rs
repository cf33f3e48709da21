//! `washline menu FOLDER|BRIEF…`

mod across;
mod files;
mod shelf;
mod what_if;

use super::args::{MenuArgs, VERSION};
use super::exit::{Exit, Failure};
use super::progress::progress;
use super::{clock, output};
use crate::answer::{Became, DrinkLine, drink_line, menu_answer};
use crate::brief::Brief;
use crate::menu::{Bottles, Found, solve_all};
use crate::render::html::Imprint;
use crate::solve::{Ending, Stop};
use files::Card;

/// The drinks of a menu that could be read, side by side.
pub struct Menu<'a> {
    /// Every file, in order.
    pub cards: &'a [Card],
    /// The briefs of those that could be read.
    pub briefs: Vec<Brief>,
    /// Which card each is.
    pub of: Vec<usize>,
    /// Their answers.
    pub found: Vec<Found>,
    /// Ends searches.
    pub stop: &'a Stop,
}

impl Menu<'_> {
    /// The card of a drink.
    pub fn card(&self, drink: usize) -> &Card {
        &self.cards[self.of[drink]]
    }
}

/// Solves every drink and writes the table, and whatever else is asked of the menu.
pub fn run(args: &MenuArgs) -> Result<Exit, Failure> {
    output::refuse_existing(&args.show)?;
    let cards = files::cards(&args.briefs)?;
    let (of, briefs): (Vec<usize>, Vec<Brief>) =
        cards.iter().enumerate().filter_map(|(at, card)| Some((at, card.brief()?.clone()))).unzip();
    let bottles = Bottles::of(&briefs);
    let agreed = across::agreed(&cards, &of, &bottles);
    let stop = clock::stop_after(args.time_limit);
    if let Some(form) = args.form {
        let text = shelf::program((&briefs, &bottles), args.within / 100.0, form, &stop)?;
        output::deliver(&text, &args.show)?;
        return Ok(Exit::Answered);
    }
    let progress = progress(briefs.len());
    let found = solve_all(&briefs, clock::workers(), &stop, &|| progress.inc(1));
    progress.finish_and_clear();
    let menu = Menu { cards: &cards, briefs, of, found, stop: &stop };
    let drinks = lines(&menu);
    let mut answer = menu_answer(title(args), drinks, VERSION);
    answer.what_if = what_if::what_if(args, &menu, &answer.drinks)?;
    answer.prices = what_if::prices(args, &menu)?;
    let serves = shelf::serves(args, &menu)?;
    if args.shelf.is_some() || args.serves_from.is_some() {
        agreed?;
        shelf::shelf_and_order(args, (&menu, &bottles), &serves, &mut answer)?;
    }
    let imprint = Imprint {
        brief: title(args),
        version: VERSION.to_owned(),
        date: clock::today(),
        ..Imprint::default()
    };
    output::show(&args.show, &answer, &imprint)?;
    let some = |outcome: Option<Ending>| answer.drinks.iter().any(|drink| drink.outcome == outcome);
    let shelf = answer.shelf.as_ref();
    Ok(match (some(Some(Ending::Conflict)) || some(None), some(Some(Ending::Stopped))) {
        (true, _) => Exit::Unmet,
        (false, true) => Exit::Stopped,
        _ if shelf.is_some_and(|shelf| !shelf.fits && shelf.fewest > shelf.asked.unwrap_or(usize::MAX)) => {
            Exit::Unmet
        }
        _ if shelf.is_some_and(|shelf| !shelf.proved) => Exit::Stopped,
        _ => Exit::Answered,
    })
}

/// What the menu is called: the folder, or how many files.
fn title(args: &MenuArgs) -> String {
    let named = match args.briefs.as_slice() {
        [one] => one.file_stem().map(|name| name.to_string_lossy().into_owned()),
        _ => None,
    };
    named.unwrap_or_else(|| "The menu".to_owned())
}

fn lines(menu: &Menu) -> Vec<DrinkLine> {
    let line = |(at, card): (usize, &Card)| {
        let drink = menu.of.iter().position(|of| *of == at);
        let became = match (drink, &card.refused) {
            (Some(drink), _) => Became::Solved(&menu.briefs[drink], &menu.found[drink]),
            (None, why) => Became::Refused(why.as_deref().unwrap_or_default()),
        };
        drink_line(&card.title, &card.file, became)
    };
    menu.cards.iter().enumerate().map(line).collect()
}

//! One shelf for a menu, and what to order.

use std::fs;

use super::Menu;
use crate::answer::{MenuAnswer, order_line, shelf_line};
use crate::batch::Unbatchable;
use crate::brief::Brief;
use crate::cli::args::{MenuArgs, WishArg};
use crate::cli::clock;
use crate::cli::exit::{Failure, Sources};
use crate::cli::progress::Waiting;
use crate::export::program::around;
use crate::export::{Form, write_joint};
use crate::menu::oracle::Oracle;
use crate::menu::order::{Wanted, order};
use crate::menu::shelf::{Wish, shelf};
use crate::menu::{Bottles, Set};
use crate::read::{self, codes};
use crate::solve::{Spec, Stop};

/// How many serves of each drink go out in a week: as the file of sales says, else as its brief does.
pub fn serves(args: &MenuArgs, menu: &Menu) -> Result<Vec<Option<f64>>, Failure> {
    let Some(path) = &args.serves_from else {
        return Ok(menu.briefs.iter().map(|brief| brief.serves).collect());
    };
    let name = path.display().to_string();
    let bytes = fs::read(path).map_err(|error| {
        let help = "name a CSV file with the columns drink and serves";
        Failure::placeless("unreadable", format!("cannot read {name}: {error}"), help)
    })?;
    let names =
        |at: usize| vec![menu.briefs[at].title.clone(), menu.card(at).stem(), menu.card(at).file.clone()];
    let drinks: Vec<Vec<String>> = (0..menu.briefs.len()).map(names).collect();
    let sold = read::sales(&bytes, &drinks).map_err(|findings| {
        let sources = Sources::of(&name, &String::from_utf8_lossy(&bytes), None);
        Failure::Findings { findings, sources }
    })?;
    Ok(sold.into_iter().map(Some).collect())
}

/// Chooses the shelf, where one is asked for, and adds up what the serves take.
pub fn shelf_and_order(
    args: &MenuArgs,
    (menu, bottles): (&Menu, &Bottles),
    serves: &[Option<f64>],
    answer: &mut MenuAnswer,
) -> Result<(), Failure> {
    let mut briefs = menu.briefs.clone();
    briefs.iter_mut().zip(serves).for_each(|(brief, serves)| brief.serves = *serves);
    let specs = if let Some(wish) = args.shelf {
        on_one_shelf(args, wish, (&briefs, bottles), menu, answer)?
    } else {
        let best = menu.found.iter().enumerate();
        best.filter_map(|(at, found)| Some((at, found.solved.specs.first()?.clone()))).collect()
    };
    if args.serves_from.is_some() {
        let wanted: Vec<Wanted> = specs
            .iter()
            .map(|(drink, spec)| {
                let serves = briefs[*drink].serves.unwrap_or(0.0);
                Wanted { drink: *drink, brief: &briefs[*drink], spec, serves }
            })
            .collect();
        let ordered = order(bottles, &wanted).map_err(|(drink, why)| {
            let (why, help) = match why {
                Unbatchable::NothingStill => (
                    "all of it holds gas",
                    "give it a serve of 0 in the file of sales, and buy for it by hand",
                ),
                _ => (
                    "its figures are beyond what can be added up",
                    "check prices, packs and how many serves it is",
                ),
            };
            let what = format!("no order can be made of {}: {why}", briefs[drink].title);
            Failure::placeless("no-order", what, help)
        })?;
        answer.order = order_line(&briefs, bottles, &ordered);
    }
    Ok(())
}

fn on_one_shelf(
    args: &MenuArgs,
    wish: WishArg,
    (briefs, bottles): (&[Brief], &Bottles),
    menu: &Menu,
    answer: &mut MenuAnswer,
) -> Result<Vec<(usize, Spec)>, Failure> {
    let wish = match wish {
        WishArg::Fewest => Wish::Fewest,
        WishArg::AtMost(most) => {
            priced(briefs, bottles, menu)?;
            Wish::AtMost(most)
        }
    };
    let within = args.within / 100.0;
    let serves: Vec<f64> = briefs.iter().map(|brief| brief.serves.unwrap_or(1.0)).collect();
    let waiting = Waiting::on("Choosing the shelf");
    let oracle = Oracle::new((briefs, bottles), &serves, within, (clock::workers(), menu.stop));
    if oracle.drinks.is_empty() {
        return Ok(vec![]);
    }
    let found = shelf(&oracle, wish, &|| ());
    drop(waiting);
    answer.shelf = Some(shelf_line(briefs, &oracle, &found, within));
    Ok(found.specs)
}

/// What money a week takes can be said only where every bottle has a price and every drink its serves.
fn priced(briefs: &[Brief], bottles: &Bottles, menu: &Menu) -> Result<(), Failure> {
    let used: Set = bottles.uses.iter().flatten().flatten().map(|one| one.bottle).collect();
    if let Some(at) = bottles.unpriced(&used).iter().next() {
        let what =
            format!("\"{}\" has no price, and the cheapest shelf needs them all", bottles.all[at].name);
        return Err(Failure::placeless(
            codes::NO_PRICE,
            what,
            "give it one where it stands: price = \"14.50 per 700 ml\"",
        ));
    }
    match briefs.iter().position(|brief| brief.serves.is_none()) {
        None => Ok(()),
        Some(at) => {
            let what = format!("how many serves of {} go out in a week?", briefs[at].title);
            let help = format!(
                "add serves = 60 to [menu] in {}, or name sales with --serves-from",
                menu.card(at).file
            );
            Err(Failure::placeless("no-serves", what, help))
        }
    }
}

/// The program behind the fewest bottles.
pub fn program(
    (briefs, bottles): (&[Brief], &Bottles),
    within: f64,
    form: Form,
    stop: &Stop,
) -> Result<String, Failure> {
    let waiting = Waiting::on("Choosing the shelf");
    let oracle = Oracle::new((briefs, bottles), &[], within, (clock::workers(), stop));
    if oracle.drinks.is_empty() {
        let what = "no drink of this menu can be made, so there is no program of it";
        return Err(Failure::placeless(
            "no-program",
            what,
            "see what is in the way: `washline menu` without --as",
        ));
    }
    let found = shelf(&oracle, Wish::Fewest, &|| ());
    drop(waiting);
    let around_each = found.specs.iter().map(|(drink, spec)| around(&briefs[*drink], spec, stop));
    Ok(write_joint(&oracle, &around_each.collect::<Vec<_>>(), found.bottles.len(), form))
}

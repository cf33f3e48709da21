//! What `washline menu` takes.

use std::path::PathBuf;
use std::time::Duration;

use clap::Args;

use super::{ShowArgs, number, pair, percent, seconds};
use crate::export::Form;

/// Which shelf is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WishArg {
    /// The fewest bottles.
    Fewest,
    /// At most so many.
    AtMost(usize),
}

/// `washline menu`
#[derive(Debug, Args)]
pub struct MenuArgs {
    /// Briefs, or folders of them: every TOML file in a folder that is a brief
    #[arg(value_name = "FOLDER|BRIEF", required = true)]
    pub briefs: Vec<PathBuf>,
    /// Another price: "aged rum=19.00 per 700 ml", or money alone for the same pack; `=?`: at which prices drinks change
    #[arg(long = "price", value_name = "NAME=PRICE", value_parser = price)]
    pub prices: Vec<(String, String)>,
    /// Without this ingredient, and what the house makes of it
    #[arg(long, value_name = "NAME")]
    pub without: Vec<String>,
    /// At most this pour cost in every drink, % of the net menu price
    #[arg(long, value_name = "PERCENT", value_parser = percent)]
    pub pour_cost: Option<f64>,
    /// One shelf for all drinks: the fewest bottles, or at most so many for the least money a week
    #[arg(long, value_name = "fewest|N", value_parser = wish)]
    pub shelf: Option<WishArg>,
    /// How much worse than its own best a drink on the shelf may be, %
    #[arg(long, value_name = "PERCENT", value_parser = within, default_value = "5")]
    pub within: f64,
    /// What goes out in a week, a CSV file with the columns drink and serves: what to buy and to make for it
    #[arg(long, value_name = "FILE.csv")]
    pub serves_from: Option<PathBuf>,
    /// The program behind the fewest bottles instead, for any solver: CPLEX-LP text or free MPS
    #[arg(long = "as", value_enum, conflicts_with_all = ["prices", "without", "pour_cost", "shelf", "serves_from"])]
    pub form: Option<Form>,
    #[command(flatten)]
    pub show: ShowArgs,
    /// Stops after so many seconds with the best found so far
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub time_limit: Option<Duration>,
}

fn price(text: &str) -> Result<(String, String), String> {
    pair(text, "NAME=PRICE, for example \"aged rum=19.00 per 700 ml\"")
}

fn wish(text: &str) -> Result<WishArg, String> {
    if text.eq_ignore_ascii_case("fewest") {
        return Ok(WishArg::Fewest);
    }
    match text.parse() {
        Ok(count) if (1..=1000).contains(&count) => Ok(WishArg::AtMost(count)),
        _ => Err("write fewest, or how many bottles at most, for example 12".to_owned()),
    }
}

fn within(text: &str) -> Result<f64, String> {
    number(text, "%", |n| (0.0..=1000.0).contains(&n), "write a percentage of zero or more, for example 5")
}

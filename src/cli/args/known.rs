//! What the commands take that begin with a drink that is known: new, measure, compare.

use std::net::IpAddr;
use std::path::PathBuf;
use std::time::Duration;

use clap::Args;

use super::{number, part, seconds, setting};
use crate::draft;
use crate::larder::{FAMILIES, Family};
use crate::liquid::Method;
use crate::quantity::{Amount, Unit, UnitSystem};
use crate::read::Setting;
use crate::render::{Format, Part};

/// `washline new`
#[derive(Debug, Args)]
pub struct NewArgs {
    /// The file to write; one that exists is left alone. Without it, in a terminal, it asks
    #[arg(value_name = "FILE")]
    pub file: Option<PathBuf>,
    /// The drink as it stands on a card, for example "50 ml aged rum, 25 ml lime juice, 20 ml sugar syrup 1:1"
    #[arg(long, value_name = "LINE")]
    pub from: Option<String>,
    /// How it is made: shake, stir, build, blend or none [default: as the card says or its family is; else shake]
    #[arg(long, value_name = "METHOD", value_parser = method)]
    pub method: Option<Method>,
    /// The glass, to the brim, for example "160 ml"
    #[arg(long, value_name = "QUANTITY", value_parser = quantity)]
    pub glass: Option<String>,
    /// The step that the bar measures in, for example "5 ml"
    #[arg(long, value_name = "QUANTITY", value_parser = quantity)]
    pub pour: Option<String>,
    /// What to aim for, for example "lowest cost" [default: nearest reference]
    #[arg(long, value_name = "WORDS")]
    pub aim: Option<String>,
    /// A house to take ingredients and prices from; the brief will name it
    #[arg(long, value_name = "FILE")]
    pub house: Option<PathBuf>,
    /// At most this strength, % vol
    #[arg(long, value_name = "STRENGTH", value_parser = positive)]
    pub lighter: Option<f64>,
    /// At most this cost a serve, in the house's money
    #[arg(long, value_name = "MONEY", value_parser = positive)]
    pub under: Option<f64>,
    /// An ingredient that is not to be used
    #[arg(long, value_name = "NAME")]
    pub without: Vec<String>,
    /// Without caffeine
    #[arg(long)]
    pub caffeine_free: bool,
    /// A note that something in it has to carry, for example "stone fruit"
    #[arg(long = "note", value_name = "WORD")]
    pub notes: Vec<String>,
    /// The family that it is to belong to: sour, stirred and their like, as the larder lists them
    #[arg(long, value_name = "FAMILY", value_parser = family)]
    pub family: Option<&'static Family>,
}

/// `washline live`
#[derive(Debug, Args)]
pub struct LiveArgs {
    /// The brief, a TOML file, or the name of one to write; without it the page begins with a drink or a family
    #[arg(value_name = "BRIEF")]
    pub brief: Option<PathBuf>,
    /// A house for a brief that is new
    #[arg(long, value_name = "FILE")]
    pub house: Option<PathBuf>,
    /// The port; at the same one unsaved changes are found again [default: 8471, or any that is free]
    #[arg(long, value_name = "N")]
    pub port: Option<u16>,
    /// Opens no browser: the address is printed anyway
    #[arg(long)]
    pub no_open: bool,
    /// The address of this machine to listen at; any but 127.0.0.1 opens the page to others
    #[arg(long, value_name = "ADDRESS", default_value = "127.0.0.1")]
    pub listen: IpAddr,
}

/// `washline measure`
#[derive(Debug, Args)]
pub struct MeasureArgs {
    /// The drink as it stands on a card, for example "50 ml gin, 25 ml lemon juice, 20 ml sugar syrup 1:1"
    #[arg(value_name = "LINE")]
    pub line: String,
    /// How it is made: shake, stir, build, blend or none [default: as the card says; else shake]
    #[arg(long, value_name = "METHOD", value_parser = method)]
    pub method: Option<Method>,
    /// A house to take ingredients from
    #[arg(long, value_name = "FILE")]
    pub house: Option<PathBuf>,
    /// At which temperature instruments are read, °C from 0 to 40
    #[arg(long, value_name = "CELSIUS", value_parser = celsius, default_value = "20", allow_hyphen_values = true)]
    pub temperature: f64,
    /// What the empty vessel weighs on the scale, g
    #[arg(long, value_name = "GRAMS", value_parser = positive)]
    pub vessel: Option<f64>,
    /// Shows what instruments would read, too
    #[arg(long, conflicts_with = "only")]
    pub full: bool,
    /// Shows one part alone: card, glass or instruments
    #[arg(long, value_name = "WORD", value_parser = part)]
    pub only: Option<Part>,
    /// In which form
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
    /// Units of volume, for people: text and Markdown
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitSystem,
}

/// `washline compare`
#[derive(Debug, Args)]
pub struct CompareArgs {
    /// The brief, a TOML file; `-` reads standard input
    #[arg(value_name = "BRIEF")]
    pub brief: PathBuf,
    /// Only these kept specs, by name
    #[arg(value_name = "NAME")]
    pub names: Vec<String>,
    /// Changes a value of the brief for this run, for example targets.strength.max=10
    #[arg(long = "set", value_name = "KEY=VALUE", value_parser = setting)]
    pub settings: Vec<Setting>,
    /// In which form
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
    /// Units of volume, for people: text and Markdown
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitSystem,
    /// Stops after so many seconds with the best found so far
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub time_limit: Option<Duration>,
}

fn method(text: &str) -> Result<Method, String> {
    draft::method(text).ok_or_else(|| "write shake, stir, build, blend or none".to_owned())
}

fn celsius(text: &str) -> Result<f64, String> {
    number(text, "°C", |n| (0.0..=40.0).contains(&n), "write a temperature from 0 to 40 °C, for example 15")
}

fn family(text: &str) -> Result<&'static Family, String> {
    Family::find(text).ok_or_else(|| {
        let meant = draft::closest_family(text);
        if let Some(meant) = meant {
            return format!("did you mean {meant}?");
        }
        let names: Vec<&str> = FAMILIES.iter().map(|family| family.name).collect();
        format!("the families are {}", names.join(", "))
    })
}

fn quantity(text: &str) -> Result<String, String> {
    match Amount::parse(text, Unit::Ml) {
        Ok(amount) if amount.unit == Unit::Ml && amount.value > 0.0 => Ok(text.trim().to_owned()),
        Ok(_) => Err("write a volume, for example 160 ml".to_owned()),
        Err(fault) => Err(format!("{}: {}", fault.what, fault.help)),
    }
}

fn positive(text: &str) -> Result<f64, String> {
    number(text, "%", |n| n > 0.0 && n <= 1e6, "write a number over 0, for example 8")
}

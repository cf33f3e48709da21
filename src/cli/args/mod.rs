//! What can be written on the command line.

mod known;
mod menu;
mod notebook;

use std::path::PathBuf;
use std::time::Duration;

use clap::builder::PossibleValue;
use clap::{ArgGroup, Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

pub use known::{CompareArgs, LiveArgs, MeasureArgs, NewArgs};
pub use menu::{MenuArgs, WishArg};
pub use notebook::{CalibrateArgs, FlightArgs, LearnArgs, PlainArgs};

use crate::answer::Asked;
use crate::export::Form;
use crate::quantity::UnitSystem;
use crate::read::{Changes, Setting, Swap};
use crate::render::{Format, NARROWEST, Part, WIDEST};

/// The version, and in a release build the commit (`commit.rs`).
pub const VERSION: &str = concat!(env!("CARGO_PKG_VERSION"), env!("WASHLINE_COMMIT"));

/// Works out drink specs that measure right in the glass, in pours that a bar can make.
///
/// Exit status: 0 answered; 1 no spec meets the brief; 2 the brief or the command line is wrong;
/// 3 stopped at a limit with the best found so far; 70 a fault of the program.
#[derive(Debug, Parser)]
#[command(name = "washline", version = VERSION, max_term_width = 80)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// The commands of the contract.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// The best spec that can be poured, and the next-best sets of ingredients
    Spec(SpecArgs),
    /// Measures a given spec against the brief
    Check(CheckArgs),
    /// Solves the brief along one limit: the trade-off curve
    Sweep(SweepArgs),
    /// The best spec as a batch: amounts, packs, water, label facts
    Batch(BatchArgs),
    /// Many drinks: all of them in one table, what a change does to them, one shelf for all, what to order
    Menu(MenuArgs),
    /// Measures any line, without a brief
    Measure(MeasureArgs),
    /// A page on this machine on which a brief is played with: limits dragged, ingredients struck out, priced, swapped
    Live(LiveArgs),
    /// Kept specs, the reference and the present best, side by side
    Compare(CompareArgs),
    /// Glasses to taste that step along one measure, the rest alike; blind codes, and the key apart
    Flight(FlightArgs),
    /// Limits that fit what tasters said, and the flight that would tell most
    Learn(LearnArgs),
    /// Figures of the house from what was weighed, read and titrated: of a brief, or of a house
    Calibrate(CalibrateArgs),
    /// The built-in ingredients with their figures, ranges and sources
    Larder(LarderArgs),
    /// The program behind a brief, for any solver
    Model(ModelArgs),
    /// Checks a proof that `spec --proof` wrote, against its brief and without the search
    Proof(ProofArgs),
    /// JSON Schema of the brief, for editors
    Schema,
    /// Writes a commented brief: from a drink that you know, of a family, or one to start from
    New(NewArgs),
    /// A page for `man`: of the program, or of one command
    Manual(ManualArgs),
    /// Completions for a shell
    Completions(CompletionsArgs),
}

/// What every command that reads a brief takes.
#[derive(Debug, Args)]
pub struct BriefArgs {
    /// The brief, a TOML file; `-` reads standard input
    #[arg(value_name = "BRIEF")]
    pub brief: PathBuf,
    /// Changes a value of the brief for this run, for example targets.strength.max=10
    #[arg(long = "set", value_name = "KEY=VALUE", value_parser = setting)]
    pub settings: Vec<Setting>,
    /// OLD goes out, NEW comes in: a candidate or larder name, or `?` to try all of its kind
    #[arg(long = "swap", value_name = "OLD=NEW", value_parser = swap)]
    pub swaps: Vec<Swap>,
}

impl BriefArgs {
    /// What is asked.
    pub fn asked(&self) -> Asked {
        Asked::of(&self.brief.to_string_lossy(), &self.changes(), VERSION)
    }

    /// What changes in the brief for this run, without its house: `input::page_of` brings that.
    pub fn changes(&self) -> Changes {
        Changes { swaps: self.swaps.clone(), settings: self.settings.clone(), house: None }
    }
}

/// How an answer looks.
#[derive(Debug, Clone, Args)]
pub struct LookArgs {
    /// Shows all of the answer: by default text and Markdown show what fits on a screen
    #[arg(long, conflicts_with = "only")]
    pub full: bool,
    /// Shows one part of the answer alone, for example limits; which there are stands at its end
    #[arg(long, value_name = "WORD", value_parser = part)]
    pub only: Option<Part>,
    /// How many columns text has, from 60 to 120 [default: as many as the terminal, else 80]
    #[arg(long, value_name = "COLUMNS", value_parser = columns)]
    pub width: Option<usize>,
    /// In which form
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
    /// Units of volume, for people: text and Markdown
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitSystem,
}

/// How an answer is shown, and where.
#[derive(Debug, Args)]
#[command(group(ArgGroup::new("file").args(["report", "write"]).multiple(true)))]
pub struct ShowArgs {
    #[command(flatten)]
    pub look: LookArgs,
    /// Also writes the answer as one page with pictures, whole or not at all
    #[arg(long, value_name = "FILE.html")]
    pub report: Option<PathBuf>,
    /// Writes the answer to a file instead, whole or not at all; one that exists is left alone
    #[arg(long, value_name = "FILE")]
    pub write: Option<PathBuf>,
    /// Lets --write and --report replace a file that exists
    #[arg(long, requires = "file")]
    pub force: bool,
}

/// `washline spec`
#[derive(Debug, Args)]
pub struct SpecArgs {
    #[command(flatten)]
    pub brief: BriefArgs,
    /// Shows this alternative whole, as `washline check` shows a spec
    #[arg(long, value_name = "N", value_parser = alternative)]
    pub alternative: Option<usize>,
    #[command(flatten)]
    pub show: ShowArgs,
    /// Writes a proof of the answer that `washline proof` checks, whole or not at all
    #[arg(long, value_name = "FILE", group = "file", conflicts_with = "alternative")]
    pub proof: Option<PathBuf>,
    /// Writes the best spec into the brief under this name: `washline compare` sets kept ones side by side
    #[arg(long, value_name = "NAME")]
    pub keep: Option<String>,
    /// Stops after so many seconds with the best found so far
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub time_limit: Option<Duration>,
}

/// `washline check`
#[derive(Debug, Args)]
pub struct CheckArgs {
    #[command(flatten)]
    pub brief: BriefArgs,
    /// What is poured, for example "50 ml aged rum, 25 ml lime juice"
    #[arg(value_name = "SPEC")]
    pub spec: String,
    #[command(flatten)]
    pub show: ShowArgs,
}

/// `washline sweep`
#[derive(Debug, Args)]
pub struct SweepArgs {
    #[command(flatten)]
    pub brief: BriefArgs,
    /// Which value moves, and from where to where
    #[arg(long, value_name = "KEY=FROM..TO")]
    pub over: String,
    /// How many points, from 2 to 10000
    #[arg(long, default_value_t = 33)]
    pub steps: usize,
    #[command(flatten)]
    pub show: ShowArgs,
    /// Stops after so many seconds with what is solved so far
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub time_limit: Option<Duration>,
}

/// `washline batch`
#[derive(Debug, Args)]
pub struct BatchArgs {
    #[command(flatten)]
    pub brief: BriefArgs,
    /// How much to make, for example "10 l": with --dilute of the finished drink, else of the undiluted mix
    #[arg(long, value_name = "QUANTITY", conflicts_with = "serves", required_unless_present = "serves")]
    pub make: Option<String>,
    /// How many serves to make
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(u32).range(1..))]
    pub serves: Option<u32>,
    /// Which spec: 0 the best, 1 its first alternative, as `washline spec` counts them
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = alternative)]
    pub alternative: usize,
    /// Adds the water that the ice would have brought: chilled and served straight from bottle or tap
    #[arg(long)]
    pub dilute: bool,
    /// What of the mix reaches no glass, in %: left in jugs and hoses, spilled, tasted. So much more is mixed and
    /// paid for
    #[arg(long, value_name = "PERCENT", value_parser = waste)]
    pub waste: Option<f64>,
    /// What one bottle holds, for example "700 ml": how many the batch fills
    #[arg(long, value_name = "QUANTITY")]
    pub bottle: Option<String>,
    /// The pour cost, in % of the net price, for which a menu price is wanted [default: the brief's target]
    #[arg(long, value_name = "PERCENT", value_parser = percent)]
    pub pour_cost: Option<f64>,
    #[command(flatten)]
    pub show: ShowArgs,
    /// Stops after so many seconds with the best found so far
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub time_limit: Option<Duration>,
}

/// `washline model`
#[derive(Debug, Args)]
pub struct ModelArgs {
    #[command(flatten)]
    pub brief: BriefArgs,
    /// In which form: CPLEX-LP text or free MPS
    #[arg(long = "as", value_enum)]
    pub form: Form,
    /// The linear program of free pours instead
    #[arg(long)]
    pub free: bool,
    /// Stops after so many seconds with the best spec found so far
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub time_limit: Option<Duration>,
}

/// `washline proof`
#[derive(Debug, Args)]
pub struct ProofArgs {
    /// The proof, as `washline spec BRIEF --proof FILE` wrote it
    #[arg(value_name = "FILE")]
    pub proof: PathBuf,
    #[command(flatten)]
    pub brief: BriefArgs,
}

/// `washline larder`
#[derive(Debug, Args)]
pub struct LarderArgs {
    /// Only ingredients that all these words are found in: names, other names, roles, allergens
    #[arg(value_name = "WORDS")]
    pub words: Vec<String>,
    /// Ranges, notes, and where every figure comes from
    #[arg(long)]
    pub sources: bool,
    /// A house, whose ingredients are listed before the larder's
    #[arg(long, value_name = "FILE")]
    pub house: Option<PathBuf>,
    /// Families of drinks instead: what they usually measure, and what they need
    #[arg(long, conflicts_with_all = ["words", "sources", "house"])]
    pub families: bool,
    /// In which form
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

/// `washline manual`
#[derive(Debug, Args)]
pub struct ManualArgs {
    /// The command that the page is about, for example spec
    #[arg(value_name = "COMMAND")]
    pub command: Option<String>,
}

/// `washline completions`
#[derive(Debug, Args)]
pub struct CompletionsArgs {
    /// For which shell
    #[arg(value_name = "SHELL", value_enum)]
    pub shell: Shell,
}

/// Lets choices stand on the command line, each by its word and with what it is.
macro_rules! choices {
    ($($of:ident { $($choice:ident: $word:literal, $about:literal;)+ })+) => {$(
        impl ValueEnum for $of {
            fn value_variants<'a>() -> &'a [Self] {
                &[$(Self::$choice),+]
            }

            fn to_possible_value(&self) -> Option<PossibleValue> {
                Some(match self { $(Self::$choice => PossibleValue::new($word).help($about)),+ })
            }
        }
    )+};
}

choices! {
    Form {
        Lp: "lp", "CPLEX-LP text";
        Mps: "mps", "Free MPS";
    }
    Format {
        Text: "text", "For people";
        Json: "json", "For programs, numbers not rounded";
        Markdown: "markdown", "For a page";
        Csv: "csv", "For a spreadsheet";
    }
    UnitSystem {
        Metric: "ml", "Millilitres";
        UsOunces: "oz", "US fluid ounces";
    }
}

fn pair(text: &str, form: &str) -> Result<(String, String), String> {
    match text.split_once('=') {
        Some((key, value)) if !key.trim().is_empty() => Ok((key.trim().to_owned(), value.trim().to_owned())),
        _ => Err(format!("write it as {form}")),
    }
}

fn part(text: &str) -> Result<Part, String> {
    let words = || Part::all().map(Part::word).collect::<Vec<_>>().join(", ");
    Part::named(text).ok_or_else(|| format!("the parts of answers are {}", words()))
}

fn columns(text: &str) -> Result<usize, String> {
    let known = text.parse().ok().filter(|columns| (NARROWEST..=WIDEST).contains(columns));
    known.ok_or_else(|| format!("a whole number from {NARROWEST} to {WIDEST}"))
}

fn setting(text: &str) -> Result<Setting, String> {
    pair(text, "KEY=VALUE, for example targets.strength.max=10").map(|(key, value)| Setting { key, value })
}

fn swap(text: &str) -> Result<Swap, String> {
    pair(text, "OLD=NEW, for example \"lime juice=verjus\"").map(|(old, new)| Swap { old, new })
}

/// More alternatives than this nobody reads, and no search has to look for.
const MOST_ALTERNATIVES: usize = 100;

fn alternative(text: &str) -> Result<usize, String> {
    match text.parse() {
        Ok(number) if number <= MOST_ALTERNATIVES => Ok(number),
        _ => Err(format!("write a number from 0 (the best) to {MOST_ALTERNATIVES}")),
    }
}

/// A number in the unit of this mark, which may stand behind it.
fn number(text: &str, mark: &str, fits: impl Fn(f64) -> bool, help: &str) -> Result<f64, String> {
    let number = text.trim_end_matches(mark).trim_end().parse().ok();
    number.filter(|number| fits(*number)).ok_or_else(|| help.to_owned())
}

fn percent(text: &str) -> Result<f64, String> {
    number(text, "%", |n| n > 0.0 && n <= 1000.0, "write a percentage over 0, for example 20")
}

fn waste(text: &str) -> Result<f64, String> {
    number(text, "%", |n| (0.0..=50.0).contains(&n), "write a percentage from 0 to 50, for example 5")
}

fn seconds(text: &str) -> Result<Duration, String> {
    let seconds: f64 = text.parse().map_err(|_| "write a number of seconds, for example 2.5".to_owned())?;
    if seconds.is_nan() || seconds < 0.0 {
        return Err("write a number of seconds of zero or more".to_owned());
    }
    // Longer than a clock can count is as good as no limit.
    Ok(Duration::try_from_secs_f64(seconds).unwrap_or(Duration::MAX))
}

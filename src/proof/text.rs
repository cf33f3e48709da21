//! How proofs are written: lines of words and numbers. A number is the double that is nearest to what is written.

use std::fmt::Write as _;

use super::facts::{Facts, Score};
use super::lines::{Band, MeltLine};
use super::node::Branch;
use super::rows::Name;
use super::view::{Lines, Which};
use crate::brief::edit::Demand;
use crate::brief::{Measure, Per, Resolution, Side};
use crate::liquid::{Dilution, Portion, Stage};

/// The first line of every proof.
pub const FIRST: &str = "washline proof 1";

/// The largest multiplier: with it the sums of rows have room in whole numbers.
pub const MULTIPLIER: u64 = 1_000_000_000_000;

/// A figure by which a brief is known again: FNV-1a, 64 bits, over its bytes and those of its house. It guards against a
/// mistake, not against malice: what a proof says is derived anew from the brief that is given.
pub fn digest<'a>(parts: impl IntoIterator<Item = &'a [u8]>) -> u64 {
    let bytes = parts.into_iter().flat_map(|part| part.iter().copied().chain([0]));
    bytes.fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}

/// One line of a tree.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// Two subtrees follow, the lower side first.
    Branch(Branch),
    /// These lines hold for a view; one subtree follows.
    Lines(usize, Lines),
    /// Nothing is left: this sum of rows would be under nothing.
    Refuted(Vec<(Name, u64)>),
    /// What is left is one spec, which breaks this limit as seen with this view.
    Breaks(usize, usize),
    /// What is left is one spec, which does not score under the cutoff.
    NoBetter,
}

fn side(side: Side) -> char {
    if side == Side::Min { '-' } else { '+' }
}

fn side_of(mark: &str) -> Option<Side> {
    match mark {
        "-" => Some(Side::Min),
        "+" => Some(Side::Max),
        _ => None,
    }
}

impl std::fmt::Display for Name {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match *self {
            Self::Limit(at, 0) => write!(f, "l{at}"),
            Self::Limit(at, view) => write!(f, "l{at}.{view}"),
            Self::Cut(at) => write!(f, "c{at}"),
            Self::Group(at, end) => write!(f, "g{at}{}", side(end)),
            Self::Ratio(at) => write!(f, "r{at}"),
            Self::End(view, letter, end) => write!(f, "{letter}{view}{}", side(end)),
            Self::Heat(view) => write!(f, "h{view}"),
            Self::Note(at) => write!(f, "n{at}"),
            Self::Defined(at) => write!(f, "d{at}"),
        }
    }
}

impl std::str::FromStr for Name {
    type Err = ();

    fn from_str(word: &str) -> Result<Self, ()> {
        let (letter, rest) = word.split_at_checked(1).ok_or(())?;
        let number = |text: &str| text.parse::<usize>().map_err(drop);
        let ended = || {
            let at = rest.len().checked_sub(1).filter(|at| rest.is_char_boundary(*at)).ok_or(())?;
            Ok((number(&rest[..at])?, side_of(&rest[at..]).ok_or(())?))
        };
        Ok(match letter {
            "l" => match rest.split_once('.') {
                Some((at, view)) => Self::Limit(number(at)?, number(view)?),
                None => Self::Limit(number(rest)?, 0),
            },
            "c" => Self::Cut(number(rest)?),
            "g" => ended().map(|(at, end)| Self::Group(at, end))?,
            "r" => Self::Ratio(number(rest)?),
            "w" => ended().map(|(view, end)| Self::End(view, 'w', end))?,
            "p" => ended().map(|(view, end)| Self::End(view, 'p', end))?,
            "s" => ended().map(|(view, end)| Self::End(view, 's', end))?,
            "h" => Self::Heat(number(rest)?),
            "n" => Self::Note(number(rest)?),
            "d" => Self::Defined(number(rest)?),
            _ => return Err(()),
        })
    }
}

impl std::fmt::Display for Step {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Branch(Branch::Amount(column, at)) => write!(f, "a {column} {at}"),
            Self::Branch(Branch::Range(view, which, at)) => write!(f, "{} {view} {at}", which.letter()),
            Self::Branch(Branch::Heat(view)) => write!(f, "h {view}"),
            Self::Lines(view, lines) => {
                write!(f, "l {view}")?;
                figures(lines).iter().try_for_each(|figure| write!(f, " {figure}"))
            }
            Self::Refuted(terms) => {
                write!(f, "f")?;
                terms.iter().try_for_each(|(name, times)| write!(f, " {} {name}", scaled(*times)))
            }
            Self::Breaks(limit, 0) => write!(f, "x {limit}"),
            Self::Breaks(limit, view) => write!(f, "x {limit} {view}"),
            Self::NoBetter => write!(f, "x c"),
        }
    }
}

fn figures(lines: &Lines) -> Vec<f64> {
    let band = |band: Band| [band.slope, band.low, band.high];
    let Lines { melt_low, melt_high, spirit, syrup, end } = *lines;
    let mut all = vec![melt_low.share, melt_low.slope, melt_high.share, melt_high.slope];
    all.extend(band(spirit).into_iter().chain(band(syrup)).chain(end.into_iter().flat_map(band)));
    all
}

fn lines_of(all: &[f64]) -> Option<Lines> {
    let band = |at: usize| match *all.get(at..at + 3)? {
        [slope, low, high] => Some(Band { slope, low, high }),
        _ => None,
    };
    let melt = |at: usize| Some(MeltLine { share: *all.get(at)?, slope: *all.get(at + 1)? });
    let end = match all.len() {
        10 => None,
        13 => Some(band(10)?),
        _ => return None,
    };
    Some(Lines { melt_low: melt(0)?, melt_high: melt(2)?, spirit: band(4)?, syrup: band(7)?, end })
}

impl std::str::FromStr for Step {
    type Err = ();

    fn from_str(line: &str) -> Result<Self, ()> {
        let words: Vec<&str> = line.split(' ').collect();
        let whole = |at: usize| words.get(at).ok_or(())?.parse::<usize>().map_err(drop);
        let real = |word: &str| word.parse::<f64>().ok().filter(|f| f.is_finite()).ok_or(());
        let exactly = |count: usize| if words.len() == count { Ok(()) } else { Err(()) };
        Ok(match words[0] {
            "a" => {
                exactly(3)?;
                Self::Branch(Branch::Amount(whole(1)?, words[2].parse().map_err(drop)?))
            }
            "h" => {
                exactly(2)?;
                Self::Branch(Branch::Heat(whole(1)?))
            }
            "l" => {
                let all: Vec<f64> = words[1..].iter().skip(1).map(|w| real(w)).collect::<Result<_, ()>>()?;
                Self::Lines(whole(1)?, lines_of(&all).ok_or(())?)
            }
            "f" => {
                let terms = words[1..].chunks(2).map(|pair| match pair {
                    [times, name] => Ok((name.parse()?, unscaled(times).ok_or(())?)),
                    _ => Err(()),
                });
                Self::Refuted(terms.collect::<Result<_, ()>>()?)
            }
            "x" if words.get(1) == Some(&"c") => {
                exactly(2)?;
                Self::NoBetter
            }
            "x" => {
                exactly(words.len().clamp(2, 3))?;
                Self::Breaks(whole(1)?, if words.len() == 3 { whole(2)? } else { 0 })
            }
            letter => {
                exactly(3)?;
                let which = Which::ALL.into_iter().find(|w| letter.chars().eq([w.letter()])).ok_or(())?;
                Self::Branch(Branch::Range(whole(1)?, which, real(words[2])?))
            }
        })
    }
}

/// A whole number; many noughts at its end are counted: `12e5`.
fn scaled(number: u64) -> String {
    let digits = number.to_string();
    let short = digits.trim_end_matches('0');
    let noughts = digits.len() - short.len();
    if short.is_empty() || noughts < 3 { digits } else { format!("{short}e{noughts}") }
}

fn unscaled(word: &str) -> Option<u64> {
    let (short, noughts) = word.split_once('e').unwrap_or((word, "0"));
    let number = short.parse::<u64>().ok()?.checked_mul(10_u64.checked_pow(noughts.parse().ok()?)?)?;
    (number <= MULTIPLIER).then_some(number)
}

/// A demand of a brief, as a word.
pub fn demand(demand: Demand) -> String {
    match demand {
        Demand::Target(at, end) => format!("target{at}{}", side(end)),
        Demand::Hold(at) => format!("hold{at}"),
        Demand::Glass => "glass".to_owned(),
        Demand::Most => "most".to_owned(),
        Demand::Choose(at, end) => format!("choose{at}{}", side(end)),
        Demand::Proportion(at, end) => format!("proportion{at}{}", side(end)),
        Demand::Must(at) => format!("must{at}"),
        Demand::Largest(at) => format!("largest{at}"),
    }
}

fn measure(measure: Measure) -> String {
    match measure {
        Measure::Property(at) => format!("property{at}"),
        other => other.keyword().to_owned(),
    }
}

fn listed<T: std::fmt::Display>(all: impl IntoIterator<Item = T>) -> String {
    all.into_iter().map(|one| format!(" {one}")).collect()
}

/// The facts of a brief, a line each: what a checker without a reader of briefs needs.
pub fn facts(facts: &Facts, views: &[Vec<Portion>]) -> String {
    let brief = facts.brief;
    let mut text = String::new();
    let mut line = |words: String| {
        let _ = writeln!(text, "{words}");
    };
    let melting = brief.serve.melting();
    match melting.working {
        Dilution::Share(share) => line(format!("melt 0 0 {share}")),
        Dilution::Fit { a, b, c } => line(format!("melt {a} {b} {c}")),
    }
    if let Some(balance) = melting.glass {
        let method = format!("{:?}", brief.serve.method).to_lowercase();
        line(format!("ice {method} {}", if balance.crushed { "crushed" } else { "cubes" }));
    }
    if let Some(menu) = brief.menu {
        line(format!("net {}", menu.net()));
    }
    for property in &brief.properties {
        line(format!("property {}", if property.per == Per::Serve { "serve" } else { "litre" }));
    }
    for (at, column) in facts.columns.iter().enumerate() {
        let candidate = &brief.candidates[column.candidate];
        let must = if column.must { "must" } else { "may" };
        let numbers = format!("{} {} {}", column.unit, column.least, column.most);
        line(format!("column {numbers} {must} {}", candidate.name));
        let carried = (0..brief.properties.len()).map(|p| candidate.carried(p));
        line(format!("costs {}{}", candidate.cost_per_unit.unwrap_or(0.0), listed(carried)));
        if let Some(jigger) = &column.jigger {
            let sums = (column.least..=column.most).filter(|s| jigger.measures(*s as f64));
            line(format!("measures{}", listed(sums)));
        }
        for view in views {
            line(format!("portion{}", listed(portion(&view[at]))));
        }
    }
    for limit in &facts.limits {
        let end = limit.side.keyword();
        line(format!("limit {} {end} {}", measure(limit.measure), limit.value));
    }
    for group in &facts.groups {
        line(format!("group {} {}{}", group.min, group.max, listed(&group.members)));
    }
    for ratio in &facts.ratios {
        let place = |at: Option<usize>| at.map_or_else(|| "-".to_owned(), |at| at.to_string());
        let end = ratio.side.keyword();
        line(format!("ratio {end} {} {} {}", ratio.value, place(ratio.of), place(ratio.to)));
    }
    line(aim(&facts.score));
    let within = brief.answer.within.map_or_else(|| "-".to_owned(), |percent| percent.to_string());
    let matters = match brief.resolution {
        Resolution::By(to) => format!("by {to}"),
        Resolution::Share(share) => format!("share {share}"),
    };
    line(format!("answer {} {within} {matters}", brief.answer.alternatives));
    text
}

fn portion(p: &Portion) -> [f64; 13] {
    let m = &p.masses;
    let made = if p.stage == Stage::Made { 1.0 } else { 0.0 };
    [
        m.ethanol, m.water, m.solids, m.acid, p.excess, p.worked, p.strength, p.sugars, p.sweet, p.energy,
        p.heat, made, p.poured,
    ]
}

fn aim(score: &Score) -> String {
    match score {
        Score::Low(of) => format!("aim low {}", measure(*of)),
        Score::High(of) => format!("aim high {}", measure(*of)),
        Score::Amount(column, sign) => {
            let column = column.map_or_else(|| "-".to_owned(), |at| at.to_string());
            format!("aim amount {column} {sign}")
        }
        Score::Change(from, lost) => format!("aim change {lost}{}", listed(from)),
        Score::Middle(ranges) => {
            let range =
                |(of, middle, half): &(Measure, f64, f64)| format!(" {} {middle} {half}", measure(*of));
            format!("aim middle{}", ranges.iter().map(range).collect::<String>())
        }
        Score::Notes(notes) => {
            let note =
                |columns: &Vec<usize>| columns.iter().map(ToString::to_string).collect::<Vec<_>>().join(",");
            format!("aim notes{}", listed(notes.iter().map(note)))
        }
    }
}

//! The value of a brief that a sweep moves.

use super::changes::Places;
use super::findings::Findings;
use super::shape::{self, shown};
use super::text::Kind;
use super::{Changes, Reading, Setting, codes, prepared, read_changed, settings, text};
use crate::finding::Finding;

/// A value that moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Over {
    /// Its dotted key.
    pub key: String,
    /// The parts of the key, without quotes.
    pub parts: Vec<String>,
    /// The pack of a price, whose money moves: `700 ml`.
    pub pack: Option<String>,
    /// The number that the brief itself has there, of a price its money.
    pub own: Option<f64>,
}

/// A value that moves, in a brief that is otherwise changed as the command line says.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// Which value.
    pub over: Over,
    /// Whether it takes whole numbers only, as a count does.
    pub whole: bool,
    changes: Changes,
}

/// A brief at one place of the axis.
#[derive(Debug, Clone, PartialEq)]
pub enum Place {
    /// It asks something.
    Reading(Box<Reading>),
    /// Its limits and rules cannot hold together there, so nothing can meet it; the findings say which.
    Crossed(Vec<Finding>),
}

/// What is wrong at some points of an axis only, and says that no spec can be there.
const CROSSED: [&str; 3] = [codes::MIN_OVER_MAX, codes::TOO_FEW, codes::TOO_MANY_MUSTS];

impl Axis {
    /// The value of a key.
    ///
    /// # Errors
    /// When no number can stand there, or the brief cannot be read.
    pub fn of(bytes: &[u8], changes: &Changes, key: &str) -> Result<Self, Vec<Finding>> {
        let (pack, own) = pack(bytes, changes, key)?;
        let over = Over { key: key.to_owned(), parts: settings::parts(key), pack, own };
        let axis = Self { over, whole: false, changes: changes.clone() };
        if !axis.refuses(bytes, 0.5) {
            return Ok(axis);
        }
        if !axis.refuses(bytes, 1.0) {
            return Ok(Self { whole: true, ..axis });
        }
        let what = format!("`{}` takes no number that could be swept", shown(&axis.over.key));
        let help = "name a number of the brief: targets.strength.max, candidate.\"lime juice\".price";
        Err(vec![Finding::placeless(codes::BAD_SETTING, what, help)])
    }

    /// The brief with this value.
    ///
    /// # Errors
    /// Everything that is wrong with it there.
    pub fn at(&self, bytes: &[u8], value: f64) -> Result<Place, Vec<Finding>> {
        let mut read = self.read(bytes, value, None);
        if read.as_ref().is_err_and(|findings| self.leaves_no_amount(findings)) {
            // Nothing of it at all may be poured there: that is a drink without it.
            read = self.read(bytes, value, Some("out")).or(read);
        }
        match read {
            Ok(reading) => Ok(Place::Reading(Box::new(reading))),
            Err(findings) if findings.iter().all(|f| self.crosses(f)) => Ok(Place::Crossed(findings)),
            Err(mut findings) => {
                // The user wrote --over.
                let (set, over) =
                    (format!("in --set {}=", self.over.key), format!("in --over {}=", self.over.key));
                findings.iter_mut().for_each(|f| f.what = f.what.replace(&set, &over));
                Err(findings)
            }
        }
    }

    /// Whether a finding says that no spec can be there. The natural range of an ingredient's own figure is
    /// no limit: it is wrong or it is right.
    fn crosses(&self, finding: &Finding) -> bool {
        let figure = finding.code == codes::MIN_OVER_MAX && self.of_candidate();
        CROSSED.contains(&finding.code) && !figure
    }

    /// Whether the greatest amount of an ingredient moves, and there is no room for a single pour of it.
    fn leaves_no_amount(&self, findings: &[Finding]) -> bool {
        let [_, _, key] = self.over.parts.as_slice() else { return false };
        self.of_candidate() && key == "max" && findings.iter().all(|f| f.code == codes::NO_AMOUNT)
    }

    fn of_candidate(&self) -> bool {
        self.over.parts.first().is_some_and(|first| first == "candidate")
    }

    /// Reads the brief with this value, and with one more key of the same table set to true.
    fn read(&self, bytes: &[u8], value: f64, and: Option<&str>) -> Result<Reading, Vec<Finding>> {
        let mut changes = self.changes.clone();
        let value = match &self.over.pack {
            Some(pack) => format!("{value} per {pack}"),
            None => format!("{value}"),
        };
        changes.settings.push(Setting { key: self.over.key.clone(), value });
        if let Some((table, and)) = self.over.key.rsplit_once('.').map(|(table, _)| table).zip(and) {
            changes.settings.push(Setting { key: format!("{table}.{and}"), value: "true".to_owned() });
        }
        read_changed(bytes, &changes)
    }

    /// Whether a number is of the wrong kind there.
    fn refuses(&self, bytes: &[u8], value: f64) -> bool {
        let given = format!("in --set {}", shown(&format!("{}={value}", self.over.key)));
        let kind = |f: &Finding| {
            matches!(f.code, codes::WRONG_TYPE | codes::UNKNOWN_WORD) && f.what.starts_with(&given)
        };
        self.read(bytes, value, None).is_err_and(|findings| findings.iter().any(kind))
    }
}

/// The pack of a price that stands at a key, and the number that stands there.
fn pack(bytes: &[u8], changes: &Changes, key: &str) -> Result<(Option<String>, Option<f64>), Vec<Finding>> {
    let text = text::decode(bytes, Kind::Brief).map_err(|finding| vec![finding])?;
    let mut document = text::parse(text)?;
    let places = Places::after(text.len(), changes);
    prepared(&mut document, changes, (&places, super::Weighings::Briefs), &mut Findings::default())?;
    let parts = settings::parts(key);
    let price =
        parts.last().is_some_and(|last| last == "price") && parts.first().is_some_and(|p| p == "candidate");
    let value = settings::value_at(&document, &parts);
    match settings::stated_price(&document, &parts) {
        Some(price) => {
            let money = price.amount.to_string().parse().ok();
            Ok((Some(price.pack_text), money))
        }
        None if price => {
            let what = format!("`{}` is no price yet, so its pack is not known", shown(key));
            let help = format!("give it one first: --set '{}=14.50 per 700 ml'", shown(key));
            Err(vec![Finding::placeless(codes::NO_PRICE, what, help)])
        }
        None => Ok((None, value.map(|value| shape::number(value).0).filter(|number| !number.is_nan()))),
    }
}

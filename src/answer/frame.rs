//! What the formats need to know of the question to speak of its answer.

use crate::brief::{Brief, Glass, GlassIce, Measure, Target};
use crate::liquid::Method;

/// How a gauge's figures are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// Millilitres, shown in ounces where these are asked for.
    Volume,
    /// Anything else.
    Plain,
}

/// A measure of the served drink: what it is called and what limits it.
#[derive(Debug, Clone, PartialEq)]
pub struct Gauge {
    /// Which one it is.
    pub measure: Measure,
    /// Its key in a brief and in JSON.
    pub key: String,
    /// What people are shown.
    pub label: String,
    /// Its unit.
    pub unit: String,
    /// How many decimals people are shown.
    pub digits: usize,
    /// How it is written.
    pub scale: Scale,
    /// The one figure that the brief gives for its range.
    pub about: Option<f64>,
    /// Lower limit, if there is one.
    pub min: Option<f64>,
    /// Upper limit, if there is one.
    pub max: Option<f64>,
}

impl Gauge {
    /// Whether anything limits it.
    pub fn limited(&self) -> bool {
        self.min.is_some() || self.max.is_some()
    }
}

/// The question, as far as the answer has to repeat it.
#[derive(Debug, Clone, PartialEq)]
pub struct Frame {
    /// Every measure, in the order in which they are shown.
    pub gauges: Vec<Gauge>,
    /// How the drink is made.
    pub method: Method,
    /// The glass, where one is given.
    pub glass: Option<Glass>,
    /// The ice in it, where it is served on some.
    pub ice: Option<GlassIce>,
    /// The brief's currency.
    pub currency: String,
}

impl Frame {
    /// What has to be known of a brief.
    pub fn of(brief: &Brief) -> Self {
        let limits = brief.limits();
        let gauge = |m: Measure| gauge(brief, m, limits.iter().find(|limit| limit.measure == m));
        let gauges = brief.measures().map(gauge).collect();
        Self {
            gauges,
            method: brief.serve.method,
            glass: brief.serve.glass,
            ice: brief.serve.ice,
            currency: brief.currency.code().to_owned(),
        }
    }

    /// The gauge of a key.
    pub fn gauge(&self, key: &str) -> Option<&Gauge> {
        self.gauges.iter().find(|g| g.key == key)
    }
}

fn gauge(brief: &Brief, measure: Measure, limit: Option<&Target>) -> Gauge {
    let (min, max) = limit.map_or((None, None), |limit| (limit.min, limit.max));
    // What is held is measured, not written: its decimals say nothing.
    let written = brief.target(measure).into_iter().flat_map(Target::sides);
    let limits = written.map(|(_, limit)| decimals(limit)).max().unwrap_or(0);
    let scale = match measure {
        Measure::Volume | Measure::Melt | Measure::Level => Scale::Volume,
        _ => Scale::Plain,
    };
    Gauge {
        measure,
        key: brief.measure_name(measure).to_owned(),
        label: label(brief, measure),
        unit: brief.measure_unit(measure),
        digits: measure.digits().max(limits),
        scale,
        about: brief.about.iter().find(|(of, _)| *of == measure).map(|(_, figure)| *figure),
        min,
        max,
    }
}

fn label(brief: &Brief, measure: Measure) -> String {
    match measure {
        Measure::SugarAcid => "sugar/acid".to_owned(),
        Measure::PourCost => "pour cost".to_owned(),
        Measure::Melt => "melt water".to_owned(),
        Measure::Level => "level in the glass".to_owned(),
        other => brief.measure_name(other).to_owned(),
    }
}

/// How many decimals a limit was written with, up to three: a figure is shown as finely as its limit.
fn decimals(limit: f64) -> usize {
    let text = format!("{limit}");
    text.split_once('.').map_or(0, |(_, fraction)| fraction.len().min(3))
}

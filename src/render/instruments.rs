//! What instruments would read in a drink, and its pH as well as it can be known without a meter.

use serde_json::{Value, json};

use super::document::{Cell, Kind, Row, Table, columns};
use crate::larder::Ph;
use crate::liquid::instruments::{BASE, Readings, SAMPLE_ML};
use crate::quantity::number::{fixed, trimmed};

/// What instruments would read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instruments {
    /// The readings.
    pub readings: Readings,
    /// Sugar in 100 g of the drink, g: what a refractometer would read if alcohol bent no light.
    pub sugar: f64,
    /// What the empty vessel weighs, g.
    pub vessel: Option<f64>,
    /// The pH, where the acids and what buffers them are known.
    pub ph: Option<Ph>,
}

impl Instruments {
    /// As an object, numbers not rounded.
    pub fn json(&self) -> Value {
        let r = &self.readings;
        json!({
            "celsius": r.celsius, "mass": r.mass, "vessel_full": self.vessel.map(|vessel| vessel + r.mass),
            "volume": r.volume, "density": r.density, "hydrometer": r.hydrometer,
            "hydrometer_brix": r.hydrometer_brix, "refractometer_brix": r.refractometer_brix,
            "sugar_per_100g": self.sugar, "alcoholmeter": r.alcoholmeter, "distilled": r.distilled,
            "titration": r.titration,
            "ph": self.ph.map(|ph| json!({ "value": ph.value, "low": ph.low, "high": ph.high })),
        })
    }

    /// As a table.
    pub fn table(&self) -> Table {
        let r = &self.readings;
        let at = trimmed(r.celsius, 1);
        let on_its_scale = |value: Option<f64>, unit| match value {
            Some(value) => (fixed(value, 1), unit),
            None => ("off its scale".to_owned(), ""),
        };
        let plain = |value: f64, digits, unit| (fixed(value, digits), unit);
        let mut rows = vec![("scale: what the vessel gains".to_owned(), plain(r.mass, 1, "g"))];
        let mut row = |name: &str, read: (String, &'static str)| rows.push((name.to_owned(), read));
        if let Some(vessel) = self.vessel {
            row("scale: the vessel full", plain(vessel + r.mass, 1, "g"));
        }
        row(&format!("pycnometer: density at {at} °C"), plain(r.density, 4, "g/ml"));
        row(&format!("hydrometer of 20 °C, read at {at} °C"), plain(r.hydrometer, 4, "g/ml"));
        row("the same with a Brix scale", on_its_scale(r.hydrometer_brix, "°Brix"));
        row("refractometer: alcohol reads as sugar", plain(r.refractometer_brix, 1, "°Brix"));
        row("sugar that is really in it", plain(self.sugar, 1, "g in 100 g"));
        row("alcoholmeter in the drink: sugar hides alcohol", on_its_scale(r.alcoholmeter, "% vol"));
        row("alcoholmeter after distilling", plain(r.distilled, 1, "% vol"));
        let (base, sample) = (trimmed(BASE, 2), trimmed(SAMPLE_ML, 1));
        row(&format!("burette: {base} mol/L base on {sample} ml, to pH 8.1"), plain(r.titration, 2, "ml"));
        if let Some(ph) = self.ph {
            let [value, low, high] = [ph.value, ph.low, ph.high].map(|ph| fixed(ph, 1));
            row("pH meter, estimated", (format!("{value} ({low} to {high})"), ""));
        }
        // Where some are words, none is set as a figure.
        let figures = self.ph.is_none() && r.hydrometer_brix.is_some() && r.alcoholmeter.is_some();
        let cell = |value| if figures { Cell::figure(value) } else { Cell::words(value) };
        let kind = if figures { Kind::Figure } else { Kind::Short };
        let rows = rows
            .into_iter()
            .map(|(name, (value, unit))| Row::plain(vec![Cell::words(name), cell(value), Cell::words(unit)]));
        Table::spoken(columns([(Kind::Words, ""), (kind, ""), (Kind::Short, "")]), rows)
    }

    /// What is to be said of them.
    pub fn lines(&self) -> Vec<String> {
        let read =
            "Instruments read the drink without its ice and without gas: strain it, and stir the gas out.";
        let r = &self.readings;
        let ph = match self.ph {
            Some(_) => {
                "The pH is an estimate at 25 °C, from published pH and acid of the juices; alcohol and cold move it. \
                 Equal acid is not equal sourness, nor is equal pH: taste."
            }
            // Under 0.2 g/L of acid.
            None if r.titration < 0.3 => return vec![read.to_owned()],
            None => {
                "No pH is estimated: the kinds of its acids, or what buffers them, are not known. Equal acid is not equal \
                 sourness: taste."
            }
        };
        vec![read.to_owned(), ph.to_owned()]
    }
}

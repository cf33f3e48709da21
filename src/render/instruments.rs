//! What instruments would read in a drink, and its pH as well as it can be known without a meter.

use serde_json::{Value, json};

use super::sheet::Table;
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
        let mut rows = vec![row("scale: what the vessel gains", fixed(r.mass, 1), "g")];
        rows.extend(self.vessel.map(|vessel| row("scale: the vessel full", fixed(vessel + r.mass, 1), "g")));
        rows.push(row(&format!("pycnometer: density at {at} °C"), fixed(r.density, 4), "g/ml"));
        rows.push(row(&format!("hydrometer of 20 °C, read at {at} °C"), fixed(r.hydrometer, 4), "g/ml"));
        rows.push(match r.hydrometer_brix {
            Some(brix) => row("the same with a Brix scale", fixed(brix, 1), "°Brix"),
            None => row("the same with a Brix scale", "off its scale".to_owned(), ""),
        });
        rows.push(row("refractometer: alcohol reads as sugar", fixed(r.refractometer_brix, 1), "°Brix"));
        rows.push(row("sugar that is really in it", fixed(self.sugar, 1), "g in 100 g"));
        rows.push(match r.alcoholmeter {
            Some(strength) => {
                row("alcoholmeter in the drink: sugar hides alcohol", fixed(strength, 1), "% vol")
            }
            None => row("alcoholmeter in the drink: sugar hides alcohol", "off its scale".to_owned(), ""),
        });
        rows.push(row("alcoholmeter after distilling", fixed(r.distilled, 1), "% vol"));
        let titration =
            format!("burette: {} mol/L base on {} ml, to pH 8.1", trimmed(BASE, 2), trimmed(SAMPLE_ML, 1));
        rows.push(row(&titration, fixed(r.titration, 2), "ml"));
        if let Some(ph) = self.ph {
            let text = format!("{} ({} to {})", fixed(ph.value, 1), fixed(ph.low, 1), fixed(ph.high, 1));
            rows.push(row("pH meter, estimated", text, ""));
        }
        Table { heading: "What instruments would read".to_owned(), columns: Vec::new(), rows }
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

fn row(name: &str, value: String, unit: &str) -> Vec<String> {
    vec![name.to_owned(), value, unit.to_owned()]
}

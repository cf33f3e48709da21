//! The figures of a served drink, by their keys.

use serde::ser::{Serialize, SerializeMap, Serializer};

use crate::brief::{Brief, Measure, Served};

/// Figures by key, in the order in which they are shown; undefined ones are NaN, `null` in JSON.
#[derive(Debug, Clone, PartialEq)]
pub struct ServedFigures(pub Vec<(String, f64)>);

impl ServedFigures {
    /// The figure of a key; NaN where there is none.
    pub fn get(&self, key: &str) -> f64 {
        self.0.iter().find(|(k, _)| k == key).map_or(f64::NAN, |(_, value)| *value)
    }
}

impl Serialize for ServedFigures {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (key, value) in &self.0 {
            map.serialize_entry(key, value)?;
        }
        map.end()
    }
}

/// Every measure of a drink, by name.
pub(super) fn figures(brief: &Brief, served: &Served) -> ServedFigures {
    let properties = (0..brief.properties.len()).map(Measure::Property);
    let measures = Measure::BUILT_IN.into_iter().chain(properties);
    ServedFigures(measures.map(|m| (brief.measure_name(m).to_owned(), served.value(m))).collect())
}

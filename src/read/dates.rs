//! Days may stand without quotes: TOML has dates of its own.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::tables::{list_mut, table_mut};

/// Where days stand: the list, and the key in each of its tables.
const DAYS: [(&str, &str); 4] =
    [("kept", "date"), ("tasted", "date"), ("weighed", "date"), ("candidate", "measured")];

/// Makes text of every day that is written as a date.
pub fn as_text(document: &mut DeTable<'_>) {
    for (list, key) in DAYS {
        let Some(items) = list_mut(document, list) else { continue };
        let days = items.iter_mut().filter_map(table_mut).filter_map(|table| table.get_mut(key));
        for day in days.map(Spanned::get_mut) {
            if let DeValue::Datetime(date) = day {
                *day = DeValue::String(date.to_string().into());
            }
        }
    }
}

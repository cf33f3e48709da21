//! Days may stand without quotes: TOML has dates of its own.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Where days stand: the list, and the key in each of its tables.
const DAYS: [(&str, &str); 4] =
    [("kept", "date"), ("tasted", "date"), ("weighed", "date"), ("candidate", "measured")];

/// Makes text of every day that is written as a date.
pub fn as_text(document: &mut DeTable<'_>) {
    for (list, key) in DAYS {
        let Some(DeValue::Array(items)) = document.get_mut(list).map(Spanned::get_mut) else { continue };
        for item in items.iter_mut() {
            let DeValue::Table(table) = item.get_mut() else { continue };
            let Some(day) = table.get_mut(key).map(Spanned::get_mut) else { continue };
            if let DeValue::Datetime(date) = day {
                *day = DeValue::String(date.to_string().into());
            }
        }
    }
}

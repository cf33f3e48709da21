//! What was sold: a CSV file of drinks and serves.

use std::ops::Range;

use super::findings::{closest, guess};
use super::shape::shown;
use super::text::{self, Kind};
use crate::finding::Finding;

/// More serves of one drink than this are a slip of the pen.
const MOST: f64 = 1_000_000.0;

/// A row of a file of sales that cannot be used.
const BAD_SALES: &str = "bad-sales";

/// What the columns are called.
const HEAD: [&str; 2] = ["drink", "serves"];

/// How many serves were sold of each of these drinks, each known by any of its names; a drink that stands in several rows
/// has their sum. Cells are parted by commas or semicolons, as the first line has them.
///
/// # Errors
/// Every row that cannot be used, with its place.
pub fn sales(bytes: &[u8], drinks: &[Vec<String>]) -> Result<Vec<f64>, Vec<Finding>> {
    let text = text::decode(bytes, Kind::Brief).map_err(|finding| vec![finding])?;
    let first = text.lines().next().unwrap_or_default();
    let comma = if first.contains(';') && !first.contains(',') { b';' } else { b',' };
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(comma)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let head = reader.headers().cloned().unwrap_or_default();
    let column = |name: &str| {
        head.iter().position(|cell| cell.trim_start_matches('\u{feff}').eq_ignore_ascii_case(name))
    };
    let [Some(drink), Some(serves)] = HEAD.map(column) else {
        let what = format!("the first line names no columns `{}`", HEAD.join("` and `"));
        let help = "begin it with the line drink,serves";
        return Err(vec![Finding::error(BAD_SALES, 0..first.len(), what, help)]);
    };
    let mut sold = vec![0.0; drinks.len()];
    let mut findings = vec![];
    let mut start = reader.position().byte() as usize;
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                let what = format!("this is no row of a CSV file: {error}");
                findings.push(Finding::error(BAD_SALES, line(text, start), what, "mend the row"));
                break;
            }
        };
        start = record.position().map_or(start, |position| position.byte() as usize);
        let place = line(text, start);
        match row(record.get(drink), record.get(serves), drinks) {
            Ok((at, count)) => sold[at] += count,
            Err((what, help)) => findings.push(Finding::error(BAD_SALES, place, what, help)),
        }
    }
    if findings.is_empty() { Ok(sold) } else { Err(findings) }
}

/// The line of a text that begins at a place, or after the line end there.
fn line(text: &str, start: usize) -> Range<usize> {
    let rest = text.get(start..).unwrap_or_default();
    let start = start + (rest.len() - rest.trim_start().len());
    let length = text.get(start..).unwrap_or_default().lines().next().map_or(0, str::len);
    start..start + length
}

fn row(
    drink: Option<&str>,
    serves: Option<&str>,
    drinks: &[Vec<String>],
) -> Result<(usize, f64), (String, String)> {
    let name = drink.filter(|name| !name.is_empty());
    let name = name.ok_or_else(|| {
        ("no drink stands in this row".to_owned(), "name it, or take the row out".to_owned())
    })?;
    let called = |names: &Vec<String>| names.iter().any(|own| own.to_lowercase() == name.to_lowercase());
    let Some(at) = drinks.iter().rposition(called) else {
        let meant = closest(name, drinks.iter().flatten().map(String::as_str));
        let help = guess(meant, || "name a drink as its brief or its file does".to_owned());
        return Err((format!("no drink of this menu is called \"{}\"", shown(name)), help));
    };
    let count = serves.and_then(|text| text.parse::<f64>().ok());
    count.filter(|count| (0.0..=MOST).contains(count)).map(|count| (at, count)).ok_or_else(|| {
        let what = format!("`{}` is no number of serves", shown(serves.unwrap_or_default()));
        (what, "write a number of zero or more, such as 60".to_owned())
    })
}

#[cfg(test)]
mod tests {
    use super::sales;

    fn drinks() -> Vec<Vec<String>> {
        [["Ferry sour", "sour"], ["Quay fizz", "fizz"]]
            .map(|names| names.map(str::to_owned).to_vec())
            .to_vec()
    }

    #[test]
    fn rows_of_a_drink_add_up() {
        let text = "drink,serves\nFerry sour,12\n\"quay fizz\", 3.5 \nsour,8\n";
        assert_eq!(sales(text.as_bytes(), &drinks()), Ok(vec![20.0, 3.5]));
        assert_eq!(sales(b"day;Serves;Drink\nMon;4;fizz\n", &drinks()), Ok(vec![0.0, 4.0]));
    }

    #[test]
    fn every_bad_row_is_told_with_its_line() {
        let text = "drink,serves\nFerry sor,12\nQuay fizz,many\n,3\nQuay fizz\nQuay fizz,-1\n";
        let findings = sales(text.as_bytes(), &drinks()).expect_err("findings");
        let lines: Vec<&str> = findings.iter().map(|f| &text[f.place.clone().expect("a place")]).collect();
        assert_eq!(lines, ["Ferry sor,12", "Quay fizz,many", ",3", "Quay fizz", "Quay fizz,-1"]);
        assert!(findings[0].help.contains("Ferry sour"));
        assert_eq!(sales(b"name,count\n", &drinks()).expect_err("a finding").len(), 1);
    }
}

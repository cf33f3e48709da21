//! CPLEX-LP text.

use std::fmt::Write as _;

use super::number;
use super::sheet::{Column, Line, Sheet};
use crate::model::{Kind, RowSense};

/// Lines are broken at this column: some readers stop at 255.
const WIDEST: usize = 100;

/// Writes a sheet.
pub fn write(sheet: &Sheet) -> String {
    let mut text = String::new();
    sheet.head.iter().for_each(|line| remark(&mut text, line));
    remark(&mut text, "");
    remark(&mut text, &sheet.aim);
    text.push_str("Minimize\n");
    let objective = if sheet.objective.is_empty() { vec![(0, 0.0)] } else { sheet.objective.clone() };
    text.push_str(&sum(" aim:", &objective, &sheet.columns, ""));
    text.push_str("\nSubject To\n");
    for line in &sheet.lines {
        remark(&mut text, &line.remark);
        text.push_str(&row(line, &sheet.columns));
    }
    if sheet.lines.is_empty() {
        // Readers want a row: this one says nothing.
        text.push_str(&sum(" nothing:", &[(0, 0.0)], &sheet.columns, "<= 0"));
    }
    text.push_str("\nBounds\n");
    for column in &sheet.columns {
        remark(&mut text, &format!("{}: {}", column.name, column.remark));
        text.push_str(&bounds(column));
    }
    kinds(&mut text, "General", sheet, Kind::Whole);
    kinds(&mut text, "Binary", sheet, Kind::Binary);
    text.push_str("\nEnd\n");
    text
}

fn remark(text: &mut String, line: &str) {
    let line = format!("\\ {line}");
    let _ = writeln!(text, "{}", line.trim_end());
}

fn row(line: &Line, columns: &[Column]) -> String {
    let sense = match line.sense {
        RowSense::AtLeast => ">=",
        RowSense::AtMost => "<=",
        RowSense::Equal => "=",
    };
    sum(&format!(" {}:", line.name), &line.terms, columns, &format!("{sense} {}", number(line.at)))
}

/// A sum over several lines, with what stands before and behind it.
fn sum(before: &str, terms: &[(usize, f64)], columns: &[Column], behind: &str) -> String {
    let mut text = before.to_owned();
    let mut width = text.len();
    let mut put = |piece: &str| {
        if width + 1 + piece.len() > WIDEST {
            text.push_str("\n  ");
            width = 2;
        }
        text.push(' ');
        text.push_str(piece);
        width += 1 + piece.len();
    };
    for (column, figure) in terms {
        let sign = if *figure < 0.0 { '-' } else { '+' };
        put(&format!("{sign} {} {}", number(figure.abs()), columns[*column].name));
    }
    if !behind.is_empty() {
        put(behind);
    }
    text.push('\n');
    text
}

fn bounds(column: &Column) -> String {
    let Column { name, lo, hi, kind, .. } = column;
    match (lo.is_finite(), hi.is_finite()) {
        _ if *kind == Kind::Binary => String::new(),
        (false, false) => format!(" {name} free\n"),
        (true, false) => format!(" {name} >= {}\n", number(*lo)),
        (false, true) => format!(" -inf <= {name} <= {}\n", number(*hi)),
        (true, true) if lo == hi => format!(" {name} = {}\n", number(*lo)),
        (true, true) => format!(" {} <= {name} <= {}\n", number(*lo), number(*hi)),
    }
}

fn kinds(text: &mut String, heading: &str, sheet: &Sheet, kind: Kind) {
    let names: Vec<&str> = sheet.columns.iter().filter(|c| c.kind == kind).map(|c| c.name.as_str()).collect();
    if !names.is_empty() {
        let _ = writeln!(text, "\n{heading}");
        names.iter().for_each(|name| {
            let _ = writeln!(text, " {name}");
        });
    }
}

//! CPLEX-LP text.

use std::fmt::Write as _;

use super::named::{Column, Line, NamedProgram};
use super::number;
use crate::model::{Kind, RowSense};

/// Lines are broken at this column: some readers stop at 255.
const WIDEST: usize = 100;

/// Writes a named program.
pub fn write(named: &NamedProgram) -> String {
    let mut text = String::new();
    named.head.iter().for_each(|line| remark(&mut text, line));
    remark(&mut text, "");
    remark(&mut text, &named.aim);
    text.push_str("Minimize\n");
    let objective = if named.objective.is_empty() { vec![(0, 0.0)] } else { named.objective.clone() };
    text.push_str(&sum(" aim:", &objective, &named.columns, ""));
    text.push_str("\nSubject To\n");
    for line in &named.lines {
        remark(&mut text, &line.remark);
        text.push_str(&row(line, &named.columns));
    }
    if named.lines.is_empty() {
        // Readers want a row: this one says nothing.
        text.push_str(&sum(" nothing:", &[(0, 0.0)], &named.columns, "<= 0"));
    }
    text.push_str("\nBounds\n");
    for column in &named.columns {
        remark(&mut text, &format!("{}: {}", column.name, column.remark));
        text.push_str(&bounds(column));
    }
    kinds(&mut text, "General", named, Kind::Whole);
    kinds(&mut text, "Binary", named, Kind::Binary);
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
    let Column { name, low, high, kind, .. } = column;
    match (low.is_finite(), high.is_finite()) {
        _ if *kind == Kind::Binary => String::new(),
        (false, false) => format!(" {name} free\n"),
        (true, false) => format!(" {name} >= {}\n", number(*low)),
        (false, true) => format!(" -inf <= {name} <= {}\n", number(*high)),
        (true, true) if low == high => format!(" {name} = {}\n", number(*low)),
        (true, true) => format!(" {} <= {name} <= {}\n", number(*low), number(*high)),
    }
}

fn kinds(text: &mut String, heading: &str, named: &NamedProgram, kind: Kind) {
    let names: Vec<&str> = named.columns.iter().filter(|c| c.kind == kind).map(|c| c.name.as_str()).collect();
    if !names.is_empty() {
        let _ = writeln!(text, "\n{heading}");
        names.iter().for_each(|name| {
            let _ = writeln!(text, " {name}");
        });
    }
}

//! Free MPS: fields apart by blanks, a line a figure.

use std::fmt::Write as _;

use super::named::{Column, NamedProgram};
use super::number;
use crate::model::{Kind, RowSense};

/// The objective's row.
const AIM: &str = "aim";

/// Writes a named program.
pub fn write(named: &NamedProgram) -> String {
    let mut text = String::new();
    named.head.iter().for_each(|line| remark(&mut text, line));
    remark(&mut text, "");
    remark(&mut text, &format!("{AIM}: {}", named.aim));
    named.lines.iter().for_each(|line| remark(&mut text, &format!("{}: {}", line.name, line.remark)));
    named.columns.iter().for_each(|column| remark(&mut text, &format!("{}: {}", column.name, column.remark)));
    text.push_str("NAME washline FREE\nROWS\n");
    let _ = writeln!(text, " N {AIM}");
    for line in &named.lines {
        let sense = match line.sense {
            RowSense::AtLeast => 'G',
            RowSense::AtMost => 'L',
            RowSense::Equal => 'E',
        };
        let _ = writeln!(text, " {sense} {}", line.name);
    }
    columns(&mut text, named);
    text.push_str("RHS\n");
    for line in named.lines.iter().filter(|line| line.at != 0.0) {
        let _ = writeln!(text, " RHS {} {}", line.name, number(line.at));
    }
    text.push_str("BOUNDS\n");
    named.columns.iter().for_each(|column| text.push_str(&bounds(column)));
    text.push_str("ENDATA\n");
    text
}

fn remark(text: &mut String, line: &str) {
    let line = format!("* {line}");
    let _ = writeln!(text, "{}", line.trim_end());
}

/// The figures by column, whole ones between markers.
fn columns(text: &mut String, named: &NamedProgram) {
    let mut of_column: Vec<Vec<(&str, f64)>> = vec![vec![]; named.columns.len()];
    named.objective.iter().for_each(|(column, figure)| of_column[*column].push((AIM, *figure)));
    for line in &named.lines {
        line.terms.iter().for_each(|(column, figure)| of_column[*column].push((&line.name, *figure)));
    }
    text.push_str("COLUMNS\n");
    let mut whole = false;
    let mut markers = 0;
    for (column, figures) in named.columns.iter().zip(&of_column) {
        if (column.kind != Kind::Any) != whole {
            whole = !whole;
            marker(text, &mut markers, whole);
        }
        if figures.is_empty() {
            // A column has to be named here to be one.
            let _ = writeln!(text, " {} {AIM} 0", column.name);
        }
        for (row, figure) in figures {
            let _ = writeln!(text, " {} {row} {}", column.name, number(*figure));
        }
    }
    if whole {
        marker(text, &mut markers, false);
    }
}

fn marker(text: &mut String, count: &mut usize, begins: bool) {
    *count += 1;
    let what = if begins { "INTORG" } else { "INTEND" };
    let _ = writeln!(text, " MARKER{count} 'MARKER' '{what}'");
}

fn bounds(column: &Column) -> String {
    let Column { name, low, high, .. } = column;
    if !low.is_finite() && !high.is_finite() {
        return format!(" FR BND {name}\n");
    }
    if low == high {
        return format!(" FX BND {name} {}\n", number(*low));
    }
    let low = match low {
        low if *low == 0.0 => String::new(),
        low if low.is_finite() => format!(" LO BND {name} {}\n", number(*low)),
        _ => format!(" MI BND {name}\n"),
    };
    // Whole variables without an upper bound are binary to some readers: ours always have one.
    let high = if high.is_finite() { format!(" UP BND {name} {}\n", number(*high)) } else { String::new() };
    low + &high
}

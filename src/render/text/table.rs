//! Rows and columns in plain characters, as wide as the page allows.

use super::bar;
use super::page::{Page, aligned, cut, left, right, width, wrap};
use crate::render::document::{Cell, Column, Heads, Kind, Range, Row, Table, Tone};

/// What stands between two columns.
const GAP: usize = 2;
/// The least room for words, where the rest of a table is wide.
const LEAST: usize = 20;
/// The longest figure, and the longest range in words, that is kept on one line.
const LONG: usize = 28;
/// How wide the bar of a range is at least and at most.
const BAR: (usize, usize) = (5, 31);

/// Writes a table. What does not fit beside the first words goes into a second table under it, with the
/// same first words.
pub fn write(page: &mut Page, table: &Table, indent: usize) {
    let set: Vec<Set> = (0..table.columns.len()).map(|at| Set::of(table, at)).collect();
    let room = page.width().saturating_sub(indent);
    for (number, part) in parts(&set, room).into_iter().enumerate() {
        if number > 0 {
            page.gap();
        }
        let columns: Vec<&Set> = part.iter().map(|at| &set[*at]).collect();
        Layout::new(&columns, room, indent).write(page, table);
    }
}

/// A cell ready to be set.
struct Ready {
    text: String,
    tone: Tone,
}

/// A column ready to be set.
struct Set {
    column: Column,
    cells: Vec<Ready>,
    ranges: Vec<Option<Range>>,
    natural: usize,
}

impl Set {
    fn of(table: &Table, at: usize) -> Self {
        let column = table.columns[at].clone();
        let cells: Vec<(&Row, &Cell)> =
            table.rows.iter().filter_map(|row| Some((row, row.cells.get(at)?))).collect();
        let texts = texts(&cells.iter().map(|(_, cell)| *cell).collect::<Vec<_>>());
        let ready: Vec<Ready> = cells
            .iter()
            .zip(texts)
            .map(|((row, cell), text)| Ready { text, tone: tone(row, cell) })
            .collect();
        let heads = match table.heads {
            Heads::Shown => width(&column.head).max(width(&column.unit)),
            Heads::Spoken => 0,
        };
        let filled = ready.iter().map(|r| width(&r.text)).max().unwrap_or(0);
        // A heading over nothing says nothing.
        let natural = if filled == 0 { 0 } else { filled.max(heads) };
        let ranges = cells
            .iter()
            .map(|(_, cell)| if let Cell::Range(range) = cell { Some(range.clone()) } else { None })
            .collect();
        Self { column, cells: ready, ranges, natural }
    }

    /// Words give way where a table is wide, and so does what a brief made far too long.
    fn gives_way(&self) -> bool {
        self.column.kind == Kind::Words || (self.column.kind != Kind::Range && self.natural > LONG)
    }

    /// The least that it can do with.
    fn least(&self) -> usize {
        match self.column.kind {
            _ if self.gives_way() => self.natural.min(LEAST),
            Kind::Range => self.sides().0 + self.sides().1 + 2 + BAR.0,
            Kind::Words | Kind::Figure | Kind::Short => self.natural,
        }
    }

    /// How wide the limits on both sides of its bars are.
    fn sides(&self) -> (usize, usize) {
        let widest = |limit: &dyn Fn(&Range) -> Option<String>| {
            self.ranges.iter().flatten().filter_map(limit).map(|l| width(&l)).max().unwrap_or(0)
        };
        (widest(&|r| r.min.clone()), widest(&|r| r.max.clone()))
    }
}

fn tone(row: &Row, cell: &Cell) -> Tone {
    let own = match cell {
        Cell::Nothing => Tone::Plain,
        Cell::Words(_, tone) | Cell::Figure { tone, .. } => *tone,
        Cell::Range(range) => range.tone,
    };
    if own == Tone::Plain { row.tone } else { own }
}

/// The cells of a column as they stand: numbers with their points in line, each with its unit.
fn texts(cells: &[&Cell]) -> Vec<String> {
    let number = |cell: &&Cell| match cell {
        Cell::Figure { number, .. } => number.clone(),
        _ => String::new(),
    };
    let numbers = aligned(&cells.iter().map(number).collect::<Vec<_>>());
    let units = cells.iter().map(|c| if let Cell::Figure { unit, .. } = c { width(unit) } else { 0 }).max();
    let units = units.unwrap_or(0);
    let text = |(cell, number): (&&Cell, String)| match cell {
        Cell::Figure { unit, .. } if units > 0 => format!("{number} {}", left(unit, units)),
        Cell::Figure { .. } => number,
        Cell::Words(text, _) => text.clone(),
        Cell::Nothing | Cell::Range(_) => String::new(),
    };
    cells.iter().zip(numbers).map(text).collect()
}

/// Which columns stand in which table: all in one where they fit, else the first words in each.
fn parts(set: &[Set], room: usize) -> Vec<Vec<usize>> {
    let shown: Vec<usize> =
        (0..set.len()).filter(|at| set[*at].natural > 0 || set[*at].column.kind == Kind::Range).collect();
    let heads = shown.iter().position(|at| set[*at].gives_way()).map_or(0, |at| at + 1);
    let (first, rest) = shown.split_at(heads);
    let wide = |at: &usize| set[*at].least() + GAP;
    let taken: usize = first.iter().map(wide).sum();
    let mut parts: Vec<Vec<usize>> = vec![first.to_vec()];
    let mut used = taken;
    for at in rest {
        if used + wide(at) > room + GAP && used > taken {
            parts.push(first.to_vec());
            used = taken;
        }
        used += wide(at);
        if let Some(part) = parts.last_mut() {
            part.push(*at);
        }
    }
    parts
}

/// Columns with the room that each has.
struct Layout<'a> {
    columns: Vec<(&'a Set, usize)>,
    indent: usize,
}

impl<'a> Layout<'a> {
    /// Words take what figures leave; the widest give way first.
    fn new(set: &[&'a Set], room: usize, indent: usize) -> Self {
        let gaps = GAP * set.len().saturating_sub(1);
        let fixed: usize = set.iter().filter(|s| !s.gives_way()).map(|s| s.least()).sum();
        let left = room.saturating_sub(gaps + fixed);
        let words: Vec<usize> = set.iter().filter(|s| s.gives_way()).map(|s| s.natural).collect();
        let cap = cap(&words, left);
        let kept: usize = words.iter().map(|w| (*w).min(cap)).sum();
        let spare = left.saturating_sub(kept).min(BAR.1 - BAR.0);
        let room = |s: &&'a Set| match s.column.kind {
            _ if s.gives_way() => (*s, s.natural.min(cap).max(1)),
            Kind::Range => (*s, s.least() + spare),
            Kind::Words | Kind::Figure | Kind::Short => (*s, s.natural),
        };
        Self { columns: set.iter().map(room).collect(), indent }
    }

    fn write(&self, page: &mut Page, table: &Table) {
        if table.heads == Heads::Shown {
            self.head(page, |column| &column.head);
            self.head(page, |column| &column.unit);
        }
        for at in 0..table.rows.len() {
            self.row(page, at);
        }
    }

    fn head(&self, page: &mut Page, text: impl Fn(&Column) -> &String) {
        let cells: Vec<String> = self
            .columns
            .iter()
            .map(|(set, wide)| match set.column.kind {
                Kind::Figure => right(&cut(text(&set.column), *wide), *wide),
                _ => left(&cut(text(&set.column), *wide), *wide),
            })
            .collect();
        if cells.iter().all(|cell| cell.trim().is_empty()) {
            return;
        }
        let line = format!("{}{}", " ".repeat(self.indent), cells.join(&" ".repeat(GAP)));
        page.line(&[(Tone::Aside, &line)]);
    }

    fn row(&self, page: &mut Page, at: usize) {
        let cells: Vec<(Vec<String>, Tone)> =
            self.columns.iter().map(|(set, wide)| cell(set, at, *wide)).collect();
        let lines = cells.iter().map(|(lines, _)| lines.len()).max().unwrap_or(0);
        for number in 0..lines {
            let mut pieces: Vec<(Tone, String)> = vec![(Tone::Plain, " ".repeat(self.indent))];
            for (place, ((lines, tone), (_, wide))) in cells.iter().zip(&self.columns).enumerate() {
                if place > 0 {
                    pieces.push((Tone::Plain, " ".repeat(GAP)));
                }
                let text = lines.get(number).map_or("", String::as_str);
                pieces.push((*tone, left(text, *wide)));
            }
            page.line(&pieces.iter().map(|(tone, text)| (*tone, text.as_str())).collect::<Vec<_>>());
        }
    }
}

/// The lines of a cell in the room that its column has.
fn cell(set: &Set, at: usize, wide: usize) -> (Vec<String>, Tone) {
    let Some(ready) = set.cells.get(at) else { return (vec![], Tone::Plain) };
    let lines = match (set.column.kind, &set.ranges[at]) {
        (Kind::Range, Some(range)) => {
            let (min, max) = set.sides();
            let limit = |text: &Option<String>| text.clone().unwrap_or_default();
            let drawn = bar::draw(range, wide.saturating_sub(min + max + 2));
            vec![format!("{} {drawn} {}", right(&limit(&range.min), min), left(&limit(&range.max), max))]
        }
        _ if set.gives_way() => wrap(&ready.text, wide),
        (Kind::Figure, _) => vec![right(&ready.text, wide)],
        (Kind::Words | Kind::Short | Kind::Range, _) => vec![ready.text.clone()],
    };
    (lines, ready.tone)
}

/// The width over which columns are cut so that all fit into so much room.
fn cap(naturals: &[usize], room: usize) -> usize {
    let most = naturals.iter().copied().max().unwrap_or(0);
    let fits = |cap: &usize| naturals.iter().map(|n| n.min(cap)).sum::<usize>() <= room;
    (0..=most).rev().find(fits).unwrap_or(0)
}

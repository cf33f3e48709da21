//! A program with a name and a remark for everything in it: what both forms write down.

use super::names::{Names, remark};
use super::words;
use crate::export::program::Exported;
use crate::model::{Kind, PlainOf, RowSense, Something, VariableOf};

/// A variable.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its name.
    pub name: String,
    /// What it is, and in which unit.
    pub remark: String,
    /// Which numbers it takes.
    pub kind: Kind,
    /// Least; may be minus infinity.
    pub low: f64,
    /// Most; may be infinity.
    pub high: f64,
}

/// A row.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its name.
    pub name: String,
    /// What it says, and its unit.
    pub remark: String,
    /// Columns and figures; at least one.
    pub terms: Vec<(usize, f64)>,
    /// The side.
    pub sense: RowSense,
    /// The number.
    pub at: f64,
}

/// Everything, named.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedProgram {
    /// What stands at the top.
    pub head: Vec<String>,
    /// What is made least, and its unit.
    pub aim: String,
    /// Columns and figures of the objective.
    pub objective: Vec<(usize, f64)>,
    /// Variables; at least one.
    pub columns: Vec<Column>,
    /// Rows.
    pub lines: Vec<Line>,
}

impl NamedProgram {
    /// Names everything.
    pub fn of(exported: &Exported) -> Self {
        let mut names = Names::default();
        let mut columns: Vec<Column> = exported
            .plain
            .variables
            .iter()
            .map(|v| Column {
                name: column_name(exported, v.of, &mut names),
                remark: remark(&words::variable(exported, v)),
                kind: v.kind,
                low: v.low,
                high: v.high,
            })
            .collect();
        if columns.is_empty() {
            // Readers want at least one variable.
            let remark = "nothing may be poured".to_owned();
            columns.push(Column {
                name: names.take("nothing", ""),
                remark,
                kind: Kind::Any,
                low: 0.0,
                high: 0.0,
            });
        }
        let mut names = Names::default();
        let lines = exported
            .plain
            .rows
            .iter()
            .map(|row| Line {
                name: row_name(exported, row.of, &mut names),
                remark: remark(&words::row(exported, row.of)),
                terms: if row.terms.is_empty() { vec![(0, 0.0)] } else { row.terms.clone() },
                sense: row.sense,
                at: row.at,
            })
            .collect();
        let mut head: Vec<String> = words::head(exported).iter().map(|line| remark(line)).collect();
        head.iter_mut().for_each(|line| line.truncate(line.trim_end().len()));
        let aim = remark(&words::aim(exported));
        Self { head, aim, objective: exported.plain.objective.clone(), columns, lines }
    }
}

fn column_name(exported: &Exported, of: VariableOf, names: &mut Names) -> String {
    let name = |column: usize| exported.model.candidate(column).name.as_str();
    match of {
        VariableOf::Pour(c) => names.take("pour", name(c)),
        VariableOf::Filled(c, nth) => names.take(&format!("fill_{}", nth + 1), name(c)),
        VariableOf::Used(c) => names.take("use", name(c)),
        VariableOf::More(c) => names.take("more", name(c)),
        VariableOf::Less(c) => names.take("less", name(c)),
        VariableOf::Covered(at) => names.take("note", words::note(exported, at)),
        VariableOf::Score => names.take("score", ""),
    }
}

fn row_name(exported: &Exported, of: PlainOf, names: &mut Names) -> String {
    let model = &exported.model;
    let name = |column: usize| model.candidate(column).name.as_str();
    match of {
        PlainOf::Limit(at, point) => {
            let limit = &model.limits[at];
            let words = format!("{} {}", model.brief.measure_name(limit.measure), limit.side.keyword());
            let words = if point == 0 { words } else { format!("{words} point {}", point + 1) };
            names.take("limit", &words)
        }
        PlainOf::Something(Something::Drink) => names.take("something", ""),
        PlainOf::Something(Something::Acid) => names.take("something", "acid"),
        PlainOf::Something(Something::Sugar) => names.take("something", "sweet"),
        PlainOf::Proportion(at, side) => {
            let rule = &model.brief.proportions[at];
            let (of, to) = (&model.brief.candidates[rule.of].name, &model.brief.candidates[rule.to].name);
            names.take(&format!("ratio_{}", side.keyword()), &format!("{of} to {to}"))
        }
        PlainOf::Count(at, side) => {
            let label = words::group(exported, at);
            names.take(&format!("count_{}", side.keyword()), &label)
        }
        PlainOf::Filled(c) => names.take("measures", name(c)),
        PlainOf::Least(c) => names.take("least", name(c)),
        PlainOf::Most(c) => names.take("most", name(c)),
        PlainOf::Change(c) => names.take("change", name(c)),
        PlainOf::Covered(at) => names.take("carried", words::note(exported, at)),
        PlainOf::Score(0) => names.take("line", ""),
        PlainOf::Score(point) => names.take("line", &format!("point {}", point + 1)),
    }
}

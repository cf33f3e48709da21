//! The program behind the fewest bottles: every drink's own program, each good enough, over the same bottles.

use super::named::{Column, Line, NamedProgram};
use super::names::{Names, remark};
use super::{Form, lp, mps};
use crate::export::program::Exported;
use crate::menu::oracle::Oracle;
use crate::model::{Kind, RowSense};
use crate::quantity::english::counted;
use crate::tolerance::LOOSE;

/// Writes the program of a menu; `exported` are the programs of the oracle's drinks, in their order, each laid around
/// its spec on a shelf of `fewest` bottles.
pub fn write_joint(oracle: &Oracle, exported: &[Exported], fewest: usize, form: Form) -> String {
    let mut named = NamedProgram {
        head: head(oracle, fewest),
        aim: "how many bottles are opened".to_owned(),
        objective: vec![],
        columns: vec![],
        lines: vec![],
    };
    let mut names = Names::default();
    let relevant =
        oracle.drinks.iter().fold(crate::menu::Set::default(), |all, drink| all.or(&drink.bottles));
    let opened: Vec<(usize, usize)> =
        relevant.iter().enumerate().map(|(column, bottle)| (bottle, column)).collect();
    for (bottle, column) in &opened {
        let name = &oracle.bottles.all[*bottle].name;
        named.columns.push(Column {
            name: names.take("open", name),
            remark: remark(&format!("whether {name} stands on the shelf")),
            kind: Kind::Binary,
            low: 0.0,
            high: 1.0,
        });
        named.objective.push((*column, 1.0));
    }
    for (number, (drink, exported)) in oracle.drinks.iter().zip(exported).enumerate() {
        add(&mut named, &format!("d{}", number + 1), exported, drink.ceiling());
        let first = named.columns.len() - NamedProgram::of(exported).columns.len();
        for (at, column) in exported.model.columns.iter().enumerate() {
            for bottle in drink.needs(column.candidate).iter() {
                let Some((_, open)) = opened.iter().find(|(known, _)| *known == bottle) else { continue };
                let name = &oracle.bottles.all[bottle].name;
                named.lines.push(Line {
                    name: names.take(&format!("d{}_takes_{at}", number + 1), name),
                    remark: remark(&format!("it is poured only where {name} stands on the shelf")),
                    terms: vec![(first + at, 1.0), (*open, -column.most.max(0.0))],
                    sense: RowSense::AtMost,
                    at: 0.0,
                });
            }
        }
    }
    match form {
        Form::Lp => lp::write(&named),
        Form::Mps => mps::write(&named),
    }
}

fn head(oracle: &Oracle, fewest: usize) -> Vec<String> {
    let mut head = vec![
        format!("The fewest bottles of {}", counted(oracle.drinks.len(), "drink")),
        String::new(),
        "Each drink's own program, its score no worse than its ceiling, and nothing poured whose bottle is not open."
            .to_owned(),
        "Volume and melt water are expanded to the first order at each drink's spec on the shelf that was found: exact"
            .to_owned(),
        "there, and nearly right elsewhere.".to_owned(),
        String::new(),
        format!("By washline: {}.", counted(fewest, "bottle")),
    ];
    let drinks = oracle.drinks.iter().enumerate();
    head.extend(drinks.map(|(at, drink)| remark(&format!("  d{}: {}", at + 1, drink.brief.title))));
    head
}

/// Adds a drink's program under names of its own, its aim as a row.
fn add(named: &mut NamedProgram, prefix: &str, exported: &Exported, ceiling: f64) {
    let own = NamedProgram::of(exported);
    let first = named.columns.len();
    let moved =
        |terms: Vec<(usize, f64)>| terms.into_iter().map(|(at, figure)| (first + at, figure)).collect();
    let prefixed = |name: &str| format!("{prefix}_{name}");
    named.lines.push(Line {
        name: prefixed("good"),
        remark: "its score, low being better, is good enough".to_owned(),
        terms: moved(if own.objective.is_empty() { vec![(0, 0.0)] } else { own.objective }),
        sense: RowSense::AtMost,
        at: ceiling + LOOSE * ceiling.abs().max(1.0),
    });
    named
        .columns
        .extend(own.columns.into_iter().map(|column| Column { name: prefixed(&column.name), ..column }));
    named.lines.extend(own.lines.into_iter().map(|line| Line {
        name: prefixed(&line.name),
        terms: moved(line.terms),
        ..line
    }));
}

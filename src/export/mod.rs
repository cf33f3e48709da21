//! The program behind a brief as text that solvers read: CPLEX-LP or free MPS.

mod joint;
mod lp;
mod mps;
mod named;
mod names;
pub mod program;
mod words;

#[cfg(test)]
mod tests;

use crate::export::program::Exported;
pub use joint::write_joint;
use named::NamedProgram;

/// In which form a program is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// The text form that CPLEX brought up and most solvers read: sums as one writes them.
    Lp,
    /// Free MPS: a field a figure, for solvers that read nothing else.
    Mps,
}

/// Writes a program.
pub fn write(exported: &Exported, form: Form) -> String {
    let named = NamedProgram::of(exported);
    match form {
        Form::Lp => lp::write(&named),
        Form::Mps => mps::write(&named),
    }
}

/// A number in its shortest form that reads back as the same number.
fn number(value: f64) -> String {
    let text = format!("{value:?}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

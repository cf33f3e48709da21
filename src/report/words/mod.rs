//! Words and figures that text and Markdown share.

mod aim;
pub mod batch;
mod change;
mod figures;
mod method;
mod proof;
mod why;

pub use aim::{aim_sentence, score_column, score_text, worse_words};
pub use change::moves;
pub use figures::{
    amount_digits, figure, finer, limit, margin_words, nearest_margin, range_words, unit, with_unit,
};
pub use method::method_sentences;
pub use proof::{outcome_sentences, without_steps};
pub use why::{
    conflict_sentence, core_words, in_play_sentences, item, need, next, reach_sentences, shows,
    steps_sentence,
};

/// `1 ingredient`, `2 ingredients`.
pub fn counted(count: usize, noun: &str) -> String {
    if count == 1 { format!("1 {noun}") } else { format!("{count} {noun}s") }
}

/// `a`, `a and b`, `a, b and c`.
pub fn listed(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// The text with a capital first letter.
pub fn upper_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

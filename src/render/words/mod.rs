//! Words and figures that text and Markdown share.

mod aim;
mod asked;
pub mod batch;
mod change;
mod clean;
mod figures;
mod hangs;
mod mended;
pub mod menu;
mod method;
mod miss;
mod notes;
mod prices;
mod proof;
mod service;
mod spreads;
mod steadier;
mod substitutes;
mod swap;
mod sweep;
mod tasted;
mod verdict;
mod why;

pub use aim::{aim_sentence, headline, score_column, score_text, worse_words};
pub use asked::{asked, changed};
pub use change::{against, exchanged, moves, poured, pours, turned_over};
pub use clean::clean;
pub use figures::{
    Standing, amount_digits, between, figure, finer, label, limit, margin_words, nearest_margin, range_words,
    spaced, span, standing, unit, with_unit,
};
pub use hangs::{LIMITS_NOTE, LimitWords, hangs_sentences, limit_rows};
pub use mended::{mended, route};
pub use method::{made, method_sentences};
pub use miss::miss;
pub use notes::{COUNTED, notes_carried, notes_sentence, notes_turn};
pub use prices::{PRICES_NOTE, never_sentence, price_rows};
pub use proof::{as_good_sentence, outcome_sentences, without_steps};
pub use service::{
    cause_words, certainty_sentences, holds_in, hundredths, service_basis, service_sentence, share_words,
    varies_with,
};
pub use steadier::{level_line, steadiest_sentences};
pub use substitutes::{
    near_sentences, newcomer_pour, notes_kept, question_sentences, rest_sentences, substitute_gauges,
    substitute_note, substitutes_heading,
};
pub use swap::{brought, came_and_went, comes, goes, moved, share, swap_sentences, sweetness_sentence};
pub use sweep::{
    axis_value, axis_words, curve_words, point_score, pours_words, run_range, run_score, runs, sweep_proof,
    switch_sentence,
};
pub use tasted::tasted;
pub use verdict::verdict;
pub use why::{
    alone, conflict_sentence, core_words, in_play_sentences, item, need, next, reach_sentences, shows,
    steps_sentence,
};

pub use crate::quantity::english::{counted, listed, upper_first};

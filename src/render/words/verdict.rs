//! What a check comes to, in words.

use super::counted;
use crate::answer::{CheckAnswer, Miss};

/// Whether a given spec meets the brief: `This spec misses 2 targets and breaks 1 rule.`
pub fn verdict(answer: &CheckAnswer) -> String {
    if answer.meets {
        return "This spec meets every target and every rule of the brief.".to_owned();
    }
    let missed = answer.misses.iter().filter(|m| matches!(m, Miss::Target { .. })).count();
    let broken = answer.misses.len() - missed;
    let misses = format!("misses {}", counted(missed, "target"));
    let breaks = format!("breaks {}", counted(broken, "rule"));
    match (missed, broken) {
        (_, 0) => format!("This spec {misses}."),
        (0, _) => format!("This spec {breaks}."),
        _ => format!("This spec {misses} and {breaks}."),
    }
}

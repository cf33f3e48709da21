//! Specs that hold more often than the best: a line a level, and what is in the way where none is reached.

use super::{Block, Part, Section};
use crate::answer::SpecAnswer;
use crate::quantity::UnitSystem;
use crate::render::words;

/// Every level with its spec; nothing where the best meets them all.
pub fn section(answer: &SpecAnswer, units: UnitSystem) -> Option<Section> {
    if answer.steadier.is_empty() {
        return None;
    }
    let item = |line: &_| words::level_line(answer, line, units);
    let mut blocks = vec![Block::Items(answer.steadier.iter().map(item).collect())];
    let missed = answer.steadier.iter().any(|line| line.spec.is_none());
    let steadiest = answer.steadiest.iter().filter(|_| missed);
    blocks.extend(steadiest.flat_map(|s| words::steadiest_sentences(answer, s, units)).map(Block::plain));
    Some(Section::new(Part::Steadier, "Steadier", blocks))
}

/// The steadiest that was found, in a line, for a screen.
pub fn line(answer: &SpecAnswer, units: UnitSystem) -> Option<Block> {
    let reached = answer.steadier.iter().rev().find(|line| line.spec.is_some())?;
    Some(Block::plain(format!("Steadier: {}", words::level_line(answer, reached, units))))
}

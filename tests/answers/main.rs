//! Answers against answers: the exhaustive enumerator, published figures and published cases.

mod briefs;
mod by_hand;
mod cases;
mod enumerator;
mod exact;
mod glass;
mod hangs;
mod made;
mod outside;
mod plan;
mod prices;
mod published;
mod reading;
mod same;
mod shelf;
mod stopped;
mod worst;

//! Answers against answers: the exhaustive enumerator, published figures and published cases.

mod briefs;
mod by_hand;
mod cases;
mod certainty;
mod enumerator;
mod exact;
mod glass;
mod hangs;
mod made;
mod outside;
mod plan;
mod prices;
mod program;
mod published;
mod read_program;
mod reading;
mod same;
mod service;
mod share;
mod shelf;
mod stopped;
mod swap;
mod turns;
mod universe;
mod why;
mod worst;

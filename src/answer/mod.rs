//! The answer, built once: plain data in the words of the brief, before any format is chosen.
//!
//! Field names and their order are those of `--format json` and do not change. What JSON leaves out
//! (`#[serde(skip)]`) is there for the formats that people read.

mod asked;
mod axis;
mod batch;
mod calibration;
mod check;
mod claim;
mod flight;
mod frame;
mod larder;
mod lessons;
mod menu;
mod spec;
mod spec_answer;
mod spelled;
mod steadier;
mod substitutes;
mod swap;
mod sweep;
mod track;
mod why;

pub use asked::Asked;
pub use batch::{BatchAnswer, BatchLine, BuyLine, Moved, batch_answer};
pub use calibration::{CalibrationAnswer, FigureLine, FigureOf, OfMethod, calibration_answer};
pub use check::{CheckAnswer, MendedLine, Miss, With, check_answer};
pub use claim::claim_lines;
pub use flight::{AlongLine, Draw, FlightAnswer, GlassLine, GlassMiss, KeptLine, flight_answer};
pub use frame::{Frame, Gauge, Scale};
pub use larder::{Detail, LarderAnswer, LarderLine, Span, house_lines, larder_answer};
pub use lessons::{LessonsAnswer, LimitToKeep, TastedLine, lessons_answer};
pub use menu::{
    Became, BottleLine, BoughtLine, ChangedLine, DrinkLine, DrinkPrices, MenuAnswer, OrderLine, OrderedDrink,
    PricesLine, ShelfDrink, ShelfLine, WeekLine, WhatIfLine, changed_line, drink_line, menu_answer,
    order_line, shelf_line,
};
pub use spec::{Change, Margin, NoteLine, Poured, SpecLine, Turn, changes, line as spec_line};
pub use spec_answer::{AimGoal, AimLine, Direction, Proof, SpecAnswer, explained, spec_answer};
pub use spelled::{Spelled, Stand};
pub use steadier::{AsGoodLine, SteadierLine, SteadiestLine, specs as steadier_specs};
pub use substitutes::{NearMiss, Substitute, SubstitutesAnswer, Untried, near_misses, substitutes_answer};
pub use swap::{HeldLine, SwapLine, swap_line};
pub use sweep::{PointLine, SweepAnswer, SwitchLine, sweep_answer};
pub use track::{TrackPoint, nameless, tastings, track};
pub use why::{ClashLine, ConflictLine, Item, NextLine, RouteLine};

/// The version of the JSON answers.
pub const FORMAT: u32 = 1;

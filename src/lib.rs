//! washline: drink specs that measure right in the glass, in pours that a bar can make.
//!
//! A [`brief::Brief`] says what the drink has to measure, what may go into it and what to aim for; reading
//! it gives the brief or everything that is wrong with it. [`solve::solve`] finds the best spec that can be
//! poured and the next-best sets of ingredients, with proof; [`explain::explain`] says why. What they say
//! was measured by [`brief::serve`] from the pours alone.
//!
//! ```
//! use washline::explain::explain;
//! use washline::read::read;
//! use washline::solve::{Ending, Stop, solve};
//!
//! let brief = r#"
//!     title    = "Sour, lighter"
//!     currency = "GBP"
//!
//!     [serve]
//!     method = "shake"
//!     pour   = "2.5 ml"
//!
//!     [targets]
//!     volume   = { min = 90, max = 110 }
//!     strength = { max = 14 }
//!
//!     [aim]
//!     highest = "aged rum"
//!
//!     [[candidate]]
//!     larder = "aged rum"
//!     price  = "17.50 per 700 ml"
//!
//!     [[candidate]]
//!     larder = "lime juice"
//!     price  = "0.28 per 25 ml"
//! "#;
//! let brief = read(brief.as_bytes(), &[]).expect("no findings").brief;
//!
//! let stop = Stop::within_reason();
//! let solved = solve(&brief, &stop);
//! assert_eq!(solved.ending, Ending::Found);
//! let best = &solved.specs[0];
//! assert!(best.served.drink.strength() <= 14.0);
//!
//! // The rum is held back by the strength that was asked for.
//! let why = explain(&brief, &solved, &stop).sensitivity.expect("reasons");
//! assert!(why.limits.iter().any(|limit| limit.binding));
//! ```
//!
//! [`draft`] writes a brief around a drink that is known, [`batch`] scales a spec, [`answer`] gathers what is said and [`render`] writes it down, [`export`] writes programs for other
//! solvers, [`cli`] is the program. `DEVELOPERS.md` has the map.

pub mod answer;
pub mod batch;
pub mod brief;
pub mod calibrate;
pub mod cli;
pub mod draft;
pub mod explain;
pub mod export;
pub mod finding;
pub mod free;
pub mod larder;
pub mod learn;
pub mod liquid;
pub mod live;
pub mod lp;
pub mod menu;
pub mod model;
pub mod proof;
pub mod prove;
pub mod quantity;
pub mod read;
pub mod render;
pub mod scenario;
pub mod search;
pub mod simulate;
pub mod solve;
pub mod tolerance;

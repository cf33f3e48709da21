//! Linear programming by itself: bounded variables, rows, and what an optimum hangs on. It knows nothing of drinks.
//!
//! [`simplex`] is a tableau for branch and bound: solved again after a change, bounds that rounding cannot spoil, columns
//! that leave. [`linear`] is one program through a library's solver. [`dual_face`] holds all prices of an optimum, and
//! how far each is true, bound by bound.

pub mod bound;
pub mod dual_face;
pub mod linear;
pub mod simplex;

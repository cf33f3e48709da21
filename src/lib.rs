//! washline: drink specs that measure right in the glass, in pours that a bar can make.

pub mod brief;
pub mod finding;
pub mod larder;
pub mod liquid;
pub mod model;
pub mod quantity;
pub mod read;
pub mod solve;
pub mod tolerance;

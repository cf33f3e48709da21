//! washline: drink specs that measure right in the glass, in pours that a bar can make.

pub mod batch;
pub mod brief;
pub mod cli;
pub mod explain;
pub mod finding;
pub mod larder;
pub mod liquid;
pub mod model;
pub mod quantity;
pub mod read;
pub mod report;
pub mod solve;
pub mod tolerance;

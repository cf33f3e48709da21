//! Options that the contract names and that are not built yet: said, never passed over.

use super::exit::Failure;

/// An option that is not built yet.
pub fn option(name: &str) -> Failure {
    Failure::placeless("not-built", format!("`{name}` is not built yet"), "leave it out")
}

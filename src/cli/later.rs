//! Commands and options that the contract names and that are not built yet: said, never passed over.

use super::exit::Failure;

/// A command that is not built yet.
pub fn command(name: &str) -> Failure {
    Failure::placeless(
        "not-built",
        format!("`washline {name}` is not built yet"),
        "use spec, check, batch, model, larder, schema or new",
    )
}

/// An option that is not built yet.
pub fn option(name: &str) -> Failure {
    Failure::placeless("not-built", format!("`{name}` is not built yet"), "leave it out")
}

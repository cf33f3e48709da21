//! What holds for any page.

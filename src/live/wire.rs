//! Questions and answers as they are sent: JSON.

use serde::Serialize;
use serde::de::DeserializeOwned;

/// The question that was sent; nothing where it cannot be read.
pub fn received<T: DeserializeOwned>(bytes: &[u8]) -> Option<T> {
    serde_json::from_slice(bytes).ok()
}

/// An answer as it is sent.
pub fn sent<T: Serialize>(answer: &T) -> String {
    // What is sent here has text for its keys and numbers that are some, which cannot fail.
    serde_json::to_string(answer).unwrap_or_default()
}

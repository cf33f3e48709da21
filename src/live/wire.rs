//! Questions and answers as they are sent: JSON.

use serde::Serialize;
use serde::de::DeserializeOwned;

/// What can be read from what was sent.
pub trait Received: Sized {
    /// The question; nothing where it cannot be read.
    fn received(bytes: &[u8]) -> Option<Self>;
}

impl<T: DeserializeOwned> Received for T {
    fn received(bytes: &[u8]) -> Option<Self> {
        serde_json::from_slice(bytes).ok()
    }
}

/// What can be sent.
pub trait Sent {
    /// As it is sent.
    fn sent(&self) -> String;
}

impl<T: Serialize> Sent for T {
    fn sent(&self) -> String {
        // What is sent here has text for its keys and numbers that are some, which cannot fail.
        serde_json::to_string(self).unwrap_or_default()
    }
}

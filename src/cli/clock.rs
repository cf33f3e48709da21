//! The clock, which can end a search early, and the cores.

use std::sync::Arc;
use std::thread;
use std::time::Duration;

use super::signals;
use crate::solve::Stop;

/// A flag that is raised after `limit`; without one, a search ends after a reasonable effort. The thread
/// that waits ends with the process.
pub fn stop_after(limit: Option<Duration>) -> Arc<Stop> {
    let stop = Arc::new(if limit.is_some() { Stop::default() } else { Stop::within_reason() });
    match limit {
        Some(Duration::ZERO) => stop.raise(),
        Some(limit) => {
            let flag = Arc::clone(&stop);
            thread::spawn(move || {
                signals::deaf();
                thread::sleep(limit);
                flag.raise();
            });
        }
        None => {}
    }
    stop
}

/// How many searches run at the same time: one a core.
pub fn workers() -> usize {
    thread::available_parallelism().map_or(1, usize::from)
}

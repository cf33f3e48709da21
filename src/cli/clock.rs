//! The clock: the one thing that can end a search early.

use std::sync::Arc;
use std::thread;
use std::time::Duration;

use crate::solve::Stop;

/// A flag that is raised after `limit`. The thread that waits ends with the process.
pub fn stop_after(limit: Option<Duration>) -> Arc<Stop> {
    let stop = Arc::new(Stop::default());
    match limit {
        Some(Duration::ZERO) => stop.raise(),
        Some(limit) => {
            let flag = Arc::clone(&stop);
            thread::spawn(move || {
                thread::sleep(limit);
                flag.raise();
            });
        }
        None => {}
    }
    stop
}

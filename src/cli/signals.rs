//! Signals (Ctrl-C, a shutdown) wait while a file has only half its text.
//!
//! They are held up, not caught: each ends the run as the system or the caller set it, only a moment later.

#[cfg(unix)]
use nix::sys::signal::SigSet;

/// Runs `work` to its end before any signal reaches this thread.
///
/// The system gives a signal to any thread that takes it: the ones that may live on meanwhile have to be [`deaf`].
#[cfg(unix)]
pub fn held<T>(work: impl FnOnce() -> T) -> T {
    let before = SigSet::thread_get_mask();
    let _ = SigSet::all().thread_block();
    let done = work();
    // A mask that could not be read could not be changed either.
    if let Ok(before) = before {
        let _ = before.thread_set_mask();
    }
    done
}

/// From now on this thread, and those that it begins, leave signals to the others.
#[cfg(unix)]
pub fn deaf() {
    let _ = SigSet::all().thread_block();
}

/// Other systems have no signals that could be held up.
#[cfg(not(unix))]
pub fn held<T>(work: impl FnOnce() -> T) -> T {
    work()
}

/// Other systems have no signals that could be held up.
#[cfg(not(unix))]
pub fn deaf() {}

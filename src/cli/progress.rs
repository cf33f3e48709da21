//! A sign on the terminal while much is solved; nothing where nobody looks.

use std::io::IsTerminal as _;
use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::signals;

/// How far a run is of which so much is to be done. It is drawn on standard error, on a terminal only.
pub fn progress(count: usize) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(Some(count as u64), ProgressDrawTarget::stderr());
    // A template that cannot be read leaves the common one.
    if let Ok(style) = ProgressStyle::with_template("{bar:40} {pos} of {len} solved") {
        bar.set_style(style.progress_chars("=> "));
    }
    bar
}

/// Who waits longer than this wants to see that something happens.
const PATIENCE: Duration = Duration::from_millis(500);

/// A sign that work goes on, shown on a terminal after half a second. It goes when this is dropped.
pub struct Waiting {
    done: Option<Sender<()>>,
    shown: Option<JoinHandle<()>>,
}

impl Waiting {
    /// Work begins; what it is stands beside the sign.
    pub fn on(what: &'static str) -> Self {
        if !std::io::stderr().is_terminal() {
            return Self { done: None, shown: None };
        }
        let (done, over) = channel::<()>();
        let shown = thread::spawn(move || {
            signals::deaf();
            if over.recv_timeout(PATIENCE) != Err(RecvTimeoutError::Timeout) {
                return;
            }
            let sign = ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr());
            if let Ok(style) = ProgressStyle::with_template("{spinner} {msg}, {elapsed}") {
                sign.set_style(style.tick_chars("|/-\\ "));
            }
            sign.set_message(what);
            sign.enable_steady_tick(Duration::from_millis(150));
            // Ends when the other side is dropped.
            let _ = over.recv();
            sign.finish_and_clear();
        });
        Self { done: Some(done), shown: Some(shown) }
    }
}

impl Drop for Waiting {
    fn drop(&mut self) {
        drop(self.done.take());
        if let Some(shown) = self.shown.take() {
            // A sign that failed has nothing to say.
            let _ = shown.join();
        }
    }
}

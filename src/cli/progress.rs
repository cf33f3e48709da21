//! A bar on the terminal while much is solved; nothing where nobody looks.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// How far a run is. It is drawn on standard error, on a terminal only, and goes when it is done.
pub struct Progress(ProgressBar);

impl Progress {
    /// So much is to be done.
    pub fn new(count: usize) -> Self {
        let bar = ProgressBar::with_draw_target(Some(count as u64), ProgressDrawTarget::stderr());
        // A template that cannot be read leaves the common one.
        if let Ok(style) = ProgressStyle::with_template("{bar:40} {pos} of {len} solved") {
            bar.set_style(style.progress_chars("=> "));
        }
        Self(bar)
    }

    /// One more is done.
    pub fn step(&self) {
        self.0.inc(1);
    }

    /// All is done.
    pub fn finish(&self) {
        self.0.finish_and_clear();
    }
}

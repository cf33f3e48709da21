//! Processor time, which other work on the machine does not use up, and what a benchmark reports.

use rustix::time::{ClockId, clock_gettime};

/// Processor time of this process so far, all threads together.
pub fn seconds() -> f64 {
    let now = clock_gettime(ClockId::ProcessCPUTime);
    now.tv_sec as f64 + now.tv_nsec as f64 * 1e-9
}

/// A line of the report.
#[expect(clippy::print_stdout, reason = "a benchmark's report")]
pub fn say(line: &str) {
    println!("{line}");
}

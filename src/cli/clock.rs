//! The clock, which can end a search early, and the cores.

use std::sync::Arc;
use std::time::{Duration, SystemTime, UNIX_EPOCH};
use std::{env, thread};

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

/// The day, UTC: `2026-11-29`. `SOURCE_DATE_EPOCH` stands in for the clock where it is set, so that two pages
/// can be the same to the byte (<https://reproducible-builds.org/specs/source-date-epoch/>).
pub fn today() -> String {
    let given = env::var("SOURCE_DATE_EPOCH").ok().and_then(|text| text.parse().ok());
    let now = || SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
    date(given.unwrap_or_else(now) / 86_400)
}

/// The date so many days after 1970-01-01, in the Gregorian calendar.
fn date(mut days: u64) -> String {
    let leap = |year: u64| year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let mut year = 1970;
    while days >= 365 + u64::from(leap(year)) {
        days -= 365 + u64::from(leap(year));
        year += 1;
        if year > 9999 {
            return String::new();
        }
    }
    let february = 28 + u64::from(leap(year));
    let mut month = 1;
    for length in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] {
        if days < length {
            break;
        }
        days -= length;
        month += 1;
    }
    format!("{year}-{month:02}-{:02}", days + 1)
}

/// How many searches run at the same time: one a core.
pub fn workers() -> usize {
    thread::available_parallelism().map_or(1, usize::from)
}

#[cfg(test)]
mod tests {
    use super::date;

    #[test]
    fn days_are_dates() {
        // Unix time 0 and 1,000,000,000 (2001-09-09T01:46:40Z), and days around leap years, as `date -u -d @…` has them.
        assert_eq!(date(0), "1970-01-01");
        assert_eq!(date(1_000_000_000 / 86_400), "2001-09-09");
        assert_eq!(date(951_782_400 / 86_400), "2000-02-29");
        assert_eq!(date(4_107_542_400 / 86_400), "2100-03-01");
        assert_eq!(date(1_735_603_200 / 86_400), "2024-12-31");
    }
}

//! The day on which the command runs, where `--today` doesn't say it.
//!
//! The clock counts in universal time, and the shop's own day may be a day later or earlier. Where a date is checked for
//! lying in the future, today is the latest day that it is anywhere, so that nobody is warned of today; where a date is
//! written, it is the earliest. Here too are the times by which saves and slow clients are known.

use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

use chrono::NaiveDate;

/// Days from the first day of year 1 to 1 January 1970.
const EPOCH: i64 = 719_163;
const HOUR: i64 = 3_600;

/// The latest day that it is anywhere. `None` where the clock stands outside the calendar.
pub(super) fn latest_today() -> Option<NaiveDate> {
    day_of(seconds()?.checked_add(14 * HOUR)?)
}

/// The earliest day that it is anywhere.
pub(super) fn earliest_today() -> Option<NaiveDate> {
    day_of(seconds()?.checked_sub(12 * HOUR)?)
}

/// Now, to compare with the time of a file.
#[expect(clippy::disallowed_methods, reason = "the one place in which a clock is read")]
pub(super) fn now() -> SystemTime {
    SystemTime::now()
}

/// How long something takes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Timer(Instant);

impl Timer {
    /// From now on.
    #[expect(clippy::disallowed_methods, reason = "how long a client may take, and how long a run took for its reader")]
    pub(super) fn start() -> Self {
        Self(Instant::now())
    }

    /// Since it was started.
    pub(super) fn taken(self) -> Duration {
        self.0.elapsed()
    }
}

fn seconds() -> Option<i64> {
    i64::try_from(now().duration_since(UNIX_EPOCH).ok()?.as_secs()).ok()
}

fn day_of(seconds: i64) -> Option<NaiveDate> {
    let days = seconds.div_euclid(24 * HOUR).checked_add(EPOCH)?;
    NaiveDate::from_num_days_from_ce_opt(i32::try_from(days).ok()?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seconds_are_counted_from_1970() {
        assert_eq!(day_of(0), NaiveDate::from_ymd_opt(1970, 1, 1));
        assert_eq!(day_of(86_399), NaiveDate::from_ymd_opt(1970, 1, 1));
        assert_eq!(day_of(-1), NaiveDate::from_ymd_opt(1969, 12, 31));
        assert_eq!(day_of(1_772_409_600), NaiveDate::from_ymd_opt(2026, 3, 2));
        assert_eq!(day_of(i64::MAX), None);
    }
}

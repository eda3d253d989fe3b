//! Reading dates: ISO 8601, exactly `2026-03-02`, from 1900 to 2199.
//!
//! The calendar library's own reader also takes `2026-3-2`, blanks and signs; this one takes four, two and two
//! digits and says what is wrong with a day that doesn't exist.

use std::fmt;

use chrono::NaiveDate;

/// Says why a text isn't a date.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum DateFault {
    /// It isn't four digits, two and two with hyphens between them.
    NotIso,
    /// The year isn't from 1900 to 2199.
    YearOutOfRange(i32),
    /// There is no such month.
    NoSuchMonth(u32),
    /// The month has no such day.
    NoSuchDay {
        /// The year.
        year: i32,
        /// The month, from 1 to 12.
        month: u32,
        /// How many days it has in that year.
        days: u32,
    },
}

impl fmt::Display for DateFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            DateFault::NotIso => f.write_str("a date is written like `2026-03-02`"),
            DateFault::YearOutOfRange(year) => write!(f, "the year {year} isn't from 1900 to 2199"),
            DateFault::NoSuchMonth(month) => write!(f, "there is no month {month:02}"),
            DateFault::NoSuchDay { year, month, days } => {
                write!(f, "{} {year} has {days} days", month_name(*month).unwrap_or("the month"))
            }
        }
    }
}

impl std::error::Error for DateFault {}

/// Gives the English name of a month from 1 to 12.
pub fn month_name(month: u32) -> Option<&'static str> {
    const NAMES: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    NAMES.get(usize::try_from(month.checked_sub(1)?).ok()?).copied()
}

/// Gives how many days a month of 1 to 12 has in that year (Gregorian calendar).
pub fn days_in_month(year: i32, month: u32) -> Option<u32> {
    (28..=31).rev().find(|day| NaiveDate::from_ymd_opt(year, month, *day).is_some())
}

/// Reads a date. Errors: the reason why not.
pub fn read_date(text: &str) -> Result<NaiveDate, DateFault> {
    let [y1, y2, y3, y4, b'-', m1, m2, b'-', d1, d2] = text.as_bytes() else {
        return Err(DateFault::NotIso);
    };
    let year = digits(&[*y1, *y2, *y3, *y4]).and_then(|y| i32::try_from(y).ok()).ok_or(DateFault::NotIso)?;
    let month = digits(&[*m1, *m2]).ok_or(DateFault::NotIso)?;
    let day = digits(&[*d1, *d2]).ok_or(DateFault::NotIso)?;
    if !(1900..=2199).contains(&year) {
        return Err(DateFault::YearOutOfRange(year));
    }
    let days = days_in_month(year, month).ok_or(DateFault::NoSuchMonth(month))?;
    NaiveDate::from_ymd_opt(year, month, day).ok_or(DateFault::NoSuchDay { year, month, days })
}

fn digits(bytes: &[u8]) -> Option<u32> {
    bytes.iter().try_fold(0u32, |value, byte| byte.is_ascii_digit().then(|| value * 10 + u32::from(byte - b'0')))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_date_of_the_calendar_is_read() {
        for text in ["1900-01-01", "2024-02-29", "2026-03-02", "2199-12-31"] {
            assert_eq!(read_date(text).map(|d| d.to_string()), Ok(text.to_string()));
        }
    }

    #[test]
    fn other_ways_to_write_a_date_are_refused() {
        for text in [
            "",
            "2026",
            "2026-3-2",
            "2026 - 03 - 02",
            " 2026-03-02",
            "2026-03-02 ",
            "+2026-03-0",
            "26-03-02",
            "2026/03/02",
            "20260302",
            "2026-03-021",
            "12026-03-02",
            "2026-0\u{663}-2",
            "2o26-03-02",
        ] {
            assert_eq!(read_date(text), Err(DateFault::NotIso), "{text:?}");
        }
    }

    #[test]
    fn a_day_that_does_not_exist_is_explained() {
        let why = |text| read_date(text).expect_err("no such day").to_string();
        assert_eq!(why("2026-02-29"), "February 2026 has 28 days");
        assert_eq!(why("2024-02-30"), "February 2024 has 29 days");
        assert_eq!(why("2026-04-31"), "April 2026 has 30 days");
        assert_eq!(why("2026-04-00"), "April 2026 has 30 days");
        assert_eq!(read_date("1900-02-29"), Err(DateFault::NoSuchDay { year: 1900, month: 2, days: 28 }));
        assert_eq!(read_date("2026-13-01"), Err(DateFault::NoSuchMonth(13)));
        assert_eq!(read_date("2026-00-01"), Err(DateFault::NoSuchMonth(0)));
        assert_eq!(read_date("1899-12-31"), Err(DateFault::YearOutOfRange(1899)));
        assert_eq!(read_date("2200-01-01"), Err(DateFault::YearOutOfRange(2200)));
    }
}

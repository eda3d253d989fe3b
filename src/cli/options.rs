//! The arguments as they are meant: days that exist, a period that doesn't end before it begins, a folder that is a book.

use std::path::PathBuf;

use chrono::NaiveDate;

use super::args::{BookArgs, PeriodArgs, StockArgs};
use super::clock;
use crate::reports::Period;
use crate::sources::{LoadError, find_book};
use crate::units::read_date;

/// The book to read and the day on which it is read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct BookOptions {
    /// Its folder.
    pub(super) folder: PathBuf,
    /// Days after this one lie in the future.
    pub(super) today: Option<NaiveDate>,
}

impl BookOptions {
    /// Finds the book.
    ///
    /// # Errors
    /// A sentence for the reader.
    #[expect(clippy::disallowed_methods, reason = "the book is looked for from the folder in which the command runs")]
    pub(super) fn meant(args: &BookArgs) -> Result<Self, String> {
        let today = today(args)?;
        let folder = match &args.book {
            Some(folder) => folder.clone(),
            None => std::env::current_dir().ok().and_then(|here| find_book(&here)).ok_or(
                "there is no book here or in a folder above: a book is a folder of `*.kerf` files with a `shop` entry; \
                 say where it is with `--book DIR`, or start one with `kerfbook new DIR`",
            )?,
        };
        Ok(Self { folder, today })
    }
}

impl BookOptions {
    /// Holds that there is a folder to wait in: of one that is not there nothing will ever be saved.
    ///
    /// # Errors
    /// A sentence for the reader.
    pub(super) fn is_folder(&self) -> Result<(), String> {
        let folder = || self.folder.clone();
        match (self.folder.exists(), self.folder.is_dir()) {
            (_, true) => Ok(()),
            (true, false) => Err(LoadError::NotAFolder { folder: folder() }.to_string()),
            (false, false) => Err(LoadError::Missing { folder: folder() }.to_string()),
        }
    }
}

/// The day that counts as today: the one that was typed, or that of the clock.
///
/// # Errors
/// A sentence for the reader.
pub(super) fn today(args: &BookArgs) -> Result<Option<NaiveDate>, String> {
    match &args.today {
        Some(typed) => day("--today", typed).map(Some),
        None => Ok(clock::latest_today()),
    }
}

/// Reads the days that a report covers.
///
/// # Errors
/// A sentence for the reader.
pub(super) fn period(args: &PeriodArgs) -> Result<Period, String> {
    if let Some(typed) = &args.year {
        return Ok(Period::year(year(typed)?));
    }
    let from = args.from.as_deref().map(|typed| day("--from", typed)).transpose()?;
    let to = args.to.as_deref().map(|typed| day("--to", typed)).transpose()?;
    if let (Some(from), Some(to)) = (from, to)
        && to < from
    {
        return Err(format!("`--to {to}` is before `--from {from}`"));
    }
    Ok(Period { from, to })
}

/// Reads the days of a stock report: `--on` is its last.
///
/// # Errors
/// A sentence for the reader.
pub(super) fn stock_period(args: &StockArgs) -> Result<Period, String> {
    let mut days = period(&args.period)?;
    if let Some(typed) = &args.on {
        let on = day("--on", typed)?;
        if let Some(from) = days.from
            && on < from
        {
            return Err(format!("`--on {on}` is before `--from {from}`"));
        }
        days.to = Some(on);
    }
    Ok(days)
}

/// Reads a year.
///
/// # Errors
/// A sentence for the reader.
pub(super) fn year(typed: &str) -> Result<i32, String> {
    let first = day("the year", &format!("{typed}-01-01"));
    match (first, typed.parse::<i32>()) {
        (Ok(_), Ok(year)) => Ok(year),
        _ => Err(format!("`{typed}` is no year; write four digits, from 1900 to 2199")),
    }
}

/// Reads a day.
///
/// # Errors
/// A sentence for the reader.
pub(super) fn day(option: &str, typed: &str) -> Result<NaiveDate, String> {
    read_date(typed).map_err(|fault| format!("`{option} {typed}`: {fault}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn days(from: Option<&str>, to: Option<&str>, year: Option<&str>) -> Result<Period, String> {
        let own = |text: Option<&str>| text.map(str::to_owned);
        period(&PeriodArgs { from: own(from), to: own(to), year: own(year) })
    }

    #[test]
    fn a_period_may_be_open_at_either_end() {
        let march = NaiveDate::from_ymd_opt(2026, 3, 1);
        assert_eq!(days(Some("2026-03-01"), None, None), Ok(Period { from: march, to: None }));
        assert_eq!(days(None, None, None), Ok(Period::default()));
        assert_eq!(days(None, None, Some("2026")), Ok(Period::year(2026)));
    }

    #[test]
    fn what_is_no_day_or_year_is_told_with_what_was_typed() {
        let told = days(Some("2026-02-30"), None, None).expect_err("no such day");
        assert!(told.starts_with("`--from 2026-02-30`: ") && told.contains("28 days"), "{told}");
        assert!(days(None, Some("3/2/2026"), None).is_err());
        for typed in ["26", "20 26", "1899", "abcd", "+2026", "02026", "2026-01-01"] {
            assert!(days(None, None, Some(typed)).is_err(), "{typed}");
        }
    }

    #[test]
    fn a_period_that_ends_before_it_begins_is_refused() {
        let told = days(Some("2026-03-02"), Some("2026-03-01"), None).expect_err("turned round");
        assert_eq!(told, "`--to 2026-03-01` is before `--from 2026-03-02`");
    }
}

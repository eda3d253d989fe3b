//! The names of the figures of what pays: `pays/rolling-toys/2026/earned-per-hour`, `pays/all/2026`, `pays/month/2026-03/income`.
//!
//! A name without a column is the paid margin; one without a year is of the whole book. `all` are the totals, whatever else is called so: a line, channel
//! or product of that name is `groups/all`.

use std::collections::BTreeSet;

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use super::errors::{FigureFault, no_part, unknown};
use super::name_table::segment;
use super::pays_rest_figure::{PaysBeside, REST};
use super::read_year;
use crate::costing::Flow;
use crate::names::{ChannelId, LineId, ResolvedBook, StepId, ThingId};
use crate::reports::Period;
use crate::reports::fair_rest::FairSums;
use crate::reports::pays_part::{PaysOf, each_part};
use crate::reports::pays_rest::{KINDS, PaysRest};
use crate::year::{Books, TaxYear};

/// A column of the report of what pays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are named as in the report, which explains them")]
pub enum PaysColumn {
    Units,
    Revenue,
    Fees,
    Postage,
    Packing,
    DirectExpenses,
    PaidCost,
    PaidMargin,
    OwnTime,
    Overhead,
    FullMargin,
    OwnMinutes,
    EarnedPerHour,
}

impl PaysColumn {
    /// All of them, in the order of the report.
    pub const ALL: [Self; 13] = [
        Self::Units,
        Self::Revenue,
        Self::Fees,
        Self::Postage,
        Self::Packing,
        Self::DirectExpenses,
        Self::PaidCost,
        Self::PaidMargin,
        Self::OwnTime,
        Self::Overhead,
        Self::FullMargin,
        Self::OwnMinutes,
        Self::EarnedPerHour,
    ];

    /// Its name within a figure's name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Units => "units",
            Self::Revenue => "revenue",
            Self::Fees => "fees",
            Self::Postage => "postage",
            Self::Packing => "packing",
            Self::DirectExpenses => "direct-expenses",
            Self::PaidCost => "paid-cost",
            Self::PaidMargin => "paid-margin",
            Self::OwnTime => "own-time",
            Self::Overhead => "overhead",
            Self::FullMargin => "full-margin",
            Self::OwnMinutes => "own-minutes",
            Self::EarnedPerHour => "earned-per-hour",
        }
    }

    /// What it is, in words.
    pub(crate) const fn says(self) -> &'static str {
        match self {
            Self::Units => "number sold",
            Self::Revenue => "revenue",
            Self::Fees => "fees and shares",
            Self::Postage => "postage",
            Self::Packing => "packing",
            Self::DirectExpenses => "direct expenses",
            Self::PaidCost => "paid cost of goods sold",
            Self::PaidMargin => "paid margin",
            Self::OwnTime => "own time in goods sold",
            Self::Overhead => "overhead in goods sold",
            Self::FullMargin => "full margin",
            Self::OwnMinutes => "own minutes",
            Self::EarnedPerHour => "earnings per own hour",
        }
    }
}

/// A figure of what pays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PaysFigure {
    /// A column of a group, or of the totals.
    Column {
        /// The group; `None` for the totals.
        of: Option<PaysOf>,
        /// The year; `None` for the whole book.
        year: Option<i32>,
        /// The column.
        column: PaysColumn,
    },
    /// A column of what stands in no group.
    Beside {
        /// The row.
        of: PaysBeside,
        /// The year; `None` for the whole book.
        year: Option<i32>,
        /// The column.
        column: PaysColumn,
    },
    /// The form's net profit of a tax year per own hour worked.
    YearPerHour {
        /// The year.
        year: i32,
    },
    /// Own minutes on no line or channel and in no batch.
    IndirectMinutes {
        /// The year.
        year: Option<i32>,
    },
    /// Costs that are a group's own: what would not arise without it.
    OwnCosts {
        /// The group.
        of: PaysOf,
        /// The year; `None` for the whole book.
        year: Option<i32>,
    },
    /// What an hour of a group earns beyond the owner's rate of the last day covered.
    OverRate {
        /// The group.
        of: PaysOf,
        /// The year; `None` for the whole book.
        year: Option<i32>,
    },
    /// Minutes worked at a step.
    Hours {
        /// The step.
        step: StepId,
        /// The year; `None` for the whole book.
        year: Option<i32>,
        /// Whether the owner's; else bought in.
        own: bool,
    },
    /// Actual overhead less what was applied.
    UnderApplied {
        /// The year.
        year: Option<i32>,
    },
    /// What a month brought in, or what it cost.
    Month {
        /// The year.
        year: i32,
        /// The month, from 1.
        month: u32,
        /// Whether its cost; else its income.
        is_cost: bool,
    },
}

const YEAR_PER_HOUR: &str = "year-per-hour";
const INDIRECT: &str = "indirect-minutes";
const UNDER_APPLIED: &str = "overhead-under-applied";
const OWN_COSTS: &str = "own-costs";
const OVER_RATE: &str = "over-rate";
const HOURS: &str = "hours";
const OWN_MINUTES: &str = "own-minutes";
const BOUGHT_IN_MINUTES: &str = "bought-in-minutes";

/// Before the name of a group, as in the report's JSON: what follows is no total.
const GROUPS: &str = "groups";
const ALL: &str = "all";

const FORMS: &str = "`pays/NAME/YEAR/COLUMN` and `pays/month/MONTH/income`";

impl PaysFigure {
    /// Reads what stands after `pays/`.
    pub(super) fn read(parts: &[&str], book: &ResolvedBook) -> Result<Self, FigureFault> {
        if let ["month", month, side] = *parts
            && month.starts_with(|letter: char| letter.is_ascii_digit())
            && !is_year(month)
            && !is_day(month)
        {
            let fault = || FigureFault(format!("`{month}` is no month; write it as in `pays/month/2026-03/{side}`"));
            let (year, month) = month_of(month).ok_or_else(fault)?;
            return match side {
                "income" => Ok(Self::Month { year, month, is_cost: false }),
                "cost" => Ok(Self::Month { year, month, is_cost: true }),
                _ => Err(FigureFault(format!("a month has `income` and `cost`, and no `{side}`"))),
            };
        }
        if let ["month", month] = *parts
            && month.contains('-')
            && !is_day(month)
        {
            let fault = || FigureFault(format!("`{month}` is no month; write it as in `pays/month/2026-03/income`"));
            month_of(month).ok_or_else(fault)?;
            return Err(FigureFault(format!("of a month there is `income` or `cost`: `pays/month/{month}/income`")));
        }
        match *parts {
            [ALL, HOURS, step, whose] => return Self::read_hours(None, step, whose, book),
            [ALL, year, HOURS, step, whose] => return Self::read_hours(Some(read_year(year)?), step, whose, book),
            _ => {}
        }
        if let [REST, ref rest @ ..] = *parts
            && let Some(read) = PaysBeside::read(rest, book)
        {
            let (of, rest) = read?;
            let (year, column) = match *rest {
                [] => (None, None),
                [one] if is_year(one) && of.has_years() => (Some(read_year(one)?), None),
                [one] => (None, Some(one)),
                [year, column] if of.has_years() => (Some(read_year(year)?), Some(column)),
                _ => return Err(FigureFault(format!("figures of it are named `pays/{}/COLUMN`", of.text(book)))),
            };
            return Ok(Self::Beside { of, year, column: column_of(column)? });
        }
        // Neither a year nor a column is called so.
        let (of_groups, parts) = match *parts {
            [GROUPS, ref rest @ ..] if rest.first() == Some(&ALL) => (true, rest),
            _ => (false, parts),
        };
        let [name, rest @ ..] = parts else { return Err(FigureFault(format!("figures of what pays are named {FORMS}"))) };
        // Of a fair stands the day where others have the year.
        let fair = rest.first().and_then(|day| crate::units::read_date(day).ok());
        let rest = if fair.is_some() { &rest[1..] } else { rest };
        let (year, column) = match rest {
            [] => (None, None),
            [one] if one.starts_with(|letter: char| letter.is_ascii_digit()) => (Some(read_year(one)?), None),
            [one] => (None, Some(*one)),
            [year, column] => (Some(read_year(year)?), Some(*column)),
            _ => return Err(FigureFault(format!("figures of what pays are named {FORMS}"))),
        };
        let of = match fair {
            Some(_) if year.is_some() => return Err(FigureFault("a fair has its day, and no year beside it".to_owned())),
            Some(day) => Some(PaysOf::Fair(channel_of(name, book)?, day)),
            None if *name == ALL && !of_groups => None,
            None => Some(group_of(name, book)?),
        };
        match (of, year, column) {
            (None, Some(year), Some(YEAR_PER_HOUR)) => Ok(Self::YearPerHour { year }),
            (None, None, Some(YEAR_PER_HOUR)) => {
                Err(FigureFault(format!("the net profit per hour is of a year: `pays/all/YEAR/{YEAR_PER_HOUR}`")))
            }
            (None, year, Some(INDIRECT)) => Ok(Self::IndirectMinutes { year }),
            (None, year, Some(UNDER_APPLIED)) => Ok(Self::UnderApplied { year }),
            (Some(of), year, Some(OWN_COSTS)) => Ok(Self::OwnCosts { of, year }),
            (Some(of), year, Some(OVER_RATE)) => Ok(Self::OverRate { of, year }),
            (of, year, column) => Ok(Self::Column { of, year, column: column_of(column)? }),
        }
    }

    /// Reads a step, and whose minutes.
    fn read_hours(year: Option<i32>, step: &str, whose: &str, book: &ResolvedBook) -> Result<Self, FigureFault> {
        let own = match whose {
            OWN_MINUTES => true,
            BOUGHT_IN_MINUTES => false,
            _ => return Err(no_part(whose, &[OWN_MINUTES, BOUGHT_IN_MINUTES])),
        };
        let at = book.steps.iter().position(|one| segment(&one.named.name) == step).and_then(|at| u32::try_from(at).ok());
        let step = at.map(StepId).ok_or_else(|| unknown("step", step))?;
        Ok(Self::Hours { step, year, own })
    }

    /// The hours of each step that was worked at, of each year and over all.
    fn all_hours(books: Books<'_>) -> Vec<Self> {
        let mut worked: BTreeSet<(StepId, Option<i32>)> = BTreeSet::new();
        let mut at = |step: StepId, day: NaiveDate| worked.extend([(step, None), (step, Some(day.year()))]);
        for hour in books.costed.hours.iter().filter(|hour| !hour.minutes.is_zero()) {
            at(hour.step, hour.date);
        }
        for movement in books.costed.movements.iter().filter(|one| one.flow == Flow::Time) {
            movement.vector.minutes().iter().filter_map(|one| one.step).for_each(|step| at(step, movement.date));
        }
        let of = |(step, year)| [true, false].map(|own| Self::Hours { step, year, own });
        worked.into_iter().flat_map(of).collect()
    }

    /// All of a book: every column of each group that has something, and of the totals, of each year and over all; what is on no piece; the months.
    pub(super) fn all(books: Books<'_>, years: &[TaxYear]) -> Vec<Self> {
        let mut all = Vec::new();
        let (mut groups, mut months) = (BTreeSet::new(), BTreeSet::new());
        let mut beside: BTreeSet<(PaysBeside, Option<i32>)> = BTreeSet::new();
        let fairs = FairSums::of(books.book, books.costed, Period::default());
        // A drive counts where the form has a rate for its day; where it has none, its group is named all the same.
        let each = each_part(books.book, books.costed, Period::default(), &|_| Some(Decimal::ONE), &mut |part| {
            let year = part.day.year();
            for of in part.groups.iter().map(|of| Some(*of)).chain([None]) {
                groups.insert((of, None));
                if !matches!(of, Some(PaysOf::Fair(..))) {
                    groups.insert((of, Some(year)));
                }
            }
            for kind in KINDS {
                if let Some(rest) = PaysRest::of(&part, kind) {
                    beside.extend([None, Some(year)].map(|year| (PaysBeside::Kind(kind, rest), year)));
                }
            }
            if let Some(channel) = fairs.channel_of(&part) {
                beside.extend(fairs.why(&part).map(|why| (PaysBeside::Fairs(channel, why), None)));
                beside.insert((PaysBeside::AllFairs, None));
            }
            if part.is_money() {
                months.insert((year, part.day.month()));
            }
            Some(())
        });
        if each.is_none() {
            return all;
        }
        if let (Some(first), Some(last)) = (books.log.first_day, books.costed.until) {
            groups.extend((first.year()..=last.year()).map(|year| (None, Some(year))).chain([(None, None)]));
        }
        // Where there is no group of a kind, there is no block of it to add up.
        let has_block = |kind: &str, year: Option<i32>| {
            groups.iter().any(|(of, one)| *one == year && of.is_some_and(|of: PaysOf| of.named(books.book).0 == kind))
        };
        beside.retain(|(of, year)| !matches!(of, PaysBeside::Kind(kind, _) if !has_block(kind, *year)));
        for (of, year) in beside {
            let columns =
                PaysColumn::ALL.into_iter().filter(|column| of == PaysBeside::AllFairs || *column != PaysColumn::EarnedPerHour);
            all.extend(columns.map(|column| Self::Beside { of, year, column }));
        }
        for (of, year) in groups {
            all.extend(PaysColumn::ALL.map(|column| Self::Column { of, year, column }));
            all.extend(of.into_iter().flat_map(|of| [Self::OwnCosts { of, year }, Self::OverRate { of, year }]));
            if of.is_none() {
                all.extend([Self::IndirectMinutes { year }, Self::UnderApplied { year }]);
                let is_taxed = |year: &i32| years.iter().any(|one| one.year == *year);
                all.extend(year.filter(is_taxed).map(|year| Self::YearPerHour { year }));
            }
        }
        all.extend(Self::all_hours(books));
        for (year, month) in months {
            all.extend([false, true].map(|is_cost| Self::Month { year, month, is_cost }));
        }
        all
    }

    pub(super) fn text(self, book: &ResolvedBook) -> String {
        let of_year = |year: Option<i32>| year.map_or_else(String::new, |year| format!("/{year:04}"));
        match self {
            Self::Column { of, year, column } => format!("pays/{}{}/{}", group_name(of, book), of_year(year), column.name()),
            Self::Beside { of, year, column } => format!("pays/{}{}/{}", of.text(book), of_year(year), column.name()),
            Self::YearPerHour { year } => format!("pays/all/{year:04}/{YEAR_PER_HOUR}"),
            Self::IndirectMinutes { year } => format!("pays/all{}/{INDIRECT}", of_year(year)),
            Self::OwnCosts { of, year } => format!("pays/{}{}/{OWN_COSTS}", group_name(Some(of), book), of_year(year)),
            Self::OverRate { of, year } => format!("pays/{}{}/{OVER_RATE}", group_name(Some(of), book), of_year(year)),
            Self::Hours { step, year, own } => {
                let whose = if own { OWN_MINUTES } else { BOUGHT_IN_MINUTES };
                format!("pays/all{}/{HOURS}/{}/{whose}", of_year(year), segment(&book.step(step).named.name))
            }
            Self::UnderApplied { year } => format!("pays/all{}/{UNDER_APPLIED}", of_year(year)),
            Self::Month { year, month, is_cost } => {
                format!("pays/month/{year:04}-{month:02}/{}", if is_cost { "cost" } else { "income" })
            }
        }
    }

    /// The days that it covers.
    pub(super) fn period(self) -> Period {
        match self {
            Self::Column { year, .. }
            | Self::Beside { year, .. }
            | Self::OwnCosts { year, .. }
            | Self::OverRate { year, .. }
            | Self::Hours { year, .. }
            | Self::IndirectMinutes { year }
            | Self::UnderApplied { year } => year.map_or_else(Period::default, Period::year),
            Self::YearPerHour { year } => Period::year(year),
            Self::Month { year, month, .. } => {
                let first = NaiveDate::from_ymd_opt(year, month, 1);
                let last = first.and_then(|first| first.checked_add_months(chrono::Months::new(1))?.pred_opt());
                Period { from: first, to: last }
            }
        }
    }
}

/// A group's name as it stands in a figure's name.
fn group_name(of: Option<PaysOf>, book: &ResolvedBook) -> String {
    match of {
        None => ALL.to_owned(),
        Some(PaysOf::Fair(channel, day)) => format!("{}/{day}", pays_group(&book.channel(channel).named.name)),
        Some(of) => pays_group(&of.named(book).1.name),
    }
}

/// The name of a line, channel or product as it stands behind `pays/`.
#[must_use]
pub(crate) fn pays_group(name: &str) -> String {
    if name == ALL { format!("{GROUPS}/{ALL}") } else { segment(name) }
}

fn is_year(typed: &str) -> bool {
    typed.len() == 4 && typed.bytes().all(|byte| byte.is_ascii_digit())
}

/// Whether it is the day of a fair.
fn is_day(typed: &str) -> bool {
    crate::units::read_date(typed).is_ok()
}

fn month_of(typed: &str) -> Option<(i32, u32)> {
    let day = crate::units::read_date(&format!("{typed}-01")).ok()?;
    (typed.len() == "2026-03".len()).then_some((day.year(), day.month()))
}

fn column_of(typed: Option<&str>) -> Result<PaysColumn, FigureFault> {
    let Some(typed) = typed else { return Ok(PaysColumn::PaidMargin) };
    let found = PaysColumn::ALL.into_iter().find(|column| column.name() == typed);
    found.ok_or_else(|| unknown("column", typed))
}

/// Every group that the book can name.
fn groups(book: &ResolvedBook) -> impl Iterator<Item = PaysOf> {
    let ids = |len: usize| 0..u32::try_from(len).unwrap_or(u32::MAX);
    let lines = ids(book.lines.len()).map(|at| PaysOf::Line(LineId(at)));
    let channels = ids(book.channels.len()).map(|at| PaysOf::Channel(ChannelId(at)));
    lines.chain(channels).chain(ids(book.things.len()).map(|at| PaysOf::Product(ThingId(at))))
}

fn channel_of(typed: &str, book: &ResolvedBook) -> Result<ChannelId, FigureFault> {
    let of = groups(book).find_map(|of| match of {
        PaysOf::Channel(channel) if segment(&book.channel(channel).named.name) == typed => Some(channel),
        _ => None,
    });
    of.ok_or_else(|| unknown("channel of a fair", typed))
}

fn group_of(typed: &str, book: &ResolvedBook) -> Result<PaysOf, FigureFault> {
    groups(book)
        .find(|of| segment(&of.named(book).1.name) == typed)
        .ok_or_else(|| unknown("product line, channel or product", typed))
}

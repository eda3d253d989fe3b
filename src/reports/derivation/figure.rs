//! The names of figures that can be derived: `cost/pull-cart/2026`, `stock/red-oak/2026-06-30`, `year/2026/line-42`.
//!
//! A `/` within a name is written `_`.

use chrono::NaiveDate;

use crate::diagnostics::did_you_mean;
use crate::names::{ResolvedBook, ThingId};
use crate::reports::Period;
use crate::year::TaxYear;

/// A figure that can be derived.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FigureName {
    /// What a unit of a thing cost: of all that was finished in a year, or ever.
    Cost {
        /// The thing that was made.
        thing: ThingId,
        /// The year in which it was finished.
        year: Option<i32>,
    },
    /// What the stock of a thing is worth at the end of a day, or of the book.
    Stock {
        /// The thing.
        thing: ThingId,
        /// The day.
        on: Option<NaiveDate>,
    },
    /// The cost of goods sold of a tax year, by where the goods went.
    CostOfGoods {
        /// The year.
        year: i32,
    },
    /// Another line of a tax year's form.
    Line {
        /// The year.
        year: i32,
        /// Its index among the year's lines.
        at: usize,
    },
}

/// Why a figure's name is none: a sentence for the reader.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FigureFault(pub String);

const FORMS: &str = "figures are named `cost/NAME`, `cost/NAME/YEAR`, `stock/NAME`, `stock/NAME/DATE` and";

impl FigureName {
    /// The words with which a name begins, before its first `/`.
    pub const KINDS: [&str; 3] = ["cost", "stock", "year"];

    /// Reads a name.
    ///
    /// # Errors
    /// Where it is none, with what was expected.
    pub fn read(typed: &str, book: &ResolvedBook, years: &[TaxYear]) -> Result<Self, FigureFault> {
        let parts: Vec<&str> = typed.split('/').collect();
        match parts.as_slice() {
            ["cost", name] => Ok(Self::Cost { thing: thing_of(name, book)?, year: None }),
            ["cost", name, year] => Ok(Self::Cost { thing: thing_of(name, book)?, year: Some(year_of(year)?) }),
            ["stock", name] => Ok(Self::Stock { thing: thing_of(name, book)?, on: None }),
            ["stock", name, day] => {
                let thing = thing_of(name, book)?;
                let day = crate::units::read_date(day).map_err(|fault| FigureFault(format!("`{day}`: {fault}")))?;
                Ok(Self::Stock { thing, on: Some(day) })
            }
            ["year", year, line] if line.strip_prefix("line-").is_some_and(|number| !number.is_empty()) => {
                let year = year_of(year)?;
                let number = line.strip_prefix("line-").unwrap_or_default();
                let Some(one) = years.iter().find(|one| one.year == year) else { return Ok(Self::CostOfGoods { year }) };
                match one.lines.iter().position(|line| line.number == number) {
                    Some(at) if one.cost_of_goods_line == Some(at) => Ok(Self::CostOfGoods { year }),
                    Some(at) => Ok(Self::Line { year, at }),
                    None => {
                        let numbers: Vec<&str> = one.lines.iter().map(|line| line.number.as_str()).collect();
                        Err(FigureFault(format!(
                            "the form `{}` of {year} has no line `{number}`; its lines are {}",
                            one.form,
                            numbers.join(", ")
                        )))
                    }
                }
            }
            _ => Err(FigureFault(format!("`{typed}` is no figure that can be derived; {FORMS} `year/YEAR/line-NUMBER`"))),
        }
    }

    /// The last day that matters to it.
    #[must_use]
    pub fn until(self) -> Option<NaiveDate> {
        match self {
            Self::Stock { on, .. } => on,
            Self::Cost { .. } | Self::CostOfGoods { .. } | Self::Line { .. } => None,
        }
    }

    /// The days that it covers.
    #[must_use]
    pub fn period(self) -> Period {
        match self {
            Self::Cost { year, .. } => year.map_or_else(Period::default, Period::year),
            Self::Stock { on, .. } => Period { from: None, to: on },
            Self::CostOfGoods { year } | Self::Line { year, .. } => Period::year(year),
        }
    }

    /// Its name; `years` are the book's tax years, which know the lines' numbers.
    #[must_use]
    pub fn text(self, book: &ResolvedBook, years: &[TaxYear]) -> String {
        let name = |thing: ThingId| book.thing(thing).named.name.replace('/', "_");
        match self {
            Self::Cost { thing, year: None } => format!("cost/{}", name(thing)),
            Self::Cost { thing, year: Some(year) } => format!("cost/{}/{year}", name(thing)),
            Self::Stock { thing, on: None } => format!("stock/{}", name(thing)),
            Self::Stock { thing, on: Some(day) } => format!("stock/{}/{day}", name(thing)),
            Self::CostOfGoods { year } => format!("year/{year}/line-{}", cost_line(years, year)),
            Self::Line { year, at } => {
                let one = years.iter().find(|one| one.year == year).and_then(|one| one.lines.get(at));
                format!("year/{year}/line-{}", one.map_or("", |line| line.number.as_str()))
            }
        }
    }
}

/// The number of the line that holds the cost of goods by the form of a year; empty where there is none.
fn cost_line(years: &[TaxYear], year: i32) -> &str {
    let one = years.iter().find(|one| one.year == year);
    one.and_then(|one| one.lines.get(one.cost_of_goods_line?)).map_or("", |line| line.number.as_str())
}

fn year_of(typed: &str) -> Result<i32, FigureFault> {
    let four = typed.len() == 4 && typed.bytes().all(|byte| byte.is_ascii_digit());
    let year = typed.parse().ok().filter(|_| four);
    year.ok_or_else(|| FigureFault(format!("`{typed}` is no year; write four digits")))
}

fn thing_of(typed: &str, book: &ResolvedBook) -> Result<ThingId, FigureFault> {
    let names: Vec<String> = book.things.iter().map(|thing| thing.named.name.replace('/', "_")).collect();
    let at = names.iter().position(|name| name == typed).and_then(|at| u32::try_from(at).ok());
    at.map(ThingId).ok_or_else(|| {
        let near = did_you_mean(typed, names.iter().map(String::as_str)).map_or_else(String::new, |near| format!("; {near}"));
        FigureFault(format!("there is no material or product `{typed}`{near}"))
    })
}

//! Why a figure's name is none, in words.

use crate::diagnostics::did_you_mean;
use crate::year::TaxYear;

/// Why a figure's name is none: a sentence for the reader.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FigureFault(pub String);

const FORMS: &str = "figures are named `cost/NAME`, `cost/NAME/YEAR`, `stock/NAME`, `stock/NAME/DATE` and";

pub(super) fn no_figure(typed: &str) -> FigureFault {
    FigureFault(format!("`{typed}` is no figure that can be derived; {FORMS} `year/YEAR/line-NUMBER`"))
}

/// That nothing of a noun has a name, with the names near to it.
pub(super) fn unknown<'n>(noun: &str, typed: &str, known: impl IntoIterator<Item = &'n str>) -> FigureFault {
    let near = did_you_mean(typed, known).map_or_else(String::new, |near| format!("; {near}"));
    FigureFault(format!("there is no {noun} `{typed}`{near}"))
}

pub(super) fn no_part(typed: &str, parts: &[&str]) -> FigureFault {
    let near = did_you_mean(typed, parts.iter().copied()).map_or_else(String::new, |near| format!("; {near}"));
    FigureFault(format!("`{typed}` is no part of it; its parts are {}{near}", parts.join(", ")))
}

pub(super) fn no_year(typed: &str) -> FigureFault {
    FigureFault(format!("`{typed}` is no year; write four digits"))
}

pub(super) fn no_line(one: &TaxYear, number: &str) -> FigureFault {
    let numbers: Vec<&str> = one.lines.iter().map(|line| line.number.as_str()).collect();
    let (form, year) = (&one.form, one.year);
    FigureFault(format!("the form `{form}` of {year} has no line `{number}`; its lines are {}", numbers.join(", ")))
}

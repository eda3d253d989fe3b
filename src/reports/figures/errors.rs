//! Why a figure's name is none, in words.

use super::kinds::{FigureKind, KINDS};
use crate::year::TaxYear;

/// Why a figure's name is none: a sentence for the reader.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FigureFault(pub String);

impl FigureFault {
    /// The same with the figures whose names are near.
    pub(super) fn with_near(self, near: &[String]) -> Self {
        let quoted: Vec<String> = near.iter().map(|name| format!("`{name}`")).collect();
        match quoted.split_last() {
            None => Self(format!("{}; `kerfbook why` lists what can be asked", self.0)),
            Some((last, [])) => Self(format!("{}; did you mean {last}?", self.0)),
            Some((last, first)) => Self(format!("{}; did you mean {} or {last}?", self.0, first.join(", "))),
        }
    }
}

pub(super) fn no_figure(typed: &str) -> FigureFault {
    let forms: Vec<String> = KINDS.iter().map(|kind| format!("`{}`", kind.form)).collect();
    let forms = forms.join(", ");
    FigureFault(format!("`{typed}` is no figure that can be derived; figures are named {forms}"))
}

/// That nothing of a noun has a name.
pub(super) fn unknown(noun: &str, typed: &str) -> FigureFault {
    FigureFault(format!("there is no {noun} `{typed}`"))
}

/// That an order is none, since its deposit was handed back.
pub(super) fn handed_back(order: &str) -> FigureFault {
    FigureFault(format!(
        "nothing was sold with order `{order}`, and the money that came for it was handed back, so it has no figures"
    ))
}

/// That an order is none yet.
pub(super) fn not_sold_yet(order: &str) -> FigureFault {
    FigureFault(format!("nothing was sold with order `{order}` yet: money came for it, which is a deposit"))
}

/// That the book has no figures of a kind.
pub(super) fn none_of_kind(kind: &FigureKind) -> FigureFault {
    FigureFault(format!("the book has no figure `{}`: {}", kind.form, kind.none))
}

/// That a plan has no such row.
pub(super) fn not_in_plan(table: &str, name: &str) -> FigureFault {
    FigureFault(match table {
        "buy" => format!("`{name}` need not be bought for this plan, so there is no figure of its buying"),
        "cost" | "build" => format!("`{name}` need not be built for this plan"),
        "step" => format!("this plan takes no time at `{name}`"),
        "offcut" => format!("`{name}` is no offcut that may serve this plan"),
        _ => format!("this plan needs no `{name}`"),
    })
}

/// That a part of a plan's name is no count with a name.
pub(super) fn no_piece(typed: &str) -> FigureFault {
    FigureFault(format!(
        "`{typed}` is no number of pieces with a name; the figures of a plan begin as `plan/6_pull-cart+4_village-set`"
    ))
}

/// That a part of a price's name is no wish.
pub(super) fn no_wish(typed: &str) -> FigureFault {
    FigureFault(format!(
        "`{typed}` is nothing that can be wanted once of a price; wishes stand behind its name as in `+earn_25+margin_30%+fixed_120+hours_16h`"
    ))
}

pub(super) fn no_tax_year(year: i32, years: &[TaxYear]) -> FigureFault {
    let years: Vec<String> = years.iter().map(|one| one.year.to_string()).collect();
    FigureFault(match years.is_empty() {
        true => "the book has no tax year: `shop` names no `tax form`, or there is no form data for its years".to_owned(),
        false => format!("the book has no tax year {year}; it has {}", years.join(", ")),
    })
}

pub(super) fn no_part(typed: &str, parts: &[&str]) -> FigureFault {
    FigureFault(format!("`{typed}` is no part of it; its parts are {}", parts.join(", ")))
}

pub(super) fn no_year(typed: &str) -> FigureFault {
    FigureFault(format!("`{typed}` is no year; write four digits"))
}

pub(super) fn no_line(one: &TaxYear, number: &str) -> FigureFault {
    let numbers: Vec<&str> = one.lines.iter().map(|line| line.number.as_str()).collect();
    let (form, year) = (&one.form, one.year);
    FigureFault(format!("the form `{form}` of {year} has no line `{number}`; its lines are {}", numbers.join(", ")))
}

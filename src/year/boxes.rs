//! Boxes of a form that want words or a tick in place of an amount, as far as the book knows the answer.
//!
//! Which there are and how they are worded is the form's data; what each wants is one of a few things that the book knows. What it does not know is
//! left to the owner and said so by the form's own instructions.

use rust_decimal::RoundingStrategy;
use serde::Deserialize;

use crate::names::Basis;
use crate::year::books::BooksOfYear;
use crate::year::cut_off::helpers;
use crate::year::tax_year::{BoxAnswer, Mileage};

/// What a box wants to know.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Says {
    /// Cash or accrual.
    Basis,
    /// How the closing stock is valued.
    Valuation,
    /// Whether quantities, costs or valuations are determined otherwise than the year before.
    ChangeOfValuation,
    /// Helpers whose payments are to be reported.
    HelpersToReport,
    /// Miles driven for the business.
    BusinessMiles,
}

/// A box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FormBox {
    /// As printed on the form: `33`.
    pub number: String,
    /// Its label.
    pub label: String,
    /// What it wants.
    pub says: Says,
    /// Its source, as an index into the form's sources.
    pub source: usize,
}

/// Answers the form's boxes. `None` on overflow.
pub(crate) fn answer_boxes(of: &BooksOfYear<'_>, mileage: &Mileage) -> Option<Vec<BoxAnswer>> {
    let mut answers = Vec::with_capacity(of.form.boxes.len());
    for one in &of.form.boxes {
        let answer = match one.says {
            Says::Basis => match of.basis() {
                Basis::Cash => "cash".to_owned(),
                Basis::Accrual => "accrual".to_owned(),
            },
            Says::Valuation => "cost".to_owned(),
            Says::ChangeOfValuation => change_of_valuation(of),
            Says::HelpersToReport => match helpers(of)?.as_slice() {
                [] => "no helper of the book was paid as much as is to be reported".to_owned(),
                rows => rows.join("; "),
            },
            Says::BusinessMiles => {
                format!("{} mi", mileage.miles.round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero).normalize())
            }
        };
        answers.push(BoxAnswer { number: one.number.clone(), label: one.label.clone(), answer });
    }
    Some(answers)
}

/// What changed on the year's first day, against the day before; a book's first year has nothing to compare with.
fn change_of_valuation(of: &BooksOfYear<'_>) -> String {
    let shop = &of.book().shop;
    let Some(before) = of.first.pred_opt().filter(|day| of.books.log.first_day.is_some_and(|first| first <= *day)) else {
        return "not known: the book has no year before".to_owned();
    };
    let mut changed = Vec::new();
    if shop.costing.on(before) != shop.costing.on(of.last) {
        changed.push("how stock is costed");
    }
    if shop.stock_kept.on(before) != shop.stock_kept.on(of.last) {
        changed.push("how stock is kept");
    }
    if changed.is_empty() { "no".to_owned() } else { format!("yes: {}", changed.join(" and ")) }
}

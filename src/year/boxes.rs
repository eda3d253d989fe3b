//! Boxes of a form that want words or a tick in place of an amount, as far as the book knows the answer.
//!
//! Which there are and how they are worded is the form's data; what each wants is one of a few things that the book knows, or is the
//! owner's to say, and then the answer says so. Payments that are to be reported are known of hired hours only; of other payments
//! the answer names to whom as much was paid, and what is not looked at.

use std::collections::BTreeMap;

use rust_decimal::RoundingStrategy;
use serde::Deserialize;

use crate::events::{EventKind, PaidFor};
use crate::names::{Basis, HomeWorkshop};
use crate::units::Fixed6;
use crate::year::books::BooksOfYear;
use crate::year::cut_off::cut_off_list::helpers;
use crate::year::home_workshop::in_use;
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
    /// Square feet of a home workshop; a share of house costs says none.
    WorkshopArea,
    /// What no book holds.
    Owner,
    /// The same, wanted in a year of loss only.
    OwnerInLoss,
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

const FOR_THE_OWNER: &str = "for the owner: not in the book";

/// Answers the form's boxes. `None` on overflow.
pub(crate) fn answer_boxes(of: &BooksOfYear<'_>, mileage: &Mileage, net_profit: Fixed6) -> Option<Vec<BoxAnswer>> {
    let mut answers = Vec::with_capacity(of.form.boxes.len());
    for one in &of.form.boxes {
        let answer = match one.says {
            Says::Basis => match of.basis() {
                Basis::Cash => "cash".to_owned(),
                Basis::Accrual => "accrual".to_owned(),
            },
            Says::Valuation => "cost".to_owned(),
            Says::ChangeOfValuation => change_of_valuation(of),
            Says::HelpersToReport => payments_to_report(of)?,
            Says::WorkshopArea => match in_use(of, of.last) {
                Some(HomeWorkshop::Simplified { square_feet, .. }) => {
                    format!("{} sq ft at the year's end", square_feet.normalize())
                }
                _ => FOR_THE_OWNER.to_owned(),
            },
            Says::Owner => FOR_THE_OWNER.to_owned(),
            Says::OwnerInLoss if net_profit.is_negative() => format!("{FOR_THE_OWNER}; the year has a loss"),
            Says::OwnerInLoss => "not wanted: the year has no loss".to_owned(),
            Says::BusinessMiles => {
                format!("{} mi", mileage.miles.round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero).normalize())
            }
        };
        answers.push(BoxAnswer { number: one.number.clone(), label: one.label.clone(), says: one.says, answer });
    }
    Some(answers)
}

/// Helpers over the limit; then to whom else as much was paid for expenses by the year's entries, which may be services; then what is not
/// looked at. `None` on overflow.
fn payments_to_report(of: &BooksOfYear<'_>) -> Option<String> {
    let mut parts = match helpers(of)?.as_slice() {
        [] => vec!["no helper of the book was paid as much as is to be reported".to_owned()],
        rows => rows.to_vec(),
    };
    if let Some(limit) = of.figures.helper_payments(of.year) {
        let limit = Fixed6::round_from_decimal(limit.limit.0)?;
        let mut sums: BTreeMap<&str, Fixed6> = BTreeMap::new();
        for event in of.books.log.events.iter().filter(|event| of.has(event.date)) {
            let EventKind::Paid(paid) = &event.kind else { continue };
            for line in paid.lines.iter().filter(|line| matches!(line.what, PaidFor::Expense { .. })) {
                let sum = sums.entry(of.book().label(paid.to)).or_default();
                *sum = sum.checked_add(line.money)?;
            }
        }
        let others = sums.into_iter().filter(|(_, sum)| *sum >= limit);
        let others: Vec<String> = others.map(|(name, sum)| format!("{name} {}", of.money(sum))).collect();
        if !others.is_empty() {
            parts.push(format!("for the owner, where it was for services or rent: {} by entries of the year", others.join(", ")));
        }
    }
    parts.push("royalties, and smaller payments for services, are not looked at".to_owned());
    Some(parts.join("; "))
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

//! Expenses by their lines: the year's total of a category, times its business share, rounded once.
//!
//! Where the share or the line changed within the year, each part of the year is taken with its own. Meals are multiplied by the
//! year's part after that. House costs wait for the home workshop.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::names::{CountsAs, ExpenseId};
use crate::units::{Fixed6, Percent};
use crate::year::books::BooksOfYear;
use crate::year::forms::form::Times;
use crate::year::ledger::{Ledger, total};
use crate::year::tax_year::{Item, Sum, SumOf};

/// What of the expenses is on no line yet.
#[derive(Clone, Debug, Default)]
pub(crate) struct Left {
    /// House costs, with their items.
    pub(crate) house: Vec<(ExpenseId, Vec<Item>)>,
    /// Categories without a line, with their items.
    pub(crate) without_line: Vec<(ExpenseId, Vec<Item>)>,
    /// Whether a meal counted and the year has no part for meals.
    pub(crate) no_meals_part: bool,
}

/// Puts the expenses on their lines. `None` on overflow.
pub(crate) fn fill_expenses(
    of: &BooksOfYear<'_>,
    expenses: &BTreeMap<ExpenseId, Vec<Item>>,
    lines: impl Fn(ExpenseId, NaiveDate) -> Option<usize>,
    ledger: &mut Ledger,
) -> Option<Left> {
    let mut left = Left::default();
    for (id, items) in expenses {
        let category = of.book().expense(*id);
        let mut parts: BTreeMap<Option<usize>, Vec<Item>> = BTreeMap::new();
        let mut house = Vec::new();
        for item in items {
            match *category.counts_as.on(item.date) {
                CountsAs::HouseCost => house.push(*item),
                _ => parts.entry(lines(*id, item.date)).or_default().push(*item),
            }
        }
        if !house.is_empty() {
            left.house.push((*id, house));
        }
        for (line, items) in parts {
            let Some(line) = line else {
                left.without_line.push((*id, items));
                continue;
            };
            let is_meals = of.form.lines.get(line).is_some_and(|line| line.times == Some(Times::Meals));
            let meals = of.figures.meals(of.year).map(|meals| meals.percent.0);
            left.no_meals_part |= is_meals && meals.is_none();
            let part = if is_meals { meals.unwrap_or(Decimal::ZERO) } else { Decimal::ONE_HUNDRED };
            let (exact, mut share) = shared(of, *id, &items, part)?;
            if is_meals {
                let separator = if share.is_empty() { "" } else { ", then " };
                share = format!("{share}{separator}{}% of meals", part.normalize());
            }
            let amount = exact.round_to(of.digits());
            let whole = total(&items)?;
            ledger.add(line, Sum { of: SumOf::Expense(*id), name: category.named.title.clone(), amount, whole, share, items });
        }
    }
    Some(left)
}

/// The items times their business share and `part`, to six digits, and the shares in words.
fn shared(of: &BooksOfYear<'_>, id: ExpenseId, items: &[Item], part: Decimal) -> Option<(Fixed6, String)> {
    let category = of.book().expense(id);
    let mut by_share: BTreeMap<Decimal, Fixed6> = BTreeMap::new();
    for item in items {
        let sum = by_share.entry(*category.business_use.on(item.date)).or_default();
        *sum = sum.checked_add(item.amount)?;
    }
    let mut exact = Fixed6::ZERO;
    let mut words = Vec::new();
    for (share, sum) in by_share {
        let both = Percent::new(share).of_exact(part).ok()?;
        exact = exact.checked_add(Percent::new(both).of_rounded(sum, 6)?)?;
        if share != Decimal::ONE_HUNDRED {
            words.push(format!("{}% of {}", share.normalize(), of.money(sum)));
        }
    }
    Some((exact, words.join(" + ")))
}

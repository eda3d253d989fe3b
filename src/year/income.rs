//! Income and selling costs: every posting on the line of its account, on the day on which it counts.
//!
//! On the accrual basis a posting counts on its own day, or on the day it is meant for; on the cash basis as its bill is settled. Amounts stay at six
//! digits until their line is rounded.

use std::collections::BTreeMap;

use crate::costing::{Account, BillKind};
use crate::names::{Basis, ExpenseId, IncomeId};
use crate::sources::Span;
use crate::units::Fixed6;
use crate::year::Feed;
use crate::year::books::BooksOfYear;
use crate::year::ledger::{Ledger, total};
use crate::year::settled::Settled;
use crate::year::tax_year::{Item, Sum, SumOf};

/// What the postings of a year come to, by account.
#[derive(Clone, Debug, Default)]
pub(crate) struct Counted {
    pub(crate) feeds: BTreeMap<(Feed, &'static str), Vec<Item>>,
    pub(crate) expenses: BTreeMap<ExpenseId, Vec<Item>>,
    pub(crate) incomes: BTreeMap<IncomeId, Vec<Item>>,
    /// Postings that are part of a product's margin: what counts this year, and what is this year's by its date, with the sign
    /// that they have in the margin.
    pub(crate) margin_counted: Fixed6,
    pub(crate) margin_dated: Fixed6,
    /// What counts this year and is dated in another.
    pub(crate) margin_of_other_years: Fixed6,
    /// Of what counts this year in margins: goods and shipping less refunds, and what selling cost.
    pub(crate) margin_revenue: Fixed6,
    pub(crate) margin_selling: Fixed6,
    /// Paid cost of packing in those margins.
    pub(crate) packing_in_margins: Fixed6,
}

/// Where an account's money goes, and with which sign.
fn feed_of(account: Account, money: Fixed6, lowers_income: bool) -> Option<(Feed, &'static str, i128)> {
    Some(match account {
        Account::Goods => (Feed::Goods, "goods sold", 1),
        Account::ShippingCharged => (Feed::ShippingCharged, "shipping charged", 1),
        // On the cash basis a refund before the income came lowers what is still to come.
        Account::Refund if lowers_income => (Feed::Goods, "refunded before it was paid", -1),
        Account::Refund => (Feed::Refunds, "refunds and allowances", 1),
        Account::Fee => (Feed::Fees, "fees of channels", 1),
        Account::Commission => (Feed::Commission, "consignees' shares", 1),
        Account::FeeBack => (Feed::FeesBack, "fees given back", -1),
        Account::Postage => (Feed::Postage, "postage", 1),
        Account::HiredTime { employee: true, .. } => (Feed::Employees, "hired hours outside batches", 1),
        Account::HiredTime { .. } => (Feed::Contractors, "hired hours outside batches", 1),
        Account::Licence(_) => (Feed::Licences, "licences without limit", 1),
        Account::TillOver if money.is_negative() => (Feed::TillShort, "till short", -1),
        Account::TillOver => (Feed::TillOver, "till over", 1),
        Account::TaxAllowance => (Feed::TaxAllowance, "sales tax allowance kept", 1),
        Account::Income(_) | Account::Expense(_) | Account::Packing => return None,
    })
}

/// The sign of an account in a margin; `None` where it is in none.
fn margin_sign(account: Account) -> Option<i128> {
    match account {
        Account::Goods | Account::ShippingCharged | Account::FeeBack => Some(1),
        Account::Refund | Account::Fee | Account::Commission | Account::Postage => Some(-1),
        _ => None,
    }
}

const fn is_revenue(account: Account) -> bool {
    matches!(account, Account::Goods | Account::ShippingCharged | Account::Refund)
}

/// Goes through all postings. `None` on overflow.
pub(crate) fn count_postings(of: &BooksOfYear<'_>, settled: &Settled) -> Option<Counted> {
    let costed = of.costed();
    let mut counted = Counted::default();
    for (at, posting) in (0u32..).zip(&costed.postings) {
        if posting.account == Account::Packing {
            if posting.thing.is_some() && of.has(posting.date) {
                counted.packing_in_margins = counted.packing_in_margins.checked_add(posting.money)?;
            }
            continue;
        }
        let in_margin = posting.thing.and(margin_sign(posting.account));
        if let Some(sign) = in_margin.filter(|_| of.has(posting.date)) {
            counted.margin_dated = counted.margin_dated.checked_add(posting.money.checked_mul_int(sign)?)?;
        }
        let is_cash = *of.book().shop.basis.on(posting.date) == Basis::Cash;
        for part in settled.posting(costed, at).into_iter().filter(|part| of.has(part.date)) {
            let item = |sign| {
                let amount = part.amount.checked_mul_int(sign)?;
                Some(Item { date: part.date, amount, event: Some(posting.event), span: posting.line })
            };
            if let Some(sign) = in_margin {
                let amount = part.amount.checked_mul_int(sign)?;
                counted.margin_counted = counted.margin_counted.checked_add(amount)?;
                if is_revenue(posting.account) {
                    counted.margin_revenue = counted.margin_revenue.checked_add(amount)?;
                } else {
                    counted.margin_selling = counted.margin_selling.checked_sub(amount)?;
                }
                if !of.has(posting.date) {
                    counted.margin_of_other_years = counted.margin_of_other_years.checked_add(amount)?;
                }
            }
            match posting.account {
                Account::Expense(id) => counted.expenses.entry(id).or_default().push(item(1)?),
                Account::Income(id) => counted.incomes.entry(id).or_default().push(item(1)?),
                account => {
                    let lowers_income = is_cash && settled.by_its_bill(at);
                    if let Some((feed, name, sign)) = feed_of(account, posting.money, lowers_income) {
                        counted.feeds.entry((feed, name)).or_default().push(item(sign)?);
                    }
                }
            }
        }
    }
    count_before_the_book(of, &mut counted)?;
    count_unused_deposits(of, &mut counted)?;
    Some(counted)
}

/// Received for sales from before the book, on the cash basis: income of this year.
fn count_before_the_book(of: &BooksOfYear<'_>, counted: &mut Counted) -> Option<()> {
    for bill in of.costed().bills.iter().filter(|bill| bill.opened && bill.kind == BillKind::OwedToUs) {
        if *of.book().shop.basis.on(bill.date) != Basis::Cash {
            continue;
        }
        for (date, amount) in bill.paid.iter().filter(|paid| of.has(paid.0)) {
            let item = Item { date: *date, amount: *amount, event: Some(bill.event), span: bill.line };
            counted.feeds.entry((Feed::OwedBefore, "owed when the book began")).or_default().push(item);
        }
    }
    Some(())
}

/// Deposits whose sale has not come: on the cash basis what the buyer paid is income, the channel's fee on it a cost, and what is
/// handed back a refund of that day.
fn count_unused_deposits(of: &BooksOfYear<'_>, counted: &mut Counted) -> Option<()> {
    let unused = of.costed().deposits.iter().filter(|deposit| !deposit.used);
    for deposit in unused.filter(|deposit| *of.book().shop.basis.on(deposit.date) == Basis::Cash) {
        let amount = deposit.from_buyer()?;
        if of.has(deposit.date) {
            let item = Item { date: deposit.date, amount, event: Some(deposit.event), span: deposit.line };
            counted.feeds.entry((Feed::Goods, "deposits before the sale")).or_default().push(item);
        }
        if let Some(back) = deposit.handed_back.filter(|back| of.has(back.date)) {
            let item = Item { date: back.date, amount, event: Some(back.event), span: back.line };
            counted.feeds.entry((Feed::Refunds, "deposits handed back")).or_default().push(item);
        }
    }
    Some(())
}

/// Puts the feeds and the incomes on their lines. Gives the incomes without a line. `None` on overflow.
pub(crate) fn fill_income(
    of: &BooksOfYear<'_>,
    counted: &Counted,
    lines: impl Fn(IncomeId, chrono::NaiveDate) -> Option<usize>,
    ledger: &mut Ledger,
) -> Option<Vec<(IncomeId, Vec<Span>)>> {
    for ((feed, name), items) in &counted.feeds {
        ledger.feed(of, *feed, name, items.clone())?;
    }
    let mut without = Vec::new();
    for (id, items) in &counted.incomes {
        let mut by_line: BTreeMap<Option<usize>, Vec<Item>> = BTreeMap::new();
        for item in items {
            by_line.entry(lines(*id, item.date)).or_default().push(*item);
        }
        for (line, items) in by_line {
            let Some(line) = line else {
                without.push((*id, items.iter().map(|item| item.span).collect()));
                continue;
            };
            let amount = total(&items)?;
            let name = of.book().income(*id).named.title.clone();
            ledger.add(line, Sum { of: SumOf::Income(*id), name, amount, whole: amount, share: String::new(), items });
        }
    }
    Some(without)
}

//! When a sum counts: on its own day, or on the days on which it is settled.
//!
//! Accrual: the day of the entry, or the later day for which it was paid ahead. Cash: income on the earlier of `available` and paid, an expense when paid. Which of the two
//! holds is the basis in force on the entry's own day, so that a change of basis leaves nothing out and counts nothing twice.

use chrono::NaiveDate;
use rustc_hash::FxHashMap;
use smallvec::smallvec;

use crate::costing::{Account, Bill, BillKind, CostedBook, Deposit, TaxFlow};
use crate::names::Basis;
use crate::units::Fixed6;
use crate::year::bill_split::{Owed, Part, Parts, Payment, settle};
use crate::year::books::Books;
use crate::year::goods::came_in::{CameAs, came_in};

/// Something that a bill settles.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum Claim {
    Posting(u32),
    CameIn(u32, CameAs),
    Tool(u32),
    /// Sales tax, what is not the shop's, and whatever else is on the bill but in no account.
    Other,
}

/// When each sum of a book counts.
#[derive(Clone, Debug, Default)]
pub(crate) struct Settled {
    billed: FxHashMap<Claim, Parts>,
}

impl Settled {
    /// Goes through all bills. `None` on overflow.
    pub(crate) fn of(books: Books<'_>) -> Option<Self> {
        let costed = books.costed;
        let is_cash = |day| *books.book.shop.basis.on(day) == Basis::Cash;
        let mut claims: Vec<Vec<(Claim, Owed)>> = vec![Vec::new(); costed.bills.len()];
        let mut claim = |bill: Option<u32>, claim: Claim, owed: Owed| {
            if let Some(on_bill) = bill.and_then(|bill| claims.get_mut(bill as usize)) {
                on_bill.push((claim, owed));
            }
        };
        let mut given_back = vec![Fixed6::ZERO; costed.bills.len()];
        for (at, posting) in (0u32..).zip(&costed.postings) {
            if posting.account == Account::Packing {
                continue;
            }
            let owed = Owed::of_account(posting.account, posting.money, posting.date)?;
            let reverses = matches!(posting.account, Account::Refund | Account::FeeBack) || posting.money.is_negative();
            match posting.bill.filter(|bill| reverses && could_be_had_before(costed, *bill, posting.date)) {
                Some(bill) => owed.take_off(&mut given_back, bill)?,
                None => claim(posting.bill, Claim::Posting(at), owed),
            }
        }
        for (at, movement) in (0u32..).zip(&costed.movements) {
            if movement.bill.is_some() && movement.flow.comes_in() {
                for (came_as, amount) in came_in(movement)? {
                    let of = Some((movement.thing, movement.batch, came_as));
                    claim(movement.bill, Claim::CameIn(at, came_as), Owed { of, ..Owed::of_cost(amount, movement.date)? });
                }
            }
        }
        for (at, tool) in (0u32..).zip(&costed.tools) {
            claim(tool.bill, Claim::Tool(at), Owed::of_cost(tool.cost, tool.date)?);
        }
        for tax in costed.taxes.iter().filter(|tax| matches!(tax.flow, TaxFlow::Collected | TaxFlow::Refunded)) {
            let adds = tax.flow == TaxFlow::Collected;
            let owed = Owed { adds, rank: 2, open: tax.money, sign: 1, since: tax.date, of: None };
            match tax.bill.filter(|bill| !adds && could_be_had_before(costed, *bill, tax.date)) {
                Some(bill) => owed.take_off(&mut given_back, bill)?,
                None => claim(tax.bill, Claim::Other, owed),
            }
        }
        let mut billed = FxHashMap::default();
        for (at, posting) in (0u32..).zip(&costed.postings) {
            if posting.belongs_to() > posting.date && !is_cash(posting.date) {
                billed.insert(Claim::Posting(at), smallvec![Part { date: posting.belongs_to(), amount: posting.money }]);
            }
        }
        let mut deposits = costed.deposits.iter().filter(|deposit| deposit.used).map(Some).collect::<Vec<_>>();
        for ((bill, on_bill), given_back) in costed.bills.iter().zip(claims).zip(given_back) {
            let ahead_on_cash = |day: NaiveDate| bill.kind == BillKind::OwedToUs && day < bill.date && is_cash(day);
            if on_bill.is_empty() || !is_cash(bill.date) && !bill.paid.iter().any(|(day, _)| ahead_on_cash(*day)) {
                continue;
            }
            let total = bill.total.checked_add(given_back)?;
            let payments = payments(bill, total, &mut deposits)?;
            let owed: Vec<Owed> = on_bill.iter().map(|(_, owed)| *owed).collect();
            for ((claim, owed), parts) in on_bill.iter().zip(settle(owed, total, bill.date, &payments)?) {
                let parts = match is_cash(bill.date) {
                    true => not_ahead_of_cash(parts, bill, is_cash),
                    false => owed.ahead_and_the_rest(parts, ahead_on_cash)?,
                };
                if *claim != Claim::Other {
                    let signed = parts
                        .into_iter()
                        .map(|part| Some(Part { date: part.date, amount: part.amount.checked_mul_int(owed.sign)? }));
                    billed.insert(*claim, signed.collect::<Option<Parts>>()?);
                }
            }
        }
        Some(Self { billed })
    }

    /// Whether a posting counts as its bill is settled, and not on a day of its own.
    pub(crate) fn by_its_bill(&self, at: u32) -> bool {
        self.billed.contains_key(&Claim::Posting(at))
    }

    fn parts(&self, claim: Claim, date: NaiveDate, amount: Fixed6) -> Parts {
        self.billed.get(&claim).cloned().unwrap_or_else(|| smallvec![Part { date, amount }])
    }

    /// When a posting counts; what is not settled yet is in no part.
    pub(crate) fn posting(&self, costed: &CostedBook, at: u32) -> Parts {
        costed
            .postings
            .get(at as usize)
            .map_or_else(Parts::new, |posting| self.parts(Claim::Posting(at), posting.date, posting.money))
    }

    /// When a component of a movement counts, whether or not the goods are here by then.
    pub(crate) fn came_in(&self, at: u32, came_as: CameAs, date: NaiveDate, amount: Fixed6) -> Parts {
        self.parts(Claim::CameIn(at, came_as), date, amount)
    }

    /// When a tool's cost is paid.
    pub(crate) fn tool(&self, costed: &CostedBook, at: u32) -> Parts {
        costed.tools.get(at as usize).map_or_else(Parts::new, |tool| self.parts(Claim::Tool(at), tool.date, tool.cost))
    }
}

/// Whether what a sale brought could be had before a day: it was income by then, and what is given back later counts on its own day.
fn could_be_had_before(costed: &CostedBook, bill: u32, day: NaiveDate) -> bool {
    let bill = costed.bills.get(bill as usize).filter(|bill| bill.kind == BillKind::OwedToUs);
    bill.is_some_and(|bill| bill.available.is_some_and(|available| available.max(bill.date) < day))
}

/// A deposit of a day of the accrual basis was no income: of a sale on the cash basis, its part counts with the sale.
fn not_ahead_of_cash(mut parts: Parts, bill: &Bill, is_cash: impl Fn(NaiveDate) -> bool) -> Parts {
    for part in parts.iter_mut().filter(|part| bill.kind == BillKind::OwedToUs && !is_cash(part.date)) {
        part.date = part.date.max(bill.date);
    }
    parts
}

/// A bill's payments; `total` is what it came to when its money could be had. A deposit is taken off the list of those not found yet.
fn payments(bill: &Bill, total: Fixed6, deposits: &mut [Option<&Deposit>]) -> Option<Vec<Payment>> {
    let mut payments = Vec::with_capacity(bill.paid.len());
    for (date, money) in &bill.paid {
        let deposit = deposits.iter_mut().find(|deposit| {
            deposit.is_some_and(|one| Some(one.order) == bill.reference && (one.date, one.money) == (*date, *money))
        });
        let deposit = if bill.kind == BillKind::OwedToUs { deposit.and_then(Option::take) } else { None };
        payments.push(Payment { date: *date, money: *money, deposit_fee: deposit.map(|deposit| deposit.fee) });
    }
    if let Some(available) = bill.available.filter(|_| bill.kind == BillKind::OwedToUs) {
        payments.retain(|payment| payment.date < available);
        let paid_before = Fixed6::checked_sum(payments.iter().map(|payment| payment.money))?;
        payments.push(Payment { date: available, money: total.checked_sub(paid_before)?, deposit_fee: None });
    }
    payments.sort_by_key(|payment| payment.date);
    Some(payments)
}

//! A bill's payments, split over what the bill holds.
//!
//! A part payment is split in proportion to what is open, by largest remainder; money that came before the sale settles goods first, then
//! shipping, then tax. What lowers a bill (fees, shares, refunds, goods sent back) takes its share of each payment along.

use chrono::NaiveDate;
use smallvec::SmallVec;

use crate::costing::Account;
use crate::names::{BatchId, ThingId};
use crate::units::{Fixed6, Weights, mul_div_round};
use crate::year::goods::came_in::CameAs;

/// A part of a sum, and the day on which it counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Part {
    pub(crate) date: NaiveDate,
    pub(crate) amount: Fixed6,
}

pub(crate) type Parts = SmallVec<[Part; 1]>;

/// Money that settles a bill, on the day on which it counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Payment {
    pub(super) date: NaiveDate,
    pub(super) money: Fixed6,
    /// A channel's fee that was fixed when a deposit came: what the buyer paid is that much more.
    pub(super) deposit_fee: Option<Fixed6>,
}

/// What of a bill is open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Owed {
    /// Whether it raises the bill; fees, shares, refunds and goods sent back lower it.
    pub(super) adds: bool,
    /// In what order a deposit settles it: goods, shipping, tax.
    pub(super) rank: u8,
    /// How much is open, never below zero.
    pub(super) open: Fixed6,
    /// Its sign in its own account.
    pub(super) sign: i128,
    /// From when it is on the bill.
    pub(super) since: NaiveDate,
    /// The goods whose cost it is.
    pub(super) of: Option<OfGoods>,
}

/// Goods on a bill, and a component of their cost.
pub(super) type OfGoods = (Option<ThingId>, Option<BatchId>, CameAs);

impl Owed {
    pub(super) fn of_account(account: Account, money: Fixed6, since: NaiveDate) -> Option<Self> {
        let lowers = matches!(account, Account::Fee | Account::Commission | Account::Refund);
        let rank = u8::from(account == Account::ShippingCharged);
        let sign = if money.is_negative() { -1 } else { 1 };
        Some(Self { adds: lowers == money.is_negative(), rank, open: money.checked_mul_int(sign)?, sign, since, of: None })
    }

    /// Remembers by how much a bill was lowered that it is not on.
    pub(super) fn take_off(self, lowered: &mut [Fixed6], bill: u32) -> Option<()> {
        let lowered = lowered.get_mut(bill as usize)?;
        *lowered = if self.adds { lowered.checked_sub(self.open)? } else { lowered.checked_add(self.open)? };
        Some(())
    }

    /// Of a sale on the accrual basis: what came ahead of it on the cash basis was income then, and the rest counts on its own day.
    pub(super) fn ahead_and_the_rest(&self, mut parts: Parts, ahead_on_cash: impl Fn(NaiveDate) -> bool) -> Option<Parts> {
        parts.retain(|part| ahead_on_cash(part.date));
        let rest = self.open.checked_sub(Fixed6::checked_sum(parts.iter().map(|part| part.amount))?)?;
        if !rest.is_zero() {
            parts.push(Part { date: self.since, amount: rest });
        }
        Some(parts)
    }

    pub(super) fn of_cost(amount: Fixed6, since: NaiveDate) -> Option<Self> {
        let sign = if amount.is_negative() { -1 } else { 1 };
        Some(Self { adds: sign > 0, rank: 0, open: amount.checked_mul_int(sign)?, sign, since, of: None })
    }
}

/// A bill while its payments are split over what it holds.
struct Splitting {
    owed: Vec<Owed>,
    parts: Vec<Parts>,
}

/// Splits a bill's payments over what it holds. Gives the parts of each, in the order of `owed`.
pub(super) fn settle(mut owed: Vec<Owed>, total: Fixed6, day: NaiveDate, payments: &[Payment]) -> Option<Vec<Parts>> {
    let known = owed.len();
    let sum = |adds: bool| Fixed6::checked_sum(owed.iter().filter(|one| one.adds == adds).map(|one| one.open));
    let rest = total.checked_sub(sum(true)?.checked_sub(sum(false)?)?)?;
    let mut payments = payments.to_vec();
    if rest.is_positive() {
        // What is not the shop's, or in no account.
        owed.push(Owed { adds: true, rank: 2, open: rest, sign: 1, since: day, of: None });
    } else if rest.is_negative() {
        // Settled otherwise on the bill's own day: by a supplier's credit.
        let at = payments.partition_point(|payment| payment.date < day);
        payments.insert(at, Payment { date: day, money: rest.checked_neg()?, deposit_fee: None });
    }
    let parts = vec![Parts::new(); owed.len()];
    let mut bill = Splitting { owed, parts };
    for payment in payments {
        bill.take_back(Some(payment.date.max(day)))?;
        bill.pay(payment, day)?;
    }
    bill.take_back(None)?;
    bill.parts.truncate(known);
    Some(bill.parts)
}

impl Splitting {
    fn open(&self, wanted: impl Fn(&Owed) -> bool) -> Option<Fixed6> {
        Fixed6::checked_sum(self.owed.iter().filter(|one| wanted(one)).map(|one| one.open))
    }

    /// Goods that went back, and credits on goods, by a day: where more of some went back than is open of them, since a part was paid before,
    /// that much is settled on its own day against what is open of the rest of the bill. So of no goods less than nothing is unpaid.
    fn take_back(&mut self, by: Option<NaiveDate>) -> Option<()> {
        let here = |one: &Owed| by.is_none_or(|by| one.since <= by);
        let is_back = |one: &Owed| !one.adds && one.of.is_some() && one.open.is_positive();
        let mut back: Vec<usize> = (0..self.owed.len()).collect();
        back.retain(|at| self.owed.get(*at).is_some_and(|one| is_back(one) && here(one)));
        back.sort_by_key(|at| self.owed.get(*at).map(|one| one.since));
        for at in back {
            let one = *self.owed.get(at)?;
            let same = |other: &Owed| other.of == one.of && other.since <= one.since;
            let beyond =
                self.open(|other| same(other) && !other.adds)?.checked_sub(self.open(|other| same(other) && other.adds)?)?;
            let mut left = beyond.min(one.open);
            // Other goods of which some went back are the last to be lowered.
            let went_back: Vec<Option<OfGoods>> = self.owed.iter().filter(|other| is_back(other)).map(|other| other.of).collect();
            for also_these in [false, true] {
                let others = |other: &Owed| {
                    other.adds && other.since <= one.since && other.of != one.of && (also_these || !went_back.contains(&other.of))
                };
                let taken = left.min(self.open(others)?);
                if !taken.is_positive() {
                    continue;
                }
                self.pay_in_proportion(one.since, taken, others)?;
                left = left.checked_sub(taken)?;
                let (owed, parts) = (self.owed.get_mut(at)?, self.parts.get_mut(at)?);
                owed.open = owed.open.checked_sub(taken)?;
                parts.push(Part { date: one.since, amount: taken });
            }
        }
        Some(())
    }

    fn pay(&mut self, payment: Payment, day: NaiveDate) -> Option<()> {
        let by = payment.date.max(day);
        let here = |one: &Owed| one.since <= by;
        let lowers = self.open(|one| here(one) && !one.adds)?;
        let open = self.open(|one| here(one) && one.adds)?.checked_sub(lowers)?;
        let money = payment.money.min(open);
        if !money.is_positive() {
            return Some(());
        }
        if let Some(fee) = payment.deposit_fee {
            // The fee itself counted on the deposit's day, and moves to the order's lines on the day of the sale.
            self.pay_by_rank(payment.date, money.checked_add(fee)?)?;
            return self.pay_in_proportion(by, fee, |one| here(one) && !one.adds);
        }
        // A payment takes its share of fees and refunds along.
        let taken = match money == open {
            true => lowers,
            false => Fixed6::from_micros(mul_div_round(lowers.micros(), money.micros(), open.micros())?),
        };
        let given = money.checked_add(taken)?;
        if payment.date < day {
            self.pay_by_rank(payment.date, given)?;
        } else {
            self.pay_in_proportion(payment.date, given, |one| here(one) && one.adds)?;
        }
        self.pay_in_proportion(payment.date, taken, |one| here(one) && !one.adds)
    }

    fn pay_by_rank(&mut self, date: NaiveDate, money: Fixed6) -> Option<()> {
        let mut left = money;
        for rank in 0..=2 {
            let of_rank = |one: &Owed| one.adds && one.rank == rank;
            let now = left.min(self.open(of_rank)?);
            self.pay_in_proportion(date, now, of_rank)?;
            left = left.checked_sub(now)?;
        }
        Some(())
    }

    fn pay_in_proportion(&mut self, date: NaiveDate, money: Fixed6, wanted: impl Fn(&Owed) -> bool) -> Option<()> {
        let chosen: Vec<usize> = self.owed.iter().enumerate().filter(|(_, one)| wanted(one)).map(|(at, _)| at).collect();
        let open: Vec<Fixed6> = chosen.iter().filter_map(|at| self.owed.get(*at)).map(|one| one.open).collect();
        if !money.is_positive() || !open.iter().any(|one| one.is_positive()) {
            return Some(());
        }
        let mut shares = Vec::with_capacity(open.len());
        Weights::from_amounts(&open).ok()?.split(money, &mut shares).ok()?;
        for (at, share) in chosen.into_iter().zip(shares) {
            let (one, part) = (self.owed.get_mut(at)?, self.parts.get_mut(at)?);
            one.open = one.open.checked_sub(share)?;
            if !share.is_zero() {
                part.push(Part { date, amount: share });
            }
        }
        Some(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn amount(text: &str) -> Fixed6 {
        Fixed6::from_decimal_exact(text.parse().expect("a decimal")).expect("six digits")
    }

    fn day(text: &str) -> NaiveDate {
        text.parse().expect("a day")
    }

    fn cost(text: &str) -> Owed {
        Owed::of_cost(amount(text), day("2026-03-01")).expect("fits")
    }

    fn of(account: Account, text: &str, since: &str) -> Owed {
        Owed::of_account(account, amount(text), day(since)).expect("fits")
    }

    fn paid(date: &str, money: &str) -> Payment {
        Payment { date: day(date), money: amount(money), deposit_fee: None }
    }

    fn shown(parts: &[Parts]) -> Vec<Vec<String>> {
        parts.iter().map(|parts| parts.iter().map(|part| format!("{} {}", part.date, part.amount)).collect()).collect()
    }

    #[test]
    fn a_part_payment_is_split_over_the_lines_in_proportion() {
        let payments = [paid("2026-12-20", "50"), paid("2027-01-10", "50")];
        let parts = settle(vec![cost("60"), cost("40")], amount("100"), day("2026-12-20"), &payments).expect("fits");
        assert_eq!(shown(&parts), [["2026-12-20 30", "2027-01-10 30"], ["2026-12-20 20", "2027-01-10 20"]]);
    }

    #[test]
    fn the_parts_of_a_line_sum_to_the_line_whatever_the_payments() {
        let payments = [paid("2026-05-01", "33.33"), paid("2026-06-01", "33.33"), paid("2026-07-01", "33.35")];
        let owed = vec![cost("33.333333"), cost("33.333333"), cost("33.343334")];
        let parts = settle(owed.clone(), amount("100.01"), day("2026-05-01"), &payments).expect("fits");
        for (owed, parts) in owed.iter().zip(&parts) {
            assert_eq!(Fixed6::checked_sum(parts.iter().map(|part| part.amount)), Some(owed.open));
        }
        for payment in payments {
            let of_day = parts.iter().flatten().filter(|part| part.date == payment.date).map(|part| part.amount);
            assert_eq!(Fixed6::checked_sum(of_day), Some(payment.money));
        }
    }

    #[test]
    fn what_is_not_the_shop_s_takes_its_part_of_a_payment() {
        // A bill of 80 holds 60 of the shop's and 20 for home; half of it is paid.
        let parts = settle(vec![cost("60")], amount("80"), day("2026-03-01"), &[paid("2026-03-05", "40")]).expect("fits");
        assert_eq!(shown(&parts), [["2026-03-05 30"]]);
    }

    #[test]
    fn a_payout_takes_its_share_of_the_fees_along() {
        let owed = vec![of(Account::Goods, "100", "2026-12-28"), of(Account::Fee, "10", "2026-12-28")];
        let payments = [paid("2026-12-30", "45"), paid("2027-01-04", "45")];
        let parts = settle(owed, amount("90"), day("2026-12-28"), &payments).expect("fits");
        assert_eq!(shown(&parts), [["2026-12-30 50", "2027-01-04 50"], ["2026-12-30 5", "2027-01-04 5"]]);
    }

    #[test]
    fn a_refund_of_january_moves_nothing_of_december_s_payout() {
        let owed = vec![
            of(Account::Goods, "100", "2026-12-28"),
            of(Account::Fee, "10", "2026-12-28"),
            of(Account::Refund, "20", "2027-01-02"),
        ];
        let payments = [paid("2026-12-30", "45"), paid("2027-01-04", "25")];
        let parts = settle(owed, amount("70"), day("2026-12-28"), &payments).expect("fits");
        assert_eq!(
            shown(&parts),
            [vec!["2026-12-30 50", "2027-01-04 50"], vec!["2026-12-30 5", "2027-01-04 5"], vec!["2027-01-04 20"],]
        );
    }

    #[test]
    fn a_deposit_settles_goods_first_then_shipping_then_tax() {
        let owed = vec![of(Account::ShippingCharged, "10", "2026-05-02"), of(Account::Goods, "60", "2026-05-02")];
        let payments = [paid("2026-04-18", "65"), paid("2026-05-02", "9")];
        // Four of tax stand on the bill beside them.
        let parts = settle(owed, amount("74"), day("2026-05-02"), &payments).expect("fits");
        assert_eq!(shown(&parts), [vec!["2026-04-18 5", "2026-05-02 5"], vec!["2026-04-18 60"]]);
    }

    #[test]
    fn a_fee_fixed_by_a_deposit_moves_to_the_lines_on_the_day_of_the_sale() {
        let owed = vec![of(Account::Goods, "100", "2027-01-10"), of(Account::Fee, "4", "2027-01-10")];
        let deposit = Payment { date: day("2026-12-18"), money: amount("48.50"), deposit_fee: Some(amount("1.50")) };
        let parts = settle(owed, amount("96"), day("2027-01-10"), &[deposit, paid("2027-01-10", "47.50")]).expect("fits");
        assert_eq!(shown(&parts), [["2026-12-18 50", "2027-01-10 50"], ["2027-01-10 1.5", "2027-01-10 2.5"]]);
    }

    #[test]
    fn what_a_credit_settled_counts_on_the_bill_s_own_day() {
        let parts = settle(vec![cost("50")], amount("27.10"), day("2026-03-25"), &[paid("2027-02-01", "27.10")]);
        assert_eq!(shown(&parts.expect("fits")), [["2026-03-25 22.9", "2027-02-01 27.1"]]);
    }

    #[test]
    fn goods_sent_back_lower_what_is_still_to_be_paid() {
        let of = Some((None, None, CameAs::Materials));
        let bought = Owed { of, ..cost("100") };
        let back = Owed { of, ..Owed::of_cost(amount("-20"), day("2026-03-10")).expect("fits") };
        let parts = settle(vec![bought, back], amount("80"), day("2026-03-01"), &[paid("2026-04-01", "80")]).expect("fits");
        assert_eq!(shown(&parts), [["2026-04-01 100"], ["2026-04-01 20"]]);
    }

    #[test]
    fn goods_sent_back_of_which_more_was_paid_than_is_left_of_them_lower_the_rest_of_the_bill() {
        // Half of a bill of 10 and 30 is paid: 5 and 15. Of the first 8 go back: 5 of these were open, and 3 come off what is open of the other. In
        // January the rest is paid, 12; what is still open of both the goods and what went back of them goes along.
        let goods = |freight: bool| Some((None, None, if freight { CameAs::Freight } else { CameAs::Materials }));
        let owed = vec![
            Owed { of: goods(false), ..cost("10") },
            Owed { of: goods(true), ..cost("30") },
            Owed { of: goods(false), ..Owed::of_cost(amount("-8"), day("2026-03-10")).expect("fits") },
        ];
        let payments = [paid("2026-03-02", "20"), paid("2027-01-02", "12")];
        let parts = settle(owed, amount("32"), day("2026-03-01"), &payments).expect("fits");
        assert_eq!(
            shown(&parts),
            [
                vec!["2026-03-02 5", "2027-01-02 5"],
                vec!["2026-03-02 15", "2026-03-10 3", "2027-01-02 12"],
                vec!["2026-03-10 3", "2027-01-02 5"]
            ]
        );
    }
}

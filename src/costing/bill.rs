//! Bills and deposits: what is owed to the shop or by it, and when it was settled; what came before its sale.

use chrono::NaiveDate;

use crate::costing::ledger::Now;
use crate::names::{ChannelId, LabelId, PatternId};
use crate::sources::Span;
use crate::units::Fixed6;

/// Who owes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum BillKind {
    OwedByUs,
    OwedToUs,
}

/// What is owed, and when it was settled.
#[derive(Clone, Debug, PartialEq)]
pub struct Bill {
    /// Who owes.
    pub kind: BillKind,
    /// Supplier, payee, helper, or the buyer whom the sale names.
    pub party: Option<LabelId>,
    /// The pattern whose royalty is owed.
    pub pattern: Option<PatternId>,
    /// The channel of a sale.
    pub channel: Option<ChannelId>,
    /// Receipt or order.
    pub reference: Option<LabelId>,
    /// The day it arose.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The entry's head.
    pub line: Span,
    /// What was owed at first, less what it was lowered by.
    pub total: Fixed6,
    /// By how much it was lowered, and when: refunds, goods sent back, credits.
    pub lowered: Vec<(NaiveDate, Fixed6)>,
    /// What was paid, and when (in the order of the days). Fees and shares kept by a channel count with the payment they are taken from.
    pub paid: Vec<(NaiveDate, Fixed6)>,
    /// From when the money could be had.
    pub available: Option<NaiveDate>,
    /// Whether it was owed before the book began.
    pub opened: bool,
}

impl Bill {
    /// Something that is owed from now on, and of which nothing is paid: by or to nobody who is named, until it is said.
    pub(crate) fn new(kind: BillKind, now: Now, total: Fixed6) -> Self {
        Self {
            kind,
            party: None,
            pattern: None,
            channel: None,
            reference: None,
            date: now.date,
            event: now.event,
            line: now.head,
            total,
            lowered: Vec::new(),
            paid: Vec::new(),
            available: None,
            opened: false,
        }
    }

    /// Lowers it on a day. `None` on overflow.
    pub(crate) fn lower(&mut self, day: NaiveDate, money: Fixed6) -> Option<()> {
        self.total = self.total.checked_sub(money)?;
        self.lowered.push((day, money));
        Some(())
    }

    /// What it came to by the end of a day: what lowered it later left it as it was. `None` on overflow.
    #[must_use]
    pub fn total_on(&self, day: NaiveDate) -> Option<Fixed6> {
        let later = self.lowered.iter().filter(|(lowered_on, _)| *lowered_on > day).map(|(_, money)| *money);
        self.total.checked_add(Fixed6::checked_sum(later)?)
    }

    /// What is still owed after all payments up to a day. `None` on overflow.
    #[must_use]
    pub fn open_on(&self, day: NaiveDate) -> Option<Fixed6> {
        let mut open = self.total_on(day)?;
        for (paid_on, money) in &self.paid {
            if *paid_on <= day {
                open = open.checked_sub(*money)?;
            }
        }
        Some(open)
    }
}

/// Money that came before its order's sale.
#[derive(Clone, Debug, PartialEq)]
pub struct Deposit {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The line.
    pub line: Span,
    /// The order.
    pub order: LabelId,
    /// What reached the shop.
    pub money: Fixed6,
    /// The channel's fee on it, where it came `via` a channel.
    pub fee: Fixed6,
    /// Whether the sale has come by now (its bill then holds the payment).
    pub used: bool,
    /// Where it was handed back to the buyer.
    pub handed_back: Option<HandedBack>,
}

impl Deposit {
    /// What the buyer paid: what reached the shop and the channel's fee. `None` on overflow.
    #[must_use]
    pub fn from_buyer(&self) -> Option<Fixed6> {
        self.money.checked_add(self.fee)
    }
}

/// How a deposit was handed back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HandedBack {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The line.
    pub line: Span,
}

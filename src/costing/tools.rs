//! Tools that come and leave.
//!
//! How the cost of a tool is recovered is the year's matter; here it comes, each of a line's tools with its own part of the line's
//! cost, and leaves, on its day, for what it fetched.

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::fault::{Costed, OrFault};
use crate::costing::{ToolAccount, ToolCame};
use crate::names::ToolId;
use crate::sources::Span;
use crate::units::{Fixed6, mul_div_round};

/// Of a line with more tools than this, one account holds all of them.
const MOST_APART: u32 = 1_000;

/// Tools of one line that come to the shop.
#[derive(Clone, Copy, Debug)]
pub(crate) struct NewTools {
    pub(crate) tool: ToolId,
    pub(crate) count: Decimal,
    /// Of all of them.
    pub(crate) cost: Fixed6,
    /// Of that, recovered before the book began.
    pub(crate) recovered: Fixed6,
    pub(crate) came: ToolCame,
    pub(crate) bill: Option<u32>,
    pub(crate) line: Span,
}

impl ToolAccount {
    /// From when it is in use, by what its definition says: a tool that came later than that, from the day it came. One that was there
    /// when the book began may be in use for longer.
    #[must_use]
    pub fn in_use_from(&self, said: Option<NaiveDate>) -> NaiveDate {
        match (said, self.came) {
            (None, _) => self.date,
            (Some(said), ToolCame::Opened) => said,
            (Some(said), _) => said.max(self.date),
        }
    }

    /// This tool's part of an amount of its whole line, to as many digits; the parts of a line sum to it, so that its last tool may
    /// have more digits, where the amount has. `None` on overflow.
    #[must_use]
    pub fn part_of(&self, whole: Fixed6, digits: u32) -> Option<Fixed6> {
        part_of(whole, self.of_line, digits)
    }
}

fn part_of(whole: Fixed6, (nth, of): (u32, u32), digits: u32) -> Option<Fixed6> {
    let up_to = |nth: u32| match nth == of {
        true => Some(whole),
        false => Some(Fixed6::from_micros(mul_div_round(whole.micros(), nth.into(), of.into())?).round_to(digits)),
    };
    up_to(nth.checked_add(1)?)?.checked_sub(up_to(nth)?)
}

impl Engine<'_> {
    /// Takes in the tools of a line, each with its own part of the cost, so that each can leave alone.
    pub(crate) fn keep_tools(&mut self, new: NewTools) -> Costed<()> {
        let whole = if new.count.is_integer() { new.count.to_u32() } else { None };
        let (accounts, each) = match whole.filter(|count| (1..=MOST_APART).contains(count)) {
            Some(count) => (count, Decimal::ONE),
            None => (1, new.count),
        };
        let digits = self.book.shop.currency.digits();
        for nth in 0..accounts {
            let of_line = (nth, accounts);
            self.tools.push(ToolAccount {
                tool: new.tool,
                date: self.now.date,
                event: self.now.event,
                line: new.line,
                count: each,
                of_line,
                cost: part_of(new.cost, of_line, digits).or_fault()?,
                already_recovered: part_of(new.recovered, of_line, digits).or_fault()?,
                came: new.came,
                bill: new.bill,
                retired: None,
            });
        }
        Ok(())
    }

    /// Retires the oldest tool of that name that is still there.
    pub(crate) fn cost_retired(&mut self, tool: ToolId, proceeds: Fixed6, line: Span) {
        let date = self.now.date;
        match self.tools.iter_mut().find(|account| account.tool == tool && account.retired.is_none()) {
            Some(account) => account.retired = Some((date, proceeds)),
            None => {
                let told = errors::no_such_tool_left(self, tool, line);
                self.found.push(told);
            }
        }
    }
}

//! What is short and was made in the shop, of which no recipe says how: its last batch says what it cost.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::expected::{amounts, plus};
use crate::costing::{Amounts, CostedBook};
use crate::events::Output;
use crate::names::{BatchId, ThingId};
use crate::sources::Span;

/// The pieces that a batch made last of a thing.
#[derive(Clone, Copy, Debug)]
pub(crate) struct MadeHere {
    pub(crate) batch: BatchId,
    pub(crate) date: NaiveDate,
    pub(crate) quantity: Decimal,
    /// Freight among the materials.
    pub(crate) amounts: Amounts,
    pub(crate) line: Span,
}

/// Something to make without a recipe.
#[derive(Clone, Copy, Debug)]
pub(crate) struct ToMake {
    pub(crate) thing: ThingId,
    pub(crate) short: Decimal,
    pub(crate) last: MadeHere,
}

/// What the last batch that made a thing made of it in all; nothing where none did. The outer `None` is overflow.
pub(super) fn made_here(costed: &CostedBook, thing: ThingId) -> Option<Option<MadeHere>> {
    let mut last: Option<(u32, MadeHere)> = None;
    for account in &costed.batches {
        let mut of_batch: Option<(u32, MadeHere)> = None;
        for item in &account.outputs {
            if item.what != Output::Thing(thing) || item.quantity <= Decimal::ZERO {
                continue;
            }
            let (quantity, sum) = of_batch.map_or_else(Default::default, |(_, one)| (one.quantity, one.amounts));
            let made = MadeHere {
                batch: account.batch,
                date: item.date,
                quantity: plus(quantity, item.quantity)?,
                amounts: sum.plus(&amounts(&item.vector)?)?,
                line: item.line,
            };
            of_batch = Some((item.event, made));
        }
        if let Some((event, made)) = of_batch
            && last.is_none_or(|(before, _)| before <= event)
        {
            last = Some((event, made));
        }
    }
    Some(last.map(|(_, made)| made))
}

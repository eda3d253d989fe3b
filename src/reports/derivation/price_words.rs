//! A price's figures in words, and why there is none.

use super::price_figure::Here;
use crate::reports::PriceColumn;

pub(super) fn why_none(here: &Here<'_, '_>, column: PriceColumn) -> &'static str {
    match column {
        PriceColumn::LeastForMargin => {
            "no margin is wanted, or no price leaves so much: `+margin_30%` behind its name asks for one"
        }
        PriceColumn::BreakEvenMoney | PriceColumn::BreakEvenMinutes => {
            "no fixed cost was asked about and no fair is to learn from, or there is no price: `+fixed_120` behind its name asks"
        }
        PriceColumn::BreakEvenPieces | PriceColumn::BreakEvenTakings => {
            "no fixed cost was asked about and no fair is to learn from, there is no price, or a piece leaves nothing: `+fixed_120` behind its name asks"
        }
        PriceColumn::BreakEvenWithHours => {
            "no fixed cost was asked about and no fair is to learn from, no hour is wanted, or a piece leaves nothing: `+fixed_120+hours_16h` behind its name asks"
        }
        PriceColumn::LeastForPaid => "the channel keeps more of a price than it leaves",
        _ if here.product.one.hours.is_none() && !matches!(column, PriceColumn::LastPrice | PriceColumn::LastReceives) => {
            "hours of some pieces are not known, or there is no such price"
        }
        PriceColumn::LeastForEarning if here.reckoned.least_for_paid.is_none() => {
            "the channel keeps more of a price than it leaves"
        }
        PriceColumn::LeastForEarning => "the shop states no rate of its owner’s time",
        PriceColumn::LeastForFull => "the channel keeps more of a price than it leaves",
        PriceColumn::ListPerHour | PriceColumn::LastPerHour => "there is no such price, or no minutes are in it",
        PriceColumn::ListReceives | PriceColumn::ListPaidMargin | PriceColumn::ListFullMargin => "it has no list price",
        _ => "it was not sold there",
    }
}

/// A column in words.
pub(super) fn says_of(column: PriceColumn) -> &'static str {
    match column {
        PriceColumn::LeastForPaid => "least price that covers what was laid out, rounded up",
        PriceColumn::LeastForFull => "least price that covers the full cost, rounded up",
        PriceColumn::LeastForEarning => "least price that earns your hour, rounded up",
        PriceColumn::LeavesPercent => "part of a price that reaches you",
        PriceColumn::FixedFees => "fees that are a sum for a piece",
        PriceColumn::Postage => "postage of a piece, less shipping charged",
        PriceColumn::Packing => "packing of a piece",
        PriceColumn::SellingPieces => "number of pieces from which postage and packing were learnt",
        PriceColumn::SentPieces => "number of pieces over which the way to the channel is spread",
        PriceColumn::ChannelExpenses => "channel’s own expenses in all",
        PriceColumn::ChannelMinutes => "own time on the channel in all",
        PriceColumn::ChannelRevenue => "revenue of the channel, of all products",
        PriceColumn::BringsIn => "money that one brings in there",
        PriceColumn::OwnExpenses => "channel’s own expenses that one bears, by what it brings in",
        PriceColumn::OwnMinutes => "own time on the channel that one bears, by what it brings in",
        PriceColumn::ListReceives => "money that reaches you of the list price",
        PriceColumn::ListPaidMargin => "paid margin at the list price",
        PriceColumn::ListFullMargin => "full margin at the list price",
        PriceColumn::ListPerHour => "money that an hour earns at the list price: what is left over the minutes, times 60",
        PriceColumn::LastPrice => "last price",
        PriceColumn::LastReceives => "money that reaches you of the last price",
        PriceColumn::LastPaidMargin => "paid margin at the last price",
        PriceColumn::LastFullMargin => "full margin at the last price",
        PriceColumn::LastPerHour => "money that an hour earns at the last price: what is left over the minutes, times 60",
        PriceColumn::LeastForMargin => "least price that covers the full cost and leaves the wanted margin, rounded up",
        PriceColumn::BreakEvenMoney => "fixed cost that is to be met",
        PriceColumn::BreakEvenMinutes => "own time that is to be paid with it",
        PriceColumn::BreakEvenPieces => "number of pieces that meet the fixed cost, rounded up",
        PriceColumn::BreakEvenTakings => "money for which the pieces are sold that meet the fixed cost",
        PriceColumn::BreakEvenWithHours => "number of pieces that meet the fixed cost and pay its hours, rounded up",
    }
}

//! Figures of a price: `price/pull-cart/paid`, `price/pull-cart/list-price`, `price/pull-cart/gift-shop/least-for-full`.
//!
//! What is said of a piece is a part, what is said of a channel has the channel before it: so no channel's name can be taken for a part.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use super::cost_figure::with_part;
use super::errors::{FigureFault, no_part, unknown};
use super::name_table::segment;
use super::{CostPart, FigureNames};
use crate::events::Output;
use crate::names::{ChannelId, ThingId, ThingKind};
use crate::reports::pricing::{channels_with_fairs, has_price};
use crate::reports::{Period, PriceIndex, Wanted};
use crate::year::Books;

/// A figure of a product in a channel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PriceColumn {
    /// The least price that covers what was laid out.
    LeastForPaid,
    /// The least price that covers own time and overhead too.
    LeastForFull,
    /// The least price that earns the owner's hour.
    LeastForEarning,
    /// What of a price reaches the maker, in percent.
    LeavesPercent,
    /// Fees that are a sum for a piece.
    FixedFees,
    /// Postage of a piece, less shipping charged.
    Postage,
    /// Packing of a piece.
    Packing,
    /// Pieces from which postage and packing were learnt.
    SellingPieces,
    /// Pieces sent to the channel's place, over which the way there is spread.
    SentPieces,
    /// The channel's own expenses in all.
    ChannelExpenses,
    /// The owner's minutes on the channel in all.
    ChannelMinutes,
    /// What the channel brought in.
    ChannelRevenue,
    /// What one of the product brings in there.
    BringsIn,
    /// What one bears of the channel's own expenses.
    OwnExpenses,
    /// What one bears of the owner's minutes there.
    OwnMinutes,
    /// What reaches the maker of the list price.
    ListReceives,
    /// That less paid cost.
    ListPaidMargin,
    /// That less own time and overhead.
    ListFullMargin,
    /// What an hour earns at it.
    ListPerHour,
    /// The last price.
    LastPrice,
    /// What reaches the maker of it.
    LastReceives,
    /// That less paid cost.
    LastPaidMargin,
    /// That less own time and overhead.
    LastFullMargin,
    /// What an hour earns at it.
    LastPerHour,
    /// The least price that leaves the wanted margin.
    LeastForMargin,
    /// The fixed cost that is to be met: what was asked about, else what the channel's last fair took.
    BreakEvenMoney,
    /// The owner's minutes that are to be paid with it.
    BreakEvenMinutes,
    /// Pieces that meet the fixed cost.
    BreakEvenPieces,
    /// What these are sold for.
    BreakEvenTakings,
    /// Pieces that meet it with the hours, at the wanted hour.
    BreakEvenWithHours,
}

impl PriceColumn {
    /// All of them, in the order of the report.
    pub const ALL: [Self; 30] = [
        Self::LeastForPaid,
        Self::LeastForFull,
        Self::LeastForEarning,
        Self::LeavesPercent,
        Self::FixedFees,
        Self::Postage,
        Self::Packing,
        Self::SellingPieces,
        Self::SentPieces,
        Self::ChannelExpenses,
        Self::ChannelMinutes,
        Self::ChannelRevenue,
        Self::BringsIn,
        Self::OwnExpenses,
        Self::OwnMinutes,
        Self::ListReceives,
        Self::ListPaidMargin,
        Self::ListFullMargin,
        Self::ListPerHour,
        Self::LastPrice,
        Self::LastReceives,
        Self::LastPaidMargin,
        Self::LastFullMargin,
        Self::LastPerHour,
        Self::LeastForMargin,
        Self::BreakEvenMoney,
        Self::BreakEvenMinutes,
        Self::BreakEvenPieces,
        Self::BreakEvenTakings,
        Self::BreakEvenWithHours,
    ];

    /// Whether it is there: a margin where it was wanted, a fixed cost where it was asked about or the channel had a fair.
    fn is_there(self, wanted: Wanted, had_fair: bool) -> bool {
        match self {
            Self::LeastForMargin => wanted.margin.is_some(),
            Self::BreakEvenMoney
            | Self::BreakEvenMinutes
            | Self::BreakEvenPieces
            | Self::BreakEvenTakings
            | Self::BreakEvenWithHours => wanted.fixed.is_some() || had_fair,
            _ => true,
        }
    }

    /// Whether it is minutes.
    pub(crate) const fn is_minutes(self) -> bool {
        matches!(self, Self::ChannelMinutes | Self::OwnMinutes | Self::BreakEvenMinutes)
    }

    /// Whether it is counted: pieces, or parts of a hundred.
    pub(crate) const fn is_counted(self) -> bool {
        matches!(
            self,
            Self::LeavesPercent | Self::SellingPieces | Self::SentPieces | Self::BreakEvenPieces | Self::BreakEvenWithHours
        )
    }

    /// As it stands in a figure's name.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::LeastForPaid => "least-for-paid",
            Self::LeastForFull => "least-for-full",
            Self::LeastForEarning => "least-for-earning",
            Self::LeavesPercent => "leaves-percent",
            Self::FixedFees => "fixed-fees",
            Self::Postage => "postage",
            Self::Packing => "packing",
            Self::SellingPieces => "selling-pieces",
            Self::SentPieces => "sent-pieces",
            Self::ChannelExpenses => "channel-expenses",
            Self::ChannelMinutes => "channel-minutes",
            Self::ChannelRevenue => "channel-revenue",
            Self::BringsIn => "brings-in",
            Self::OwnExpenses => "own-expenses",
            Self::OwnMinutes => "own-minutes",
            Self::ListReceives => "list-receives",
            Self::ListPaidMargin => "list-paid-margin",
            Self::ListFullMargin => "list-full-margin",
            Self::ListPerHour => "list-per-hour",
            Self::LastPrice => "last-price",
            Self::LastReceives => "last-receives",
            Self::LastPaidMargin => "last-paid-margin",
            Self::LastFullMargin => "last-full-margin",
            Self::LastPerHour => "last-per-hour",
            Self::LeastForMargin => "least-for-margin",
            Self::BreakEvenMoney => "break-even-money",
            Self::BreakEvenMinutes => "break-even-minutes",
            Self::BreakEvenPieces => "break-even-pieces",
            Self::BreakEvenTakings => "break-even-takings",
            Self::BreakEvenWithHours => "break-even-with-hours",
        }
    }
}

/// What of a product's price.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PriceOf {
    /// What a piece costs, or a part of that.
    Piece(Option<CostPart>),
    /// Pieces over which that is taken.
    Pieces,
    /// The list price.
    ListPrice,
    /// What an hour of the owner's is worth.
    OwnerRate,
    /// In a channel.
    Channel(ChannelId, PriceColumn),
}

/// A figure of a product's price.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PriceFigure {
    /// The product.
    pub thing: ThingId,
    /// What of it.
    pub of: PriceOf,
    /// Whether with what was wanted of it, beside what the shop states.
    pub asked: bool,
}

const LIST_PRICE: &str = "list-price";
const PIECES: &str = "pieces";
const OWNER_RATE: &str = "owner-rate";

impl PriceFigure {
    /// Reads what stands after `price/`.
    pub(super) fn read(thing: &str, rest: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        // What is wanted of a price was read before, when it was asked for.
        let typed = thing;
        let (thing, asked) = match typed.split_once('+') {
            Some((thing, _)) => (names.read_thing(thing)?, true),
            None => (names.read_thing(typed)?, false),
        };
        let begins = names.price_of(thing, true);
        if asked && (names.price().is_none_or(|(one, _)| one != thing) || begins.strip_prefix("price/") != Some(typed)) {
            return Err(FigureFault("no such price was asked for".to_owned()));
        }
        let of = match *rest {
            [] => PriceOf::Piece(None),
            [LIST_PRICE] => PriceOf::ListPrice,
            [PIECES] => PriceOf::Pieces,
            [OWNER_RATE] => PriceOf::OwnerRate,
            [part] => PriceOf::Piece(Some(CostPart::read(part)?)),
            [channel, column] => {
                let book = names.book();
                let at = book.channels.iter().position(|one| segment(&one.named.name) == channel);
                let channel =
                    at.and_then(|at| u32::try_from(at).ok()).map(ChannelId).ok_or_else(|| unknown("channel", channel))?;
                let found = PriceColumn::ALL.into_iter().find(|one| one.text() == column);
                PriceOf::Channel(channel, found.ok_or_else(|| no_part(column, &PriceColumn::ALL.map(PriceColumn::text)))?)
            }
            _ => return Err(FigureFault("figures of a price are `price/NAME/PART` and `price/NAME/CHANNEL/COLUMN`".to_owned())),
        };
        Ok(Self { thing, of, asked })
    }

    /// All of a book: of each product that was made or is on hand, or that is expected to cost something by its recipe, its piece, its list price, and
    /// what each channel does with it.
    pub(super) fn all(books: Books<'_>) -> Vec<Self> {
        let Books { book, costed, .. } = books;
        let mut priced: BTreeSet<ThingId> = BTreeSet::new();
        let is_product = |thing: ThingId| book.thing(thing).kind == ThingKind::Product;
        for item in costed.batches.iter().flat_map(|batch| &batch.outputs).filter(|item| item.quantity > Decimal::ZERO) {
            if let Output::Thing(thing) = item.what {
                priced.extend(Some(thing).filter(|thing| is_product(*thing)));
            }
        }
        let stock = costed.stock.iter().filter(|lot| lot.quantity > Decimal::ZERO && is_product(lot.thing));
        priced.extend(stock.map(|lot| lot.thing));
        priced.extend(expected(books, &priced));
        let there = all_of(books, Wanted::default());
        let of = |thing| there.iter().map(move |of| Self { thing, of: *of, asked: false });
        priced.into_iter().flat_map(of).collect()
    }

    /// All of a product with what is wanted of its price.
    pub(super) fn all_asked(books: Books<'_>, thing: ThingId, wanted: Wanted) -> Vec<Self> {
        all_of(books, wanted).into_iter().map(|of| Self { thing, of, asked: true }).collect()
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        let name = names.price_of(self.thing, self.asked);
        match self.of {
            PriceOf::Piece(part) => with_part(name, part),
            PriceOf::Pieces => format!("{name}/{PIECES}"),
            PriceOf::OwnerRate => format!("{name}/{OWNER_RATE}"),
            PriceOf::ListPrice => format!("{name}/{LIST_PRICE}"),
            PriceOf::Channel(channel, column) => {
                format!("{name}/{}/{}", segment(&names.book().channel(channel).named.name), column.text())
            }
        }
    }
}

/// Products that were never made and of which a plan says what one will cost.
fn expected(books: Books<'_>, made: &BTreeSet<ThingId>) -> Vec<ThingId> {
    let Some(day) = books.costed.until else { return Vec::new() };
    let things = (0u32..).zip(&books.book.things);
    let untried = things.filter(|(at, thing)| thing.kind == ThingKind::Product && !made.contains(&ThingId(*at)));
    let untried = untried.filter(|(_, thing)| !thing.needs.on(day).is_empty() || !thing.takes.on(day).is_empty());
    let untried: Vec<ThingId> = untried.map(|(at, _)| ThingId(at)).collect();
    let Some(index) = PriceIndex::of(books, Period::default(), &|_| None).filter(|_| !untried.is_empty()) else {
        return Vec::new();
    };
    untried.into_iter().filter(|thing| has_price(&index, *thing)).collect()
}

fn all_of(books: Books<'_>, wanted: Wanted) -> Vec<PriceOf> {
    let fairs = channels_with_fairs(books);
    let pieces = std::iter::once(None).chain(CostPart::ALL.map(Some)).map(PriceOf::Piece);
    let mut all: Vec<PriceOf> = pieces.chain([PriceOf::Pieces, PriceOf::ListPrice, PriceOf::OwnerRate]).collect();
    for (at, _) in (0u32..).zip(&books.book.channels) {
        let channel = ChannelId(at);
        let there = PriceColumn::ALL.into_iter().filter(|column| column.is_there(wanted, fairs.contains(&channel)));
        all.extend(there.map(|column| PriceOf::Channel(channel, column)));
    }
    all
}

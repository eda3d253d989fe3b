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
use crate::reports::pricing::has_price;
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
    /// The channel's own expenses on a piece.
    OwnExpenses,
    /// The owner's minutes on the channel, on a piece.
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
    /// Pieces that meet the fixed cost.
    BreakEvenPieces,
    /// What these are sold for.
    BreakEvenTakings,
    /// Pieces that meet it with the hours, at the wanted hour.
    BreakEvenWithHours,
}

impl PriceColumn {
    /// All of them, in the order of the report.
    pub const ALL: [Self; 22] = [
        Self::LeastForPaid,
        Self::LeastForFull,
        Self::LeastForEarning,
        Self::LeavesPercent,
        Self::FixedFees,
        Self::Postage,
        Self::Packing,
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
        Self::BreakEvenPieces,
        Self::BreakEvenTakings,
        Self::BreakEvenWithHours,
    ];

    /// Whether it is only there where it was wanted.
    fn is_there(self, wanted: Wanted) -> bool {
        match self {
            Self::LeastForMargin => wanted.margin.is_some(),
            Self::BreakEvenPieces | Self::BreakEvenTakings | Self::BreakEvenWithHours => wanted.fixed.is_some(),
            _ => true,
        }
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
    /// The list price.
    ListPrice,
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

impl PriceFigure {
    /// Reads what stands after `price/`.
    pub(super) fn read(thing: &str, rest: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        // What is wanted of a price was read before, when it was asked for.
        let (thing, asked) = match thing.split_once('+') {
            Some((thing, _)) => (names.read_thing(thing)?, true),
            None => (names.read_thing(thing)?, false),
        };
        if asked && names.price().is_none_or(|(one, _)| one != thing) {
            return Err(FigureFault("no such price was asked for".to_owned()));
        }
        let of = match *rest {
            [] => PriceOf::Piece(None),
            [LIST_PRICE] => PriceOf::ListPrice,
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
        let of = |thing| all_of(books, Wanted::default()).into_iter().map(move |of| Self { thing, of, asked: false });
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
    let channels = (0u32..).zip(&books.book.channels).map(|(at, _)| ChannelId(at));
    let columns = PriceColumn::ALL.into_iter().filter(|column| column.is_there(wanted));
    let columns: Vec<PriceColumn> = columns.collect();
    let of_channels = channels.flat_map(|channel| columns.iter().map(move |column| PriceOf::Channel(channel, *column)));
    let pieces = std::iter::once(None).chain(CostPart::ALL.map(Some)).map(PriceOf::Piece);
    pieces.chain([PriceOf::ListPrice]).chain(of_channels).collect()
}

//! Movements: cost that came into the book's goods or left them, as vectors to six digits, each with its event and line.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::{CostVector, Issue};
use crate::names::{BatchId, Target, ThingId};
use crate::sources::Span;
use crate::units::Fixed6;

/// Why cost came into the book's goods, or where it went. The order is that of the proof's line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Flow {
    // -- came in
    /// There when the book began (`opened`), batches on the bench included.
    Opened,
    /// Bought, landed; also straight to a batch, and licences.
    Bought,
    /// The owner's own things put in.
    Contributed,
    /// Own and bought-in time worked in batches.
    Time,
    /// Royalty on good pieces.
    Royalty,
    /// Overhead applied.
    Overhead,
    /// Issued without stock (`short stock is a warning`): from the unrecorded source.
    Unrecorded,
    /// A supplier's credit on goods: lowers what came in, so its vectors are negative.
    Credited,
    /// Back to a supplier: lowers what came in, so its vectors are negative.
    SentBack,
    // -- went to
    /// Sold, net of what came back.
    Sold,
    /// Packing used with an order or a shipment.
    PackingUsed,
    /// Used in the shop, outside a batch (wear of steps included).
    UsedInShop,
    /// Made for the shop: a tool.
    MadeForShop,
    /// Taken home.
    TakenHome,
    /// Given as a sample.
    Sample,
    /// Given as a gift.
    Gift,
    /// Donated.
    Donated,
    /// Scrapped.
    Scrapped,
    /// Missing in a count, net of what was found more (negative vectors).
    Missing,
    /// Abnormal loss of a batch.
    AbnormalLoss,
    /// Cost of goods by which a supplier's refund or credit fell short of what left (negative: went beyond), and corrections of issues that
    /// were made without stock: into cost of goods sold.
    PriceDifference,
}

impl Flow {
    /// All of them.
    pub const ALL: [Self; 21] = [
        Self::Opened,
        Self::Bought,
        Self::Contributed,
        Self::Time,
        Self::Royalty,
        Self::Overhead,
        Self::Unrecorded,
        Self::Credited,
        Self::SentBack,
        Self::Sold,
        Self::PackingUsed,
        Self::UsedInShop,
        Self::MadeForShop,
        Self::TakenHome,
        Self::Sample,
        Self::Gift,
        Self::Donated,
        Self::Scrapped,
        Self::Missing,
        Self::AbnormalLoss,
        Self::PriceDifference,
    ];

    /// Whether cost comes in by it (else it goes out).
    #[must_use]
    pub fn comes_in(self) -> bool {
        self <= Self::SentBack
    }
}

/// One movement of cost into or out of the goods. Moves between places, and from stock to a batch, are none.
#[derive(Clone, Debug, PartialEq)]
pub struct Movement {
    /// The day.
    pub date: NaiveDate,
    /// The event's index in the log.
    pub event: u32,
    /// The line.
    pub line: Span,
    /// Why.
    pub flow: Flow,
    /// The thing that moved; `None` for time, royalty and overhead, and for money straight to a batch.
    pub thing: Option<ThingId>,
    /// How much of it.
    pub quantity: Decimal,
    /// Its cost, with its marks: of goods that were donated, or taken home while stock is kept as supplies, what was in the shop when the
    /// year began.
    pub vector: CostVector,
    /// The batch concerned: worked at, given up, or made for the shop.
    pub batch: Option<BatchId>,
    /// The order's index in [`CostedBook::orders`](crate::costing::CostedBook::orders), for what was sold, returned or packed.
    pub order: Option<u32>,
    /// The channel, line or product that it is for, where the entry says one.
    pub on: Option<Target>,
    /// The purchase's bill, for what was bought; the owed bill of hired time or a royalty.
    pub bill: Option<u32>,
    /// The pieces, in [`CostedBook::trace`](crate::costing::CostedBook::trace), where that is kept.
    pub issue: Issue,
    /// What the entry says it was worth (`gave … worth 42.00`).
    pub worth: Option<Fixed6>,
    /// The part of [`Component::Wear`](crate::costing::Component::Wear) that is freight in: for wear that was bought, which has no freight
    /// component of its own but two lines on a form. Zero elsewhere.
    pub wear_freight: Fixed6,
    /// Whether bought-in time was an employee's (else a contractor's).
    pub by_employee: bool,
}

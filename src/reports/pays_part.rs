//! What counts in the margins, part by part: a posting, goods that were sold, an expense on a line or channel, hours.
//!
//! In: what the engine moved and posted. Out: every part with its day and the groups in which it stands, once. The report adds them up and a derivation
//! tells them, so that both count the same. Costing rule 13.

use chrono::NaiveDate;
use rust_decimal::Decimal;
use smallvec::SmallVec;

use crate::costing::{Account, CostedBook, Flow, HourItem, MileItem, Movement, Posting};
use crate::names::{ChannelId, LineId, Named, ResolvedBook, Target, ThingId};
use crate::reports::Period;
use crate::units::{Fixed6, checked_mul_exact, line_total};

/// What a group of the report is of; the order is that of the report.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PaysOf {
    /// A product line.
    Line(LineId),
    /// A channel.
    Channel(ChannelId),
    /// A product, or a material that was sold.
    Product(ThingId),
}

impl PaysOf {
    /// What kind of group it is, as in the JSON, and its definition.
    pub(crate) fn named(self, book: &ResolvedBook) -> (&'static str, &Named) {
        match self {
            Self::Line(line) => ("line", book.line(line)),
            Self::Channel(channel) => ("channel", &book.channel(channel).named),
            Self::Product(thing) => ("product", &book.thing(thing).named),
        }
    }
}

/// The money for a mile driven on a day, where the form knows it.
pub(crate) type MileRate<'r> = &'r dyn Fn(NaiveDate) -> Option<Decimal>;

/// What a part is.
#[derive(Clone, Copy, Debug)]
pub(crate) enum PaysWhat<'a> {
    /// Revenue or a cost of selling.
    Posting(&'a Posting),
    /// Goods sold, or come back.
    Sold(&'a Movement),
    /// An expense, or hired hours, on a line or channel: its business part.
    Expense(&'a Posting, Fixed6),
    /// Goods used in the shop for a line or channel.
    UsedInShop(&'a Movement, Fixed6),
    /// A drive for a line or channel.
    Drive(&'a MileItem, Fixed6),
    /// The owner's hours outside batches: on a line or channel where a group stands beside them.
    Hours(&'a HourItem),
    /// Hours worked in a batch: in no margin before its goods are sold.
    Worked(&'a Movement),
}

/// A part of the margins.
#[derive(Clone, Debug)]
pub(crate) struct PaysPart<'a> {
    /// The day on which it counts.
    pub(crate) day: NaiveDate,
    /// The groups in which it stands, beside the totals.
    pub(crate) groups: SmallVec<[PaysOf; 3]>,
    pub(crate) what: PaysWhat<'a>,
}

impl PaysPart<'_> {
    /// The order to which it belongs.
    pub(crate) fn order(&self) -> Option<u32> {
        match self.what {
            PaysWhat::Posting(posting) => posting.order,
            PaysWhat::Sold(movement) => movement.order,
            _ => None,
        }
    }

    /// Whether it is money of a month, and not hours.
    pub(crate) fn is_money(&self) -> bool {
        !matches!(self.what, PaysWhat::Hours(_) | PaysWhat::Worked(_))
    }

    /// Whether it is hours that stand in no margin.
    pub(crate) fn is_indirect(&self) -> bool {
        self.groups.is_empty() && matches!(self.what, PaysWhat::Hours(_) | PaysWhat::Worked(_))
    }
}

/// Goes through a book once and hands on each part that counts in a period. `None` on overflow.
pub(crate) fn each_part<'a>(
    book: &ResolvedBook,
    costed: &'a CostedBook,
    period: Period,
    mile_rate: MileRate<'_>,
    take: &mut dyn FnMut(PaysPart<'a>) -> Option<()>,
) -> Option<()> {
    for posting in &costed.postings {
        if period.covers(posting.date) && is_of_sale(posting) {
            let groups = groups_of(book, posting.date, posting.thing, posting.channel);
            take(PaysPart { day: posting.date, groups, what: PaysWhat::Posting(posting) })?;
        }
        let day = posting.belongs_to();
        if period.covers(day)
            && let Some(group) = target(book, posting.date, posting.on)
            && let Some(money) = direct_money(book, posting)?
        {
            take(PaysPart { day, groups: one(group), what: PaysWhat::Expense(posting, money) })?;
        }
    }
    for movement in costed.movements.iter().filter(|movement| period.covers(movement.date)) {
        let day = movement.date;
        match movement.flow {
            Flow::Sold => {
                let order = movement.order.and_then(|order| costed.orders.get(order as usize));
                let groups = groups_of(book, day, movement.thing, order.and_then(|order| order.channel));
                take(PaysPart { day, groups, what: PaysWhat::Sold(movement) })?;
            }
            Flow::UsedInShop => {
                if let Some(group) = target(book, day, movement.on) {
                    let what = PaysWhat::UsedInShop(movement, movement.vector.paid()?);
                    take(PaysPart { day, groups: one(group), what })?;
                }
            }
            Flow::Time => take(PaysPart { day, groups: SmallVec::new(), what: PaysWhat::Worked(movement) })?,
            _ => {}
        }
    }
    for drive in costed.miles.iter().filter(|drive| period.covers(drive.date)) {
        if let (Some(group), Some(rate)) = (target(book, drive.date, drive.on), mile_rate(drive.date)) {
            let money = line_total(rate, drive.miles, book.shop.currency).ok()?;
            take(PaysPart { day: drive.date, groups: one(group), what: PaysWhat::Drive(drive, money) })?;
        }
    }
    for hour in costed.hours.iter().filter(|hour| hour.own && period.covers(hour.date)) {
        let groups = target(book, hour.date, hour.on).map_or_else(SmallVec::new, one);
        take(PaysPart { day: hour.date, groups, what: PaysWhat::Hours(hour) })?;
    }
    Some(())
}

fn one(group: PaysOf) -> SmallVec<[PaysOf; 3]> {
    SmallVec::from_iter([group])
}

/// Whether a posting stands on a piece, or is a shipment's, which goes to its channel.
fn is_of_sale(posting: &Posting) -> bool {
    let of_shipment = posting.order.is_none() && matches!(posting.account, Account::Postage | Account::Packing);
    posting.thing.is_some() || of_shipment
}

fn groups_of(book: &ResolvedBook, day: NaiveDate, thing: Option<ThingId>, channel: Option<ChannelId>) -> SmallVec<[PaysOf; 3]> {
    let line = thing.and_then(|thing| *book.thing(thing).line.on(day));
    [thing.map(PaysOf::Product), line.map(PaysOf::Line), channel.map(PaysOf::Channel)].into_iter().flatten().collect()
}

/// What an `on` means for a margin: a product counts with its line.
fn target(book: &ResolvedBook, day: NaiveDate, on: Option<Target>) -> Option<PaysOf> {
    match on? {
        Target::Line(line) => Some(PaysOf::Line(line)),
        Target::Product(product) => book.thing(product).line.on(day).map(PaysOf::Line),
        Target::Channel(channel) => Some(PaysOf::Channel(channel)),
        Target::Batch(_) => None,
    }
}

/// The money of an expense or of hired hours, as much of it as is the business's. The outer `None` is overflow.
fn direct_money(book: &ResolvedBook, posting: &Posting) -> Option<Option<Fixed6>> {
    Some(match posting.account {
        Account::Expense(expense) => Some(business_part(*book.expense(expense).business_use.on(posting.date), posting.money)?),
        Account::HiredTime { .. } => Some(posting.money),
        _ => None,
    })
}

/// The business part of an expense, exact to six digits.
fn business_part(percent: Decimal, money: Fixed6) -> Option<Fixed6> {
    if percent == Decimal::ONE_HUNDRED {
        return Some(money);
    }
    let share = checked_mul_exact(money.to_decimal()?, percent).ok()?;
    Fixed6::round_from_decimal(checked_mul_exact(share, Decimal::new(1, 2)).ok()?)
}

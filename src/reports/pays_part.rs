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
use crate::reports::fair::Fairs;
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
    /// A fair, by its channel and its last day.
    Fair(ChannelId, NaiveDate),
}

impl PaysOf {
    /// What kind of group it is, as in the JSON, and its definition.
    pub(crate) fn named(self, book: &ResolvedBook) -> (&'static str, &Named) {
        match self {
            Self::Line(line) => ("line", book.line(line)),
            Self::Channel(channel) => ("channel", &book.channel(channel).named),
            Self::Product(thing) => ("product", &book.thing(thing).named),
            Self::Fair(channel, _) => ("fair", &book.channel(channel).named),
        }
    }

    /// Its name and title: of a fair, with its day.
    pub(crate) fn name_and_title(self, book: &ResolvedBook) -> (String, String) {
        let (_, named) = self.named(book);
        match self {
            Self::Fair(_, day) => (format!("{}/{day}", named.name), format!("{}, {day}", named.title)),
            _ => (named.name.clone(), named.title.clone()),
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
    pub(crate) groups: SmallVec<[PaysOf; 4]>,
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
    let fairs = Fairs::of(book, costed);
    let sold_at = |order: Option<u32>| {
        let order = costed.orders.get(order? as usize).filter(|order| order.order.is_none())?;
        let channel = order.channel?;
        Some(PaysOf::Fair(channel, fairs.of_sale(channel, order.date)?))
    };
    // What stands on a channel itself is of a fair, too.
    let itself = |group: PaysOf, day: NaiveDate| -> SmallVec<[PaysOf; 4]> {
        let fair = match group {
            PaysOf::Channel(channel) => fairs.of_cost(channel, day).map(|last| PaysOf::Fair(channel, last)),
            _ => None,
        };
        std::iter::once(group).chain(fair).collect()
    };
    for posting in &costed.postings {
        if period.covers(posting.date) && is_of_sale(posting) {
            let mut groups = groups_of(book, posting.date, posting.thing, posting.channel);
            match posting.order {
                Some(_) => groups.extend(sold_at(posting.order)),
                None => groups = groups.into_iter().flat_map(|group| itself(group, posting.date)).collect(),
            }
            take(PaysPart { day: posting.date, groups, what: PaysWhat::Posting(posting) })?;
        }
        let day = posting.belongs_to();
        if period.covers(day)
            && let Some(group) = target(book, posting.date, posting.on)
            && let Some(money) = direct_money(book, posting)?
        {
            take(PaysPart { day, groups: itself(group, day), what: PaysWhat::Expense(posting, money) })?;
        }
    }
    for movement in costed.movements.iter().filter(|movement| period.covers(movement.date)) {
        let day = movement.date;
        match movement.flow {
            Flow::Sold => {
                let order = movement.order.and_then(|order| costed.orders.get(order as usize));
                let mut groups = groups_of(book, day, movement.thing, order.and_then(|order| order.channel));
                groups.extend(sold_at(movement.order));
                take(PaysPart { day, groups, what: PaysWhat::Sold(movement) })?;
            }
            Flow::UsedInShop => {
                if let Some(group) = target(book, day, movement.on) {
                    let what = PaysWhat::UsedInShop(movement, movement.vector.paid()?);
                    take(PaysPart { day, groups: itself(group, day), what })?;
                }
            }
            Flow::Time => take(PaysPart { day, groups: SmallVec::new(), what: PaysWhat::Worked(movement) })?,
            _ => {}
        }
    }
    for drive in costed.miles.iter().filter(|drive| period.covers(drive.date)) {
        if let (Some(group), Some(rate)) = (target(book, drive.date, drive.on), mile_rate(drive.date)) {
            let money = line_total(rate, drive.miles, book.shop.currency).ok()?;
            let groups = itself(group, drive.date);
            take(PaysPart { day: drive.date, groups, what: PaysWhat::Drive(drive, money) })?;
        }
    }
    for hour in costed.hours.iter().filter(|hour| hour.own && period.covers(hour.date)) {
        let groups = target(book, hour.date, hour.on).map_or_else(SmallVec::new, |group| itself(group, hour.date));
        take(PaysPart { day: hour.date, groups, what: PaysWhat::Hours(hour) })?;
    }
    Some(())
}

/// Whether a posting stands on a piece, or is a shipment's, which goes to its channel.
fn is_of_sale(posting: &Posting) -> bool {
    let of_shipment = posting.order.is_none() && matches!(posting.account, Account::Postage | Account::Packing);
    posting.thing.is_some() || of_shipment
}

/// The product, line and channel of goods of a day.
pub(crate) fn groups_of(
    book: &ResolvedBook,
    day: NaiveDate,
    thing: Option<ThingId>,
    channel: Option<ChannelId>,
) -> SmallVec<[PaysOf; 4]> {
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

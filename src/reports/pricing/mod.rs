//! What a product must fetch in each channel, and what it earns: the model of `kerfbook price`.
//!
//! In: a costed book, a product, and what is wanted. Out: a [`PriceReport`]. The cost of a piece is that of the batches of the period, as in the
//! report of costs; of what was never finished, what a plan of one expects. Terms are those of the last day covered; what selling costs beside them is learnt from what was sold. All figures are
//! estimates from what was, and say from what.

mod in_channel;
mod last_fair;
mod on_consignment;
mod own_share;
mod piece;
mod price_fault;
mod price_index;
mod price_notes;
mod selling;
mod terms;

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use self::in_channel::Asked;
use self::last_fair::LastFair;
use self::on_consignment::undercut;
use self::piece::{one_of, piece_of, says_no_time};
use self::price_notes::{beside_sales, learnt_fair};
use self::selling::Sold as SoldThere;
use crate::names::{ChannelId, ResolvedBook, Thing, ThingId};
use crate::reports::owner_rate::{no_rate, rate_of_price};
use crate::reports::period::{minutes_text, money_text, quantity_text, said_money};
use crate::reports::planning::Planned;
use crate::reports::report_cost::{price_text, unit_costs_of};
use crate::reports::{FixedCost, Period, PriceReport, plan_name, price_name};
use crate::units::Fixed6;
use crate::year::Books;

pub(crate) use self::in_channel::{Earned, Priced, Reckoned, terms_in_words, worth};
pub(crate) use self::last_fair::channels_with_fairs;
pub(crate) use self::own_share::BroughtInBy;
pub use self::piece::Unpriced;
pub(crate) use self::piece::{One, Piece, Whence};
pub use self::price_fault::PriceFault;
pub use self::price_index::PriceIndex;
pub(crate) use self::selling::{OnChannel, on_channel};

/// What is wanted of a price.
#[derive(Clone, Copy, Debug, Default)]
pub struct Wanted {
    /// Money for an hour; else the owner's rate.
    pub per_hour: Option<Fixed6>,
    /// Margin in parts of a hundred of what is charged.
    pub margin: Option<Decimal>,
    /// A fixed cost to be met: money, and the owner's minutes.
    pub fixed: Option<(Fixed6, Fixed6)>,
}

/// Makes the report of a period. `mile_rate` gives the money for a mile driven on a day.
///
/// # Errors
/// Where nothing says what a piece costs, or a figure is too large.
pub fn report_price(
    books: Books<'_>,
    product: ThingId,
    (period, mile_rate): (Period, &dyn Fn(NaiveDate) -> Option<Decimal>),
    wanted: Wanted,
) -> Result<PriceReport, PriceFault> {
    let index = PriceIndex::of(books, period, mile_rate).ok_or(PriceFault::TooLarge)?;
    report_price_by(&index, product, wanted)
}

/// The same, of a book that was gone through before.
///
/// # Errors
/// As [`report_price`].
pub fn report_price_by(index: &PriceIndex<'_>, product: ThingId, wanted: Wanted) -> Result<PriceReport, PriceFault> {
    price_by_index(index, product, wanted).map(|(report, _)| report)
}

/// The same for the prices of many products. Gives the piece of which the price is reckoned too.
pub(crate) fn price_by_index<'a>(
    index: &PriceIndex<'a>,
    product: ThingId,
    wanted: Wanted,
) -> Result<(PriceReport, Piece<'a>), PriceFault> {
    let priced = PricedProduct::of(index, product, wanted)?;
    // A figure's name says no days.
    let figure = Some(price_name(index.books.book, product, wanted)).filter(|_| index.period == Period::default());
    let report = report(index, product, (&priced, figure), wanted).ok_or(PriceFault::TooLarge)?;
    Ok((report, priced.piece))
}

/// Whether something says what a piece costs.
pub(crate) fn has_price(index: &PriceIndex<'_>, product: ThingId) -> bool {
    piece_of(index, product).is_ok()
}

/// A product with all that its price is asked back from.
pub(crate) struct PricedProduct<'a> {
    book: &'a ResolvedBook,
    pub(crate) piece: Piece<'a>,
    pub(crate) one: One,
    pub(crate) day: Option<NaiveDate>,
    asked: Asked,
    /// The owner's rate on that day.
    pub(crate) rate: Option<Fixed6>,
    pub(crate) list_price: Option<Decimal>,
    sold: BTreeMap<ChannelId, SoldThere>,
    fairs: BTreeMap<ChannelId, LastFair>,
}

impl<'a> PricedProduct<'a> {
    /// Looks at a product.
    pub(crate) fn of(index: &PriceIndex<'a>, product: ThingId, wanted: Wanted) -> Result<Self, PriceFault> {
        let (Books { book, costed, .. }, period) = (index.books, index.period);
        let piece = piece_of(index, product)?;
        let one = one_of(&piece).ok_or(PriceFault::TooLarge)?;
        let channels = (0u32..).zip(&book.channels).map(|(at, _)| ChannelId(at));
        let sold = channels.map(|channel| (channel, index.sold.learnt(product, channel))).collect();
        let day = [period.to, costed.until].into_iter().flatten().min();
        let rate = day.and_then(|day| *book.shop.owner_time.on(day)).and_then(Fixed6::round_from_decimal);
        let asked = Asked { per_hour: wanted.per_hour.or(rate), margin: wanted.margin, fixed: wanted.fixed };
        let list_price = day.and_then(|day| *book.thing(product).price.on(day));
        Ok(Self { book, piece, one, day, asked, rate, list_price, sold, fairs: index.fairs.clone() })
    }

    /// The product in a channel.
    pub(crate) fn in_channel(&self, channel: ChannelId) -> Priced<'a> {
        Priced {
            book: self.book,
            channel: self.book.channel(channel),
            day: self.day,
            sold: self.sold.get(&channel).copied().unwrap_or_default(),
            one: self.one,
            asked: self.asked,
            fair: self.fairs.get(&channel).copied().filter(|_| self.asked.fixed.is_none()),
            list_price: self.list_price,
        }
    }
}

fn report(
    index: &PriceIndex<'_>,
    product: ThingId,
    (priced, figure): (&PricedProduct<'_>, Option<String>),
    wanted: Wanted,
) -> Option<PriceReport> {
    let (Books { book, log, costed, .. }, period) = (index.books, index.period);
    let thing = book.thing(product);
    let PricedProduct { piece, one, asked, rate, list_price, day, .. } = priced;
    let mut channels = Vec::new();
    for at in 0..book.channels.len() {
        channels.push(priced.in_channel(ChannelId(u32::try_from(at).ok()?)).write()?);
    }
    channels.sort_by(|a, b| a.name.cmp(&b.name));
    let mut notes = Vec::new();
    if let Some(planned) = piece.planned() {
        notes.push(of_expected(planned, thing));
    }
    match one.hours {
        Some(_) => {}
        None if piece.planned().is_some() && says_no_time(&piece.cost) => {
            notes.push(
                "its recipe says no time that it `takes`, so its hours are unknown: what covers them can't be said".to_owned(),
            );
        }
        None => notes.push("hours of some pieces are unknown: what covers them can't be said".to_owned()),
    }
    if rate.is_none() {
        notes.push(no_rate());
    }
    notes.extend(came_back(priced));
    notes.extend(measured_beside_plan(priced, thing));
    notes.extend(undercut(index, (product, priced), &channels));
    notes.extend(day.zip(one.hours).and_then(|(day, hours)| rate_of_price(book, day, hours)));
    for at in 0..book.channels.len() {
        let priced = priced.in_channel(ChannelId(u32::try_from(at).ok()?));
        notes.extend(learnt_fair(book, &priced, (product, wanted), figure.is_some())?);
        notes.extend(beside_sales(&priced, costed.until)?);
    }
    // Paid and full margin of a piece are without what stands on the channel (costing rule 13): it is paid once, however many are sold.
    notes.push("what is spent on a channel itself, as a booth, is in neither of the two least prices for what is laid out and for the full cost: it counts in what an hour earns and in the least price for that, of which a piece bears its part by what it brings in. How many pieces meet it is of this product alone, as if nothing else were sold there; `--fixed` and `--hours` ask about any sum".to_owned());
    notes.push(
        "fees of card payments are taken as if all paid by card; fees on sales tax that you add are not counted".to_owned(),
    );
    if let Some(figure) = &figure {
        notes.push(format!("why any of these figures is what it is: `kerfbook why {figure}/` lists their names"));
    }
    Some(PriceReport {
        figure,
        head: period.head("price", book, log.first_day, costed.until),
        name: thing.named.name.clone(),
        title: thing.named.title.clone(),
        cost_from: piece.from.clone(),
        expected: piece.planned().is_some(),
        pieces: quantity_text(piece.pieces),
        per_unit: unit_costs_of(&|component| piece.cost.get(component), piece.pieces)?,
        minutes_per_unit: one.hours.map(|(_, minutes)| minutes_text(minutes)),
        list_price: list_price.map(|price| price_text(book, price)),
        wanted_per_hour: asked.per_hour.map(|money| money_text(book, money)),
        owner_rate: rate.map(|money| money_text(book, money)),
        wanted_margin: asked.margin.map(|percent| percent.normalize().to_string()),
        fixed: asked.fixed.map(|(money, minutes)| FixedCost { money: money_text(book, money), minutes: minutes_text(minutes) }),
        channels,
        notes,
    })
}

/// Channels that took back all that they sold of the product in these days, or more: what a price earns there is of a piece that stays sold, and what pays
/// counts what came back, so that the two differ.
fn came_back(priced: &PricedProduct<'_>) -> Vec<String> {
    let book = priced.book;
    let back = priced.sold.iter().filter_map(|(channel, sold)| {
        let (revenue, kept) = sold.brought_in;
        let many = match kept {
            kept if kept < Decimal::ZERO => "more of this product than it sold",
            kept if kept.is_zero() && sold.product.pieces > Decimal::ZERO => "all that it sold of this product",
            _ => return None,
        };
        let name = &book.channel(*channel).named.name;
        Some(format!(
            "`{name}` took back {many} in these days, which brought in {} in all: what a price earns there is of a piece that stays sold; `kerfbook pays` \
             counts what came back, too",
            said_money(book, revenue)
        ))
    });
    back.collect()
}

/// That a plan expects another cost than the batches had, where it has a recipe by which one is planned.
fn measured_beside_plan(priced: &PricedProduct<'_>, thing: &Thing) -> Option<String> {
    let has_recipe = priced.day.is_some_and(|day| !thing.needs.on(day).is_empty() || !thing.takes.on(day).is_empty());
    (priced.piece.planned().is_none() && has_recipe).then(|| {
        format!(
            "what one costs is what those pieces cost when they were made; `kerfbook plan 1 {}` expects what the next one costs, by the last batches, \
             whenever they were, and the last prices",
            thing.named.name
        )
    })
}

/// What a reader must know of a cost that was not measured, and where it is told more.
fn of_expected(planned: &Planned<'_>, thing: &Thing) -> String {
    let plan = plan_name(planned.books.book, &planned.asked.builds);
    let name = &thing.named.name;
    format!(
        "none was finished yet, so its cost is not measured: it is what a plan of one expects, by the recipe, what is on hand and the last prices; \
         `kerfbook plan 1 {name}` tells it, and `kerfbook why {plan}` lists its figures"
    )
}

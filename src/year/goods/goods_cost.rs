//! What of a cost waits in the goods, and what stock comes to by it.
//!
//! `stock kept as inventory`: all paid components. `stock kept as supplies`: materials and their freight only. Stock inside
//! cost of goods is every class but packing, on the shelf, on the bench and at other places, each once.

use crate::costing::{Component, CostVector, Flow, Movement, YearEnd};
use crate::names::{ResolvedBook, StockKept, ThingKind};
use crate::units::Fixed6;
use crate::year::books::BooksOfYear;

/// The part of a cost that waits. `None` on overflow.
pub(crate) fn waiting_cost(vector: &CostVector, kept: StockKept) -> Option<Fixed6> {
    match kept {
        StockKept::Inventory => vector.paid(),
        StockKept::Supplies => vector.get(Component::Materials).checked_add(vector.get(Component::Freight)),
    }
}

/// The class of a movement's thing; `None` for what is no thing: time, royalty, money straight to a batch.
pub(crate) fn class_of(of: &BooksOfYear<'_>, movement: &Movement) -> Option<ThingKind> {
    movement.thing.map(|thing| of.book().thing(thing).kind)
}

/// Whether what moved goes into cost of goods by its flow. Packing does only where it is sold: for that it came in by line 36.
pub(crate) fn goes_into_cost_of_goods(book: &ResolvedBook, movement: &Movement) -> bool {
    match movement.flow {
        Flow::Sold => true,
        Flow::Scrapped | Flow::Missing | Flow::AbnormalLoss | Flow::Donated | Flow::PriceDifference => {
            movement.thing.is_none_or(|thing| book.thing(thing).kind != ThingKind::Packing)
        }
        _ => false,
    }
}

/// Stock inside cost of goods at the end of a year, by a stock method. `None` on overflow.
pub(crate) fn stock_at_end(of: &BooksOfYear<'_>, year: i32, kept: StockKept) -> Option<Fixed6> {
    of.costed().end_of(year).map_or(Some(Fixed6::ZERO), |end| of_year_end(end, |vector| waiting_cost(vector, kept)))
}

/// What of the stock inside cost of goods is not paid at the end of a year, by a stock method. `None` on overflow.
pub(crate) fn unpaid_at_end(of: &BooksOfYear<'_>, year: i32, kept: StockKept) -> Option<Fixed6> {
    let unpaid = |vector: &CostVector| waiting_cost(&vector.marked(of.not_paid_at_end_of(year)), kept);
    of.costed().end_of(year).map_or(Some(Fixed6::ZERO), |end| of_year_end(end, unpaid))
}

/// Paid cost of what was issued without stock and is not bought or made by the end of the year, whichever year issued it. `None` on overflow.
pub(crate) fn unrecorded_at_end(of: &BooksOfYear<'_>) -> Option<Fixed6> {
    of.costed().end_of(of.year).map_or(Some(Fixed6::ZERO), |end| end.unrecorded.paid())
}

/// Of the stock inside cost of goods at the end of a year, as far as it is paid for: licences for pieces that are not made yet. `None` on overflow.
pub(crate) fn licences_at_end(of: &BooksOfYear<'_>) -> Option<Fixed6> {
    let Some(end) = of.costed().end_of(of.year) else { return Some(Fixed6::ZERO) };
    let unpaid = waiting_cost(&end.licences.marked(of.not_paid_at_end_of(of.year)), of.stock())?;
    waiting_cost(&end.licences, of.stock())?.checked_sub(unpaid)
}

/// Wear on hand at the end of a year, which waits inside cost of goods or, where stock is kept as supplies, on no line; and what of it is not
/// paid.
pub(crate) fn wear_at_end(of: &BooksOfYear<'_>, year: i32) -> [Fixed6; 2] {
    let Some(end) = of.costed().end_of(year) else { return [Fixed6::ZERO; 2] };
    let [_, wear, ..] = &end.shelf;
    [wear.get(Component::Wear), wear.marked(of.not_paid_at_end_of(year)).get(Component::Wear)]
}

fn of_year_end(end: &YearEnd, measure: impl Fn(&CostVector) -> Option<Fixed6>) -> Option<Fixed6> {
    let [materials, wear, _packing, products] = &end.shelf;
    let mut sum = Fixed6::ZERO;
    for vector in [materials, wear, products, &end.bench, &end.licences] {
        sum = sum.checked_add(measure(vector)?)?;
    }
    Some(sum)
}

//! What went into a batch, of which lots and at what cost, and where the pieces are that came out of it.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use super::column_cells;
use super::sheet::{CellKind, SheetCell, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use super::thing_flows::{came_how, went_how};
use crate::costing::{BatchAccount, CostedBook, Flow, Made, Trace};
use crate::names::{BatchId, PlaceId, ThingId, ThingKind};
use crate::reports::period::quantity_text;
use crate::units::{Fixed6, Unit, checked_add_exact};

use CellKind::{Money, Quantity, Words};

/// Where pieces are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Where {
    /// On hand, at a place.
    At(PlaceId),
    /// Used by another batch.
    UsedIn(BatchId),
    /// Sold and not come back.
    Sold,
    /// Left in another way.
    Gone(Flow),
}

/// Where the pieces of each batch are.
pub(super) type PiecesOfBatches = FxHashMap<BatchId, BTreeMap<(ThingId, Where), Decimal>>;

/// Follows the pieces of all batches, once through the book. `None` where a quantity is too large to be carried.
pub(super) fn pieces_of_batches(costed: &CostedBook) -> Option<PiecesOfBatches> {
    let mut found = PiecesOfBatches::default();
    let Some(trace) = &costed.trace else { return Some(found) };
    let mut add = |lot: u32, place: Where, quantity: Decimal| -> Option<()> {
        let Some(lot) = trace.lot(lot) else { return Some(()) };
        let Made::Finished(batch) = lot.made else { return Some(()) };
        let sum = found.entry(batch).or_default().entry((lot.thing, place)).or_default();
        *sum = checked_add_exact(*sum, quantity).ok()?;
        Some(())
    };
    for lot in &costed.stock {
        add(lot.origin.number, Where::At(lot.place), lot.quantity)?;
    }
    for movement in costed.movements.iter().filter(|one| !one.flow.comes_in() || one.flow == Flow::SentBack) {
        let place = if movement.flow == Flow::Sold { Where::Sold } else { Where::Gone(movement.flow) };
        for piece in trace.pieces(movement.issue) {
            add(piece.lot, place, -piece.quantity)?;
        }
    }
    for account in &costed.batches {
        for piece in account.used.iter().flat_map(|used| trace.pieces(used.issue)) {
            add(piece.lot, Where::UsedIn(account.batch), -piece.quantity)?;
        }
    }
    Some(found)
}

/// What went in, of which lots. `None` where a figure is too large to be carried.
pub(super) fn went_in(index: &SheetIndex<'_>, account: &BatchAccount, figure: &str) -> Option<SheetTable> {
    let book = index.books.book;
    let columns = [("What", Words), ("Of which lot", Words), ("How much", Quantity), ("Laid out", Money)];
    let mut table = SheetTable::new("went-in", "What went in", &columns);
    let Some(trace) = &index.books.costed.trace else { return Some(table) };
    let mut sums: BTreeMap<(ThingId, u32), (Decimal, Fixed6)> = BTreeMap::new();
    let mut wear = Fixed6::ZERO;
    for used in &account.used {
        let (pieces, paid) = (trace.pieces(used.issue), used.vector.paid()?);
        // Of wear a bit of many packs goes in: its derivation tells them.
        if book.thing(used.thing).kind == ThingKind::Wear {
            wear = wear.checked_add(paid)?;
            continue;
        }
        let mut of_pieces = Fixed6::ZERO;
        for (at, piece) in (1_usize..).zip(pieces) {
            // The last takes the rest, so that the pieces are what the batch bears.
            let cost = if at == pieces.len() { paid.checked_sub(of_pieces)? } else { piece.cost.paid()?.checked_neg()? };
            of_pieces = of_pieces.checked_add(cost)?;
            add(&mut sums, (used.thing, piece.lot), -piece.quantity, cost)?;
        }
        if pieces.is_empty() {
            add(&mut sums, (used.thing, 0), used.quantity, paid)?;
        }
    }
    for kept in &account.kept {
        add(&mut sums, (kept.thing, u32::MAX), -kept.quantity, kept.vector.paid()?.checked_neg()?)?;
    }
    let straight = straight_to(index, account.batch)?;
    let mut money: Vec<Fixed6> = sums.values().map(|(_, paid)| *paid).collect();
    let others = [("Blades, paper and other wear", wear, "wear"), ("Bought for this batch alone", straight, "materials")];
    money.extend(others.iter().map(|(_, sum, _)| *sum).filter(|sum| !sum.is_zero()));
    let (shown, all) = column_cells(book, &money)?;
    let mut shown = shown.into_iter();
    let mut paid = || SheetCell::new(Money, shown.next().unwrap_or_default());
    let materials = format!("{figure}/materials");
    for ((thing, lot), (quantity, _)) in &sums {
        let named = book.thing(*thing);
        let head = SheetCell::new(Words, named.named.title.as_str()).of(index.thing_name(*thing));
        let (lot, of_lot) = match (*lot, trace.lot(*lot)) {
            (u32::MAX, _) => (SheetCell::new(Words, "kept for later"), materials.clone()),
            (_, Some(lot)) => lot_cell(index, trace, lot.origin.number),
            (_, None) => (SheetCell::new(Words, "not on record"), materials.clone()),
        };
        let many = SheetCell::quantity(quantity_text(*quantity), named.unit.as_str()).figure(of_lot);
        table.row(vec![head, lot, many, paid().figure(figure)]);
    }
    for (said, _, part) in others.into_iter().filter(|(_, sum, _)| !sum.is_zero()) {
        let empty = || SheetCell::new(Words, "");
        table.row(vec![SheetCell::new(Words, said), empty(), empty(), paid().figure(format!("{figure}/{part}"))]);
    }
    if table.rows.len() > 1 {
        let empty = || SheetCell::new(Words, "");
        let all = SheetCell::new(Money, all).by_table("collected");
        table.total =
            Some(SheetRow { day: String::new(), cells: vec![SheetCell::new(Words, "Together"), empty(), empty(), all] });
    }
    Some(table)
}

fn add(sums: &mut BTreeMap<(ThingId, u32), (Decimal, Fixed6)>, of: (ThingId, u32), much: Decimal, paid: Fixed6) -> Option<()> {
    let (quantity, cost) = sums.entry(of).or_default();
    (*quantity, *cost) = (checked_add_exact(*quantity, much).ok()?, cost.checked_add(paid)?);
    Some(())
}

/// What was bought straight for a batch, or lay in it when the book began.
fn straight_to(index: &SheetIndex<'_>, batch: BatchId) -> Option<Fixed6> {
    Fixed6::checked_sum(index.straight_to(batch).map(|movement| movement.vector.paid()).collect::<Option<Vec<_>>>()?)
}

/// How a lot came, with its name, and its figure.
fn lot_cell(index: &SheetIndex<'_>, trace: &Trace, number: u32) -> (SheetCell, String) {
    let figure = format!("lot/{}", index.names.lot(number));
    let Some(lot) = trace.lot(number) else { return (SheetCell::new(Words, "not on record"), figure) };
    let day = lot.origin.date.to_string();
    let name = figure.rsplit('/').next().filter(|name| !name.starts_with(&day));
    let words = match (lot.made, name) {
        (Made::Finished(_) | Made::Kept(_), _) | (_, None) => format!("{}, {day}", came_how(index, lot)),
        (_, Some(name)) => format!("{name}, {}, {day}", came_how(index, lot)),
    };
    let cell = SheetCell::new(Words, words);
    let cell = match lot.made {
        Made::Finished(batch) | Made::Kept(batch) => cell.of(index.batch_name(batch)),
        _ => cell,
    };
    (cell, figure)
}

/// Where its pieces are now. `None` where a quantity is too large to be carried.
pub(super) fn where_now(index: &SheetIndex<'_>, account: &BatchAccount) -> Option<SheetTable> {
    let book = index.books.book;
    let mut table =
        SheetTable::new("now", "Where its pieces are now", &[("Where", Words), ("What", Words), ("How many", Quantity)]);
    let Some(pieces) = index.pieces_of(account.batch) else { return Some(table) };
    let mut all = Some(Decimal::ZERO);
    for ((thing, place), quantity) in pieces.iter().filter(|(_, quantity)| !quantity.is_zero()) {
        let (named, sheet) = (book.thing(*thing), index.thing_name(*thing));
        let many = SheetCell::quantity(quantity_text(*quantity), named.unit.as_str());
        let many = match place {
            Where::At(_) => many.of(sheet.clone()).by_table("stock"),
            Where::UsedIn(batch) => many.of(index.batch_name(*batch)).by_table("went-in"),
            Where::Sold | Where::Gone(_) => many.of(sheet.clone()).by_table("went"),
        };
        let head = match place {
            Where::At(place) => SheetCell::new(Words, format!("on hand, {}", book.place(*place).named.title)),
            Where::UsedIn(batch) => {
                SheetCell::new(Words, format!("used in {}", book.batch(*batch).name)).of(index.batch_name(*batch))
            }
            Where::Sold => SheetCell::new(Words, "sold"),
            Where::Gone(flow) => SheetCell::new(Words, went_how(*flow)),
        };
        table.row(vec![head, SheetCell::new(Words, named.named.title.as_str()).of(sheet), many]);
        all = match named.unit {
            Unit::Each => all.and_then(|sum| checked_add_exact(sum, *quantity).ok()),
            _ => None,
        };
    }
    if let Some(all) = all.filter(|_| table.rows.len() > 1) {
        let cells = vec![
            SheetCell::new(Words, "Together"),
            SheetCell::new(Words, ""),
            SheetCell::quantity(quantity_text(all), "ea").by_table("gave"),
        ];
        table.total = Some(SheetRow { day: String::new(), cells });
    }
    Some(table)
}

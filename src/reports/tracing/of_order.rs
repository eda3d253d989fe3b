//! An order that is asked about itself: what was sold with it, what came back, and what became of that.
//!
//! What came back to stock lies in its lot among the others of it, so where it goes on is told of the lot.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::reach::{gone_of, order_of};
use super::whither::{gone_step, how_it_left};
use super::{Traced, Tree};
use crate::costing::{LinkedPiece, LinkedTo};
use crate::reports::period::quantity_text;
use crate::reports::{ReachedGone, ReachedOrder, TraceKind, TraceStep};
use crate::sources::Span;

impl Tree<'_, '_> {
    /// An order, and below it its pieces, in the order in which they went and came back.
    pub(super) fn whither_order(&self, order: u32) -> Option<TraceStep> {
        let of = self.of;
        let mut step = of.order_step(order, None, Span::default())?;
        for piece in of.index.moved_with(order) {
            let mut moved = of.order_step(order, Some((-piece.quantity, piece.thing, piece.date)), piece.line)?;
            if piece.quantity.is_sign_positive() {
                moved.steps.push(match left_again(of, piece) {
                    Some((entry, how)) => gone_step(of, entry, piece.quantity, how),
                    None => back_in_lot(of, piece),
                });
            }
            step.steps.push(moved);
        }
        Some(step)
    }
}

/// The same pieces leaving with the very line that took them back: scrapped.
fn left_again<'a>(of: &Traced<'a>, back: &LinkedPiece) -> Option<(&'a LinkedPiece, &'static str)> {
    of.index.of_lot(back.lot).find_map(|(to, entry)| {
        let Some(LinkedTo::Flow(flow)) = to else { return None };
        let is_same = (entry.event, entry.line) == (back.event, back.line) && entry.quantity.is_sign_negative();
        how_it_left(flow).filter(|_| is_same).map(|how| (entry, how))
    })
}

fn back_in_lot(of: &Traced<'_>, piece: &LinkedPiece) -> TraceStep {
    let lot = of.names.lot(piece.lot);
    TraceStep {
        kind: TraceKind::Back,
        says: format!("back in stock as lot {lot}: `kerfbook trace lot/{lot}` tells where that went on"),
        figure: Some(format!("lot/{lot}")),
        date: Some(piece.date.to_string()),
        quantity: Some(quantity_text(piece.quantity)),
        unit: Some(of.unit(piece.thing).to_owned()),
        above: false,
        at: None,
        steps: Vec::new(),
    }
}

/// What was sold with some orders of each lot, and what of it came back.
pub(super) fn goods_of(of: &Traced<'_>, orders: &[u32]) -> Vec<ReachedOrder> {
    let mut list = Vec::new();
    for order in orders {
        let mut lots: BTreeMap<u32, (Decimal, Decimal)> = BTreeMap::new();
        for piece in of.index.moved_with(*order) {
            let (out, back) = lots.entry(piece.lot).or_default();
            let sum = if piece.quantity.is_sign_negative() { out } else { back };
            *sum = sum.saturating_add(piece.quantity.abs());
        }
        list.extend(lots.into_iter().filter_map(|(lot, moved)| order_of(of, *order, lot, moved)));
    }
    list
}

/// What came back from some orders and left again with the same line.
pub(super) fn gone_again(of: &Traced<'_>, orders: &[u32]) -> Vec<ReachedGone> {
    let moved = orders.iter().flat_map(|order| of.index.moved_with(*order));
    let back = moved.filter(|piece| piece.quantity.is_sign_positive());
    back.filter_map(|piece| left_again(of, piece).map(|(entry, how)| gone_of(of, entry, piece.quantity, how))).collect()
}

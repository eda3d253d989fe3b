//! What a random book remembers of its purchases and orders: enough to pay, return and send back no more than there is.

use chrono::NaiveDate;

use super::quantity_text::Nano;
use super::shelf::Heap;

/// A purchase.
#[derive(Clone, Debug)]
pub(crate) struct Bill {
    pub(crate) supplier: String,
    pub(crate) receipt: Option<String>,
    pub(crate) date: NaiveDate,
    /// What is surely still owed, in cents.
    pub(crate) open: i128,
    /// Goods: thing, place, quantity, cents, and the lot's code.
    pub(crate) goods: Vec<(&'static str, &'static str, Nano, i128, Option<String>)>,
    /// Whether a credit has been given on it.
    pub(crate) credited: bool,
}

/// A line of an order.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    pub(crate) thing: &'static str,
    /// Cents for a piece, at least.
    pub(crate) cents: i128,
    /// What has not come back.
    pub(crate) pieces: Vec<Heap>,
}

/// A sale.
#[derive(Clone, Debug)]
pub(crate) struct Order {
    pub(crate) name: Option<String>,
    pub(crate) channel: &'static str,
    pub(crate) date: NaiveDate,
    /// The last day on which something of it came back.
    pub(crate) came_back: Option<NaiveDate>,
    pub(crate) lines: Vec<Line>,
    /// What surely can still be received, in cents.
    pub(crate) open: i128,
    /// Sales tax on top that has not been given back, in cents.
    pub(crate) tax: i128,
    /// What surely was paid and has not been refunded, in cents.
    pub(crate) refundable: i128,
    /// Fees that were surely taken and have not come back, in cents.
    pub(crate) fees: i128,
    /// Shipping charged that has not been given back, in cents.
    pub(crate) shipping: i128,
}

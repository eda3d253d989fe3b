//! The exact twin: a second engine in exact fractions, written from the design without a look at the first, and the two held
//! against each other.

mod comparison;
pub(crate) mod exact_number;
mod exact_vector;
mod twin;
mod twin_batch;
mod twin_finish;
mod twin_leaving;
mod twin_money;
mod twin_order;
mod twin_overhead;
mod twin_purchase;
mod twin_sale;
mod twin_shelf;
mod twin_short;
mod twin_work;

pub(crate) use comparison::differences;
pub(crate) use twin::cost_exactly;

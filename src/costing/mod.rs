//! Stage 7: the engine. It walks the events of a book in order and moves cost from lot to batch to lot to where it goes.
//!
//! In: an [`EventLog`](crate::events::EventLog) and a [`ResolvedBook`](crate::names::ResolvedBook). Out: a [`CostedBook`]. The rules are
//! `costing.md`'s; each file names the ones that it holds. Must not: know a tax form, round for display, or print.

mod batch_account;
mod cost_vector;
mod costed_book;
mod proof;

pub use batch_account::{BatchAccount, BatchState, KeptItem, LossItem, OutputItem, TimeItem, UsedItem};
pub use cost_vector::{Component, CostVector, StepMinutes};
pub use costed_book::{
    Account, Bill, BillKind, CostedBook, Deposit, Flow, HourItem, LicenceLot, LotOrigin, MileItem, Movement, OrderAccount,
    OrderLine, Pieces, Posting, StockLot, TaxFlow, TaxItem, ToolAccount, ToolCame, YearEnd,
};
pub use proof::{Proof, YearProof};

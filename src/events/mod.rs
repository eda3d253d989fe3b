//! Stage 6: from entries to what happened, day by day.
//!
//! In: a [`SyntaxFile`](crate::syntax::SyntaxFile) and a [`ResolvedBook`](crate::names::ResolvedBook). Out: an [`EventLog`]: events
//! in the order of the day, with names as ids, quantities in own units and sums checked. Must not: know what is on hand.

mod batch_course;
mod batch_order;
mod build;
mod build_batch;
mod build_bought;
mod build_left;
mod build_moved;
mod build_opened;
mod build_paid;
mod build_received;
mod build_records;
mod build_returned;
mod build_sold;
mod build_swapped;
mod build_worked;
mod day_order;
mod desk;
mod doubts;
mod entry_goods;
mod entry_money;
mod entry_names;
mod entry_prices;
mod entry_reader;
mod entry_sums;
mod entry_text;
mod entry_time;
mod errors;
mod event;
mod log;
mod no_effect;
mod on_the_bench;
mod settlement;
mod slips_of_bills;
mod slips_of_prices;
mod slips_of_sales;
mod slips_of_years;
mod sold_lines;

pub use build::build_events;
pub use doubts::Doubts;
pub use event::{
    BatchWork, Bought, BoughtLine, BoughtWhat, Counted, Credited, Event, EventKind, IncomeLine, KeptLine, Left, LeftHow,
    LeftLine, LostLine, MadeLine, Moved, OpenDebt, Opened, OpenedHow, OpenedLine, OpenedTool, Output, OutputSharing,
    Paid, PaidFor, PaidLine, Payment, Received, ReceivedFor, ReceivedLine, ReturnFate, Returned, ReturnedLine, SentBack,
    SentBackLine, Settlement, Sharing, Sold, SoldLine, StockLine, TaxLine, Tender, TimeLine, Worker,
};
pub use log::EventLog;

#[cfg(test)]
mod tests;

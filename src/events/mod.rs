//! Stage 6: from entries to what happened, day by day.
//!
//! In: a [`SyntaxFile`](crate::syntax::SyntaxFile) and a [`ResolvedBook`](crate::names::ResolvedBook). Out: an [`EventLog`]: events
//! in the order of the day, with names as ids, quantities in own units and sums checked. Must not: know what is on hand.

mod after_deposits;
mod batch_course;
mod batch_order;
mod batch_work;
mod bought;
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
mod counts_of_a_day;
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
mod goods_moved;
pub(crate) mod hired_time;
mod in_doubt;
mod line_order;
mod log;
mod names_meant;
mod no_effect;
mod on_the_bench;
mod opened;
mod paid;
mod papers;
mod received;
mod settlement;
mod slips_of_bills;
mod slips_of_costs;
mod slips_of_fairs;
mod slips_of_figures;
mod slips_of_helpers;
mod slips_of_making;
mod slips_of_orders;
mod slips_of_pairs;
mod slips_of_prices;
mod slips_of_remarks;
mod slips_of_sales;
mod slips_of_taxes;
mod slips_of_worked_ahead;
mod slips_of_years;
mod sold;
mod sold_lines;
mod sold_tender;
mod total_explained;

pub use batch_work::{BatchWork, KeptLine, LostLine, MadeLine, Output, OutputSharing, StockLine, TimeLine, Worker};
pub use bought::{Bought, BoughtLine, BoughtWhat, Sharing};
pub use build::build_events;
pub use doubts::Doubts;
pub(crate) use errors::NO_EFFECT_HERE;
pub(crate) use errors::entries::nothing_expected;
pub use event::{Event, EventKind, Payment, Settlement};
pub use goods_moved::{
    Counted, Credited, Left, LeftHow, LeftLine, Moved, ReturnFate, Returned, ReturnedLine, SentBack, SentBackLine,
};
pub use log::EventLog;
pub use opened::{OpenDebt, Opened, OpenedHow, OpenedLine, OpenedTool};
pub use paid::{Paid, PaidFor, PaidLine};
pub use papers::{Paper, Papers};
pub use received::{Received, ReceivedFor, ReceivedLine};
pub use sold::{IncomeLine, Sold, SoldLine, TaxLine, Tender};

#[cfg(test)]
mod tests;

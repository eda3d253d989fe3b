//! Stage 6: from entries to what happened, day by day.
//!
//! In: a [`SyntaxFile`](crate::syntax::SyntaxFile) and a [`ResolvedBook`](crate::names::ResolvedBook). Out: an [`EventLog`]: events
//! in the order of the day, with names as ids, quantities in own units and sums checked. Must not: know what is on hand.

mod event;
mod log;

pub use event::{
    BatchWork, Bought, BoughtLine, BoughtWhat, Counted, Credited, Event, EventKind, IncomeLine, KeptLine, Left, LeftHow,
    LeftLine, LostLine, MadeLine, Moved, OpenDebt, Opened, OpenedHow, OpenedLine, OpenedTool, Output, OutputSharing,
    Paid, PaidFor, PaidLine, Payment, Received, ReceivedFor, ReceivedLine, ReturnFate, Returned, ReturnedLine, SentBack,
    SentBackLine, Settlement, Sharing, Sold, SoldLine, StockLine, TaxLine, Tender, TimeLine, Worker,
};
pub use log::EventLog;

//! Stage 7: the engine. It walks the events of a book in order and moves cost from lot to batch to lot to where it goes.
//!
//! In: an [`EventLog`] and a [`ResolvedBook`]. Out: a [`CostedBook`]. The rules are
//! those of `DEVELOPERS.md`, "How cost flows"; each file names the ones that it holds. Must not: know a tax form, round for display, or print.

mod amounts;
mod arrivals;
mod batch;
mod batch_account;
mod batch_book;
mod beside;
mod bill;
mod cost_vector;
mod costed_book;
mod deposits;
mod engine;
mod errors;
mod fault;
mod fees;
mod finish;
mod in_doubt;
mod issue;
mod landed_cost;
mod ledger;
mod licences;
mod likely_of_batches;
mod likely_of_sales;
mod likely_slips;
mod links;
mod movement;
mod not_paid;
mod orders;
mod overhead;
mod owed;
mod places;
mod planned;
mod posting;
mod proof;
mod refunds;
mod returns;
mod sale_sums;
mod shelf;
mod suppliers;
mod time;
mod tools;
mod trace;
mod variances;

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};

pub use amounts::Amounts;
pub use batch_account::{BatchAccount, BatchState, KeptItem, LossItem, OutputItem, TimeItem, UsedItem};
pub use beside::Mark;
pub use bill::{Bill, BillKind, Deposit, HandedBack};
pub use cost_vector::{Component, CostVector, StepMinutes};
pub use costed_book::{
    CostedBook, HourItem, LicenceLot, LotOrigin, MileItem, OrderAccount, OrderLine, Pieces, StockLot, TaxFlow, TaxItem,
    ToolAccount, ToolCame, YearEnd,
};
pub use licences::usual_batch;
pub use links::{Came, Link, LinkedLot, LinkedOutput, LinkedPiece, LinkedTo, Links, StraightCost};
pub use movement::{Flow, Movement};
pub use not_paid::NotPaid;
use overhead::OverheadLeft;
pub use overhead::actual_overhead;
pub(crate) use overhead::{overhead_of, overhead_of_tools};
pub use posting::{Account, Posting};
pub use proof::{Proof, YearProof};
pub use trace::{Finish, FinishPart, Issue, LotMade, Made, ShelfEntry, Trace};
pub use variances::{
    BatchVariance, BatchVariances, StandardPrices, TakenOut, VarianceOf, VariancePart, VariancePartOf, variances_of,
};

use crate::diagnostics::Diagnostics;
use crate::events::EventLog;
use crate::names::ResolvedBook;

/// What is asked of the engine.
#[derive(Clone, Copy, Debug)]
pub struct CostOptions {
    /// The last day to cost; `None` for all.
    pub until: Option<NaiveDate>,
    /// Whether movements, postings and the batches' items are kept for reports; else only the proof and the balances.
    pub keep_journal: bool,
    /// Whether the lots on hand are handed on; else only the sums at the years' ends.
    pub keep_stock: bool,
    /// Whether the trace is kept, for derivations.
    pub keep_trace: bool,
    /// Whether the links between lots, batches and orders are kept, for following goods. Not beside the trace: with that there are none.
    pub keep_links: bool,
    /// The day that counts as today: what is dated later makes nothing old.
    pub today: Option<NaiveDate>,
}

impl Default for CostOptions {
    fn default() -> Self {
        Self { until: None, keep_journal: true, keep_stock: true, keep_trace: false, keep_links: false, today: None }
    }
}

/// Costs a book. Mistakes are told; the rest goes on. The figures of a book with mistakes are not to be shown.
#[must_use]
pub fn cost_book(log: &EventLog, book: &ResolvedBook, options: &CostOptions, found: &mut Diagnostics) -> CostedBook {
    let mut engine = engine::Engine::new(log, book, options, found);
    let mut overhead = BTreeMap::new();
    if let Some(first) = overhead::first_day_from_expenses(book).filter(|day| options.until.is_none_or(|until| *day <= until)) {
        // The years before need to know nothing of it: they are walked beside.
        let years_before = NaiveDate::from_ymd_opt(first.year(), 1, 1).and_then(|day| day.pred_opt());
        let find = || overhead_to_spread(log, book, options.until);
        let before = || years_before.map(|last| engine.walk_until(Some(last)));
        (overhead, _) = rayon::join(find, before);
        engine.overhead_left.clone_from(&overhead);
    }
    engine.run(options.until);
    CostedBook { overhead, ..engine.into_costed() }
}

/// Costs a book once more, with marks on what is not paid at the ends of years. `before` is what [`cost_book`] made of the same days, with its
/// journal, whose movements the marks name: the figures are the same, and what was told then is not told again.
#[must_use]
pub fn cost_book_marked(
    log: &EventLog,
    book: &ResolvedBook,
    options: &CostOptions,
    before: &CostedBook,
    not_paid: &NotPaid,
) -> CostedBook {
    let mut unheard = Diagnostics::default();
    let mut engine = engine::Engine::new(log, book, options, &mut unheard);
    engine.overhead_left.clone_from(&before.overhead);
    engine.not_paid = Some(not_paid);
    engine.run(options.until);
    engine.into_costed()
}

/// A first walk, without overhead, that finds each year's actual overhead and direct minutes.
fn overhead_to_spread(log: &EventLog, book: &ResolvedBook, until: Option<NaiveDate>) -> BTreeMap<i32, OverheadLeft> {
    let mut unheard = Diagnostics::default();
    let options = CostOptions { until, keep_journal: false, keep_stock: false, ..CostOptions::default() };
    let mut engine = engine::Engine::new(log, book, &options, &mut unheard);
    engine.ledger.keeps_postings = true;
    engine.direct_minutes = Some(BTreeMap::new());
    engine.run(until);
    let minutes = engine.direct_minutes.take().unwrap_or_default();
    let costed = engine.into_costed();
    let mut left = BTreeMap::new();
    for (year, minutes) in minutes {
        let (first, last) = (NaiveDate::from_ymd_opt(year, 1, 1), NaiveDate::from_ymd_opt(year, 12, 31));
        if let Some(money) = actual_overhead(book, &costed, first, last) {
            left.insert(year, OverheadLeft { money, minutes });
        }
    }
    left
}

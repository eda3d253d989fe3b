//! `kerfbook stock [--on DATE]`: what is on hand.

use super::show::show;
use super::{Done, compile};
use crate::cli::args::StockArgs;
use crate::cli::compile::Compiled;
use crate::cli::faults::{says_nothing_of, too_large};
use crate::cli::options::stock_period;
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::costing::{CostOptions, cost_book};
use crate::diagnostics::Diagnostics;
use crate::render::html::Pages;
use crate::render::text::text_stock;
use crate::reports::{Period, StockReport, report_stock};

/// Runs it.
pub(super) fn run(args: &StockArgs, streams: &Streams) -> Done {
    let days = stock_period(args).map_err(Outcome::refused)?;
    let book = compile(&args.book, streams)?;
    if let Some(nothing) = says_nothing_of(&book.compiled, days) {
        return Err(nothing);
    }
    let report = stock_on(&book.compiled, days).ok_or_else(too_large)?;
    show(&report, &book, &args.show, streams, text_stock, Pages::render_stock)
}

/// What is on hand at the end of the period's last day, and month by month from its first. `None` where a figure is too
/// large to be carried.
pub(super) fn stock_on(compiled: &Compiled, days: Period) -> Option<StockReport> {
    let mut report = match days.to {
        Some(last) => {
            // The whole book was costed without a mistake, so its beginning has none either.
            let options = CostOptions { until: Some(last), ..CostOptions::default() };
            let costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
            report_stock(&compiled.book, &compiled.log, &costed, Some(last))?
        }
        None => report_stock(&compiled.book, &compiled.log, &compiled.costed, None)?,
    };
    if let Some(first) = days.from {
        let first_month = first.format("%Y-%m").to_string();
        report.over_time.retain(|(month, _)| *month >= first_month);
        report.head.from = Some(first.to_string());
    }
    Some(report)
}

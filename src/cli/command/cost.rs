//! `kerfbook cost [NAME]`: what one piece costs.

use super::show::show;
use super::{Done, compile};
use crate::cli::args::CostArgs;
use crate::cli::compile::Compiled;
use crate::cli::faults::{says_nothing_of, too_large};
use crate::cli::options::period;
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::diagnostics::did_you_mean;
use crate::render::html::Pages;
use crate::render::text::text_cost;
use crate::reports::{CostReport, Period, report_cost};

/// Runs it.
pub(super) fn run(args: &CostArgs, streams: &Streams) -> Done {
    let days = period(&args.period).map_err(Outcome::refused)?;
    let book = compile(&args.book, streams)?;
    if let Some(nothing) = says_nothing_of(&book.compiled, days) {
        return Err(nothing);
    }
    if let Some(name) = &args.name {
        known(&book.compiled, name).map_err(Outcome::refused)?;
    }
    let report = cost_in(&book.compiled, days, args.name.as_deref()).ok_or_else(too_large)?;
    show(&report, &book, &args.show, streams, text_cost, Pages::render_cost)
}

/// The cost of what was finished in a period. `None` where a figure is too large to be carried.
pub(super) fn cost_in(compiled: &Compiled, days: Period, name: Option<&str>) -> Option<CostReport> {
    report_cost(&compiled.book, &compiled.log, &compiled.costed, days, name)
}

/// Whether a name is one of which the cost can be asked.
fn known(compiled: &Compiled, name: &str) -> Result<(), String> {
    let things = compiled.book.things.iter().map(|thing| thing.named.name.as_str());
    let batches = compiled.book.batches.iter().map(|batch| batch.name.as_str());
    let names: Vec<&str> = things.chain(batches).collect();
    if names.contains(&name) {
        return Ok(());
    }
    let near = did_you_mean(name, names).map_or_else(String::new, |near| format!("; {near}"));
    Err(format!("there is no product, material or batch `{name}`{near}"))
}

//! `kerfbook cost [NAME]`: what one piece costs.

use super::show::show;
use super::{Done, compile};
use crate::cli::args::CostArgs;
use crate::cli::compile::Compiled;
use crate::cli::faults::too_large;
use crate::cli::options::period;
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::diagnostics::did_you_mean;
use crate::render::html::Pages;
use crate::render::text::text_cost;
use crate::reports::report_cost;

/// Runs it.
pub(super) fn run(args: &CostArgs, streams: &Streams) -> Done {
    let days = period(&args.period).map_err(Outcome::refused)?;
    let compiled = compile(&args.book, streams)?;
    if let Some(name) = &args.name {
        known(&compiled, name).map_err(Outcome::refused)?;
    }
    let report = report_cost(&compiled.book, &compiled.log, &compiled.costed, days, args.name.as_deref()).ok_or_else(too_large)?;
    show(&report, &args.show, streams, text_cost, Pages::render_cost)
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

//! `kerfbook schema NAME`: the JSON Schema of a report.

use super::Done;
use crate::cli::args::SchemaArgs;
use crate::cli::outcome::Outcome;
use crate::diagnostics::did_you_mean;
use crate::render::{SCHEMAS, schema};

/// Runs it.
pub(super) fn run(args: &SchemaArgs) -> Done {
    schema(&args.name).map(|text| Outcome::said(text.to_owned())).ok_or_else(|| {
        let near = did_you_mean(&args.name, SCHEMAS).map_or_else(String::new, |near| format!("; {near}"));
        Outcome::refused(format!("there is no report `{}`, only {}{near}", args.name, SCHEMAS.join(", ")))
    })
}

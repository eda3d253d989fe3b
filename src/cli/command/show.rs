//! Shows a report as it was asked for: on the terminal or in a file, as text, a page or JSON.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{Book, Done};
use crate::cli::args::{Format, ShowArgs};
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::cli::templates::read_templates;
use crate::cli::write_report::write_report;
use crate::render::html::{Neighbours, PageError, Pages};
use crate::render::render_json;
use crate::render::text::Look;

/// Shows a report of a book. `text` and `page` make it in their way.
pub(super) fn show<R: Serialize>(
    report: &R,
    book: &Book,
    args: &ShowArgs,
    streams: &Streams,
    text: impl FnOnce(&R, Look) -> String,
    page: impl FnOnce(&Pages, &R) -> Result<String, PageError>,
) -> Done {
    if args.templates.is_some() && args.format != Format::Html {
        return Err(Outcome::refused("`--templates` is for pages; say `--as html` too"));
    }
    let look = if args.out.is_some() { Look::default() } else { streams.out.look() };
    let made = match args.format {
        Format::Text => text(report, look),
        Format::Json => render_json(report).map_err(|fault| no_json(&fault))?,
        Format::Html => {
            let own = own_templates(args)?;
            let pages = Pages::new(&own, Neighbours::default()).map_err(Outcome::refused)?;
            page(&pages, report).map_err(Outcome::refused)?
        }
    };
    show_parts(vec![made], book, args)
}

/// Shows a report that was made already, in parts.
pub(super) fn show_parts(made: Vec<String>, book: &Book, args: &ShowArgs) -> Done {
    match &args.out {
        Some(path) => Ok(Outcome::said(write_report(path, &book.folder, &made.concat())?)),
        None => Ok(Outcome::said_in_parts(made)),
    }
}

/// That a report can't be written as JSON.
pub(super) fn no_json(fault: &serde_json::Error) -> Outcome {
    Outcome::refused(format!("the report can't be written as JSON: {fault}"))
}

fn own_templates(args: &ShowArgs) -> Result<BTreeMap<String, String>, Outcome> {
    read_templates(args.templates.as_deref()).map_err(Outcome::refused)
}

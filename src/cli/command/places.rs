//! `kerfbook places [NAME]`: what lies at each place away from home, and what is owed for what was sold there.

use super::show::show;
use super::{Done, compile};
use crate::cli::args::PlacesArgs;
use crate::cli::asked_name::is_otherwise;
use crate::cli::faults::too_large;
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::diagnostics::did_you_mean;
use crate::names::PlaceId;
use crate::render::html::Pages;
use crate::render::text::text_places;
use crate::reports::report_places;

/// Runs it.
pub(super) fn run(args: &PlacesArgs, streams: &Streams) -> Done {
    let book = compile(&args.book, streams)?;
    let places = &book.compiled.book.places;
    let only = match &args.name {
        None => None,
        Some(name) => {
            let at = places.iter().position(|place| place.named.name == *name).and_then(|at| u32::try_from(at).ok());
            let near = || did_you_mean(name, places.iter().map(|place| place.named.name.as_str()));
            let unknown = || {
                if let Some(is) = is_otherwise(&book.compiled.book, name) {
                    return Outcome::refused(format!("`{name}` is {is}, and no place where goods lie"));
                }
                let near = near().map_or_else(String::new, |near| format!("; {near}"));
                Outcome::refused(format!("there is no place `{name}`{near}"))
            };
            Some(PlaceId(at.ok_or_else(unknown)?))
        }
    };
    if only.is_some() && only == book.compiled.book.shop.home {
        return Err(Outcome::refused("that place is home; `kerfbook stock` tells what is there"));
    }
    let report = report_places(book.compiled.books(), only, book.today).ok_or_else(too_large)?;
    show(&report, &book, &args.show, streams, text_places, Pages::render_places)
}

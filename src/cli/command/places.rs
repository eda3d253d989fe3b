//! `kerfbook places [NAME] [--slip DATE]`: what lies at each place away from home, and what is owed for what was sold there.

use super::show::show;
use super::{Done, compile};
use crate::cli::args::PlacesArgs;
use crate::cli::asked_name::is_otherwise;
use crate::cli::faults::too_large;
use crate::cli::options::day;
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::diagnostics::did_you_mean;
use crate::names::PlaceId;
use crate::render::html::Pages;
use crate::render::text::text_places;
use crate::reports::report_places;

/// How many days of slips are named; there may be hundreds.
const MOST: usize = 12;

/// Runs it.
pub(super) fn run(args: &PlacesArgs, streams: &Streams) -> Done {
    let slip = args.slip.as_deref().map(|typed| day("--slip", typed)).transpose().map_err(Outcome::refused)?;
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
    let report = report_places(book.compiled.books(), only, book.today, slip).ok_or_else(too_large)?;
    if let Some(day) = slip.filter(|_| report.places.iter().all(|place| place.slip.is_none())) {
        let mut days: Vec<&str> =
            report.places.iter().flat_map(|place| &place.other_slips).map(|slip| slip.date.as_str()).collect();
        days.sort_unstable();
        days.dedup();
        let listed: Vec<String> = days.iter().rev().take(MOST).map(|day| format!("`{day}`")).collect();
        let on = match listed.as_slice() {
            [] => "nothing ever was".to_owned(),
            [one] => format!("something was on {one}"),
            many => format!("the last days on which something was are {}", many.join(", ")),
        };
        return Err(Outcome::refused(format!("nothing was handed over on {day}; {on}")));
    }
    show(&report, &book, &args.show, streams, text_places, Pages::render_places)
}

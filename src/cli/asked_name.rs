//! A thing as it is asked about on the command line: by its name or, after a count, by an English plural of it.
//!
//! What is none is said to be what it is, where the name is that of something else, or has its near names.

use crate::diagnostics::did_you_mean;
use crate::names::{ResolvedBook, ThingId, ThingKind, singular_of};

/// The thing of a name. `wanted` says what was looked for, `offered` which kinds are offered as near names.
///
/// # Errors
/// A sentence for the reader.
pub(super) fn thing_asked(
    book: &ResolvedBook,
    typed: &str,
    wanted: &str,
    offered: impl Fn(ThingKind) -> bool,
) -> Result<ThingId, String> {
    let names = || book.things.iter().map(|thing| thing.named.name.as_str());
    let exact = names().position(|name| name == typed);
    let at = exact.or_else(|| {
        let mut alike = names().enumerate().filter(|(_, name)| singular_of(typed, name));
        alike.next().filter(|_| alike.next().is_none()).map(|(at, _)| at)
    });
    if let Some(id) = at.and_then(|at| u32::try_from(at).ok()) {
        return Ok(ThingId(id));
    }
    if let Some(is) = is_otherwise(book, typed) {
        return Err(format!("`{typed}` is {is}, and no {wanted}"));
    }
    let near = book.things.iter().filter(|thing| offered(thing.kind)).map(|thing| thing.named.name.as_str());
    let near = did_you_mean(typed, near).map_or_else(String::new, |near| format!("; {near}"));
    Err(format!("there is no {wanted} `{typed}`{near}"))
}

/// What else a name stands for.
pub(super) fn is_otherwise(book: &ResolvedBook, typed: &str) -> Option<&'static str> {
    let is = |name: &str| name == typed;
    let place = book.places.iter().any(|one| is(&one.named.name));
    let channel = book.channels.iter().any(|one| is(&one.named.name));
    Some(match (place, channel) {
        (true, true) => "a place and a channel",
        (true, false) => "a place",
        (false, true) => "a channel",
        _ if book.lines.iter().any(|one| is(&one.name)) => "a product line",
        _ if book.tools.iter().any(|one| is(&one.named.name)) => "a tool",
        _ if book.batches.iter().any(|one| is(&one.name)) => "a batch",
        _ if book.patterns.iter().any(|one| is(&one.named.name)) => "a pattern",
        _ if book.steps.iter().any(|one| is(&one.named.name)) => "a step",
        _ if book.expenses.iter().any(|one| is(&one.named.name)) => "an expense",
        _ => return None,
    })
}

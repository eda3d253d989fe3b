//! Material and time in a sale: what a job for a customer took, such as a repair, which makes no product.

use crate::diagnostics::Diagnostic;
use crate::sources::SourceSet;
use crate::syntax::{Detail, DetailKind, Entry, HeadPart, ListWord, Verb};

/// Adds to what is told of such a line the entries in which it is written.
pub(super) fn with_entries_of_a_job(told: Diagnostic, entry: &Entry, detail: &Detail, sources: &SourceSet) -> Diagnostic {
    let DetailKind::Items(list @ (ListWord::Used | ListWord::Took), _) = detail.kind else { return told };
    if !matches!(entry.verb, Verb::Sold | Verb::Received) {
        return told;
    }
    let channel = entry.parts.iter().find_map(|(part, _)| match part {
        HeadPart::Via(channel) => Some(sources.text(*channel)),
        _ => None,
    });
    let channel = channel.unwrap_or("CHANNEL");
    let day = sources.text(entry.date_span);
    // The line without its first word.
    let typed = sources.text(detail.span).split_once(char::is_whitespace).map_or("", |(_, rest)| rest.trim());
    let (material, time) = if list == ListWord::Used { (typed, "30m STEP") } else { ("1 NAME", typed) };
    let told = if entry.verb == Verb::Received {
        told.note(format!("where it was for no channel, `on {channel}` is left out"))
    } else {
        told
    };
    told.note(format!(
        "what a job for a customer took, a repair say, has entries of its own: material `used-up {day} on {channel}` with a line \
         `{material}`, time `worked {day}` with a line `{time} on {channel}`"
    ))
}

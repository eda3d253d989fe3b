//! Material and time in a sale, or beside money that came: what a job for a customer took, such as a repair, which makes no product.

use crate::diagnostics::Diagnostic;
use crate::sources::{SourceSet, Span};
use crate::syntax::placement_errors::MISPLACED_LINE;
use crate::syntax::{Detail, DetailKind, Entry, HeadPart, ListWord, Verb};

/// How long the rest of a block may be that a correction shows again, in bytes.
const MOST_SHOWN: usize = 400;

/// Whether a line says material or time.
fn took(detail: &Detail) -> bool {
    matches!(detail.kind, DetailKind::Items(ListWord::Used | ListWord::Took, _))
}

/// Tells such lines of one entry, that stand one below the other, with the entries in which they are written; `None` where it is no such entry, or
/// another line is among them.
pub(crate) fn what_a_job_took(entry: &Entry, lines: &[Detail], sources: &SourceSet) -> Option<Diagnostic> {
    let (first, last) = (lines.first()?, lines.last()?);
    if !matches!(entry.verb, Verb::Sold | Verb::Received) || !lines.iter().all(took) {
        return None;
    }
    let channel = entry.parts.iter().find_map(|(part, _)| match part {
        HeadPart::Via(channel) => Some(sources.text(*channel)),
        _ => None,
    });
    let channel = channel.or_else(|| (entry.verb == Verb::Sold).then_some("CHANNEL"));
    let on = channel.map_or_else(String::new, |channel| format!(" on {channel}"));
    let day = sources.text(entry.date_span);
    let of = |wanted: ListWord| {
        let lists = lines.iter().filter_map(move |line| match &line.kind {
            DetailKind::Items(list, items) if *list == wanted => Some(items),
            _ => None,
        });
        lists.flatten().map(|item| sources.text(item.span))
    };
    let goods: Vec<String> = of(ListWord::Used).map(|item| format!("    {item}")).collect();
    let times: Vec<String> = of(ListWord::Took).map(|item| format!("    {item}{on}")).collect();
    let mut entries = Vec::new();
    if !goods.is_empty() {
        entries.push(format!("used-up {day}{on}\n{}", goods.join("\n")));
    }
    if !times.is_empty() {
        entries.push(format!("worked {day}\n{}", times.join("\n")));
    }
    let message = match entry.verb {
        Verb::Sold => "material and time are no part of a sale: what a job for a customer took has entries of its own",
        _ => "material and time are no part of money that came: what a class or a job took has entries of its own",
    };
    let place = Span::new(first.span.start, last.span.end);
    let told = Diagnostic::new(MISPLACED_LINE, place, message)
        .note("where something was made for stock, or for an order, it is a batch: `built DATE batch NAME`");
    let start = sources.lines_of(first.span).start;
    let end = entry.span.end.max(last.span.end);
    let rest = sources.text(Span::new(last.span.end, end));
    if rest.len() > MOST_SHOWN {
        return Some(told.note(format!("below the entry stands `{}`", entries.join("`, then `"))));
    }
    let rest: Vec<&str> = rest.lines().filter(|line| !line.trim().is_empty()).collect();
    let text: Vec<String> = rest.into_iter().map(str::to_owned).chain(entries).collect();
    Some(told.fix("write it so, below the entry", Span::new(start, end), text.join("\n")))
}

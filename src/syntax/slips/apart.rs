//! A line that is an entry of its own: it leaves its block, and the entry stands behind that.

use crate::diagnostics::Fix;
use crate::sources::{SourceSet, Span};

/// The entry in the place of a line: its verb, in front of what the head of the block says beside its own, and its line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Apart {
    /// What the correction does.
    pub(super) what: &'static str,
    /// The verb of the entry.
    pub(super) verb: &'static str,
    /// Its line.
    pub(super) line: String,
    /// What its head says behind the day; all that the head above says where that is `None`.
    pub(super) behind: Option<String>,
}

/// Whether a line is one of a block.
fn is_indented(line: &str) -> bool {
    line.starts_with([' ', '\t']) && !line.trim().is_empty()
}

/// The correction that takes a line out of its block and writes the entry behind that, or in the place of a block that has no other line;
/// `None` where no head stands above.
pub(super) fn fix_apart(sources: &SourceSet, line: Span, apart: &Apart) -> Option<Fix> {
    let own = sources.lines_of(Span::new(line.start, line.start));
    let file = sources.file_at(line.start)?.span;
    let above = sources.text(Span::new(file.start, own.start));
    let head = above.lines().rev().find(|line| line.starts_with(char::is_alphabetic))?;
    let said = head.split_once(char::is_whitespace)?.1.split('#').next().unwrap_or("").trim_end();
    let day = said.split_whitespace().next().unwrap_or(said);
    let said = apart.behind.as_ref().map_or_else(|| said.to_owned(), |behind| format!("{day}{behind}"));
    let entry = match apart.line.as_str() {
        "" => format!("{} {said}", apart.verb),
        line => format!("{} {said}\n    {line}", apart.verb),
    };
    // The channel of the sale.
    let via = head.split_whitespace().skip_while(|word| *word != "via").nth(1).unwrap_or("CHANNEL");
    let entry = entry.replace("CHANNEL", via);
    let behind = sources.text(Span::new(own.end, file.end)).strip_prefix('\n').unwrap_or("");
    let below: Vec<&str> = behind.lines().take_while(|line| is_indented(line)).collect();
    let length: usize = below.iter().map(|line| line.len() + 1).sum();
    let end = own.end.checked_add(u32::try_from(length).ok()?)?.min(file.end);
    // Nothing is left of a block that says to whom it was, and no more.
    let between: Vec<&str> = above.lines().rev().take_while(|line| *line != head).collect();
    let is_buyer = |line: &&str| line.trim_start().starts_with("to ");
    let is_alone = below.is_empty() && between.iter().all(is_buyer);
    let buyer = between.iter().find(|line| is_buyer(line)).map(|line| line.trim_start().trim_start_matches("to ").trim());
    let entry = match buyer {
        Some(buyer) if !buyer.contains('#') => entry.replacen(" from NAME", &format!(" from {buyer}"), 1),
        _ => entry,
    };
    let gone: usize = std::iter::once(&head).chain(&between).map(|line| line.len() + 1).sum();
    let start = if is_alone { own.start.checked_sub(u32::try_from(gone).ok()?)? } else { own.start };
    let replacement = below.into_iter().map(str::to_owned).chain([entry]).collect::<Vec<_>>().join("\n");
    Some(Fix { message: apart.what.into(), span: Span::new(start, end), replacement, sure: false })
}

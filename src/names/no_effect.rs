//! Lines that are read and checked but change no figure yet; each is warned of, so that nothing that was written is ignored in
//! silence.
//!
//! A line leaves this list with the stage that gives it its effect.

use crate::diagnostics::Diagnostics;
use crate::names::errors::defining;
use crate::syntax::{DetailKind, SyntaxFile, Verb};

/// Warns of every line without effect.
pub(crate) fn tell_lines_without_effect(syntax: &SyntaxFile, found: &mut Diagnostics) {
    let definitions = syntax.definitions.iter().map(|definition| &definition.details);
    let changes = syntax.entries.iter().filter(|entry| entry.verb == Verb::Changed).map(|entry| &entry.details);
    for detail in definitions.chain(changes).flatten() {
        if let Some(why) = reason(&detail.kind) {
            found.push(defining::no_effect_yet(detail.span, why));
        }
    }
}

/// Why a line has no effect; `None` where it has one.
const fn reason(kind: &DetailKind) -> Option<&'static str> {
    match kind {
        DetailKind::HoursPerWeek(_) => Some("it will serve planning, which isn't built yet"),
        DetailKind::ForChildren { .. } => Some("it will serve batch records and labels of toys, which aren't built yet"),
        _ => None,
    }
}

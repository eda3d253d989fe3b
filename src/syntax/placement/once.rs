//! What a block may say once, and says again.

use crate::diagnostics::Diagnostic;
use crate::sources::Span;
use crate::syntax::placement_errors as told;
use crate::syntax::placement_table::{LineKind, LineRow, line_row};
use crate::syntax::{Detail, DetailKind};

/// The lines that were seen in a block, by the question that they answer.
#[derive(Default)]
pub(super) struct Once {
    seen: u128,
    first: Vec<Seen>,
}

/// A line that was seen.
struct Seen {
    slot: LineKind,
    kind: LineKind,
    span: Span,
    /// Whether it is a part of a cost under section 179, beside which the rest may be recovered over years.
    in_part: bool,
}

impl Once {
    /// Says whether a line answers a question for the second time.
    pub(super) fn again(&mut self, row: &LineRow, detail: &Detail, repeats: bool, block: &str) -> Option<Diagnostic> {
        let bit = 1_u128 << (row.slot as u32);
        let in_part = matches!(detail.kind, DetailKind::Section179(Some(_)));
        let seen = Seen { slot: row.slot, kind: row.kind, span: detail.span, in_part };
        if self.seen & bit == 0 {
            self.seen |= bit;
            self.first.push(seen);
            return None;
        }
        let Some(first) = self.first.iter().find(|first| first.slot == row.slot && !first.stands_beside(&seen)) else {
            self.first.push(seen);
            return None;
        };
        let mistake = || {
            let told = told::repeated(detail.span, first.span, row.words, line_row(first.kind).words, block);
            if first.is_beside_in_kind(&seen) { told.note(told::A_PART_BESIDE) } else { told }
        };
        (first.kind != row.kind || !repeats).then(mistake)
    }
}

impl Seen {
    /// Whether both may stand in one block although they answer the same question.
    fn stands_beside(&self, other: &Self) -> bool {
        self.is_beside_in_kind(other) && (self.in_part || other.in_part)
    }

    fn is_beside_in_kind(&self, other: &Self) -> bool {
        matches!(
            (self.kind, other.kind),
            (LineKind::RecoveredOver, LineKind::Section179) | (LineKind::Section179, LineKind::RecoveredOver)
        )
    }
}

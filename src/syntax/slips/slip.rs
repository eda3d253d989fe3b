//! What a slip is: the mistake that a line of the table found, and the line as it should read.

use std::ops::Range;

use crate::diagnostics::Code;

use super::apart::Apart;
use super::typed::Typed;

/// A line of the table: looks at a line and says what is wrong with it, or nothing.
pub(super) type SlipRule = fn(&Typed<'_>) -> Option<Slip>;

/// A mistake that was recognised.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Slip {
    /// Its code.
    pub(super) code: Code,
    /// What was found and what belongs there.
    pub(super) message: String,
    /// Where it stands in the line.
    pub(super) at: Range<usize>,
    /// Further sentences.
    pub(super) notes: Vec<String>,
    /// What each change does, and the line afterwards; a line break in it begins a line of the same block.
    pub(super) fixes: Vec<(String, String)>,
    /// Whether the correction is the only thing that can be meant.
    pub(super) sure: bool,
    /// Whether nothing else may be guessed of the line: what it says has no place here.
    pub(super) settled: bool,
    /// Whether the corrections replace the comment too.
    pub(super) over_comment: bool,
    /// Whether the corrections replace the lines below too.
    pub(super) over_below: bool,
    /// The name that the first correction makes of several words, or of a text in quotes.
    pub(super) joined: Option<String>,
    /// An entry of its own that takes the place of the line.
    pub(super) apart: Option<Apart>,
}

impl Slip {
    /// Begins a slip.
    pub(super) fn new(code: Code, at: Range<usize>, message: impl Into<String>) -> Self {
        Self {
            code,
            message: message.into(),
            at,
            notes: Vec::new(),
            fixes: Vec::new(),
            sure: false,
            settled: false,
            over_comment: false,
            over_below: false,
            joined: None,
            apart: None,
        }
    }

    /// Adds a sentence.
    pub(super) fn note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(note.into());
        self
    }

    /// Says that the correction is the only thing that can be meant.
    pub(super) fn sure(self) -> Self {
        self.sure_if(true)
    }

    /// Says whether the correction is the only thing that can be meant.
    pub(super) fn sure_if(self, sure: bool) -> Self {
        Self { sure, ..self }
    }

    /// Says that nothing else may be guessed of the line.
    pub(super) fn settled(self) -> Self {
        Self { settled: true, ..self }
    }

    /// Says that an entry of its own takes the place of the line; nothing else may be guessed of it.
    pub(super) fn in_an_entry(self, apart: Apart) -> Self {
        Self { apart: Some(apart), ..self.settled() }
    }

    /// Says that the corrections replace the comment too.
    pub(super) fn over_comment(self) -> Self {
        Self { over_comment: true, ..self }
    }

    /// Says that the corrections replace the lines below too.
    pub(super) fn over_below(self) -> Self {
        Self { over_below: true, ..self }
    }

    /// Adds the line with a name for several words, or for a text in quotes.
    pub(super) fn fix_joined(self, what: impl Into<String>, line: impl Into<String>, name: impl Into<String>) -> Self {
        Self { joined: Some(name.into()), ..self.fix(what, line) }
    }

    /// Adds the line as it should read.
    pub(super) fn fix(mut self, what: impl Into<String>, line: impl Into<String>) -> Self {
        self.fixes.push((what.into(), line.into()));
        self
    }
}

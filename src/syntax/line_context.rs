//! Where a line stands that could not be read: at column 1 or indented, and under which head.
//!
//! The table of slips needs it to say what belongs there; nothing else does.

use crate::syntax::{DefinitionWord, Verb};

/// Where a line that could not be read stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct LineContext {
    /// Whether it begins at column 1.
    pub(crate) column_one: bool,
    /// The head of its block: its own where the line is a head whose first word is known, else that of the block above;
    /// `None` before the first block of a file and after a head that nothing is known of.
    pub(crate) block: Option<BlockWord>,
}

/// The first word of a block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum BlockWord {
    /// An entry's verb.
    Entry(Verb),
    /// A definition's word.
    Definition(DefinitionWord),
}

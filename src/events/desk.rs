//! What every entry may look at while it is read: the text, the definitions, when the book began, and which batches were open.
//!
//! It is filled before entries are read and never changes while they are, so that they can be read side by side.

use chrono::NaiveDate;
use rustc_hash::FxHashSet;

use crate::events::names_meant::NameParts;
use crate::events::on_the_bench::OnTheBench;
use crate::names::{LabelId, ResolvedBook};
use crate::sources::{SourceSet, Span};

/// What every entry may look at.
pub(crate) struct Desk<'a> {
    /// The book's text.
    pub(crate) sources: &'a SourceSet,
    /// What is defined.
    pub(crate) book: &'a ResolvedBook,
    /// The day of the earliest `opened` and its head, where the book has one: nothing happened before it.
    pub(crate) opened: Option<(NaiveDate, Span)>,
    /// Which batches were open when; empty while batches themselves are read.
    pub(crate) bench: OnTheBench,
    /// Names that were hired or are owed to without being defined.
    pub(crate) hired: FxHashSet<LabelId>,
    /// The parts of the names of things, for lines that could not be read.
    pub(crate) parts: NameParts,
}

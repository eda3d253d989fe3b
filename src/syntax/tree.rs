//! The syntax tree: what stands in the book, line by line, before any name is known.
//!
//! A block is a definition or an entry; it has a head line and details. Words that may be names, text or codes are kept as
//! spans of the source set. Nothing here is checked against anything but its own spelling.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::sources::Span;
use crate::syntax::{Amount, Detail, DetailKind};

/// All blocks of all files, in the order of the source set.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SyntaxFile {
    /// Definitions (`material red-oak "…"`).
    pub definitions: Vec<Definition>,
    /// Entries (`bought 2026-03-02 …`).
    pub entries: Vec<Entry>,
    /// Names that stand in a head that could not be read: later stages take them as known and stay silent.
    pub poisoned_names: Vec<Span>,
}

impl SyntaxFile {
    /// The entries that say of a warning that it is expected, each with the line that does.
    #[must_use]
    pub fn expectations(&self) -> Vec<(Span, Span)> {
        let of = |entry: &Entry| {
            let line = entry.details.iter().find(|detail| matches!(detail.kind, DetailKind::Expected(_)))?;
            Some((entry.span, line.span))
        };
        self.entries.iter().filter_map(of).collect()
    }
}

/// What kind of thing a definition makes known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the head words of the language")]
pub enum DefinitionWord {
    Shop,
    Choices,
    Place,
    Step,
    Material,
    Product,
    Line,
    Pattern,
    Helper,
    Channel,
    Expense,
    Income,
    Tool,
}

/// A definition: `material red-oak "Red oak"` and its lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Definition {
    /// The first word.
    pub word: DefinitionWord,
    /// The whole block.
    pub span: Span,
    /// The head line, without comment and line break.
    pub head: Span,
    /// The name; empty for `shop` and `choices`.
    pub name: Span,
    /// The title without its quotes; empty where the head has none.
    pub title: Span,
    /// The year of `choices`.
    pub year: Option<i32>,
    /// Its lines.
    pub details: Vec<Detail>,
    /// Whether its head could be read only in part.
    pub damaged: bool,
    /// Lines of it that could not be read; they have been told already.
    pub unread: Vec<Span>,
}

/// What an entry says has happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the head words of the language")]
pub enum Verb {
    Opened,
    Changed,
    Bought,
    Paid,
    Built,
    Started,
    Continued,
    Finished,
    Worked,
    Sold,
    Received,
    Sent,
    BroughtBack,
    Returned,
    SentBack,
    Credited,
    Counted,
    TookHome,
    Gave,
    Scrapped,
    UsedUp,
    Found,
    Contributed,
    Swapped,
    Drove,
    Odometer,
    Retired,
    Statement,
    Noted,
    Answered,
    Closed,
}

impl Verb {
    /// Whether an entry belongs to a batch: its lines say with a word of their own what was used, taken, made, lost or kept.
    #[must_use]
    pub const fn is_of_a_batch(self) -> bool {
        matches!(self, Self::Built | Self::Started | Self::Continued | Self::Finished)
    }
}

/// A supplier, buyer, payee or helper: a name, or text in quotes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Party {
    /// The name, or the text without its quotes.
    pub span: Span,
    /// Whether it stood in quotes.
    pub quoted: bool,
}

/// What follows `as` in `gave`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum GaveAs {
    Sample,
    Gift,
    Thanks,
    Donation,
}

/// A part of an entry's head, after the date. A text is without its quotes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HeadPart {
    /// `from NAME` (a supplier, a place, a payer).
    From(Party),
    /// `to NAME` (a place, a payee, a receiver).
    To(Party),
    /// `by NAME` in `credited`.
    By(Party),
    /// `with NAME` in `swapped`.
    With(Party),
    /// `via CHANNEL`.
    Via(Span),
    /// `at PLACE`.
    At(Span),
    /// `receipt "…"` or a bare code.
    Receipt(Span),
    /// `order "…"` or a bare code.
    Order(Span),
    /// `batch CODE`.
    Batch(Span),
    /// `on NAME` in `drove` and `used-up`.
    On(Span),
    /// `as sample` and its kind.
    As(GaveAs),
    /// The name after the date of `changed` and `retired`.
    Subject(Span),
    /// `changed … shop`.
    Shop,
    /// The figure of `drove` and `odometer`.
    Amount(Amount),
    /// `for MONEY` in `retired`.
    For(Decimal, Span),
    /// Text in quotes: `noted`, `drove`, the question and the answer of `answered`.
    Text(Span),
}

/// An entry: a head with its verb and day, and its details.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The verb.
    pub verb: Verb,
    /// The whole block.
    pub span: Span,
    /// The head line, without comment and line break.
    pub head: Span,
    /// The day. `None` where the head has a year instead (`statement`, `closed`), or where it could not be read.
    pub date: Option<NaiveDate>,
    /// Where the date or year stands; the verb where there is none.
    pub date_span: Span,
    /// The year of `statement` and `closed`.
    pub year: Option<i32>,
    /// What else the head says, with the place of each part.
    pub parts: Vec<(HeadPart, Span)>,
    /// Its details.
    pub details: Vec<Detail>,
    /// Whether its head could be read only in part; it has been told already, and the entry moves nothing.
    pub damaged: bool,
    /// Lines of it that could not be read; they have been told already.
    pub unread: Vec<Span>,
    /// Whether lines of another entry stand in it whose head is lost; they are among the unread ones.
    pub holds_others: bool,
}

//! Stage 4: from text to a syntax tree.
//!
//! In: a [`SourceSet`](crate::sources::SourceSet). Out: a [`SyntaxFile`]. The text is cut before head words into pieces, each is
//! parsed with a grammar that can't fail and lowered at once. Must not: look up names, convert units, or know what a day holds.

mod detail;
mod item;
mod line_context;
mod slips;
mod tree;

pub use detail::{Detail, DetailKind, FeeBase, Figure, ListWord, MoneyWord, Plain, Purpose, Reference, SharedBy};
pub use item::{Amount, AmountKind, Item, Said, SaidWhat, Side, Sizes};
pub use tree::{Definition, DefinitionWord, Entry, GaveAs, HeadPart, Party, SyntaxFile, Verb};

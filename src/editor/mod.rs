//! Beside the way of a book: its text laid out anew.
//!
//! In: the bytes of one file. Out: the same lines in the one layout of every book, or why they can't be laid out. Must not: read or
//! write files, or change what the book says; whoever writes the outcome compiles both and compares what they mean.

mod layout;
mod line_ends;
mod mended_text;
mod tidy;

pub use mended_text::{Hunk, MendedText};
pub use tidy::{NotTidied, Tidied, tidy_bytes};

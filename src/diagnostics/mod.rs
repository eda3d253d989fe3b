//! What is told to the reader: mistakes, warnings and open questions, as plain data.
//!
//! In: findings of every stage. Out: a sorted list, and its three renderings (text with snippets, `short`, `json`).
//! Must not: know what a finding means; wording stands beside its check, in each stage's `errors.rs`.

mod code;
mod damage;
mod diagnostic;
mod sink;

pub use code::{Code, Severity};
pub use damage::{NOT_TEXT, NOT_UTF_8, tell_damage};
pub use diagnostic::{Diagnostic, Fix, Label};
pub use sink::Diagnostics;

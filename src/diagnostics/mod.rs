//! What is told to the reader: mistakes, warnings and open questions, as plain data.
//!
//! In: findings of every stage. Out: a sorted list, and its three renderings (text with snippets, `short`, `json`).
//! Must not: know what a finding means; wording stands beside its check, in each stage's `errors.rs`.

mod code;
mod corrected;
mod damage;
mod diagnostic;
mod did_you_mean;
mod explain;
mod render_json;
mod render_short;
mod render_text;
mod sink;

pub use code::{Code, Severity};
pub use corrected::{CorrectedLines, corrected_lines};
pub use damage::{NOT_TEXT, NOT_UTF_8, tell_damage};
pub use diagnostic::{Diagnostic, Fix, Label};
pub use did_you_mean::{did_you_mean, edits, near_names};
pub use explain::{Example, all_codes, explain, explain_examples, explain_heading, explain_preamble, explain_typed};
pub use render_json::{DiagnosticModel, FixModel, LabelModel, PlaceModel, model_diagnostics, render_json};
pub use render_short::render_short;
pub use render_text::{TextStyle, render_each, render_text};
pub use sink::Diagnostics;

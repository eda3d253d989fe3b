//! Stage 10: reports for people and programs.
//!
//! In: report models. Out: terminal text, pages, JSON, and the JSON Schema of each report. Must not: compute a figure; only
//! places in a picture and the grouping of digits are worked out here. It reads and writes no file: templates of the reader's
//! own come in as text.

mod answer;
mod answer_to_decide;
mod charts;
pub mod html;
mod json;
mod json_in_parts;
mod number_format;
mod spoken;
pub mod text;

pub use json::{SCHEMAS, render_json, schema, schema_of_model};
pub use json_in_parts::trace_in_parts;

#[cfg(test)]
mod made_up;

//! Forms as data: lines, yearly figures, rules, and where each was read.
//!
//! Nothing here knows a book. What a file must hold is checked when it is read, so that the rest of the stage can rely on it.

pub(in crate::year) mod feed;
pub(in crate::year) mod figure_entries;
pub(in crate::year) mod figures;
pub(in crate::year) mod form;
pub(in crate::year) mod form_check;
pub(in crate::year) mod form_set;
pub(in crate::year) mod rule;
pub(in crate::year) mod source_note;

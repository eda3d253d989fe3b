//! Tools: what each costs, how its cost is recovered, and what it fetched when it left.
//!
//! The design's ten steps, a file a step or two; [`equipment`] goes through the tools of a year in the order in which they came.

pub(in crate::year) mod convention;
pub(in crate::year) mod depreciation;
pub(in crate::year) mod elections;
pub(in crate::year) mod equipment;
pub(in crate::year) mod section_179;
pub(in crate::year) mod section_179_rows;
pub(in crate::year) mod tool_coming;
pub(in crate::year) mod tool_recovery;
pub(in crate::year) mod tool_sale;
pub(in crate::year) mod tool_steps;

//! The proof, component by component.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::ReportHead;
use crate::reports::figure_text::AmountText;

/// A component of cost, or minutes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ProofComponent {
    /// `materials`, `freight`, `wear`, `bought_in_time`, `royalty`, `own_time`, `overhead`, `own_minutes`, `bought_in_minutes`.
    pub name: String,
    /// Start of the period and everything that came in.
    #[schemars(with = "AmountText")]
    pub came_in: String,
    /// The same, by source: `at_start`, `bought`, ….
    #[schemars(with = "BTreeMap<String, AmountText>")]
    pub came_from: BTreeMap<String, String>,
    /// Where it went: `at_end`, `sold`, ….
    #[schemars(with = "BTreeMap<String, AmountText>")]
    pub went_to: BTreeMap<String, String>,
    /// Came in less went to: `"0.000000"`.
    #[schemars(with = "AmountText")]
    pub difference: String,
}

/// The report.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ProofReport {
    /// Its head.
    #[serde(flatten)]
    pub head: ReportHead,
    /// Over the whole book.
    pub components: Vec<ProofComponent>,
    /// The same for each year.
    pub years: BTreeMap<String, Vec<ProofComponent>>,
    /// The proof in one line.
    pub line: String,
    /// Whether it comes out at exactly zero.
    pub holds: bool,
}

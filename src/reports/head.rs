//! What every report opens with.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::DayText;

/// The first keys of every report.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ReportHead {
    /// Which report: `cost`, `stock`, `pays`, `year`, `proof`.
    pub report: String,
    /// Version of its keys.
    pub version: u32,
    /// The shop's title.
    pub shop: String,
    /// The currency's code.
    pub currency: String,
    /// First day covered, `2026-01-01`; null for an empty book.
    #[schemars(with = "Option<DayText>")]
    pub from: Option<String>,
    /// Last day covered.
    #[schemars(with = "Option<DayText>")]
    pub to: Option<String>,
}

impl ReportHead {
    /// Whose book it is, in words: the shop's title, or that none is named.
    #[must_use]
    pub fn whose(&self) -> &str {
        if self.shop.is_empty() { "A book without a `shop`" } else { &self.shop }
    }
}

//! Patterns: pieces that were made and that each pattern's licences still permit, and royalties by payee and quarter.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::{MoneyText, QuantityText};

/// Royalties of a pattern in a quarter.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RoyaltyQuarter {
    /// `2026-Q1`; `before the book` for what was owed when the book began.
    pub quarter: String,
    /// Good pieces on which it is reckoned.
    #[schemars(with = "QuantityText")]
    pub pieces: String,
    /// The royalty.
    #[schemars(with = "MoneyText")]
    pub royalty: String,
    /// What of it is not paid.
    #[schemars(with = "MoneyText")]
    pub due: String,
}

/// A pattern of which licences were bought, pieces made or royalties owed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PatternUse {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// Products that are made by it, by name.
    pub products: Vec<String>,
    /// To whom royalties were paid last, or else of whom a licence was bought; null where the book does not say.
    pub payee: Option<String>,
    /// Good pieces made by it.
    #[schemars(with = "QuantityText")]
    pub made: String,
    /// Pieces that its licences permit in all; null where it has no limit.
    #[schemars(with = "Option<QuantityText>")]
    pub permitted: Option<String>,
    /// Pieces that may still be made.
    #[schemars(with = "Option<QuantityText>")]
    pub left: Option<String>,
    /// Pieces of a usual batch: the mean of its last three entries that made some, rounded up.
    #[schemars(with = "Option<QuantityText>")]
    pub usual_batch: Option<String>,
    /// Whether another batch of the usual size would go over.
    pub near: bool,
    /// Royalties, the oldest quarter first.
    pub royalties: Vec<RoyaltyQuarter>,
    /// All that is due.
    #[schemars(with = "MoneyText")]
    pub due: String,
    /// The same in a sentence.
    pub says: String,
}

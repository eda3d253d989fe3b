//! The rules behind the questions, by stable names.
//!
//! The stage knows which rule a question rests on; only a form's figures know what it says and where it stands. A form whose data
//! lacks one still asks, and says that it lacks it.

use super::source_note::mark_in_words;
use serde::Deserialize;

/// A rule on which a question or a note of the year rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(try_from = "String")]
pub enum Rule {
    /// Every amount has a line.
    EveryAmountHasALine,
    /// Above which receipts stock has to bear overhead.
    SmallTaxpayer,
    /// What waits in the goods, by `stock kept as inventory`.
    KeptAsInventory,
    /// The same, by `stock kept as supplies`.
    KeptAsSupplies,
    /// Inventory beside the cash basis.
    InventoryWithCash,
    /// What an agent receives.
    Agent,
    /// The closing stock is counted.
    Count,
    /// What of gifts counts.
    Gifts,
    /// Where stock goes that was donated.
    Donation,
    /// Theft, fire, flood.
    Casualty,
    /// Where the opening stock comes from.
    OpeningStock,
    /// Goods of the owner's.
    OwnGoods,
    /// When a cost counts on the cash basis.
    Unpaid,
    /// A change of method.
    ChangeOfMethod,
    /// Payments before delivery.
    Deferral,
    /// What is never paid.
    BadDebt,
    /// Records of miles.
    MileageRecords,
    /// Goods that left without having come.
    Unrecorded,
    /// How a tool's cost counts.
    Recovery,
    /// Bonus depreciation.
    Bonus,
    /// Bonus is declined for a whole class.
    BonusByClass,
    /// De minimis holds for all items.
    DeMinimisAllItems,
    /// What was recovered before the book.
    RecoveredBefore,
    /// A tool of the owner's.
    OwnTool,
    /// The income that limits section 179.
    Section179Income,
    /// The yearly limit of section 179.
    Section179Limit,
    /// Business use that falls after section 179 was taken.
    Section179Recapture,
    /// The gain of a tool that leaves.
    SoldTool,
    /// What of section 179 was carried for a tool that leaves.
    Section179Sold,
    /// When the standard rate per mile may be used.
    MileageRate,
    /// House costs beside the home workshop.
    HouseCosts,
    /// Wages from elsewhere.
    WagesElsewhere,
    /// What a channel's statement says.
    StatementGross,
}

impl Rule {
    /// All of them.
    pub const ALL: [Self; 33] = [
        Self::EveryAmountHasALine,
        Self::SmallTaxpayer,
        Self::KeptAsInventory,
        Self::KeptAsSupplies,
        Self::InventoryWithCash,
        Self::Agent,
        Self::Count,
        Self::Gifts,
        Self::Donation,
        Self::Casualty,
        Self::OpeningStock,
        Self::OwnGoods,
        Self::Unpaid,
        Self::ChangeOfMethod,
        Self::Deferral,
        Self::BadDebt,
        Self::MileageRecords,
        Self::Unrecorded,
        Self::Recovery,
        Self::Bonus,
        Self::BonusByClass,
        Self::DeMinimisAllItems,
        Self::RecoveredBefore,
        Self::OwnTool,
        Self::Section179Income,
        Self::Section179Limit,
        Self::Section179Recapture,
        Self::SoldTool,
        Self::Section179Sold,
        Self::MileageRate,
        Self::HouseCosts,
        Self::WagesElsewhere,
        Self::StatementGross,
    ];

    /// Its stable name, by which a form's figures call it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::EveryAmountHasALine => "every-amount-has-a-line",
            Self::SmallTaxpayer => "small-taxpayer",
            Self::KeptAsInventory => "kept-as-inventory",
            Self::KeptAsSupplies => "kept-as-supplies",
            Self::InventoryWithCash => "inventory-with-cash",
            Self::Agent => "agent",
            Self::Count => "count",
            Self::Gifts => "gifts",
            Self::Donation => "donation",
            Self::Casualty => "casualty",
            Self::OpeningStock => "opening-stock",
            Self::OwnGoods => "own-goods",
            Self::Unpaid => "unpaid",
            Self::ChangeOfMethod => "change-of-method",
            Self::Deferral => "deferral",
            Self::BadDebt => "bad-debt",
            Self::MileageRecords => "mileage-records",
            Self::Unrecorded => "unrecorded",
            Self::Recovery => "recovery",
            Self::Bonus => "bonus",
            Self::BonusByClass => "bonus-by-class",
            Self::DeMinimisAllItems => "de-minimis-all-items",
            Self::RecoveredBefore => "recovered-before",
            Self::OwnTool => "own-tool",
            Self::Section179Income => "section-179-income",
            Self::Section179Limit => "section-179-limit",
            Self::Section179Recapture => "section-179-recapture",
            Self::SoldTool => "sold-tool",
            Self::Section179Sold => "section-179-sold",
            Self::MileageRate => "mileage-rate",
            Self::HouseCosts => "house-costs",
            Self::WagesElsewhere => "wages-elsewhere",
            Self::StatementGross => "statement-gross",
        }
    }
}

impl TryFrom<String> for Rule {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        Self::ALL.into_iter().find(|rule| rule.name() == text).ok_or_else(|| format!("no question rests on a rule `{text}`"))
    }
}

/// What a rule says in a form's figures, and where it stands.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RuleText {
    /// Which.
    pub name: Rule,
    /// What it says, in a sentence.
    pub rule: String,
    /// Where it stands.
    source: String,
    /// How that was read; none where there is nothing to read.
    mark: Option<String>,
}

impl RuleText {
    /// What is said of a rule that a form's data lacks.
    pub(crate) fn lacking(form: &str) -> (String, String) {
        ("this form's data names no rule for this".to_owned(), format!("forms/{form}/figures.toml"))
    }

    /// Where it stands, and in brackets how that was read.
    #[must_use]
    pub fn source(&self) -> String {
        self.mark.as_ref().map_or_else(|| self.source.clone(), |mark| format!("{} ({})", self.source, mark_in_words(mark)))
    }

    /// A sentence that says what is wrong with it, where something is.
    pub(crate) fn fault(&self) -> Option<String> {
        let needs_mark = self.mark.is_none() && self.source != "common practice, no source";
        needs_mark.then(|| format!("the rule `{}` names a source without a `mark`", self.name.name()))
    }
}

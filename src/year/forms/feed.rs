//! What flows into a line of a form, by a stable name.
//!
//! The stage knows feeds; only a form's data knows on which line one lands. So a line's number and letter may move between
//! years, and another country's form may put two feeds on one line.

/// Something that the books come to and a form has a line for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Feed {
    /// Goods sold at net price, without sales tax, discount off; a consignee's sale at its customer's price.
    Goods,
    /// Shipping charged to buyers.
    ShippingCharged,
    /// Received for sales from before the book (cash basis).
    OwedBefore,
    /// Refunds and allowances.
    Refunds,
    /// Till over.
    TillOver,
    /// Allowance kept of sales tax.
    TaxAllowance,
    /// Goods given as samples, at cost.
    Samples,
    /// Miles times the rate in force.
    Miles,
    /// Fees of channels.
    Fees,
    /// Consignees' shares.
    Commission,
    /// Fees given back; lowers its line.
    FeesBack,
    /// Hired time of contractors that is no cost of goods.
    Contractors,
    /// Hired time of employees that is no cost of goods.
    Employees,
    /// Depreciation, bonus included.
    Depreciation,
    /// Section 179.
    Section179,
    /// Postage paid for orders and shipments.
    Postage,
    /// Wear and material used in the shop, outside batches.
    UsedInShop,
    /// Wear used, where stock is kept as supplies.
    WearUsed,
    /// Tools expensed at once.
    ToolsAtOnce,
    /// Packing used, lost or missing.
    PackingUsed,
    /// Goods given as business gifts, at cost.
    Gifts,
    /// Licences that are no cost of goods.
    Licences,
    /// Royalties that are no cost of goods.
    Royalties,
    /// Till short.
    TillShort,
    /// The home workshop, limited.
    HomeWorkshop,
    /// Stock at the start of the year, by the classes inside cost of goods.
    StockAtStart,
    /// Material bought, net of discount, with its sales tax, without freight, less what left otherwise than by a sale.
    Purchases,
    /// Hired time put into batches.
    Labor,
    /// Wear bought, less what was used otherwise than in making.
    MakingSupplies,
    /// Freight in on stock lines, royalties and licences.
    OtherCosts,
    /// Stock at the end of the year.
    StockAtEnd,
}

impl Feed {
    /// All of them.
    pub const ALL: [Self; 31] = [
        Self::Goods,
        Self::ShippingCharged,
        Self::OwedBefore,
        Self::Refunds,
        Self::TillOver,
        Self::TaxAllowance,
        Self::Samples,
        Self::Miles,
        Self::Fees,
        Self::Commission,
        Self::FeesBack,
        Self::Contractors,
        Self::Employees,
        Self::Depreciation,
        Self::Section179,
        Self::Postage,
        Self::UsedInShop,
        Self::WearUsed,
        Self::ToolsAtOnce,
        Self::PackingUsed,
        Self::Gifts,
        Self::Licences,
        Self::Royalties,
        Self::TillShort,
        Self::HomeWorkshop,
        Self::StockAtStart,
        Self::Purchases,
        Self::Labor,
        Self::MakingSupplies,
        Self::OtherCosts,
        Self::StockAtEnd,
    ];

    /// Its stable name, by which a form's data calls it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Goods => "goods",
            Self::ShippingCharged => "shipping-charged",
            Self::OwedBefore => "owed-before",
            Self::Refunds => "refunds",
            Self::TillOver => "till-over",
            Self::TaxAllowance => "tax-allowance",
            Self::Samples => "samples",
            Self::Miles => "miles",
            Self::Fees => "fees",
            Self::Commission => "commission",
            Self::FeesBack => "fees-back",
            Self::Contractors => "contractors",
            Self::Employees => "employees",
            Self::Depreciation => "depreciation",
            Self::Section179 => "section-179",
            Self::Postage => "postage",
            Self::UsedInShop => "used-in-shop",
            Self::WearUsed => "wear-used",
            Self::ToolsAtOnce => "tools-at-once",
            Self::PackingUsed => "packing-used",
            Self::Gifts => "gifts",
            Self::Licences => "licences",
            Self::Royalties => "royalties",
            Self::TillShort => "till-short",
            Self::HomeWorkshop => "home-workshop",
            Self::StockAtStart => "stock-at-start",
            Self::Purchases => "purchases",
            Self::Labor => "labor",
            Self::MakingSupplies => "making-supplies",
            Self::OtherCosts => "other-costs",
            Self::StockAtEnd => "stock-at-end",
        }
    }

    /// Whether it is a part of the cost of goods.
    #[must_use]
    pub const fn is_of_goods(self) -> bool {
        use Feed::{Labor, MakingSupplies, OtherCosts, Purchases, StockAtEnd, StockAtStart};
        matches!(self, StockAtStart | Purchases | Labor | MakingSupplies | OtherCosts | StockAtEnd)
    }

    /// Whether it is income, or lowers income.
    #[must_use]
    pub const fn is_income(self) -> bool {
        use Feed::{Goods, OwedBefore, Refunds, ShippingCharged, TaxAllowance, TillOver};
        matches!(self, Goods | ShippingCharged | OwedBefore | Refunds | TillOver | TaxAllowance)
    }

    /// With which sign it is in the net profit: 1, or −1 for what lowers it.
    #[must_use]
    pub const fn sign_in_profit(self) -> i64 {
        match self {
            Self::Refunds => -1,
            Self::StockAtEnd => 1,
            _ if self.is_income() => 1,
            _ => -1,
        }
    }

    /// The feed of a stable name.
    #[must_use]
    pub fn of_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|feed| feed.name() == name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_feed_is_found_by_its_stable_name_and_no_two_share_one() {
        for feed in Feed::ALL {
            assert_eq!(Feed::of_name(feed.name()), Some(feed));
        }
        assert_eq!(Feed::of_name("line-36"), None);
    }
}

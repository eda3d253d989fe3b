//! Figures of an order: what it brought in, what selling it cost, what its goods cost, and what is left.

use super::FigureNames;
use super::errors::{FigureFault, no_part};

/// A part of an order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OrderPart {
    /// What it brought in, less what was given back.
    Revenue,
    /// Fees, postage and packing.
    CostsOfSelling,
    /// What its goods cost, less those that came back.
    CostOfGoods,
    /// What is left of the first after the other two.
    Margin,
}

impl OrderPart {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Revenue, Self::CostsOfSelling, Self::CostOfGoods, Self::Margin];

    /// As it stands in a figure's name.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Revenue => "revenue",
            Self::CostsOfSelling => "costs-of-selling",
            Self::CostOfGoods => "cost-of-goods",
            Self::Margin => "margin",
        }
    }
}

/// A sale: what it brought in, what it cost, and what is left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OrderFigure {
    /// Its index among the book's orders.
    pub order: u32,
    /// A part of it; else its margin.
    pub part: Option<OrderPart>,
}

impl OrderFigure {
    pub(super) fn read(name: &str, rest: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let order = names.read_order(name)?;
        let Some(typed) = rest.first() else { return Ok(Self { order, part: None }) };
        let part = OrderPart::ALL.into_iter().find(|part| part.text() == *typed);
        let part = part.ok_or_else(|| no_part(typed, &OrderPart::ALL.map(OrderPart::text)))?;
        Ok(Self { order, part: Some(part) })
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        let name = format!("order/{}", names.order(self.order));
        self.part.map_or_else(|| name.clone(), |part| format!("{name}/{}", part.text()))
    }
}

//! What is said of an item's price: `at`, `at … per`, `for`; and what the line then comes to.
//!
//! `at` is money per unit of the quantity as it is written (per bag where bags are bought), `for` is money for the whole line. After
//! sizes `at` needs `per`, since boards and board feet are both counted there.

use rust_decimal::Decimal;

use crate::events::entry_goods::Measured;
use crate::events::entry_money::Sum;
use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::names::{GOODS_AND_TOOLS, singulars_of};
use crate::sources::Span;
use crate::syntax::{AmountKind, Item, SaidWhat};
use crate::units::checked_sub_exact;

/// What is said of a price.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum PriceSaid {
    /// `at MONEY`.
    At(Decimal, Span),
    /// `at MONEY per UNIT`, the unit's words.
    AtPer(Decimal, Span, Span),
    /// `for MONEY`.
    For(Decimal, Span),
}

impl PriceSaid {
    pub(crate) const fn span(self) -> Span {
        match self {
            Self::At(_, span) | Self::AtPer(_, _, span) | Self::For(_, span) => span,
        }
    }
}

impl EntryReader<'_> {
    /// The price that is said of an item. `Err` where two are said, which has been told.
    pub(crate) fn price_said(&mut self, item: &Item) -> Result<Option<PriceSaid>, ()> {
        let mut price: Option<PriceSaid> = None;
        for said in &item.said {
            let this = match said.what {
                SaidWhat::At(money) => PriceSaid::At(money, said.span),
                SaidWhat::AtPer(money, unit) => PriceSaid::AtPer(money, unit, said.span),
                SaidWhat::For(money) => PriceSaid::For(money, said.span),
                _ => continue,
            };
            if let Some(first) = price {
                self.refuse(errors::money::two_prices(this.span(), first.span()));
                return Err(());
            }
            price = Some(this);
        }
        Ok(price)
    }

    /// What a line comes to at a price. `less` of the written amount (pieces brought back) is not charged.
    pub(crate) fn line_value(&mut self, item: &Item, goods: &Measured, price: PriceSaid, less: Decimal) -> Option<Sum> {
        match price {
            PriceSaid::For(money, span) => self.sum(money, span),
            PriceSaid::At(money, span) => {
                let charged = self.charged_quantity(item, goods, None)?;
                let charged = self.exact(checked_sub_exact(charged, less), span)?;
                self.line_sum(money, charged, span)
            }
            PriceSaid::AtPer(money, unit, span) => {
                let charged = self.charged_quantity(item, goods, Some(unit))?;
                let charged = self.exact(checked_sub_exact(charged, less), span)?;
                self.line_sum(money, charged, span)
            }
        }
    }

    /// What a line comes to whose goods the book doesn't know, which was told: so that a total beside it is checked all the same. `None`
    /// where that depends on how the goods are counted; `summed` is whether all before this line is in the entry's sums.
    pub(crate) fn value_of_unknown(&mut self, item: &Item, price: PriceSaid, summed: bool) -> Option<Sum> {
        let counted = matches!(item.amount.kind, AmountKind::Count { .. }).then_some(item.amount.value);
        if self.look().quiet_find(item.name, GOODS_AND_TOOLS, counted).is_ok() {
            return None;
        }
        let value = match price {
            PriceSaid::For(money, span) => self.sum(money, span),
            // `8h reupholstery at 80.00`: how that is counted nobody knows.
            _ if item.amount.kind == AmountKind::Time => None,
            PriceSaid::At(money, span) if item.sizes.is_none() => self.line_sum(money, item.amount.value, span),
            PriceSaid::AtPer(money, unit, span) if self.is_in_unit(item, unit) => self.line_sum(money, item.amount.value, span),
            PriceSaid::At(..) | PriceSaid::AtPer(..) => None,
        }?;
        self.unsummed = !summed;
        Some(value)
    }

    /// Whether an amount is written in a unit's own words.
    fn is_in_unit(&self, item: &Item, unit: Span) -> bool {
        let AmountKind::Measured { unit: written } = item.amount.kind else { return false };
        let (written, unit) = (self.text(written), self.text(unit));
        item.sizes.is_none() && (written == unit || singulars_of(written).iter().any(|one| one == unit))
    }

    /// A number, or a mistake where it can't be kept.
    pub(crate) fn exact<E>(&mut self, number: Result<Decimal, E>, span: Span) -> Option<Decimal> {
        match number {
            Ok(number) => Some(number),
            Err(_) => {
                self.refuse(errors::money::too_large(span));
                None
            }
        }
    }
}

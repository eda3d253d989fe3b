//! Goods in an entry: which thing or tool, how much of it in its own unit, and what is said of lots, worth and counts.

use rust_decimal::Decimal;

use crate::events::StockLine;
use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::names::{CountRule, Countable, Counting, GOODS_AND_TOOLS, Known, LabelId, Lookup, PatternId, ThingId, ToolId};
use crate::sources::Span;
use crate::syntax::{DefinitionWord, Item, SaidWhat};
use crate::units::{Dimension, Fixed6, Unit};

use crate::events::BoughtWhat;

/// What may be counted in an entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Stocked {
    /// A material or product.
    Thing(ThingId),
    /// A tool.
    Tool(ToolId),
}

/// Goods and how much of them, in their own unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Measured {
    /// Of what.
    pub(crate) what: Stocked,
    /// How much.
    pub(crate) quantity: Decimal,
}

/// What is asked of a quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum GoodsRule {
    /// More than nothing.
    Any,
    /// More than nothing; a thing that has packs must name its unit.
    PacksNamed,
    /// Nothing too: a count may find none.
    MayBeNone,
}

impl<'a> EntryReader<'a> {
    /// Finds names of the book.
    pub(crate) fn look(&self) -> Lookup<'a> {
        Lookup::new(self.desk.book, self.desk.sources)
    }

    /// Goods or tools, and how much.
    pub(crate) fn goods(&mut self, item: &Item, rule: GoodsRule) -> Option<Measured> {
        let counting = Counting {
            day: Some(self.date),
            rule: if rule == GoodsRule::PacksNamed { CountRule::Bringing } else { CountRule::Plain },
        };
        let look = self.look();
        let measured = match look.item(item, GOODS_AND_TOOLS, counting, &mut self.found) {
            Some(Countable::Thing(thing, quantity)) => Measured { what: Stocked::Thing(thing), quantity },
            Some(Countable::Tool(tool, quantity)) => Measured { what: Stocked::Tool(tool), quantity },
            Some(Countable::Licence(..)) | None => {
                self.fail();
                return None;
            }
        };
        if measured.quantity.is_zero() && rule != GoodsRule::MayBeNone {
            let told = errors::goods::none_of_it(item.amount.span, self.text(item.name));
            self.refuse(told);
            return None;
        }
        Some(measured)
    }

    /// Goods of which a lot may be named. A tool is no stock.
    pub(crate) fn stock_line(&mut self, item: &Item, rule: GoodsRule, memo: Span) -> Option<StockLine> {
        let goods = self.goods(item, rule)?;
        match goods.what {
            Stocked::Thing(thing) => {
                Some(StockLine { thing, quantity: goods.quantity, lot: self.lot_said(item), memo, span: item.span })
            }
            Stocked::Tool(_) => {
                let told = errors::goods::tool_is_no_stock(item.name, self.text(item.name), self.date, self.entry.verb);
                self.refuse(told);
                None
            }
        }
    }

    /// Licences of a pattern.
    pub(crate) fn licences(&mut self, item: &Item) -> Option<(PatternId, Decimal)> {
        let counting = Counting { day: Some(self.date), rule: CountRule::Plain };
        let look = self.look();
        match look.item(item, &[DefinitionWord::Pattern], counting, &mut self.found) {
            Some(Countable::Licence(pattern, count)) => Some((pattern, count)),
            _ => {
                self.fail();
                None
            }
        }
    }

    /// By how much a price of an item is multiplied.
    pub(crate) fn charged_quantity(&mut self, item: &Item, goods: &Measured, per: Option<Span>) -> Option<Decimal> {
        let Stocked::Thing(thing) = goods.what else { return Some(item.amount.value) };
        let look = self.look();
        let (sizes, own, day) = (item.sizes.as_deref(), goods.quantity, self.date);
        let charged = look.priced_quantity(&item.amount, sizes, thing, own, per, day, &mut self.found);
        if charged.is_none() {
            self.fail();
        }
        charged
    }

    /// The lot that is said of an item.
    pub(crate) fn lot_said(&mut self, item: &Item) -> Option<LabelId> {
        let lot = item.said.iter().find_map(|said| if let SaidWhat::Lot(code) = said.what { Some(code) } else { None });
        self.label(lot?)
    }

    /// The quantity that was counted where another was billed. `None` after a mistake was told.
    #[expect(clippy::option_option, reason = "nothing said is not the same as something that could not be read")]
    pub(crate) fn counted_said(&mut self, item: &Item, thing: ThingId) -> Option<Option<Decimal>> {
        let counted =
            item.said.iter().find_map(|said| if let SaidWhat::Counted(amount) = said.what { Some(amount) } else { None });
        let Some(amount) = counted else { return Some(None) };
        let counting = Counting { day: Some(self.date), rule: CountRule::UnitStays };
        let look = self.look();
        let Some(quantity) = look.quantity(&amount, None, thing, counting, &mut self.found) else {
            self.fail();
            return None;
        };
        if quantity.is_zero() {
            let told = errors::goods::none_of_it(amount.span, self.text(item.name));
            self.refuse(told);
            return None;
        }
        Some(Some(quantity))
    }

    /// What the whole line is said to be worth. `None` after a mistake was told.
    #[expect(clippy::option_option, reason = "nothing said is not the same as something that could not be read")]
    pub(crate) fn worth_said(&mut self, item: &Item) -> Option<Option<Fixed6>> {
        let worth = item
            .said
            .iter()
            .find_map(|said| if let SaidWhat::Worth(money) = said.what { Some((money, said.span)) } else { None });
        match worth {
            Some((money, span)) => self.booked(money, span).map(Some),
            None => Some(None),
        }
    }

    /// The weight of a purchase line, in grams; `None` where it has none.
    pub(crate) fn weight_of(&self, what: &BoughtWhat) -> Option<Decimal> {
        match what {
            BoughtWhat::Stock { thing, quantity, .. } => self.look().measured_in(*thing, *quantity, Unit::Gram, self.date),
            _ => None,
        }
    }

    /// The quantity of a purchase line in the base unit of its dimension; `None` where it isn't counted.
    pub(crate) fn size_of(&self, what: &BoughtWhat) -> Option<(Dimension, Decimal)> {
        match what {
            BoughtWhat::Stock { thing, quantity, .. } => {
                let dimension = self.desk.book.thing(*thing).unit.dimension();
                let base = match dimension {
                    Dimension::Length => Unit::Millimetre,
                    Dimension::Area => Unit::SquareInch,
                    Dimension::Volume => Unit::Millilitre,
                    Dimension::Mass => Unit::Gram,
                    Dimension::Count => Unit::Each,
                    Dimension::Time => Unit::Minute,
                };
                Some((dimension, self.look().measured_in(*thing, *quantity, base, self.date)?))
            }
            BoughtWhat::Tool { count, .. } | BoughtWhat::Licence { count, .. } => Some((Dimension::Count, *count)),
            BoughtWhat::Expense { .. } | BoughtWhat::Home | BoughtWhat::Batch(_) => None,
        }
    }

    /// What a name stands for, if it is known; nothing is told.
    pub(crate) fn known_quietly(&self, name: Span) -> Option<Known> {
        self.desk.book.table.get(self.look().text(name).as_ref()).copied()
    }
}

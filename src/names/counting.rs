//! A counted item as a whole: what it is of, and how much of it, whether goods, a tool or a licence.
//!
//! In: an [`Item`]. Out: the thing and its quantity in its own unit. Here stand the slips that need both the name and the amount
//! to be told well: a swapped unit and name, a pack without a thing, money without `for`, a pattern without `licence`.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::diagnostics::Diagnostics;
use crate::names::errors::{beside_a_name, counting};
use crate::names::{Known, Lookup, PatternId, StepId, ThingId, ToolId};
use crate::syntax::{Amount, AmountKind, DefinitionWord, Item};
use crate::units::{Dimension, Unit};

/// What is asked of an amount at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CountRule {
    /// A whole number of things measured in `ea` needs no unit: most places.
    Plain,
    /// Goods come into the book: a thing that has packs must name its unit (`opened`, `bought`, `contributed`).
    Bringing,
    /// No thing follows, so the unit stays (`counted 22 ea`, `reorder at 20 ea`).
    UnitStays,
}

/// On which day and by which rule something is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Counting {
    /// The day whose packs are in force; `None` for those of the definition.
    pub day: Option<NaiveDate>,
    /// What is asked of the amount.
    pub rule: CountRule,
}

/// A counted item.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Countable {
    /// Goods, in their own unit.
    Thing(ThingId, Decimal),
    /// So many tools.
    Tool(ToolId, Decimal),
    /// So many licences of a pattern.
    Licence(PatternId, Decimal),
}

impl Lookup<'_> {
    /// What an item is of, and how much. `wanted` are the kinds that may stand there (`Pattern` for a licence). `None` after the
    /// reason was told, or for a name that could not be read.
    pub fn item(&self, item: &Item, wanted: &[DefinitionWord], counting: Counting, found: &mut Diagnostics) -> Option<Countable> {
        let amount = &item.amount;
        if item.licence {
            return self.licence(item, wanted, found);
        }
        if item.name.is_empty() {
            // Only a time can be without a name; all else was told where it was read.
            found.push(counting::time_elsewhere(self, item));
            return None;
        }
        // `1 dozen pegs` is many.
        let of_many = |unit: crate::sources::Span| {
            !matches!(self.unit_words(unit).as_ref(), "ea" | "piece" | "pieces" | "board" | "boards")
        };
        let counted = self.is_count(amount).then(|| match amount.kind {
            AmountKind::Measured { unit } if of_many(unit) => Decimal::TWO,
            _ => amount.value,
        });
        let known = match self.quiet_find(item.name, wanted, counted) {
            Ok(known) => known,
            Err(Some(Known::Poisoned)) => return None,
            Err(Some(Known::Step(_))) if amount.kind == AmountKind::Time => {
                found.push(counting::time_elsewhere(self, item));
                return None;
            }
            Err(other) => {
                found.push(counting::unknown_item(self, item, wanted, other));
                return None;
            }
        };
        match known {
            Known::Thing(thing) => {
                let quantity = self.quantity(amount, item.sizes.as_deref(), thing, counting, found)?;
                Some(Countable::Thing(thing, quantity))
            }
            Known::Tool(tool) => {
                let count = self.whole_count(amount, item, &self.book.tool(tool).named.name, found)?;
                Some(Countable::Tool(tool, count))
            }
            Known::Pattern(_) => {
                found.push(counting::licence_missing(self, item));
                None
            }
            _ => None,
        }
    }

    /// Goods and their quantity in their own unit.
    pub fn goods(&self, item: &Item, counting: Counting, found: &mut Diagnostics) -> Option<(ThingId, Decimal)> {
        match self.item(item, crate::names::GOODS, counting, found)? {
            Countable::Thing(thing, quantity) => Some((thing, quantity)),
            Countable::Tool(..) | Countable::Licence(..) => None,
        }
    }

    /// A time and its step, in minutes.
    pub fn time(&self, item: &Item, found: &mut Diagnostics) -> Option<(StepId, Decimal)> {
        if item.amount.kind != AmountKind::Time {
            found.push(counting::not_a_time(self, item));
            return None;
        }
        if item.name.is_empty() {
            found.push(counting::step_missing(self, item));
            return None;
        }
        Some((self.step(item.name, found)?, item.amount.value))
    }

    fn licence(&self, item: &Item, wanted: &[DefinitionWord], found: &mut Diagnostics) -> Option<Countable> {
        if !wanted.contains(&DefinitionWord::Pattern) {
            // A licence that isn't bought was told where it was placed.
            return None;
        }
        let pattern = self.pattern(item.name, found)?;
        let count = self.whole_count(&item.amount, item, &self.book.pattern(pattern).named.name, found)?;
        Some(Countable::Licence(pattern, count))
    }

    /// A whole number of tools or licences.
    fn whole_count(&self, amount: &Amount, item: &Item, name: &str, found: &mut Diagnostics) -> Option<Decimal> {
        if item.sizes.is_some() {
            found.push(counting::sizes_of_no_wood(item, name));
            return None;
        }
        let counted = match amount.kind {
            AmountKind::Count { whole } => whole,
            AmountKind::Measured { unit } => {
                amount.value.fract().is_zero() && Unit::parse(&self.unit_words(unit)) == Some(Unit::Each)
            }
            AmountKind::Time => false,
        };
        if !counted {
            found.push(beside_a_name::not_a_whole_count(self, amount, name));
            return None;
        }
        Some(amount.value)
    }

    /// Whether an amount counts pieces or packs, so that a plural may follow.
    fn is_count(&self, amount: &Amount) -> bool {
        match amount.kind {
            AmountKind::Count { .. } => true,
            AmountKind::Time => false,
            AmountKind::Measured { unit } => {
                Unit::parse(&self.unit_words(unit)).is_none_or(|unit| unit.dimension() == Dimension::Count)
            }
        }
    }
}

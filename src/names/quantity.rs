//! From an amount as written to a quantity in the thing's own unit, exact.
//!
//! In: `2 bags`, `31.5 bf`, `4 boards` with sizes, `9`. Out: so many of the unit in which the thing is measured, by the unit's
//! own factor, the thing's packs and conversions, or a tally of sizes. What is no finite decimal is rounded once, to 9 places.

use std::borrow::Cow;

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::diagnostics::Diagnostics;
use crate::names::errors::quantities;
use crate::names::packs::{Conversions, NoConversion, pack_named};
use crate::names::plural::singulars_of;
use crate::names::sizes::tally_sizes;
use crate::names::spelling::unit_words;
use crate::names::{CountRule, Counting, Lookup, Pack, Thing, ThingId};
use crate::sources::Span;
use crate::syntax::{Amount, AmountKind, Sizes};
use crate::units::{Dimension, Unit, checked_mul_exact, convert};

/// How a unit's words are meant for a thing.
pub(crate) enum UnitMeant<'b> {
    /// A pack or conversion of the thing's own.
    Pack(&'b Pack),
    /// Pieces whose sizes are given: `board`, `piece`.
    Pieces,
    /// A measuring unit.
    Unit(Unit),
    /// Nothing of this thing.
    Unknown,
}

impl<'b> Lookup<'b> {
    /// The words of a unit with one blank between them.
    #[must_use]
    pub fn unit_words(&self, unit: Span) -> Cow<'b, str> {
        unit_words(self.sources.text(unit))
    }

    /// A quantity in the thing's own unit: exact where finite, else rounded once, half away from zero, to 9 places. `None` after
    /// the reason was told: another dimension, a missing or unknown unit, a count that isn't whole, sizes that are missing or
    /// don't fit, a figure that is too large or has too many digits.
    pub fn quantity(
        &self,
        amount: &Amount,
        sizes: Option<&Sizes>,
        thing: ThingId,
        counting: Counting,
        found: &mut Diagnostics,
    ) -> Option<Decimal> {
        let of = self.book.thing(thing);
        match amount.kind {
            AmountKind::Time => {
                found.push(quantities::time_for_a_quantity(self, amount, of));
                None
            }
            AmountKind::Count { whole } => self.counted(amount, whole, sizes, of, counting, found),
            AmountKind::Measured { unit } => self.measured(amount, unit, sizes, of, counting.day, found),
        }
    }

    fn counted(
        &self,
        amount: &Amount,
        whole: bool,
        sizes: Option<&Sizes>,
        of: &Thing,
        counting: Counting,
        found: &mut Diagnostics,
    ) -> Option<Decimal> {
        let packs = packs_on(of, counting.day);
        let wrong = if sizes.is_some() {
            quantities::boards_missing(amount, of)
        } else if counting.rule == CountRule::UnitStays {
            // Told where it was read.
            return None;
        } else if of.unit != Unit::Each {
            quantities::unit_missing(self, amount, of, packs)
        } else if !whole {
            quantities::count_not_whole(self, amount, of)
        } else if counting.rule == CountRule::Bringing
            && packs.iter().any(|pack| Unit::parse(&pack.name).is_none() && pack.holds != Some(Decimal::ONE))
        {
            quantities::pack_missing(self, amount, of, packs)
        } else {
            return Some(amount.value);
        };
        found.push(wrong);
        None
    }

    fn measured(
        &self,
        amount: &Amount,
        unit: Span,
        sizes: Option<&Sizes>,
        of: &Thing,
        day: Option<NaiveDate>,
        found: &mut Diagnostics,
    ) -> Option<Decimal> {
        let packs = packs_on(of, day);
        let meant = self.unit_meant(unit, amount.value, packs);
        if let (Some(sizes), UnitMeant::Pack(_) | UnitMeant::Unit(_)) = (sizes, &meant) {
            found.push(quantities::sizes_beside_a_measure(self, amount, sizes));
            return None;
        }
        match meant {
            UnitMeant::Pack(pack) => self.of_pack(amount, pack, of, found),
            UnitMeant::Unit(unit) => self.converted(amount, unit, of, packs, found),
            UnitMeant::Pieces => {
                let Some(sizes) = sizes else {
                    found.push(quantities::sizes_missing(self, amount, of));
                    return None;
                };
                let Some(pieces) = amount.value.is_integer().then(|| amount.value.to_u64()).flatten() else {
                    found.push(quantities::pieces_not_whole(self, amount));
                    return None;
                };
                tally_sizes(self, pieces, sizes, of, day, found)
            }
            UnitMeant::Unknown => {
                found.push(quantities::unknown_unit(self, amount, unit, of, packs));
                None
            }
        }
    }

    fn of_pack(&self, amount: &Amount, pack: &Pack, of: &Thing, found: &mut Diagnostics) -> Option<Decimal> {
        // `holds` is missing only where the pack's own line is wrong, which has been told.
        match checked_mul_exact(amount.value, pack.holds?) {
            Ok(quantity) => Some(quantity),
            Err(error) => {
                found.push(quantities::number(self, amount, of, error));
                None
            }
        }
    }

    fn converted(&self, amount: &Amount, unit: Unit, of: &Thing, packs: &[Pack], found: &mut Diagnostics) -> Option<Decimal> {
        match Conversions::of(packs).convert(amount.value, unit, of.unit) {
            Ok(quantity) => Some(quantity),
            Err(NoConversion::Dimension) => {
                found.push(quantities::wrong_dimension(self, amount, unit, of));
                None
            }
            Err(NoConversion::Number(error)) => {
                found.push(quantities::number(self, amount, of, error));
                None
            }
        }
    }

    /// How a unit's words are meant: a pack of the thing first, then `board` and `piece`, then the measuring units. After a count
    /// other than one an English plural is understood of packs and counts.
    pub(crate) fn unit_meant<'p>(&self, unit: Span, count: Decimal, packs: &'p [Pack]) -> UnitMeant<'p> {
        let words = self.unit_words(unit);
        if let Some(meant) = meant_exactly(&words, packs) {
            return meant;
        }
        if count != Decimal::ONE {
            for singular in singulars_of(&words) {
                match meant_exactly(&singular, packs) {
                    Some(UnitMeant::Unit(unit)) if unit.dimension() != Dimension::Count || unit == Unit::Each => {}
                    Some(meant) => return meant,
                    None => {}
                }
            }
        }
        UnitMeant::Unknown
    }

    /// A quantity of a thing (in its own unit) in another unit, by its packs and conversions of a day, for sharing freight by
    /// weight or quantity: `None` where nothing says how to convert it.
    #[must_use]
    pub fn measured_in(&self, thing: ThingId, quantity: Decimal, to: Unit, day: NaiveDate) -> Option<Decimal> {
        let of = self.book.thing(thing);
        Conversions::of(of.packs.on(day)).convert(quantity, of.unit, to).ok()
    }

    /// By how much a price has to be multiplied: `at 5.90` is per unit of the quantity as written, `at 11.20 per bf` per board
    /// foot. `own` is the quantity in the thing's own unit. `None` after the reason was told.
    #[expect(clippy::too_many_arguments, reason = "an item's amount, its sizes and its price belong together")]
    pub fn priced_quantity(
        &self,
        amount: &Amount,
        sizes: Option<&Sizes>,
        thing: ThingId,
        own: Decimal,
        per: Option<Span>,
        day: NaiveDate,
        found: &mut Diagnostics,
    ) -> Option<Decimal> {
        let of = self.book.thing(thing);
        let Some(per) = per else {
            // `at` after sizes without `per` was told where it was read.
            return sizes.is_none().then_some(amount.value);
        };
        let packs = of.packs.on(day);
        let written = match amount.kind {
            AmountKind::Measured { unit } => Some(self.unit_meant(unit, amount.value, packs)),
            AmountKind::Count { .. } => Some(UnitMeant::Unit(Unit::Each)),
            AmountKind::Time => None,
        };
        let wrong = match self.unit_meant(per, Decimal::ONE, packs) {
            UnitMeant::Unit(priced) => {
                // From the amount as written where that is the shorter way, so that nothing is rounded twice.
                if let Some(UnitMeant::Unit(unit)) = written
                    && let Ok(quantity) = convert(amount.value, unit, priced)
                {
                    return Some(quantity);
                }
                match Conversions::of(packs).convert(own, of.unit, priced) {
                    Ok(quantity) => return Some(quantity),
                    Err(NoConversion::Number(error)) => quantities::number(self, amount, of, error),
                    Err(NoConversion::Dimension) => quantities::price_in_wrong_dimension(per, priced, of),
                }
            }
            UnitMeant::Pack(pack) => {
                if let Some(UnitMeant::Pack(same)) = written
                    && same.name == pack.name
                {
                    return Some(amount.value);
                }
                match crate::units::div_to_nine(own, pack.holds?) {
                    Ok(quantity) => return Some(quantity),
                    Err(error) => quantities::number(self, amount, of, error),
                }
            }
            UnitMeant::Pieces if matches!(written, Some(UnitMeant::Pieces)) => return Some(amount.value),
            UnitMeant::Pieces | UnitMeant::Unknown => quantities::unknown_price_unit(self, per, of, packs),
        };
        found.push(wrong);
        None
    }
}

/// The packs of a thing on a day.
pub(crate) fn packs_on(of: &Thing, day: Option<NaiveDate>) -> &[Pack] {
    day.map_or_else(|| of.packs.first(), |day| of.packs.on(day))
}

fn meant_exactly<'b>(words: &str, packs: &'b [Pack]) -> Option<UnitMeant<'b>> {
    if let Some(pack) = pack_named(packs, words).filter(|pack| Unit::parse(&pack.name).is_none()) {
        return Some(UnitMeant::Pack(pack));
    }
    if matches!(words, "board" | "piece") {
        return Some(UnitMeant::Pieces);
    }
    Unit::parse(words).map(UnitMeant::Unit)
}

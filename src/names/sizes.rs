//! Boards and pieces by their sizes, in the unit in which the thing is measured.
//!
//! Three sides make a volume of wood, two an area. A board of a material `tallied by surface measure` is measured as the yard
//! does; all else exactly. The result goes on to the thing's own unit by its own conversions, where it needs to.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::diagnostics::Diagnostics;
use crate::names::errors::sizes as errors;
use crate::names::packs::{Conversions, NoConversion};
use crate::names::quantity::packs_on;
use crate::names::{Lookup, Tallied, Thing};
use crate::syntax::{Side, Sizes};
use crate::units::{self, Dimension, Number, NumberForm, Size, SurfaceMeasureTally, TallyError, Unit};

/// What so many pieces of a size come to, in the thing's own unit. `None` after the reason was told.
pub(crate) fn tally_sizes(
    lookup: &Lookup<'_>,
    pieces: u64,
    sizes: &Sizes,
    of: &Thing,
    day: Option<NaiveDate>,
    found: &mut Diagnostics,
) -> Option<Decimal> {
    let size = read_size(lookup, sizes)?;
    let natural = if size.is_board() { Unit::BoardFoot } else { Unit::SquareFoot };
    // Straight to the own unit where that is of the same dimension, so that nothing is rounded twice.
    let straight = of.unit.dimension() == natural.dimension() && is_of_wood(of.unit);
    let conversions = Conversions::of(packs_on(of, day));
    if !straight && (of.unit.dimension() == natural.dimension() || !conversions.connects(natural, of.unit)) {
        found.push(errors::sizes_dont_fit(sizes, size.is_board(), of));
        return None;
    }
    let by_surface =
        size.is_board() && *day.map_or_else(|| of.tallied.first(), |day| of.tallied.on(day)) == Tallied::BySurfaceMeasure;
    let tallied = if by_surface {
        SurfaceMeasureTally::new().add(pieces, &size).map(|feet| (feet, Unit::BoardFoot))
    } else {
        let unit = if straight { of.unit } else { natural };
        let quantity = if size.is_board() { size.volume(pieces, unit) } else { size.area(pieces, unit) };
        quantity.map(|quantity| (quantity, unit))
    };
    let quantity = tallied.and_then(|(quantity, unit)| {
        conversions.convert(quantity, unit, of.unit).map_err(|error| match error {
            NoConversion::Number(error) => TallyError::Number(error),
            NoConversion::Dimension => TallyError::WrongUnit(of.unit),
        })
    });
    match quantity {
        Ok(quantity) if quantity.is_zero() && pieces > 0 => {
            found.push(errors::tallies_to_nothing(sizes, of, by_surface));
            None
        }
        Ok(quantity) => Some(quantity),
        Err(error) => {
            found.push(errors::tally_failed(sizes, error));
            None
        }
    }
}

/// Whether wood is measured in a unit: a liquid's volume has no boards.
const fn is_of_wood(unit: Unit) -> bool {
    match unit.dimension() {
        Dimension::Volume => matches!(unit, Unit::BoardFoot | Unit::CubicInch | Unit::CubicFoot),
        Dimension::Area => true,
        _ => false,
    }
}

/// The sizes as the units stage reads them; `None` only for sizes that were told where they were read.
fn read_size(lookup: &Lookup<'_>, sizes: &Sizes) -> Option<Size> {
    let mut sides = Vec::with_capacity(sizes.sides.len());
    for side in &sizes.sides {
        let unit = side.unit.map(|words| Unit::parse(&lookup.unit_words(words)));
        // A unit that is none was told too.
        if unit == Some(None) {
            return None;
        }
        sides.push(units::Side { number: number_of(side), unit: unit.flatten() });
    }
    Size::from_sides(&sides).ok()
}

/// A side's number: whether it is in quarters of an inch is all that matters of its form.
fn number_of(side: &Side) -> Number {
    let quarters = side.quarters.then(|| side.value.checked_mul(Decimal::from(4))).flatten();
    let form = match quarters.and_then(|quarters| u32::try_from(quarters).ok()) {
        Some(quarters) => NumberForm::Quarters(quarters),
        None => NumberForm::Decimal,
    };
    Number { value: side.value, form }
}

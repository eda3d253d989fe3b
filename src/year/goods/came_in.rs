//! As what cost came in, which decides its line: material, freight, wear, hired time, royalty.
//!
//! A movement that comes in may carry several of these at once, as a batch's money does; each is an amount to six digits, and they sum to what
//! came in. Which line takes which is the form's data.

use smallvec::SmallVec;

use crate::costing::{Component, Movement};
use crate::units::Fixed6;

/// A part of a landed cost that has a line of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum CameAs {
    Materials,
    Freight,
    Wear,
    WearFreight,
    BoughtInTime,
    Royalty,
}

/// The parts of a movement's paid cost, those that are not zero. `None` on overflow.
pub(crate) fn came_in(movement: &Movement) -> Option<SmallVec<[(CameAs, Fixed6); 2]>> {
    let of = |component| movement.vector.get(component);
    let all = [
        (CameAs::Materials, of(Component::Materials)),
        (CameAs::Freight, of(Component::Freight)),
        (CameAs::Wear, of(Component::Wear).checked_sub(movement.wear_freight)?),
        (CameAs::WearFreight, movement.wear_freight),
        (CameAs::BoughtInTime, of(Component::BoughtInTime)),
        (CameAs::Royalty, of(Component::Royalty)),
    ];
    Some(all.into_iter().filter(|(_, amount)| !amount.is_zero()).collect())
}

//! Figures of a place away from home: `places/gift-shop/owed`, `places/gift-shop/pull-cart/left`.

use std::collections::BTreeSet;

use super::FigureNames;
use super::errors::{FigureFault, no_part, unknown};
use super::name_table::segment;
use crate::costing::BillKind;
use crate::names::{PlaceId, ResolvedBook, ThingId};
use crate::reports::place_moves::each_move;
use crate::year::Books;

/// What of a thing at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PlacePart {
    /// Brought there.
    Brought,
    /// Sold from there.
    Sold,
    /// Taken away again.
    TakenAway,
    /// Gone otherwise; below zero: come otherwise.
    Otherwise,
    /// There now.
    Left,
    /// That at the asked price.
    LeftAtPrice,
}

impl PlacePart {
    /// All of them, in the order of the report.
    pub const ALL: [Self; 6] = [Self::Brought, Self::Sold, Self::TakenAway, Self::Otherwise, Self::Left, Self::LeftAtPrice];

    /// As it stands in a figure's name.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Brought => "brought",
            Self::Sold => "sold",
            Self::TakenAway => "taken-away",
            Self::Otherwise => "otherwise",
            Self::Left => "left",
            Self::LeftAtPrice => LEFT_AT_PRICE,
        }
    }
}

/// What of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PlaceOf {
    /// What is still to come for what was sold there.
    Owed,
    /// All that is there, at the asked prices.
    LeftAtPrice,
    /// A thing.
    Thing(ThingId, PlacePart),
}

/// A figure of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PlaceFigure {
    /// The place.
    pub place: PlaceId,
    /// What of it.
    pub of: PlaceOf,
}

const OWED: &str = "owed";
const LEFT_AT_PRICE: &str = "left-at-price";

impl PlaceFigure {
    /// Reads what stands after `places/`.
    pub(super) fn read(place: &str, rest: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let place = read_place(place, names.book())?;
        let of = match *rest {
            [OWED] => PlaceOf::Owed,
            [LEFT_AT_PRICE] => PlaceOf::LeftAtPrice,
            [thing, part] => {
                let found = PlacePart::ALL.into_iter().find(|one| one.text() == part);
                let found = found.ok_or_else(|| no_part(part, &PlacePart::ALL.map(PlacePart::text)))?;
                PlaceOf::Thing(names.read_thing(thing)?, found)
            }
            [other] => return Err(no_part(other, &[OWED, LEFT_AT_PRICE, "THING/left"])),
            _ => return Err(FigureFault(format!("figures of a place are `places/PLACE/{OWED}` and `places/PLACE/THING/left`"))),
        };
        Ok(Self { place, of })
    }

    /// All of a book: of each place what is owed and there, and each thing that was there.
    pub(super) fn all(books: Books<'_>) -> Vec<Self> {
        let mut there: BTreeSet<(PlaceId, Option<ThingId>)> = BTreeSet::new();
        let is_away = |place: PlaceId| Some(place) != books.book.shop.home;
        let moved = each_move(books, &mut |one| {
            if is_away(one.place) {
                there.extend([(one.place, None), (one.place, Some(one.thing))]);
            }
            Some(())
        });
        if moved.is_none() {
            return Vec::new();
        }
        for bill in books.costed.bills.iter().filter(|bill| bill.kind == BillKind::OwedToUs) {
            let place = bill.channel.and_then(|channel| books.book.channel(channel).place);
            let is_open = books.costed.until.is_some_and(|day| bill.open_on(day).is_some_and(|open| open.is_positive()));
            there.extend(place.filter(|place| is_open && is_away(*place)).map(|place| (place, None)));
        }
        let mut all = Vec::new();
        for (place, thing) in there {
            match thing {
                None => all.extend([PlaceOf::Owed, PlaceOf::LeftAtPrice].map(|of| Self { place, of })),
                Some(thing) => all.extend(PlacePart::ALL.map(|part| Self { place, of: PlaceOf::Thing(thing, part) })),
            }
        }
        all
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        let place = segment(&names.book().place(self.place).named.name);
        match self.of {
            PlaceOf::Owed => format!("places/{place}/{OWED}"),
            PlaceOf::LeftAtPrice => format!("places/{place}/{LEFT_AT_PRICE}"),
            PlaceOf::Thing(thing, part) => format!("places/{place}/{}/{}", names.thing(thing), part.text()),
        }
    }
}

fn read_place(typed: &str, book: &ResolvedBook) -> Result<PlaceId, FigureFault> {
    let at = book.places.iter().position(|place| segment(&place.named.name) == typed).and_then(|at| u32::try_from(at).ok());
    let place = at.map(PlaceId).ok_or_else(|| unknown("place", typed))?;
    if Some(place) == book.shop.home {
        return Err(FigureFault(format!("`{typed}` is home; `stock/NAME` tells what is there")));
    }
    Ok(place)
}

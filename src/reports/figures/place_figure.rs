//! Figures of a place away from home: `places/gift-shop/owed`, `places/gift-shop/pull-cart/left`.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use super::FigureNames;
use super::errors::{FigureFault, no_part, unknown};
use super::name_table::segment;
use crate::costing::BillKind;
use crate::names::{PlaceId, ResolvedBook, ThingId};
use crate::reports::place_moves::each_move;
use crate::reports::place_shortage::short_of;
use crate::reports::report_place_papers::{all_slips, count_lines, usual_days};
use crate::reports::report_places::place_of_bill;
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

/// What of a thing on a place's papers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PaperPart {
    /// Handed over by the last slip.
    SlipQuantity,
    /// That at the price of the slip's day.
    SlipTogether,
    /// Counted last.
    Counted,
    /// What the books had before that count.
    Booked,
    /// Counted less booked.
    Difference,
}

impl PaperPart {
    /// All of them, in the order of the report.
    pub const ALL: [Self; 5] = [Self::SlipQuantity, Self::SlipTogether, Self::Counted, Self::Booked, Self::Difference];

    /// As it stands in a figure's name.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::SlipQuantity => "slip-quantity",
            Self::SlipTogether => SLIP_TOGETHER,
            Self::Counted => "counted",
            Self::Booked => "booked",
            Self::Difference => "difference",
        }
    }

    /// Whether it stands on the slip, else in the count.
    const fn is_of_slip(self) -> bool {
        matches!(self, Self::SlipQuantity | Self::SlipTogether)
    }
}

/// What of a sale of a place that is not paid whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OwedPart {
    /// What it came to after the channel's part.
    Total,
    /// What is still to come.
    Open,
    /// Days since the sale.
    Days,
    /// By how many days that is more than the place usually takes.
    DaysLate,
}

impl OwedPart {
    /// All of them, in the order of the report.
    pub const ALL: [Self; 4] = [Self::Total, Self::Open, Self::Days, Self::DaysLate];

    /// As it stands in a figure's name.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Total => "total",
            Self::Open => "open",
            Self::Days => "days",
            Self::DaysLate => "days-late",
        }
    }
}

/// What of something that a count found missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MissingPart {
    /// What it cost, paid.
    Paid,
    /// What the place would owe for it.
    Owed,
}

impl MissingPart {
    /// All of them, in the order of the report.
    pub const ALL: [Self; 2] = [Self::Paid, Self::Owed];

    /// As it stands in a figure's name.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Paid => "missing-paid",
            Self::Owed => "missing-owed",
        }
    }

    fn read(typed: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.text() == typed)
    }
}

/// What of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PlaceOf {
    /// What is still to come for what was sold there.
    Owed,
    /// A sale that is not paid whole, by its place among all that was ever owed to the shop.
    Sale(u32, OwedPart),
    /// After how many days it usually pays.
    UsualDays,
    /// Days from its last count to the book's last day.
    DaysSinceCount,
    /// All that is there, at the asked prices.
    LeftAtPrice,
    /// All on its last slip, at the prices of that day.
    SlipTogether,
    /// A thing.
    Thing(ThingId, PlacePart),
    /// A thing on its papers.
    Paper(ThingId, PaperPart),
    /// Its slip of another day than the last: all on it, or a thing.
    SlipOn(NaiveDate, Option<(ThingId, PaperPart)>),
    /// What its last count found missing: all of it, or a thing.
    Missing(Option<ThingId>, MissingPart),
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
const USUAL_DAYS: &str = "usual-days";
const DAYS_SINCE_COUNT: &str = "days-since-count";
const LEFT_AT_PRICE: &str = "left-at-price";
const SLIP_TOGETHER: &str = "slip-together";

impl PlaceFigure {
    /// Reads what stands after `places/`.
    pub(super) fn read(place: &str, rest: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let place = read_place(place, names.book())?;
        let of = match *rest {
            [OWED] => PlaceOf::Owed,
            [USUAL_DAYS] => PlaceOf::UsualDays,
            [DAYS_SINCE_COUNT] => PlaceOf::DaysSinceCount,
            [LEFT_AT_PRICE] => PlaceOf::LeftAtPrice,
            [OWED, sale, part] => read_sale(place, sale, part, names)?,
            [SLIP_TOGETHER] => PlaceOf::SlipTogether,
            [SLIP_TOGETHER, day] => PlaceOf::SlipOn(read_slip(place, day, names)?, None),
            [part] if let Some(part) = MissingPart::read(part) => PlaceOf::Missing(None, part),
            [thing, part] if let Some(part) = MissingPart::read(part) => PlaceOf::Missing(Some(names.read_thing(thing)?), part),
            [thing, part, day] => {
                let slip = PaperPart::ALL.into_iter().filter(|one| one.is_of_slip());
                let known: Vec<_> = slip.clone().map(PaperPart::text).collect();
                let part = slip.into_iter().find(|one| one.text() == part).ok_or_else(|| no_part(part, &known))?;
                PlaceOf::SlipOn(read_slip(place, day, names)?, Some((names.read_thing(thing)?, part)))
            }
            [thing, part] => {
                let moved = PlacePart::ALL.into_iter().find(|one| one.text() == part);
                let paper = PaperPart::ALL.into_iter().find(|one| one.text() == part);
                match (moved, paper) {
                    (Some(part), _) => PlaceOf::Thing(names.read_thing(thing)?, part),
                    (None, Some(part)) => PlaceOf::Paper(names.read_thing(thing)?, part),
                    (None, None) => {
                        let parts = PlacePart::ALL.map(PlacePart::text).into_iter().chain(PaperPart::ALL.map(PaperPart::text));
                        let parts = parts.chain(MissingPart::ALL.map(MissingPart::text));
                        return Err(no_part(part, &parts.collect::<Vec<_>>()));
                    }
                }
            }
            [other] => {
                let known = [
                    OWED,
                    "owed/ORDER/open",
                    USUAL_DAYS,
                    DAYS_SINCE_COUNT,
                    LEFT_AT_PRICE,
                    SLIP_TOGETHER,
                    MissingPart::Paid.text(),
                    MissingPart::Owed.text(),
                    "THING/left",
                ];
                return Err(no_part(other, &known));
            }
            _ => return Err(FigureFault(format!("figures of a place are `places/PLACE/{OWED}` and `places/PLACE/THING/left`"))),
        };
        Ok(Self { place, of })
    }

    /// All of a book: of each place what is owed and there, and each thing that was there.
    pub(super) fn all(names: &FigureNames<'_>) -> Vec<Self> {
        let books = names.books();
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
            let place = place_of_bill(books.book, bill);
            let is_open = books.costed.until.is_some_and(|day| bill.open_on(day).is_some_and(|open| open.is_positive()));
            there.extend(place.filter(|place| is_open && is_away(*place)).map(|place| (place, None)));
        }
        let mut all = Self::sales(names);
        for (place, thing) in there {
            match thing {
                None => all.extend([PlaceOf::Owed, PlaceOf::LeftAtPrice].map(|of| Self { place, of })),
                Some(thing) => all.extend(PlacePart::ALL.map(|part| Self { place, of: PlaceOf::Thing(thing, part) })),
            }
        }
        let places: BTreeSet<PlaceId> = all.iter().map(|one| one.place).collect();
        all.extend(places.iter().flat_map(|place| Self::papers(books, *place)));
        let Some(last) = books.costed.until else { return all };
        for place in places {
            let counted = books.costed.last_counts.iter().any(|(at, _)| *at == place);
            let pays = usual_days(books, place, last).is_some();
            all.extend(counted.then_some(Self { place, of: PlaceOf::DaysSinceCount }));
            all.extend(pays.then_some(Self { place, of: PlaceOf::UsualDays }));
        }
        all
    }

    /// What is still owed of each sale.
    fn sales(names: &FigureNames<'_>) -> Vec<Self> {
        let books = names.books();
        let Some(last) = books.costed.until else { return Vec::new() };
        let mut all = Vec::new();
        for (at, bill) in names.all_owed() {
            let Some(place) = place_of_bill(books.book, bill).filter(|place| Some(*place) != books.book.shop.home) else {
                continue;
            };
            if bill.open_on(last).is_some_and(|open| open.is_positive()) {
                all.extend(OwedPart::ALL.map(|part| Self { place, of: PlaceOf::Sale(at, part) }));
            }
        }
        all
    }

    /// What stands on the papers of a place.
    fn papers(books: Books<'_>, place: PlaceId) -> Vec<Self> {
        let mut all = Vec::new();
        let mut each = |things: BTreeSet<ThingId>, of_slip: bool| {
            for thing in things {
                let parts = PaperPart::ALL.into_iter().filter(|part| part.is_of_slip() == of_slip);
                all.extend(parts.map(|part| Self { place, of: PlaceOf::Paper(thing, part) }));
            }
        };
        let count = count_lines(books, place);
        each(count.counted.iter().chain(&count.missing).map(|one| one.thing).collect(), false);
        let mut slips = all_slips(books, place);
        if let Some((_, lines)) = slips.pop_last() {
            each(lines.iter().map(|one| one.thing).collect(), true);
            all.push(Self { place, of: PlaceOf::SlipTogether });
        }
        for (day, lines) in slips.into_iter().rev() {
            all.push(Self { place, of: PlaceOf::SlipOn(day, None) });
            let things: BTreeSet<ThingId> = lines.iter().map(|one| one.thing).collect();
            for thing in things {
                let parts = PaperPart::ALL.into_iter().filter(|part| part.is_of_slip());
                all.extend(parts.map(|part| Self { place, of: PlaceOf::SlipOn(day, Some((thing, part))) }));
            }
        }
        let short = short_of(books, place).map_or_else(Vec::new, |(_, short)| short);
        let all_of = (!short.is_empty()).then_some(None);
        for thing in all_of.into_iter().chain(short.into_iter().map(|one| Some(one.thing))) {
            all.extend(MissingPart::ALL.map(|part| Self { place, of: PlaceOf::Missing(thing, part) }));
        }
        all
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        let place = segment(&names.book().place(self.place).named.name);
        match self.of {
            PlaceOf::Owed => format!("places/{place}/{OWED}"),
            PlaceOf::Sale(at, part) => format!("places/{place}/{OWED}/{}/{}", names.owed(at), part.text()),
            PlaceOf::UsualDays => format!("places/{place}/{USUAL_DAYS}"),
            PlaceOf::DaysSinceCount => format!("places/{place}/{DAYS_SINCE_COUNT}"),
            PlaceOf::LeftAtPrice => format!("places/{place}/{LEFT_AT_PRICE}"),
            PlaceOf::SlipTogether => format!("places/{place}/{SLIP_TOGETHER}"),
            PlaceOf::Thing(thing, part) => format!("places/{place}/{}/{}", names.thing(thing), part.text()),
            PlaceOf::Paper(thing, part) => format!("places/{place}/{}/{}", names.thing(thing), part.text()),
            PlaceOf::SlipOn(day, None) => format!("places/{place}/{SLIP_TOGETHER}/{day}"),
            PlaceOf::SlipOn(day, Some((thing, part))) => {
                format!("places/{place}/{}/{}/{day}", names.thing(thing), part.text())
            }
            PlaceOf::Missing(None, part) => format!("places/{place}/{}", part.text()),
            PlaceOf::Missing(Some(thing), part) => format!("places/{place}/{}/{}", names.thing(thing), part.text()),
        }
    }
}

/// A sale of a place that is not paid whole.
fn read_sale(place: PlaceId, sale: &str, part: &str, names: &FigureNames<'_>) -> Result<PlaceOf, FigureFault> {
    let found = OwedPart::ALL.into_iter().find(|one| one.text() == part);
    let part = found.ok_or_else(|| no_part(part, &OwedPart::ALL.map(OwedPart::text)))?;
    let books = names.books();
    let is_owed = |at: &u32| {
        names.owed_bill(*at).zip(books.costed.until).is_some_and(|(bill, last)| {
            let is_open = bill.open_on(last).is_some_and(|open| open.is_positive());
            is_open && place_of_bill(books.book, bill) == Some(place)
        })
    };
    let at = names.read_owed(sale).filter(is_owed);
    at.map(|at| PlaceOf::Sale(at, part)).ok_or_else(|| FigureFault(format!("the place owes nothing for `{sale}`")))
}

/// A day on which something was sent to a place.
fn read_slip(place: PlaceId, typed: &str, names: &FigureNames<'_>) -> Result<NaiveDate, FigureFault> {
    let day = typed.parse().ok().filter(|day| all_slips(names.books(), place).contains_key(day));
    day.ok_or_else(|| FigureFault(format!("nothing was sent there on `{typed}`")))
}

fn read_place(typed: &str, book: &ResolvedBook) -> Result<PlaceId, FigureFault> {
    let at = book.places.iter().position(|place| segment(&place.named.name) == typed).and_then(|at| u32::try_from(at).ok());
    let place = at.map(PlaceId).ok_or_else(|| unknown("place", typed))?;
    if Some(place) == book.shop.home {
        return Err(FigureFault(format!("`{typed}` is home; `stock/NAME` tells what is there")));
    }
    Ok(place)
}

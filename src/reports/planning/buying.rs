//! What to buy of what is short: in whole packs, boards or sheets, as it was bought last, from whom, at what price.
//!
//! The pack is read off the line of the last purchase: `3 packs blade-no7` came in packs, `5 boards walnut, …` in boards, `24 bf maple` by the
//! board foot. The price is that of the last purchase with freight and tax, so a plan says what the shelf will have cost; what all of a thing costs
//! is rounded to the currency's digits, as a bill is.
//!
//! What was got in a swap is no purchase to go by: who gave it once may have no more, and sells nothing. Only where nothing was ever bought does the last swap say the price.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::expected::amounts;
use crate::costing::{Amounts, Flow};
use crate::events::EventKind;
use crate::names::{LabelId, ThingId};
use crate::sources::Span;
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Fixed6, Unit, div_to_nine, part_of, read_decimal};
use crate::year::Books;

/// What is bought by its size.
const SIZED: [&str; 3] = ["board", "sheet", "stick"];

/// The last purchase of each thing.
#[derive(Clone, Debug)]
pub(crate) struct LastBought<'a> {
    books: Books<'a>,
    /// Where it stands in the movements, and whether it is a swap.
    last: BTreeMap<ThingId, (usize, bool)>,
}

/// A thing's last purchase.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bought {
    pub(crate) quantity: Decimal,
    pub(crate) cost: Fixed6,
    /// The same by component, freight among the materials.
    pub(crate) amounts: Amounts,
    pub(crate) date: NaiveDate,
    pub(crate) event: u32,
    pub(crate) line: Span,
    /// Whether it was got in a swap, since it was never bought.
    pub(crate) swapped: bool,
}

/// Something to buy.
#[derive(Clone, Debug)]
pub(crate) struct ToBuy {
    pub(crate) thing: ThingId,
    pub(crate) short: Decimal,
    /// How many packs, boards or units.
    pub(crate) packs: Decimal,
    pub(crate) pack: String,
    /// The size of a board, sheet or stick, as the line has it.
    pub(crate) size: Option<String>,
    /// How much of the thing a pack holds.
    pub(crate) holds: Decimal,
    pub(crate) buy: Decimal,
    pub(crate) last: Option<Bought>,
    pub(crate) supplier: Option<LabelId>,
    pub(crate) pack_cost: Option<Fixed6>,
    pub(crate) cost: Option<Fixed6>,
}

impl<'a> LastBought<'a> {
    /// Finds them in one way through the movements, which stand in the order of the days.
    pub(super) fn of(books: Books<'a>) -> Self {
        let mut last: BTreeMap<ThingId, (usize, bool)> = BTreeMap::new();
        for (at, movement) in books.costed.movements.iter().enumerate() {
            if movement.flow == Flow::Bought
                && movement.quantity > Decimal::ZERO
                && let Some(thing) = movement.thing
            {
                let swapped = is_swap(books, movement.event);
                if !swapped || last.get(&thing).is_none_or(|(_, swapped)| *swapped) {
                    last.insert(thing, (at, swapped));
                }
            }
        }
        Self { books, last }
    }

    /// A thing's last purchase.
    pub(crate) fn of_thing(&self, thing: ThingId) -> Option<Bought> {
        let (at, swapped) = *self.last.get(&thing)?;
        let movement = self.books.costed.movements.get(at)?;
        Some(Bought {
            quantity: movement.quantity,
            cost: movement.vector.full()?,
            amounts: amounts(&movement.vector)?,
            date: movement.date,
            event: movement.event,
            line: movement.line,
            swapped,
        })
    }

    /// What to buy of so much that is short. `None` where a figure is too large to be carried.
    pub(super) fn buy(&self, thing: ThingId, short: Decimal) -> Option<ToBuy> {
        let Books { book, log, .. } = self.books;
        let named = book.thing(thing);
        let last = self.of_thing(thing);
        let (pack, holds) = match last.and_then(|last| self.pack(thing, last)) {
            Some((pack, holds)) => (pack, holds),
            None => (named.unit.as_str().to_owned(), Decimal::ONE),
        };
        let size = last.filter(|_| SIZED.contains(&pack.as_str())).and_then(|last| self.size(last));
        let is_pack = pack != named.unit.as_str() || named.unit == Unit::Each;
        let mut packs = div_to_nine(short, holds).ok()?;
        if is_pack {
            packs = packs.ceil();
        }
        let buy = mul_div_to_nine(packs, holds, Decimal::ONE).ok()?;
        let (mut cost, mut pack_cost) = (None, None);
        if let Some(last) = last {
            cost = Some(part_of(last.cost, buy, last.quantity)?.round_to(book.shop.currency.digits()));
            pack_cost = Some(part_of(last.cost, holds, last.quantity)?);
        }
        let event = last.and_then(|last| log.events.get(last.event as usize));
        let supplier = event.and_then(|event| match &event.kind {
            EventKind::Bought(bought) => bought.supplier,
            _ => None,
        });
        Some(ToBuy { thing, short, packs, pack, size, holds, buy, last, supplier, pack_cost, cost })
    }

    /// The size that stands in a purchase's line: `5 boards walnut, 4/4 x 6 x 96 in, for 60.00`, with `x` or `×`.
    fn size(&self, last: Bought) -> Option<String> {
        let mut parts = self.books.sources.text(last.line).split(',').skip(1).map(str::trim);
        parts
            .find(|part| {
                [" x ", " × "].iter().any(|by| part.contains(by)) && part.starts_with(|first: char| first.is_ascii_digit())
            })
            .map(str::to_owned)
    }

    /// The pack of a purchase's line, and how much it holds; `None` where it was bought by its own unit.
    fn pack(&self, thing: ThingId, last: Bought) -> Option<(String, Decimal)> {
        let text = self.books.sources.text(last.line);
        let mut words = text.split_whitespace();
        let count = read_decimal(words.next()?).ok().filter(|count| *count > Decimal::ZERO)?;
        let word = words.next()?.trim_end_matches(',');
        let thing = self.books.book.thing(thing);
        let singular = |word: &str| -> Option<String> {
            // By its own unit it came without a pack, whatever that unit is converted to.
            let mut packs = thing.packs.on(last.date).iter().filter(|pack| pack.name != thing.unit.as_str());
            let is = |name: &str| name == word || format!("{name}s") == word || format!("{name}es") == word;
            if let Some(pack) = packs.find(|pack| is(&pack.name)) {
                return Some(pack.name.clone());
            }
            SIZED.into_iter().find(|one| is(one)).map(str::to_owned)
        };
        let pack = singular(word)?;
        Some((pack, div_to_nine(last.quantity, count).ok()?))
    }
}

/// Whether what came in by an entry was got in a swap.
pub(super) fn is_swap(books: Books<'_>, event: u32) -> bool {
    let event = usize::try_from(event).ok().and_then(|at| books.log.events.get(at));
    matches!(event.map(|event| &event.kind), Some(EventKind::Bought(bought)) if bought.swapped)
}

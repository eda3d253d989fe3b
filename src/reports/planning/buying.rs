//! What to buy of what is short: in whole packs, boards or sheets, as it was bought last, from whom, at what price.
//!
//! The pack is read off the line of the last purchase: `3 packs blade-no7` came in packs, `5 boards walnut, …` in boards, `24 bf maple` by the
//! board foot. The price is that of the last purchase with freight and tax, so a plan says what the shelf will have cost.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::costing::Flow;
use crate::events::EventKind;
use crate::names::ThingId;
use crate::reports::PlanBuy;
use crate::reports::period::{money_text, quantity_text, unit_cost_text};
use crate::sources::Span;
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Fixed6, Unit, div_to_nine, part_of, read_decimal};
use crate::year::Books;

/// The last purchase of each thing.
pub(super) struct LastBought<'a> {
    books: Books<'a>,
    last: BTreeMap<ThingId, usize>,
}

/// A thing's last purchase.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bought {
    pub(super) quantity: Decimal,
    pub(super) cost: Fixed6,
    event: u32,
    line: Span,
}

impl<'a> LastBought<'a> {
    /// Finds them in one way through the movements, which stand in the order of the days.
    pub(super) fn of(books: Books<'a>) -> Self {
        let mut last = BTreeMap::new();
        for (at, movement) in books.costed.movements.iter().enumerate() {
            if movement.flow == Flow::Bought
                && movement.quantity > Decimal::ZERO
                && let Some(thing) = movement.thing
            {
                last.insert(thing, at);
            }
        }
        Self { books, last }
    }

    /// A thing's last purchase.
    pub(super) fn of_thing(&self, thing: ThingId) -> Option<Bought> {
        let movement = self.books.costed.movements.get(*self.last.get(&thing)?)?;
        Some(Bought { quantity: movement.quantity, cost: movement.vector.full()?, event: movement.event, line: movement.line })
    }

    /// What to buy of so much that is short. `None` where a figure is too large to be carried.
    pub(super) fn buy(&self, thing: ThingId, short: Decimal) -> Option<(PlanBuy, Option<Fixed6>, Decimal)> {
        let named = self.books.book.thing(thing);
        let last = self.of_thing(thing);
        let (pack, holds) = match last.and_then(|last| self.pack(last)) {
            Some((pack, holds)) => (pack, holds),
            None => (named.unit.as_str().to_owned(), Decimal::ONE),
        };
        let is_pack = pack != named.unit.as_str() || named.unit == Unit::Each;
        let mut packs = div_to_nine(short, holds).ok()?;
        if is_pack {
            packs = packs.ceil();
        }
        let buy = mul_div_to_nine(packs, holds, Decimal::ONE).ok()?;
        let cost = match last {
            Some(last) => Some(part_of(last.cost, buy, last.quantity)?),
            None => None,
        };
        let pack_cost = match last {
            Some(last) => Some(unit_cost_text(part_of(last.cost, holds, last.quantity)?)),
            None => None,
        };
        let event = last.and_then(|last| self.books.log.events.get(last.event as usize));
        let supplier = event.and_then(|event| match &event.kind {
            EventKind::Bought(bought) => bought.supplier,
            _ => None,
        });
        let row = PlanBuy {
            name: named.named.name.clone(),
            title: named.named.title.clone(),
            short: quantity_text(short),
            unit: named.unit.as_str().to_owned(),
            packs: quantity_text(packs),
            pack,
            buy: quantity_text(buy),
            supplier: supplier.map(|label| self.books.book.label(label).to_owned()),
            last_bought: event.map(|event| event.date.to_string()),
            pack_cost,
            cost: cost.map(|cost| money_text(self.books.book, cost)),
        };
        Some((row, cost, buy))
    }

    /// The pack of a purchase's line, and how much it holds; `None` where it was bought by its own unit.
    fn pack(&self, last: Bought) -> Option<(String, Decimal)> {
        let text = self.books.sources.text(last.line);
        let mut words = text.split_whitespace();
        let count = read_decimal(words.next()?).ok().filter(|count| *count > Decimal::ZERO)?;
        let word = words.next()?.trim_end_matches(',');
        let day = self.books.log.events.get(last.event as usize)?.date;
        let thing = self.books.book.thing(self.thing_of(last)?);
        let singular = |word: &str| -> Option<String> {
            // By its own unit it came without a pack, whatever that unit is converted to.
            let mut packs = thing.packs.on(day).iter().filter(|pack| pack.name != thing.unit.as_str());
            let is = |name: &str| name == word || format!("{name}s") == word || format!("{name}es") == word;
            if let Some(pack) = packs.find(|pack| is(&pack.name)) {
                return Some(pack.name.clone());
            }
            ["board", "sheet", "stick"].into_iter().find(|one| is(one)).map(str::to_owned)
        };
        let pack = singular(word)?;
        Some((pack, div_to_nine(last.quantity, count).ok()?))
    }

    fn thing_of(&self, last: Bought) -> Option<ThingId> {
        let at = self.last.iter().find(|(_, at)| {
            let one = self.books.costed.movements.get(**at);
            one.is_some_and(|one| one.line == last.line && one.event == last.event)
        });
        at.map(|(thing, _)| *thing)
    }
}

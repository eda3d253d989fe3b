//! How goods leave: into the cost of goods, or otherwise and then on a line of their own.
//!
//! What leaves otherwise is taken off the line by which it came in (36, or 38 for wear) and enters its expense line in the same
//! year with the same amount. Taken home enters none. Packing stands outside: used, lost or missing it is an expense.
//! On the cash basis each counts when it is paid for too. Where stock is kept as supplies, wear, hired time and royalties were deducted already: only what of that is taken home comes off again.

use std::collections::BTreeMap;

use crate::costing::{Component, Flow, Mark, Movement};
use crate::names::{StockKept, ThingKind};
use crate::units::{Fixed6, line_total};
use crate::year::Feed;
use crate::year::books::BooksOfYear;
use crate::year::goods::goods_cost::{class_of, goes_into_cost_of_goods, waiting_cost};
use crate::year::goods::unpaid::Counted;
use crate::year::ledger::{Ledger, total};
use crate::year::tax_year::{Item, WentTo};

/// What left in a year.
#[derive(Clone, Debug, Default)]
pub(crate) struct WaysOut {
    pub(crate) went_to: WentTo,
    /// By line and name, with the sign that it has there.
    lines: BTreeMap<(Feed, &'static str), Vec<Item>>,
    /// By way, in the proof's order: what left, by all components that wait.
    ways: BTreeMap<(Flow, &'static str), Vec<Item>>,
    /// Of donations, what was in this year's opening stock.
    pub(crate) donated_off_start: Vec<Item>,
    /// Wear and packing donated unused, where they wait outside the cost of goods.
    pub(crate) donated_unused: Vec<Item>,
    /// Donations without a stated value.
    pub(crate) donations_without_value: Vec<Item>,
    /// Wear, hired time and royalties in what was taken home under supplies, out of stock that was there when the year began.
    pub(crate) taken_home_of_earlier_years: Vec<Item>,
    /// Gone into the cost of goods and not paid for: by the year's end, and by the end of the year before.
    pub(crate) gone_not_paid: Fixed6,
    pub(crate) gone_paid_now: Fixed6,
    /// Packing used and not paid for: by the year's end, and by the end of the year before.
    pub(crate) packing_not_paid: Fixed6,
    pub(crate) packing_paid_now: Fixed6,
}

impl WaysOut {
    /// Takes a movement that went out by the end of the year: what left in the year, and of what left before, what is paid for now. `None` on
    /// overflow.
    pub(crate) fn take(&mut self, of: &BooksOfYear<'_>, movement: &Movement, kept: StockKept) -> Option<()> {
        let class = class_of(of, movement);
        let counted = Counted::of(of, movement.date, &movement.vector, |vector| waiting_cost(vector, kept))?;
        if class == Some(ThingKind::Packing) && !goes_into_cost_of_goods(of.book(), movement) {
            return self.take_packing(of, movement, kept, counted);
        }
        if class == Some(ThingKind::Wear) && kept == StockKept::Supplies {
            self.take_unused_wear(of, movement)?;
        }
        let waiting = if of.has(movement.date) { waiting_cost(&movement.vector, kept)? } else { Fixed6::ZERO };
        let sum = match movement.flow {
            Flow::Sold => &mut self.went_to.sold,
            Flow::Scrapped => &mut self.went_to.scrapped,
            Flow::Missing => &mut self.went_to.missing,
            Flow::AbnormalLoss => &mut self.went_to.abnormal,
            Flow::PriceDifference => &mut self.went_to.price_difference,
            Flow::Donated => {
                self.time(counted)?;
                return if of.has(movement.date) { self.donate(of, movement, waiting, kept) } else { Some(()) };
            }
            _ => return self.leave(of, movement, class, kept, counted),
        };
        *sum = sum.checked_add(waiting)?;
        self.time(counted)
    }

    /// Adds what is gone into the cost of goods and not paid for, at the year's two ends.
    fn time(&mut self, counted: Counted) -> Option<()> {
        self.gone_not_paid = self.gone_not_paid.checked_add(counted.not_paid)?;
        self.gone_paid_now = self.gone_paid_now.checked_add(counted.not_paid_before)?;
        Some(())
    }

    fn add(&mut self, feed: Feed, name: &'static str, item: Item) {
        if !item.amount.is_zero() {
            self.lines.entry((feed, name)).or_default().push(item);
        }
    }

    fn leave(
        &mut self,
        of: &BooksOfYear<'_>,
        movement: &Movement,
        class: Option<ThingKind>,
        kept: StockKept,
        counted: Counted,
    ) -> Option<()> {
        let of_wear = class == Some(ThingKind::Wear) && kept == StockKept::Inventory;
        let by = if of_wear { Feed::MakingSupplies } else { Feed::Purchases };
        let (way, off, enters) = match movement.flow {
            Flow::PackingUsed => ("used to pack", "less used to pack", Some((Feed::PackingUsed, "goods used to pack"))),
            Flow::UsedInShop => ("used in the shop", "less used in the shop", Some((Feed::UsedInShop, "used in the shop"))),
            // Its cost goes on with the tool, which has a line of its own.
            Flow::MadeForShop => ("made for the shop", "less made for the shop", None),
            Flow::Sample => ("samples", "less given as samples", Some((Feed::Samples, "samples"))),
            Flow::Gift => ("gifts", "less given as gifts", Some((Feed::Gifts, "gifts"))),
            Flow::TakenHome => ("taken home", "less taken home", None),
            _ => return Some(()),
        };
        let item = item_of(of, movement, counted.in_the_year()?);
        if of.has(movement.date) {
            let waiting = waiting_cost(&movement.vector, kept)?;
            if !waiting.is_zero() {
                self.ways.entry((movement.flow, way)).or_default().push(item_of(of, movement, waiting));
            }
        }
        self.add(by, off, Item { amount: item.amount.checked_neg()?, ..item });
        if let Some((feed, name)) = enters {
            self.add(feed, name, item);
        }
        if movement.flow == Flow::TakenHome && kept == StockKept::Supplies && class != Some(ThingKind::Wear) {
            let carried_in = movement.vector.marked(Mark::CarriedIn(of.year));
            let mut of_earlier_years = Fixed6::ZERO;
            let parts = [
                (Component::Wear, Feed::WearUsed),
                (Component::BoughtInTime, Feed::Contractors),
                (Component::Royalty, Feed::Royalties),
            ];
            for (component, feed) in parts {
                let part = Counted::of(of, movement.date, &movement.vector, |vector| Some(vector.get(component)))?;
                of_earlier_years = of_earlier_years.checked_add(carried_in.get(component))?;
                let item = item_of(of, movement, part.in_the_year()?.checked_neg()?);
                self.add(feed, "less its part of what was taken home", item);
            }
            if !of_earlier_years.is_zero() {
                self.taken_home_of_earlier_years.push(item_of(of, movement, of_earlier_years));
            }
        }
        Some(())
    }

    /// Wear that waits outside cost of goods counts when it is used, lost or given, and paid.
    fn take_unused_wear(&mut self, of: &BooksOfYear<'_>, movement: &Movement) -> Option<()> {
        let counted = Counted::of(of, movement.date, &movement.vector, |vector| Some(vector.get(Component::Wear)))?;
        let wear = item_of(of, movement, counted.in_the_year()?);
        match movement.flow {
            Flow::UsedInShop => self.add(Feed::WearUsed, "wear used in the shop", wear),
            Flow::Sold => self.add(Feed::WearUsed, "wear sold", wear),
            Flow::Scrapped | Flow::Missing | Flow::AbnormalLoss | Flow::PriceDifference => {
                self.add(Feed::WearUsed, "wear scrapped and missing", wear);
            }
            Flow::Sample => self.add(Feed::Samples, "samples", wear),
            Flow::Gift => self.add(Feed::Gifts, "gifts", wear),
            Flow::PackingUsed => self.add(Feed::PackingUsed, "goods used to pack", wear),
            Flow::Donated => self.donate_unused(of, movement, movement.vector.get(Component::Wear)),
            _ => {}
        }
        Some(())
    }

    /// What is given away unused was never deducted, and no deduction of the shop's comes of the giving.
    fn donate_unused(&mut self, of: &BooksOfYear<'_>, movement: &Movement, cost: Fixed6) {
        if of.has(movement.date) && !cost.is_zero() {
            self.donated_unused.push(item_of(of, movement, cost));
        }
    }

    fn take_packing(&mut self, of: &BooksOfYear<'_>, movement: &Movement, kept: StockKept, counted: Counted) -> Option<()> {
        let item = item_of(of, movement, counted.in_the_year()?);
        match movement.flow {
            Flow::PackingUsed => {
                self.packing_not_paid = self.packing_not_paid.checked_add(counted.not_paid)?;
                self.packing_paid_now = self.packing_paid_now.checked_add(counted.not_paid_before)?;
                self.add(Feed::PackingUsed, "packing used", item);
            }
            Flow::UsedInShop => self.add(Feed::UsedInShop, "used in the shop", item),
            Flow::Sample => self.add(Feed::Samples, "samples", item),
            Flow::Gift => self.add(Feed::Gifts, "gifts", item),
            Flow::Scrapped | Flow::Missing | Flow::AbnormalLoss | Flow::PriceDifference => {
                self.add(Feed::PackingUsed, "packing lost and missing", item);
            }
            Flow::Donated => self.donate_unused(of, movement, movement.vector.paid()?),
            _ => {}
        }
        if of.has(movement.date) {
            let waiting = waiting_cost(&movement.vector, kept)?;
            self.ways.entry((movement.flow, "packing")).or_default().push(item_of(of, movement, waiting));
        }
        Some(())
    }

    /// A donation: what of its cost was there when the year began comes off the opening stock, up to its value; the rest stays.
    fn donate(&mut self, of: &BooksOfYear<'_>, movement: &Movement, waiting: Fixed6, kept: StockKept) -> Option<()> {
        let carried_in = waiting_cost(&movement.vector.marked(Mark::CarriedIn(of.year)), kept)?;
        let value = match movement.worth {
            Some(worth) => worth,
            None => {
                let price = movement.thing.and_then(|thing| *of.book().thing(thing).price.on(movement.date));
                let guess = price.map(|price| line_total(price, movement.quantity, of.book().shop.currency).ok());
                // A value lowers the opening stock only; of what was not in it nothing is taken.
                if carried_in.is_positive() {
                    self.donations_without_value.push(item_of(of, movement, guess.flatten().unwrap_or_default()));
                }
                guess.map_or(Some(carried_in), |guess| guess)?
            }
        };
        let off = carried_in.min(value).min(waiting).max(Fixed6::ZERO);
        self.went_to.donated = self.went_to.donated.checked_add(waiting.checked_sub(off)?)?;
        self.ways.entry((Flow::Donated, "donated")).or_default().push(item_of(of, movement, waiting));
        if !off.is_zero() {
            self.donated_off_start.push(item_of(of, movement, off));
        }
        Some(())
    }

    /// Puts what left otherwise on its lines. `None` on overflow.
    pub(crate) fn fill(&self, of: &BooksOfYear<'_>, ledger: &mut Ledger) -> Option<()> {
        for ((feed, name), items) in &self.lines {
            ledger.feed(of, *feed, name, items.clone())?;
        }
        Some(())
    }

    /// What left otherwise, by name. `None` on overflow.
    pub(crate) fn named(&self) -> Option<Vec<(String, Fixed6)>> {
        let mut by_name: Vec<(String, Fixed6)> = Vec::new();
        for ((_, name), items) in &self.ways {
            let amount = total(items)?;
            match by_name.iter_mut().find(|(known, _)| known == name) {
                Some((_, sum)) => *sum = sum.checked_add(amount)?,
                None => by_name.push(((*name).to_owned(), amount)),
            }
        }
        Some(by_name)
    }
}

/// An item of the year: what left before and is paid for now has the year's first day.
fn item_of(of: &BooksOfYear<'_>, movement: &Movement, amount: Fixed6) -> Item {
    Item { date: movement.date.max(of.first), amount, event: Some(movement.event), span: movement.line }
}

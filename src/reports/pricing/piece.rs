//! What one piece costs, and whence that is taken.

use chrono::Months;
use rust_decimal::Decimal;

use super::PriceFault;
use super::price_index::PriceIndex;
use crate::costing::{Amounts, Component, CostVector};
use crate::names::{PatternId, ThingId};
use crate::reports::period::per_unit;
use crate::reports::planning::{CostFrom, Planned};
use crate::reports::{Period, PlanAsked, PlanFault};
use crate::units::{Fixed6, checked_add_exact, part_of};

/// What one piece costs, exactly over so many.
pub(crate) struct Piece<'a> {
    pub(crate) from: String,
    pub(crate) pieces: Decimal,
    pub(crate) cost: Amounts,
    /// Whether some of it has no hours though it took some.
    pub(crate) hours_unknown: bool,
    pub(crate) whence: Whence<'a>,
}

/// Whence the cost of a piece is taken.
pub(crate) enum Whence<'a> {
    /// What was finished in these days.
    Finished(Period),
    /// What is on hand.
    OnHand,
    /// A plan of one, by its recipe and the last prices, since none was finished yet.
    Expected(Box<Planned<'a>>),
}

/// Costs of one, as the report has them: the whole over the pieces, rounded once to six digits, and its components by largest remainder.
#[derive(Clone, Copy)]
pub(crate) struct One {
    pub(crate) paid: Fixed6,
    pub(crate) overhead: Fixed6,
    /// Own time as money, and its minutes; nothing where hours are unknown.
    pub(crate) hours: Option<(Fixed6, Fixed6)>,
}

/// Whence the cost of a piece is taken: what was finished in the days asked about; where none are, in the twelve months up to the last day, else
/// ever; else what is on hand; else, where none was ever finished, what one is expected to cost.
pub(super) fn piece_of<'a>(index: &PriceIndex<'a>, product: ThingId) -> Result<Piece<'a>, PriceFault> {
    if let Some(piece) = measured(index, product).ok_or(PriceFault::TooLarge)? {
        return Ok(piece);
    }
    match index.outputs(product).any(|(_, item)| item.quantity > Decimal::ZERO) {
        true => Err(PriceFault::NotInThoseDays),
        false => expected(index, product),
    }
}

/// The cost of pieces that were finished, or are there. The outer `None` is overflow.
fn measured<'a>(index: &PriceIndex<'a>, product: ThingId) -> Option<Option<Piece<'a>>> {
    let period = index.period;
    let last = [period.to, index.books.costed.until].into_iter().flatten().min();
    let asked = period != Period::default();
    let year_before = last.and_then(|day| day.checked_sub_months(Months::new(12))).and_then(|day| day.succ_opt());
    let mut tried = vec![period];
    if !asked {
        tried.insert(0, Period { from: year_before, to: last });
    }
    for days in tried {
        let (pieces, vector, batches) = finished(index, product, days)?;
        if pieces > Decimal::ZERO {
            let from = match (days.from, days.to) {
                (Some(from), Some(to)) => format!("{} finished from {from} to {to}", counted(batches, "batch", "batches")),
                (Some(from), None) => format!("{} finished from {from} on", counted(batches, "batch", "batches")),
                (None, Some(to)) => format!("{} finished up to {to}", counted(batches, "batch", "batches")),
                (None, None) => format!("{}, all that were finished", counted(batches, "batch", "batches")),
            };
            return Some(Some(Piece::of((from, Whence::Finished(days)), pieces, &vector)?));
        }
    }
    let mut pieces = Decimal::ZERO;
    let mut vector = CostVector::default();
    for lot in index.on_hand(product) {
        pieces = checked_add_exact(pieces, lot.quantity).ok()?;
        vector.add(&lot.vector)?;
    }
    if pieces <= Decimal::ZERO {
        return Some(None);
    }
    let name = &index.books.book.thing(product).named.name;
    let was_finished = asked && finished(index, product, Period::default())?.0 > Decimal::ZERO;
    let when = if was_finished { "finished in these days" } else { "finished in a batch" };
    let from = format!("what is on hand: no {name} was {when}");
    Piece::of((from, Whence::OnHand), pieces, &vector).map(Some)
}

/// What one is expected to cost, as a plan of one has it: by the recipe, what is on hand and the last prices.
fn expected<'a>(index: &PriceIndex<'a>, product: ThingId) -> Result<Piece<'a>, PriceFault> {
    let asked = PlanAsked { builds: vec![(product, Decimal::ONE)], by: None };
    let planned = Planned::of(index.books, &asked).map_err(|fault| match fault {
        PlanFault::NoRecipe(_) | PlanFault::Empty => PriceFault::NeverMade,
        PlanFault::Round(round) => PriceFault::Round(round),
        PlanFault::TooLarge => PriceFault::TooLarge,
    })?;
    let unknown = Unpriced::of(&planned);
    if !unknown.is_empty() {
        return Err(PriceFault::Unpriced(unknown));
    }
    let cost = planned.costs.get(&product).filter(|cost| cost.quantity > Decimal::ZERO).ok_or(PriceFault::NeverMade)?;
    // A recipe that says no time says nothing of the hours, and pieces that were opened without hours have none either.
    let items = planned.costs.values().flat_map(|cost| &cost.items);
    let without_hours = items.into_iter().any(|item| match item.from {
        CostFrom::Shelf(thing, _) => planned.there.cost_at_home(thing).is_some_and(|(_, vector)| vector.hours_unknown()),
        _ => false,
    });
    Ok(Piece {
        from: format!("expected by its recipe and what things cost on {}: none was finished yet", planned.ground.day),
        pieces: cost.quantity,
        cost: cost.cost,
        hours_unknown: without_hours || says_no_time(&cost.cost),
        whence: Whence::Expected(Box::new(planned)),
    })
}

/// What a recipe needs of which nothing says what it costs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Unpriced {
    /// Goods that were never bought, made or opened.
    pub things: Vec<ThingId>,
    /// Patterns of which no licence was bought.
    pub licences: Vec<PatternId>,
}

impl Unpriced {
    fn of(planned: &Planned<'_>) -> Self {
        let mut things: Vec<ThingId> = planned.costs.values().flat_map(|cost| cost.without_cost.iter().copied()).collect();
        things.sort_unstable();
        things.dedup();
        let licences = planned.licences_to_buy().filter(|need| need.cost.is_none()).map(|need| need.pattern).collect();
        Self { things, licences }
    }

    fn is_empty(&self) -> bool {
        self.things.is_empty() && self.licences.is_empty()
    }
}

impl<'a> Piece<'a> {
    fn of((from, whence): (String, Whence<'a>), pieces: Decimal, vector: &CostVector) -> Option<Self> {
        Some(Self { from, pieces, cost: Amounts::of(vector)?, hours_unknown: vector.hours_unknown(), whence })
    }

    /// The plan of one, where none was finished yet.
    pub(crate) fn planned(&self) -> Option<&Planned<'a>> {
        match &self.whence {
            Whence::Expected(planned) => Some(planned),
            Whence::Finished(_) | Whence::OnHand => None,
        }
    }
}

/// Whether nobody's time is in a cost: a piece is made in no time by no recipe.
pub(super) fn says_no_time(cost: &Amounts) -> bool {
    cost.own_minutes().is_zero() && cost.get(Component::BoughtInTime).is_zero()
}

fn counted(number: usize, one: &str, many: &str) -> String {
    if number == 1 { format!("1 {one}") } else { format!("{number} {many}") }
}

/// Good pieces finished in some days, their cost, and in how many batches.
fn finished(index: &PriceIndex<'_>, product: ThingId, days: Period) -> Option<(Decimal, CostVector, usize)> {
    let (mut pieces, mut vector, mut batches, mut last) = (Decimal::ZERO, CostVector::default(), 0_usize, None);
    for (batch, item) in index.outputs(product).filter(|(_, item)| days.covers(item.date)) {
        pieces = checked_add_exact(pieces, item.quantity).ok()?;
        vector.add(&item.vector)?;
        if last != Some(batch) {
            batches = batches.saturating_add(1);
        }
        last = Some(batch);
    }
    Some((pieces, vector, batches))
}

pub(super) fn one_of(piece: &Piece<'_>) -> Option<One> {
    let of = |component| piece.cost.get(component);
    let materials = of(Component::Materials).checked_add(of(Component::Freight))?;
    let parts = [materials, of(Component::Wear), of(Component::BoughtInTime), of(Component::Royalty), of(Component::OwnTime)];
    let each = per_unit(&[parts.as_slice(), &[of(Component::Overhead)]].concat(), piece.pieces)?;
    let [materials, wear, bought_in_time, royalty, own_time, overhead] = *each.as_slice() else { return None };
    let hours = match piece.hours_unknown {
        true => None,
        false => Some((own_time, part_of(piece.cost.own_minutes(), Decimal::ONE, piece.pieces)?)),
    };
    Some(One { paid: Fixed6::checked_sum([materials, wear, bought_in_time, royalty])?, overhead, hours })
}

impl One {
    /// Paid cost, overhead and own time; nothing where hours are unknown. The outer `None` is overflow.
    pub(crate) fn full(&self) -> Option<Option<Fixed6>> {
        let Some((own_time, _)) = self.hours else { return Some(None) };
        self.paid.checked_add(self.overhead)?.checked_add(own_time).map(Some)
    }
}

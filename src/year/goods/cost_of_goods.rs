//! Part III: what came in, what waits at the two ends, and where the rest went, to the last digit.
//!
//! 36 to 39 take what came in, never what was used: material net of discount with its tax (36), hired time put into batches
//! (37), wear (38), freight on stock lines, royalties and licences (39). What left otherwise than by the cost of goods is a named deduction
//! from the line by which it came in. Then, for the components that wait,
//! 35 + 36 + 37 + 38 + 39 − 41 = sold + scrapped + missing + abnormal + donated out of this year's cost + price differences,
//! and on the cash basis less what is gone but not paid for, plus last year's, by the marks that travel with the cost.

use chrono::{Datelike, NaiveDate};

use crate::costing::{Component, CostVector, Flow, Movement};
use crate::names::{StockKept, ThingKind};
use crate::units::Fixed6;
use crate::year::Feed;
use crate::year::books::BooksOfYear;
use crate::year::goods::came_in::{CameAs, came_in};
use crate::year::goods::goods_cost::{class_of, stock_at_end, unpaid_at_end, waiting_cost, wear_at_end};
use crate::year::goods::unpaid::{Counted, counted_parts, is_inside};
use crate::year::goods::ways_out::WaysOut;
use crate::year::ledger::Ledger;
use crate::year::settled::Settled;
use crate::year::tax_year::{CostOfGoods, Item};

/// What Part III is made of, and what the goods leave on other lines.
#[derive(Clone, Debug, Default)]
pub(crate) struct Goods {
    pub(crate) cost: CostOfGoods,
    pub(crate) ways_out: WaysOut,
    /// Goods that were opened after the year's first day, and those the owner put in.
    pub(crate) opened_later: Vec<Item>,
    pub(crate) contributed: Vec<Item>,
    /// Goods opened on the year's first day in a book that goes back further: the opening stock is not last year's closing stock.
    pub(crate) opened_again: Vec<Item>,
    /// 35 + 36 + 37 + 38 + 39 − 41 less what it should be: zero.
    pub(crate) difference: Fixed6,
}

/// Fills lines 35 to 41, and the lines on which goods stand that left otherwise. `None` on overflow.
pub(crate) fn fill_goods(of: &BooksOfYear<'_>, settled: &Settled, ledger: &mut Ledger) -> Option<Goods> {
    let kept = of.stock();
    let mut goods = Goods::default();
    let mut in_lines = Vec::new();
    for (at, movement) in (0u32..).zip(&of.costed().movements) {
        if movement.flow.comes_in() {
            for (came_as, amount) in came_in(movement)? {
                if !is_inside(of, movement, came_as, kept) {
                    continue;
                }
                let Some((feed, name)) = line_in(of, movement, came_as) else { continue };
                for part in counted_parts(settled, at, movement, came_as, amount) {
                    if of.has(part.date) {
                        let item =
                            Item { date: part.date, amount: part.amount, event: Some(movement.event), span: movement.line };
                        in_lines.push((feed, name, item));
                        match movement.flow {
                            Flow::Opened => goods.opened_later.push(item),
                            Flow::Contributed => goods.contributed.push(item),
                            _ => {}
                        }
                    }
                }
            }
            if movement.flow == Flow::Unrecorded && of.has(movement.date) && class_of(of, movement) != Some(ThingKind::Packing) {
                let waiting = waiting_cost(&movement.vector, kept)?;
                goods.cost.unrecorded = goods.cost.unrecorded.checked_add(waiting)?;
            }
        } else if movement.date <= of.last {
            goods.ways_out.take(of, movement, kept)?;
        }
    }
    crossings(of, kept, &mut in_lines)?;
    let mut names: Vec<(Feed, &str)> = Vec::new();
    for (feed, name, _) in &in_lines {
        if !names.contains(&(*feed, *name)) {
            names.push((*feed, *name));
        }
    }
    for (feed, name) in names {
        let items = in_lines.iter().filter(|one| (one.0, one.1) == (feed, name)).map(|one| one.2).collect();
        ledger.feed(of, feed, name, items)?;
    }
    goods.ways_out.fill(of, ledger)?;
    fill_ends(of, ledger, &mut goods)?;
    goods.cost.other_ways_out = goods.ways_out.named()?;
    goods.cost.donations.clone_from(&goods.ways_out.donated_off_start);
    goods.cost.donated_unused.clone_from(&goods.ways_out.donated_unused);
    Some(goods)
}

/// On which line, and under which name, a component counts that came in; `None` for what is no line of its own.
fn line_in(of: &BooksOfYear<'_>, movement: &Movement, came_as: CameAs) -> Option<(Feed, &'static str)> {
    let is_wear = class_of(of, movement) == Some(ThingKind::Wear);
    let by_class = |material, wear| if is_wear { (Feed::MakingSupplies, wear) } else { (Feed::Purchases, material) };
    Some(match (movement.flow, came_as) {
        // Opened on 1 January: the opening stock itself.
        (Flow::Opened, _) if movement.date.ordinal() == 1 => return None,
        (Flow::Opened, _) => by_class("there when the book began", "wear there when the book began"),
        (Flow::Contributed, _) => by_class("put in by the owner", "wear put in by the owner"),
        (Flow::SentBack, _) => by_class("sent back to suppliers", "wear sent back to suppliers"),
        (Flow::Credited, _) => by_class("credited by suppliers", "wear credited by suppliers"),
        (Flow::Bought | Flow::Time | Flow::Royalty, CameAs::Materials) => (Feed::Purchases, "material bought"),
        (Flow::Bought | Flow::Time | Flow::Royalty, CameAs::Wear) => (Feed::MakingSupplies, "wear bought"),
        (Flow::Bought | Flow::Time | Flow::Royalty, CameAs::BoughtInTime) => (Feed::Labor, "hired time in batches"),
        (Flow::Bought | Flow::Time | Flow::Royalty, CameAs::Freight) => (Feed::OtherCosts, "freight in on material"),
        (Flow::Bought | Flow::Time | Flow::Royalty, CameAs::WearFreight) => (Feed::OtherCosts, "freight in on wear"),
        (Flow::Bought, CameAs::Royalty) => (Feed::OtherCosts, "licences for a number of pieces"),
        (_, CameAs::Royalty) => (Feed::OtherCosts, "royalties"),
        _ => return None,
    })
}

/// Packing that went into batches comes in by line 36 when it is used there; packing made in a batch leaves by it.
fn crossings(of: &BooksOfYear<'_>, kept: StockKept, in_lines: &mut Vec<(Feed, &str, Item)>) -> Option<()> {
    let is_packing = |thing| of.book().thing(thing).kind == ThingKind::Packing;
    // What crosses counts in the year of the later of the two days, as all that leaves does.
    let mut cross = |name, date: NaiveDate, event, span, vector: &CostVector, sign| {
        let amount = Counted::of(of, date, vector, |vector| waiting_cost(vector, kept))?.in_the_year()?.checked_mul_int(sign)?;
        if !amount.is_zero() {
            in_lines.push((Feed::Purchases, name, Item { date: date.max(of.first), amount, event: Some(event), span }));
        }
        Some(())
    };
    for account in &of.costed().batches {
        for used in account.used.iter().filter(|used| is_packing(used.thing)) {
            cross("packing that became part of goods", used.date, used.event, used.line, &used.vector, 1)?;
        }
        let mut leaves = |date, event, span, vector| cross("packing made in batches", date, event, span, vector, -1);
        for output in &account.outputs {
            if matches!(output.what, crate::events::Output::Thing(thing) if is_packing(thing)) {
                leaves(output.date, output.event, output.line, &output.vector)?;
            }
        }
        for offcut in account.kept.iter().filter(|offcut| is_packing(offcut.thing)) {
            leaves(offcut.date, offcut.event, offcut.line, &offcut.vector)?;
        }
    }
    // Packing that was sold was part of the goods after all.
    for movement in of.costed().movements.iter().filter(|one| one.flow == Flow::Sold) {
        if movement.thing.is_some_and(is_packing) {
            cross("packing that was sold", movement.date, movement.event, movement.line, &movement.vector, 1)?;
        }
    }
    Some(())
}

/// Lines 35 and 41, and the identity that ties them to where the goods went.
fn fill_ends(of: &BooksOfYear<'_>, ledger: &mut Ledger, goods: &mut Goods) -> Option<()> {
    let kept = of.stock();
    let year_before = of.year.checked_sub(1)?;
    let kept_before = *of.book().shop.stock_kept.on(of.first.pred_opt()?);
    let start = stock_at_end(of, year_before, kept_before)?;
    let start_unpaid = unpaid_at_end(of, year_before, kept_before)?;
    let by_new_method = stock_at_end(of, year_before, kept)?.checked_sub(unpaid_at_end(of, year_before, kept)?)?;
    goods.cost.method_change = start.checked_sub(start_unpaid)?.checked_sub(by_new_method)?;
    if kept != kept_before {
        fill_wear_of_the_other_method(of, ledger, &mut goods.cost)?;
    }
    let end_unpaid = unpaid_at_end(of, of.year, kept)?;
    let at = |date, amount| Item { date, amount, event: None, span: crate::sources::Span::default() };
    let mut opened = Vec::new();
    let first_day = of.costed().movements.iter().filter(|one| one.flow == Flow::Opened && one.date == of.first);
    for movement in first_day.filter(|one| class_of(of, one) != Some(ThingKind::Packing)) {
        let amount = waiting_cost(&movement.vector, kept)?;
        opened.push(Item { date: movement.date, amount, event: Some(movement.event), span: movement.line });
    }
    let mut last_year = Vec::new();
    if !start.is_zero() {
        last_year.push(at(of.first, start));
    }
    ledger.feed(of, Feed::StockAtStart, "last year's closing stock", last_year)?;
    if !start_unpaid.is_zero() {
        ledger.feed(of, Feed::StockAtStart, "less its part not paid by then", vec![at(of.first, start_unpaid.checked_neg()?)])?;
    }
    if of.books.log.first_day.is_some_and(|day| day < of.first) {
        goods.opened_again.extend(opened.iter().filter(|item| !item.amount.is_zero()));
        ledger.feed(of, Feed::StockAtStart, "opened beside last year's closing stock", opened)?;
    } else {
        ledger.feed(of, Feed::StockAtStart, "there when the book began", opened)?;
    }
    let mut donated = goods.ways_out.donated_off_start.clone();
    for item in &mut donated {
        item.amount = item.amount.checked_neg()?;
    }
    ledger.feed(of, Feed::StockAtStart, "less what of it was donated", donated)?;
    let end = stock_at_end(of, of.year, kept)?;
    if !end.is_zero() {
        ledger.feed(of, Feed::StockAtEnd, "closing stock", vec![at(of.last, end)])?;
    }
    if !end_unpaid.is_zero() {
        ledger.feed(of, Feed::StockAtEnd, "less its part not paid", vec![at(of.last, end_unpaid.checked_neg()?)])?;
    }
    goods.cost.went_to = goods.ways_out.went_to;
    goods.cost.gone_not_paid = goods.ways_out.gone_not_paid;
    goods.cost.gone_paid_now = goods.ways_out.gone_paid_now;
    let mut exact = ledger.of_feed(Feed::StockAtStart)?;
    for feed in [Feed::Purchases, Feed::Labor, Feed::MakingSupplies, Feed::OtherCosts] {
        exact = exact.checked_add(ledger.of_feed(feed)?)?;
    }
    goods.cost.exact = exact.checked_sub(ledger.of_feed(Feed::StockAtEnd)?)?;
    goods.difference = goods.cost.exact.checked_sub(expected(&goods.cost)?)?;
    Some(())
}

/// Wear on hand when the stock method changes waits inside cost of goods by one method and outside by the other: it crosses by the line by which it
/// came in, so that it counts when it is used, once, and is no difference of the methods. What of it is not paid crosses with its payment.
fn fill_wear_of_the_other_method(of: &BooksOfYear<'_>, ledger: &mut Ledger, cost: &mut CostOfGoods) -> Option<()> {
    let [wear, unpaid] = wear_at_end(of, of.year.checked_sub(1)?);
    let paid = wear.checked_sub(unpaid)?;
    let (name, amount) = match of.stock() {
        StockKept::Supplies => ("less wear that waits outside by the new method", paid.checked_neg()?),
        StockKept::Inventory => ("wear that waited outside by the old method", paid),
    };
    if amount.is_zero() {
        return Some(());
    }
    cost.method_change = cost.method_change.checked_add(amount)?;
    let item = Item { date: of.first, amount, event: None, span: crate::sources::Span::default() };
    ledger.feed(of, Feed::MakingSupplies, name, vec![item])
}

/// What lines 35 to 41 must come to, by where the goods went.
pub(crate) fn expected(cost: &CostOfGoods) -> Option<Fixed6> {
    engine_figure(cost)?
        .checked_sub(cost.gone_not_paid)?
        .checked_add(cost.gone_paid_now)?
        .checked_sub(cost.unrecorded)?
        .checked_add(cost.method_change)
}

/// The engine's figure: where the goods went.
pub(crate) fn engine_figure(cost: &CostOfGoods) -> Option<Fixed6> {
    let went = &cost.went_to;
    Fixed6::checked_sum([went.sold, went.scrapped, went.missing, went.abnormal, went.donated, went.price_difference])
}

/// The wear that batches used, where stock is kept as supplies: it counts when it is used. `None` on overflow.
pub(crate) fn fill_used_wear(of: &BooksOfYear<'_>, ledger: &mut Ledger) -> Option<()> {
    let mut items = Vec::new();
    for used in of.costed().batches.iter().flat_map(|account| &account.used) {
        if of.book().thing(used.thing).kind == ThingKind::Wear {
            let counted = Counted::of(of, used.date, &used.vector, |vector| Some(vector.get(Component::Wear)))?;
            let date = used.date.max(of.first);
            items.push(Item { date, amount: counted.in_the_year()?, event: Some(used.event), span: used.line });
        }
    }
    items.retain(|item| !item.amount.is_zero());
    items.sort_by_key(|item| item.date);
    ledger.feed(of, Feed::WearUsed, "wear used in batches", items)
}

/// Hired time and royalties of batches, where stock is kept as supplies: they count when the basis says. `None` on overflow.
pub(crate) fn fill_time_and_royalties(of: &BooksOfYear<'_>, settled: &Settled, ledger: &mut Ledger) -> Option<()> {
    let (mut contractors, mut employees, mut royalties, mut licences) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for (at, movement) in (0u32..).zip(&of.costed().movements) {
        if !matches!(movement.flow, Flow::Bought | Flow::Time | Flow::Royalty) {
            continue;
        }
        for (came_as, amount) in came_in(movement)? {
            let items = match came_as {
                CameAs::BoughtInTime if movement.by_employee => &mut employees,
                CameAs::BoughtInTime => &mut contractors,
                CameAs::Royalty if movement.flow == Flow::Bought => &mut licences,
                CameAs::Royalty => &mut royalties,
                _ => continue,
            };
            let parts = settled.came_in(at, came_as, movement.date, amount).into_iter().filter(|part| of.has(part.date));
            items.extend(parts.map(|part| Item {
                date: part.date,
                amount: part.amount,
                event: Some(movement.event),
                span: movement.line,
            }));
        }
    }
    ledger.feed(of, Feed::Contractors, "hired time in batches", contractors)?;
    ledger.feed(of, Feed::Employees, "hired time in batches", employees)?;
    ledger.feed(of, Feed::Royalties, "royalties", royalties)?;
    ledger.feed(of, Feed::Licences, "licences for a number of pieces", licences)
}

//! What a book's things, batches, lots, orders and years are called in figures' names, and the list of all its figures.
//!
//! Made once for a book, in time linear in it. Lots are known where the book was costed with its trace or its links.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use chrono::Datelike;
use rust_decimal::Decimal;

use super::asked::price_name;
use super::errors::{FigureFault, handed_back, not_sold_yet, unknown};
use super::name_table::{NameTable, segment};
use super::plan_figure::plan_name;
use super::{
    BatchFigure, CostFigure, CostPart, CostRowFigure, FigureName, LotFigure, OrderFigure, OrderPart, PatternFigure, PaysFigure,
    PlaceFigure, PlanFigure, PriceFigure, ProofFigure, ScheduleFigure, SlowFigure, StockFigure, StockKind, StockOf,
    VarianceFigure,
};
use crate::costing::{Bill, BillKind};
use crate::events::Output;
use crate::names::{BatchId, ResolvedBook, ThingId, ToolId};
use crate::reports::Wanted;
use crate::reports::planning::Planned;
use crate::year::{Books, TaxYear};

/// The names of a book's figures.
#[derive(Clone, Debug)]
pub struct FigureNames<'a> {
    books: Books<'a>,
    years: &'a [TaxYear],
    things: NameTable,
    tools: NameTable,
    batches: NameTable,
    orders: NameTable,
    /// By number less one, with the thing's name before a `/`.
    lots: NameTable,
    /// Sales and what was owed before the book began, by their order or day; and which bill each is.
    owed: NameTable,
    bills: Vec<u32>,
    /// The plan that was asked for.
    planned: Option<Arc<Planned<'a>>>,
    /// The price that was asked for, with what is wanted of it.
    price: Option<(ThingId, Wanted)>,
}

impl<'a> FigureNames<'a> {
    /// Names the figures of a book and its tax years.
    #[must_use]
    pub fn of(books: Books<'a>, years: &'a [TaxYear]) -> Self {
        let Books { book, costed, .. } = books;
        let things = NameTable::of(book.things.iter().map(|thing| segment(&thing.named.name)));
        let tools = NameTable::of(book.tools.iter().map(|tool| segment(&tool.named.name)));
        let batches = NameTable::of(book.batches.iter().map(|batch| segment(&batch.name)));
        let orders = || {
            NameTable::of(costed.orders.iter().map(|order| match order.order {
                Some(label) => segment(book.label(label)),
                None => order.date.to_string(),
            }))
        };
        let lots = costed.lots_made().map(|(thing, origin)| {
            let which = match (origin.code, origin.batch) {
                (Some(code), _) => segment(book.label(code)),
                (None, Some(batch)) => which_of_batch(&book.thing(thing).named.name, &book.batch(batch).name)
                    .map_or_else(|| batches.name(batch.0).to_owned(), segment),
                (None, None) => origin.date.to_string(),
            };
            format!("{}/{which}", things.name(thing.0))
        });
        // The two long lists of a large book, side by side.
        let (orders, lots) = rayon::join(orders, || NameTable::of(lots));
        let owed_to_us = (0u32..).zip(&costed.bills).filter(|(_, bill)| bill.kind == BillKind::OwedToUs);
        let bills: Vec<u32> = owed_to_us.clone().map(|(at, _)| at).collect();
        let owed = NameTable::of(owed_to_us.map(|(_, bill)| match bill.reference {
            Some(label) => segment(book.label(label)),
            None => bill.date.to_string(),
        }));
        Self { books, years, things, tools, batches, orders, lots, owed, bills, planned: None, price: None }
    }

    /// All figures of the book, each once, in a fixed order: costs, batches, lots, orders, stock at the book's end, lines of the tax years; and those
    /// of the plan or price that was asked for.
    /// Every one of them reads back from its text.
    #[must_use]
    pub fn all(&self) -> Vec<FigureName> {
        let mut all = self.costs();
        let whole = |figure: &FigureName| match figure {
            FigureName::Cost(CostFigure { thing, year, part: None }) => Some((*thing, *year)),
            _ => None,
        };
        let costs: Vec<(ThingId, Option<i32>)> = all.iter().filter_map(whole).collect();
        all.extend(CostRowFigure::all(self.books, &costs).into_iter().map(FigureName::CostRow));
        for batch in self.batches.numbers().map(BatchId) {
            let parts = std::iter::once(None).chain(CostPart::ALL.map(Some));
            all.extend(parts.map(|part| FigureName::Batch(BatchFigure { batch, part })));
        }
        all.extend(VarianceFigure::all(self.books).into_iter().map(FigureName::Variance));
        for number in self.lots.numbers().map(|before| before.saturating_add(1)) {
            let parts = std::iter::once(None).chain(CostPart::ALL.map(Some));
            all.extend(parts.map(|part| FigureName::Lot(LotFigure { number, part })));
        }
        for order in self.orders.numbers() {
            let parts = std::iter::once(None).chain(OrderPart::ALL.map(Some));
            all.extend(parts.map(|part| FigureName::Order(OrderFigure { order, part })));
        }
        let things = self.things.numbers().map(|thing| StockOf::Thing(ThingId(thing)));
        let stock = things.chain(StockKind::ALL.into_iter().map(StockOf::Kind));
        all.extend(stock.map(|of| FigureName::Stock(StockFigure { of, on: None })));
        all.extend(PaysFigure::all(self.books, self.years).into_iter().map(FigureName::Pays));
        all.extend(PriceFigure::all(self.books).into_iter().map(FigureName::Price));
        if let Some((thing, wanted)) = self.price {
            all.extend(PriceFigure::all_asked(self.books, thing, wanted).into_iter().map(FigureName::Price));
        }
        if let Some(planned) = &self.planned {
            all.extend(PlanFigure::all(planned).into_iter().map(FigureName::Plan));
        }
        all.extend(PlaceFigure::all(self).into_iter().map(FigureName::Places));
        all.extend(PatternFigure::all(self.books).into_iter().map(FigureName::Pattern));
        all.extend(SlowFigure::all(self.books).into_iter().map(FigureName::Slow));
        all.extend(ProofFigure::all(&self.books.costed.proof).into_iter().map(FigureName::Proof));
        for one in self.years {
            let year = one.year;
            all.extend((0..one.lines.len()).map(|at| match one.cost_of_goods_line == Some(at) {
                true => FigureName::CostOfGoods { year },
                false => FigureName::Line { year, at },
            }));
            all.extend(ScheduleFigure::all(one).into_iter().map(FigureName::Schedule));
        }
        all
    }

    /// What units cost of what was ever finished, and of each year in which some were.
    fn costs(&self) -> Vec<FigureName> {
        let mut made: BTreeMap<ThingId, BTreeSet<i32>> = BTreeMap::new();
        for output in self.books.costed.batches.iter().flat_map(|account| &account.outputs) {
            if let Output::Thing(thing) = output.what {
                made.entry(thing).or_default().insert(output.date.year());
            }
        }
        let mut costs = Vec::new();
        for (thing, years) in made {
            for year in std::iter::once(None).chain(years.into_iter().map(Some)) {
                for part in std::iter::once(None).chain(CostPart::ALL.map(Some)) {
                    costs.push(FigureName::Cost(CostFigure { thing, year, part }));
                }
            }
        }
        costs
    }

    /// The book.
    pub(super) fn books(&self) -> Books<'a> {
        self.books
    }

    /// The book.
    pub(super) fn book(&self) -> &'a ResolvedBook {
        self.books.book
    }

    /// The plan that was asked for.
    pub(crate) fn planned(&self) -> Option<&Planned<'a>> {
        self.planned.as_deref()
    }

    /// The same names with those of another plan.
    pub(crate) fn with_plan(&self, planned: Planned<'a>) -> Self {
        Self { planned: Some(Arc::new(planned)), ..self.clone() }
    }

    pub(super) fn set_plan(&mut self, planned: Arc<Planned<'a>>) {
        self.planned = Some(planned);
    }

    /// How the names of a plan's figures begin: `plan/6_pull-cart+4_village-set`.
    pub(crate) fn plan_of(&self, builds: &[(ThingId, Decimal)]) -> String {
        plan_name(self.books.book, builds)
    }

    /// How the names of a plan of one begin, of the first product that the book builds; nothing where it builds none.
    pub(super) fn plan_of_one(&self) -> Option<String> {
        let day = self.books.costed.until?;
        let mut things = self.things.numbers().map(ThingId);
        let built = things.find(|thing| {
            let thing = self.books.book.thing(*thing);
            !thing.needs.on(day).is_empty() || !thing.takes.on(day).is_empty()
        })?;
        Some(self.plan_of(&[(built, Decimal::ONE)]))
    }

    /// The price that was asked for, with what is wanted of it.
    pub(crate) fn price(&self) -> Option<(ThingId, Wanted)> {
        self.price
    }

    pub(super) fn set_price(&mut self, thing: ThingId, wanted: Wanted) {
        self.price = Some((thing, wanted));
    }

    /// How the names of a price's figures begin: `price/pull-cart`, and where it was asked with wishes `price/pull-cart+earn_25`.
    pub(crate) fn price_of(&self, thing: ThingId, asked: bool) -> String {
        let wanted = self.price.filter(|(one, _)| asked && *one == thing).map_or_else(Wanted::default, |(_, wanted)| wanted);
        price_name(self.books.book, thing, wanted)
    }

    /// A tool's name.
    pub(crate) fn tool(&self, tool: ToolId) -> &str {
        self.tools.name(tool.0)
    }

    /// A thing's name.
    pub(crate) fn thing(&self, thing: ThingId) -> &str {
        self.things.name(thing.0)
    }

    /// The thing of a name.
    pub(crate) fn thing_of(&self, name: &str) -> Option<ThingId> {
        self.things.number(name).map(ThingId)
    }

    /// A batch's name.
    pub(crate) fn batch(&self, batch: BatchId) -> &str {
        self.batches.name(batch.0)
    }

    /// An order's name, by its index.
    pub(crate) fn order(&self, order: u32) -> &str {
        self.orders.name(order)
    }

    /// What something that is owed to the shop is called, by its place among these.
    pub(crate) fn owed(&self, at: u32) -> &str {
        self.owed.name(at)
    }

    /// The bill of something that is owed to the shop.
    pub(crate) fn owed_bill(&self, at: u32) -> Option<&'a Bill> {
        self.books.costed.bills.get(*self.bills.get(at as usize)? as usize)
    }

    /// All that was ever owed to the shop.
    pub(crate) fn all_owed(&self) -> impl Iterator<Item = (u32, &'a Bill)> {
        let bills = &self.books.costed.bills;
        (0u32..).zip(&self.bills).filter_map(|(at, bill)| Some((at, bills.get(*bill as usize)?)))
    }

    /// Something that is owed to the shop, by its name.
    pub(super) fn read_owed(&self, typed: &str) -> Option<u32> {
        self.owed.number(typed)
    }

    /// A lot's name, by its number: its thing's, a `/`, and which it is.
    pub(crate) fn lot(&self, number: u32) -> &str {
        self.lots.name(number.wrapping_sub(1))
    }

    /// The name of the figure of a form's line, by its index.
    pub(crate) fn line(&self, year: i32, at: Option<usize>) -> String {
        let line = self.year(year).zip(at).and_then(|(one, at)| one.lines.get(at));
        format!("year/{year:04}/line-{}", line.map_or("", |line| line.number.as_str()))
    }

    /// The tax years.
    pub(super) fn years(&self) -> &'a [TaxYear] {
        self.years
    }

    /// A tax year.
    pub(crate) fn year(&self, year: i32) -> Option<&'a TaxYear> {
        self.years.iter().find(|one| one.year == year)
    }

    pub(super) fn read_thing(&self, typed: &str) -> Result<ThingId, FigureFault> {
        let thing = self.things.number(typed).map(ThingId);
        thing.ok_or_else(|| unknown("material or product", typed))
    }

    pub(super) fn read_tool(&self, typed: &str) -> Result<ToolId, FigureFault> {
        self.tools.number(typed).map(ToolId).ok_or_else(|| unknown("tool", typed))
    }

    /// The batch of a name as figures write it.
    pub(crate) fn batch_of(&self, typed: &str) -> Option<BatchId> {
        self.batches.number(typed).map(BatchId)
    }

    pub(super) fn read_batch(&self, typed: &str) -> Result<BatchId, FigureFault> {
        self.batch_of(typed).ok_or_else(|| unknown("batch", typed))
    }

    pub(super) fn read_order(&self, typed: &str) -> Result<u32, FigureFault> {
        self.orders.number(typed).ok_or_else(|| match self.deposits_of(typed) {
            None => unknown("order", typed),
            Some(true) => handed_back(typed),
            Some(false) => not_sold_yet(typed),
        })
    }

    /// Of an order that was not sold and for which money came before: whether all of that was handed back.
    fn deposits_of(&self, order: &str) -> Option<bool> {
        let book = self.books.book;
        let mut deposits = self.books.costed.deposits.iter().filter(|one| segment(book.label(one.order)) == order).peekable();
        deposits.peek()?;
        Some(deposits.all(|one| one.handed_back.is_some()))
    }

    pub(super) fn read_lot(&self, thing: &str, which: &str) -> Result<u32, FigureFault> {
        self.read_thing(thing)?;
        let number = self.lots.number(&format!("{thing}/{which}")).or_else(|| {
            // By the whole name of its batch, too.
            let batch = &self.book().batch(self.batch_of(which)?).name;
            let short = which_of_batch(thing, batch)?;
            self.lots.number(&format!("{thing}/{}", segment(short)))
        });
        let number = number.and_then(|before| before.checked_add(1));
        number.ok_or_else(|| unknown(&format!("lot of `{thing}`"), which))
    }
}

/// Which of a thing's lots one of a batch is that is called by the thing itself (`cart/2026-04-01`): what stands behind the thing's name, so that the lot is
/// called as the batch. `None` of a batch that is called otherwise.
fn which_of_batch<'n>(thing: &str, batch: &'n str) -> Option<&'n str> {
    batch.strip_prefix(thing)?.strip_prefix('/').filter(|which| !which.is_empty())
}

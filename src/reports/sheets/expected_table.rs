//! What a piece is expected to cost that was never finished: the items of a plan of one, and those of the parts that are built for it first.
//!
//! A cell leads to what it is taken from: the shelf, the last purchase, the batch or the definition that says it.

use rust_decimal::Decimal;

use super::column_cells;
use super::sheet::{CellKind, SheetCell, SheetName, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use crate::costing::{Amounts, Component};
use crate::names::{PatternId, ThingId};
use crate::reports::period::{minutes_text, quantity_text};
use crate::reports::planning::{CostFrom, CostItem, Planned};
use crate::units::Fixed6;

use CellKind::{Money, Quantity, Words};

/// The items of the piece.
pub(super) const EXPECTED: &str = "expected";
/// The items of its parts.
const PARTS: &str = "parts";

/// Where a cell of money leads.
enum Lead {
    /// A table of a sheet; of this one where none is named.
    Table(Option<SheetName>, &'static str),
    /// A sheet.
    Sheet(SheetName),
    /// A line of the book.
    Line(Option<super::SheetPlace>),
}

/// The tables. `None` where a figure is too large to be carried.
pub(super) fn expected_tables(index: &SheetIndex<'_>, planned: &Planned<'_>, product: ThingId) -> Option<Vec<SheetTable>> {
    let columns = [
        ("Of", Words),
        ("How much", Quantity),
        ("Laid out", Money),
        ("Own time", Money),
        ("Overhead", Money),
        ("Full cost", Money),
    ];
    let of = Of { index, planned };
    let mut all = SheetTable::new(EXPECTED, "What it is expected to take, by its recipe", &columns);
    all.note = "materials as they lie on the shelf, the rest at the last price";
    let (rows, total) = of.rows(product)?;
    all.rows = rows;
    all.total = Some(total);
    let mut parts = SheetTable::new(PARTS, "What the parts take that are built for it first", &columns);
    for build in planned.builds.iter().map(|build| build.thing).filter(|thing| *thing != product) {
        let (rows, total) = of.rows(build)?;
        parts.rows.extend(rows);
        parts.sums.push(parts.rows.len());
        parts.rows.push(total);
    }
    Some(vec![all, parts])
}

struct Of<'o> {
    index: &'o SheetIndex<'o>,
    planned: &'o Planned<'o>,
}

impl Of<'_> {
    /// The items of a build, and their sum.
    fn rows(&self, build: ThingId) -> Option<(Vec<SheetRow>, SheetRow)> {
        let book = self.index.books.book;
        let expected = self.planned.costs.get(&build)?;
        let items: Vec<&CostItem> = expected.items.iter().filter(|item| !item.cost.is_nothing()).collect();
        let columns: [fn(&Amounts) -> Option<Fixed6>; 4] =
            [Amounts::paid, |cost| Some(cost.get(Component::OwnTime)), |cost| Some(cost.get(Component::Overhead)), Amounts::full];
        let mut shown = Vec::with_capacity(columns.len());
        for of in columns {
            let sums: Vec<Fixed6> = items.iter().map(|item| of(&item.cost)).collect::<Option<_>>()?;
            shown.push(column_cells(book, &sums)?);
        }
        let mut rows = Vec::with_capacity(items.len());
        for (at, item) in items.iter().enumerate() {
            let (head, much, lead) = self.item(build, item);
            let mut cells = vec![head, much];
            for (list, _) in &shown {
                let cell = SheetCell::new(Money, list.get(at).cloned().unwrap_or_default());
                cells.push(match &lead {
                    Lead::Table(None, table) => cell.by_table(table),
                    Lead::Table(Some(sheet), table) => cell.of(sheet.clone()).by_table(table),
                    Lead::Sheet(sheet) => cell.of(sheet.clone()),
                    Lead::Line(place) => cell.at(place.clone()),
                });
            }
            rows.push(SheetRow { day: String::new(), cells });
        }
        let named = &book.thing(build).named;
        let asked = self.planned.builds.iter().any(|one| one.thing == build && one.for_parts.is_zero());
        let table = if asked { EXPECTED } else { PARTS };
        let much = SheetCell::quantity(quantity_text(expected.quantity), book.thing(build).unit.as_str());
        let mut cells = vec![SheetCell::new(Words, format!("{}, together", named.title)), much.by_table(table)];
        cells.extend(shown.into_iter().map(|(_, all)| SheetCell::new(Money, all).by_table(table)));
        Some((rows, SheetRow { day: String::new(), cells }))
    }

    /// What an item is, how much of it, and where its money leads.
    fn item(&self, build: ThingId, item: &CostItem) -> (SheetCell, SheetCell, Lead) {
        let book = self.index.books.book;
        let named = &book.thing(build).named;
        let says = |word: &str| self.index.line_of_definition(named, word);
        let worn = item.worn_at.map(|step| self.index.place(book.step(step).named.span));
        let goods = |thing: ThingId, much: Decimal, beside: String| {
            let head =
                SheetCell::new(Words, book.thing(thing).named.title.as_str()).of(self.index.thing_name(thing)).beside(beside);
            let much = SheetCell::quantity(quantity_text(much), book.thing(thing).unit.as_str());
            (head, much.at(worn.clone().unwrap_or_else(|| says("needs"))))
        };
        let pattern = |pattern: PatternId, beside: &str, much: SheetCell| {
            let named = &book.pattern(pattern).named;
            let place = self.index.place(named.span);
            (SheetCell::new(Words, named.title.as_str()).beside(beside), much.at(place.clone()), Lead::Line(place))
        };
        let pieces = |much: Decimal| SheetCell::quantity(quantity_text(much), "ea");
        let minutes = |minutes: Fixed6| SheetCell::new(CellKind::Minutes, minutes_text(minutes));
        match item.from {
            CostFrom::Shelf(thing, much) => {
                let (head, much) = goods(thing, much, "on hand".to_owned());
                (head, much, Lead::Table(Some(self.index.thing_name(thing)), "stock"))
            }
            CostFrom::Built(thing, much) => {
                let (head, much) = goods(thing, much, "built first".to_owned());
                (head, much, Lead::Table(None, PARTS))
            }
            CostFrom::Bought(thing, much) => {
                let last = self.planned.last.of_thing(thing);
                let when = last.map_or_else(String::new, |last| format!(" of {}", last.date));
                let (head, much) = goods(thing, much, format!("at the last price{when}"));
                (head, much, Lead::Line(last.and_then(|last| self.index.place(last.line))))
            }
            CostFrom::Made(thing, much, last) => {
                let (head, much) = goods(thing, much, format!("as made last, on {}", last.date));
                (head, much, Lead::Sheet(self.index.batch_name(last.batch)))
            }
            CostFrom::Bench(batch, much) => {
                let name = self.index.batch_name(batch);
                let head = SheetCell::new(Words, book.batch(batch).name.as_str()).of(name.clone()).beside("on the bench");
                (head, pieces(much).of(name.clone()), Lead::Sheet(name))
            }
            CostFrom::OwnTime(time) => {
                let rate = self.planned.hours.owner_rate.to_fixed_text(2, 6);
                let head = SheetCell::new(Words, "Your time").beside(format!("at {rate} an hour"));
                (head, minutes(time).at(says("takes")), Lead::Line(says("takes")))
            }
            CostFrom::Helpers(step, time) => {
                let step = &book.step(step).named;
                let head = SheetCell::new(Words, "Helpers").beside(format!("at {}, as in the last batches", step.title));
                let place = self.index.place(step.span);
                (head, minutes(time).at(place.clone()), Lead::Line(place))
            }
            CostFrom::Overhead(step, time) => {
                let rate = self.planned.hours.overhead_per_hour.to_fixed_text(2, 6);
                let step = &book.step(step).named;
                let head = SheetCell::new(Words, "Overhead").beside(format!("on {}, at {rate} an hour", step.title));
                (head, minutes(time).at(says("takes")), Lead::Line(self.index.place(step.span)))
            }
            CostFrom::Royalty(of, _) => pattern(of, "royalty", pieces(Decimal::ONE)),
            CostFrom::Licence(of, date, much) => pattern(of, &format!("licence of {date}"), pieces(much)),
            CostFrom::LicenceToBuy(of, much) => pattern(of, "licence to buy, at the last price", pieces(much)),
        }
    }
}

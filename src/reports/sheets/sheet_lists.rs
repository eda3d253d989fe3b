//! Lists of sheets: all products, materials, batches, orders, channels and lines, each with its main numbers.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::batch_sheet::sums_told;
use super::pattern_sheet::sheet_of_patterns;
use super::place_sheet::list_of_places;
use super::plain_name;
use super::price_sheet::{NOWHERE, list_of_prices};
use super::sheet::{CellKind, Sheet, SheetCell, SheetKind, SheetName, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use super::slow_sheet::sheet_of_slow;
use super::thing_sheet::{HOURS, NO_PRICE};
use super::trade_sheet::orders_of;
use crate::costing::BatchState;
use crate::events::Output;
use crate::names::{ThingId, ThingKind};
use crate::reports::figures::pays_group;
use crate::reports::period::{money_text, quantity_text};
use crate::reports::{
    BatchFigure, CostReport, Derived, FigureName, HowDeep, PaysReport, PlaceList, PriceIndex, StockReport, report_why,
};
use crate::units::checked_add_exact;

use CellKind::{Cost, Day, Minutes, Money, Quantity, Words};

/// What lists are made of beside the reports.
#[derive(Clone, Copy)]
pub struct Further<'f> {
    /// What prices are asked back from.
    pub prices: &'f PriceIndex<'f>,
    /// The products that have a sheet of their price.
    pub priced: &'f [ThingId],
    /// The places away from home.
    pub places: &'f [PlaceList],
    /// The end of the names of costs and margins; none where figures have no name for the time.
    pub when: Option<&'f str>,
}

/// Makes the lists; `when` is the end of the names of costs and margins. A list of nothing is left out. `None` where a figure is too large to be
/// carried.
#[must_use]
pub fn lists_of_sheets(
    index: &SheetIndex<'_>,
    derived: &Derived<'_>,
    cost: &CostReport,
    stock: &StockReport,
    pays: &PaysReport,
    further: Further<'_>,
) -> Option<Vec<Sheet>> {
    let when = further.when;
    let orders: Vec<u32> = (0..u32::try_from(index.books.costed.orders.len()).ok()?).collect();
    let lists = [
        ("products", "Products", products(cost, when)),
        ("materials", "Materials", materials(index, stock)?),
        ("batches", "Batches", batches(index, derived)?),
        ("orders", "Orders", orders_of(index, &orders)?),
        ("channels", "Channels and product lines", trades(pays, when)),
        ("prices", "Prices", list_of_prices(index, further.prices, further.priced)?),
        ("places", "Places", list_of_places(further.places)),
    ];
    let lists = lists.into_iter().filter(|(_, _, table)| !table.rows.is_empty()).map(|(name, title, table)| {
        let says = says_of(name, title, &table);
        let name = SheetName::new(SheetKind::List, name);
        Sheet { name, word: "list", title: title.to_owned(), says, tables: vec![table], trace: None }
    });
    let patterns = sheet_of_patterns(index, &stock.patterns)?;
    let slow = sheet_of_slow(index, &pays.stock_ages)?;
    Some(lists.chain(patterns).chain(slow).collect())
}

/// What a list says first: of prices whether they are high enough, of others how many there are.
fn says_of(name: &str, title: &str, table: &SheetTable) -> Vec<SheetCell> {
    let many = |count: usize| SheetCell::quantity(count.to_string(), "ea").by_table("list");
    let all = table.rows.len();
    if name == "prices" {
        let is_short = |row: &&SheetRow| row.cells.last().is_some_and(|cell| cell.text.as_deref() != Some(NOWHERE));
        let short = table.rows.iter().filter(is_short).count();
        let says = format!(" of {all} {} asked less than the full cost in some channel.", if short == 1 { "is" } else { "are" });
        return vec![many(short), words(says)];
    }
    vec![words(format!("{title}: ")), many(all), words(" in the book.")]
}

fn words(text: impl Into<String>) -> SheetCell {
    SheetCell::new(Words, text)
}

fn products(cost: &CostReport, when: Option<&str>) -> SheetTable {
    let columns = [
        ("Product", Words),
        ("Made", Quantity),
        ("Laid out", Cost),
        ("Full cost", Cost),
        ("List price", Cost),
        ("Your time", Minutes),
    ];
    let mut table = SheetTable::new("list", "All products", &columns);
    for product in &cost.products {
        let name = plain_name(&product.name);
        let figure = |kind: CellKind, text: Option<&String>, part: &str| {
            let cell = text.map_or_else(|| SheetCell::unknown(kind), |text| SheetCell::new(kind, text.as_str()));
            match when {
                Some(when) => cell.figure(format!("cost/{name}{when}/{part}")),
                None => cell,
            }
        };
        let per_unit = product.per_unit.as_ref();
        let made = SheetCell::quantity(product.made.as_str(), &product.unit);
        table.row(vec![
            words(product.title.as_str()).of(SheetName::new(SheetKind::Thing, name.as_str())),
            match when {
                Some(when) => made.figure(format!("cost/{name}{when}")),
                None => made,
            },
            figure(Cost, per_unit.map(|one| &one.paid), "paid"),
            figure(Cost, per_unit.map(|one| &one.full), "full"),
            match &product.price {
                Some(price) => {
                    let sheet = SheetName::new(SheetKind::Thing, name.as_str());
                    SheetCell::new(Cost, price.as_str()).of(sheet).by_table("terms")
                }
                None => SheetCell::without(Cost, NO_PRICE),
            },
            figure(Minutes, product.minutes_per_unit.as_ref(), "minutes"),
        ]);
    }
    table
}

fn materials(index: &SheetIndex<'_>, stock: &StockReport) -> Option<SheetTable> {
    let columns = [("Material", Words), ("On hand", Quantity), ("Laid out", Money)];
    let mut table = SheetTable::new("list", "All materials, wear and packing", &columns);
    let mut here: BTreeMap<&str, Vec<&crate::reports::StockItem>> = BTreeMap::new();
    for item in &stock.items {
        here.entry(item.name.as_str()).or_default().push(item);
    }
    for thing in index.books.book.things.iter().filter(|thing| thing.kind != ThingKind::Product) {
        let name = plain_name(&thing.named.name);
        let items = here.get(thing.named.name.as_str()).map_or(&[][..], Vec::as_slice);
        let mut quantity = Decimal::ZERO;
        let mut paid = crate::units::Fixed6::ZERO;
        for item in items {
            quantity = checked_add_exact(quantity, Decimal::from_str_exact(&item.quantity).ok()?).ok()?;
            let money = Decimal::from_str_exact(&item.paid).ok().and_then(crate::units::Fixed6::from_decimal_exact)?;
            paid = paid.checked_add(money)?;
        }
        let figure = format!("stock/{name}");
        let to_reorder = items.iter().any(|item| item.reorder);
        let head = words(thing.named.title.as_str()).of(SheetName::new(SheetKind::Thing, name));
        table.row(vec![
            head.beside(if to_reorder { "to reorder" } else { "" }),
            SheetCell::quantity(quantity_text(quantity), thing.unit.as_str()).figure(figure.as_str()),
            SheetCell::new(Money, crate::reports::period::money_text(index.books.book, paid)).figure(figure),
        ]);
    }
    Some(table)
}

/// All batches, with what the derivation of each comes to, as on its own sheet.
fn batches(index: &SheetIndex<'_>, derived: &Derived<'_>) -> Option<SheetTable> {
    let (book, costed) = (index.books.book, index.books.costed);
    let columns = [("Batch", Words), ("Begun", Day), ("Done", Words), ("Laid out", Money), ("Full cost", Money)];
    let mut table = SheetTable::new("list", "All batches", &columns);
    table.note = "what went into each";
    let mut begun: Vec<_> = costed.batches.iter().filter(|one| one.state != BatchState::NotBegun).collect();
    begun.sort_by_key(|one| (one.started, one.batch));
    for one in begun {
        let sheet = index.batch_name(one.batch);
        let figure = format!("batch/{}", sheet.name);
        let told = report_why(derived, FigureName::Batch(BatchFigure { batch: one.batch, part: None }), HowDeep::Fold)?;
        let (paid, full) = sums_told(&[told], &figure)?;
        let mut made: Vec<&str> = Vec::new();
        for output in &one.outputs {
            let title = match output.what {
                Output::Thing(thing) => book.thing(thing).named.title.as_str(),
                Output::Tool(tool) => book.tool(tool).named.title.as_str(),
            };
            if !made.contains(&title) {
                made.push(title);
            }
        }
        let day = one.started.map(|day| day.to_string()).unwrap_or_default();
        let done = match (one.state, one.finished) {
            (BatchState::GivenUp, _) => "given up".to_owned(),
            (BatchState::Done, Some(day)) => day.to_string(),
            _ => "on the bench".to_owned(),
        };
        let cells = vec![
            words(book.batch(one.batch).name.as_str()).of(sheet).beside(made.join(", ")),
            SheetCell::new(Day, day.as_str()),
            words(done),
            SheetCell::new(Money, money_text(book, paid)).figure(figure.as_str()),
            SheetCell::new(Money, money_text(book, full)).figure(figure),
        ];
        table.row_on(day, cells);
    }
    Some(table)
}

fn trades(pays: &PaysReport, when: Option<&str>) -> SheetTable {
    let columns =
        [("Sales of", Words), ("Revenue", Money), ("Paid margin", Money), ("Full margin", Money), ("Earned per hour", Money)];
    let mut table = SheetTable::new("list", "All channels and product lines", &columns);
    for group in pays.groups.iter().filter(|group| group.by != "product") {
        let name = plain_name(&group.name);
        let kind = if group.by == "channel" { SheetKind::Channel } else { SheetKind::Line };
        let why = if group.sums.own_minutes.is_none() { HOURS } else { "no hours" };
        let figure = |text: Option<&String>, column: &str| {
            let cell = text.map_or_else(|| SheetCell::without(Money, why), |text| SheetCell::new(Money, text.as_str()));
            match when {
                Some(when) => cell.figure(format!("pays/{}{when}/{column}", pays_group(&group.name))),
                None => cell,
            }
        };
        table.row(vec![
            words(group.title.as_str()).of(SheetName::new(kind, name.as_str())).beside(if kind == SheetKind::Channel {
                "channel"
            } else {
                "product line"
            }),
            figure(Some(&group.sums.revenue), "revenue"),
            figure(Some(&group.sums.paid_margin), "paid-margin"),
            figure(Some(&group.sums.full_margin), "full-margin"),
            figure(group.earned_per_hour.as_ref(), "earned-per-hour"),
        ]);
    }
    table
}

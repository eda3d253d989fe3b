//! The sheet of a product or material: what it cost, where each lot came from, where it went, and what is left.

use rust_decimal::Decimal;

use super::plain_name;
use super::price_sheet::price_sheet_name;
use super::reports_by_name::ReportsByName;
use super::sales_index::SalesIndex;
use super::sheet::{CellKind, Sheet, SheetCell, SheetKind, SheetName, SheetTable};
use super::sheet_index::SheetIndex;
use super::thing_flows::{came, went};
use super::trade_sheet::margins_and_sales;
use crate::costing::Made;
use crate::names::{ThingId, ThingKind};
use crate::reports::period::{money_text, quantity_text, unit_cost_text};
use crate::reports::{PaysOf, ProductCost, StockItem};
use crate::units::part_of;

use CellKind::{Cost, Day, Minutes, Money, Quantity, Words};

/// Why a product has no list price.
pub(super) const NO_PRICE: &str = "no price set";
/// Why there is no time, or nothing for an hour.
pub(super) const HOURS: &str = "hours unknown";

/// Makes the sheet of a thing. `None` where a figure is too large to be carried.
#[must_use]
pub fn sheet_of_thing(
    index: &SheetIndex<'_>,
    sales: &SalesIndex<'_>,
    thing: ThingId,
    reports: &ReportsByName<'_>,
) -> Option<Sheet> {
    let named = &index.books.book.thing(thing).named;
    let word = match index.books.book.thing(thing).kind {
        ThingKind::Product => "product",
        ThingKind::Material => "material",
        ThingKind::Wear => "wear",
        ThingKind::Packing => "packing",
    };
    let name = index.names.thing(thing).to_owned();
    let figure = |part: &str| reports.when.map(|when| format!("cost/{name}{when}/{part}"));
    let mut tables = Vec::new();
    if let Some(product) = reports.cost(&named.name) {
        tables.push(cost_by_part(product, &figure));
        tables.push(batches(product));
        tables.push(uses(product, &figure));
        tables.push(steps(index, thing, product, &figure));
    }
    tables.push(terms(index, thing, reports));
    tables.push(on_hand(&name, reports.stock(&named.name)).without_repeating(3));
    tables.push(came(index, thing)?);
    let group = reports.group("product", &named.name);
    // The table of sales is of the site's time, where things went is of all times.
    let has_sales = group.is_some() && reports.when == Some("");
    tables.push(went(index, thing, has_sales)?.without_repeating(4));
    tables.push(used_in(reports, &named.name));
    tables.append(&mut margins_and_sales(index, sales, PaysOf::Product(thing), group, reports.when)?);
    tables.retain(|table| !table.rows.is_empty());
    let says = says(index, thing, &name, reports)?;
    Some(Sheet { name: index.thing_name(thing), word, title: named.title.clone(), says, tables, trace: None })
}

fn words(text: impl Into<String>) -> SheetCell {
    SheetCell::new(Words, text)
}

fn says(index: &SheetIndex<'_>, thing: ThingId, name: &str, reports: &ReportsByName<'_>) -> Option<Vec<SheetCell>> {
    let book = index.books.book;
    let mut says = Vec::new();
    let title = &book.thing(thing).named.title;
    if let Some((product, per_unit)) =
        reports.cost(&book.thing(thing).named.name).and_then(|one| Some((one, one.per_unit.as_ref()?)))
    {
        let part = |text: &str, part: &str| {
            let cell = SheetCell::new(Cost, text);
            match reports.when {
                Some(when) => cell.figure(format!("cost/{name}{when}/{part}")),
                None => cell,
            }
        };
        let one =
            if product.unit == "ea" { format!("One {title} costs ") } else { format!("One {} of {title} costs ", product.unit) };
        says.push(words(one));
        says.push(part(&per_unit.paid, "paid"));
        says.push(words(" to lay out and "));
        says.push(part(&per_unit.full, "full"));
        says.push(words(" with your own time and overhead"));
        says.push(words(match product.hours_unknown() {
            None => ". ".to_owned(),
            Some(some) => format!(", {some}. "),
        }));
    }
    let bought = last_bought(index, thing)?;
    let (units, paid) = index.on_hand(thing);
    let stock = format!("stock/{name}");
    let unit = book.thing(thing).unit.as_str();
    if units.is_zero() {
        says.push(words(if says.is_empty() { format!("No {title} is on hand.") } else { "None is on hand.".to_owned() }));
        says.extend(bought);
        return Some(says);
    }
    says.push(SheetCell::quantity(quantity_text(units), unit).figure(stock.as_str()));
    let here = if says.len() > 1 { " on hand, in which ".to_owned() } else { format!(" {title} on hand, in which ") };
    says.push(words(here));
    says.push(SheetCell::new(Money, money_text(book, paid)).figure(stock));
    says.push(words(" is laid out."));
    says.extend(bought);
    Some(says)
}

/// What one cost when it was last bought, freight and all; nothing where it never was. `None` where a figure is too large to be carried.
fn last_bought(index: &SheetIndex<'_>, thing: ThingId) -> Option<Vec<SheetCell>> {
    let Some(trace) = &index.books.costed.trace else { return Some(Vec::new()) };
    let lots = index.lots(thing).iter().rev().filter_map(|at| trace.lots.get(*at as usize));
    let bought = lots.filter(|lot| matches!(lot.made, Made::Bought { .. }) && !lot.quantity.is_zero());
    let Some(lot) = bought.max_by_key(|lot| (lot.origin.date, lot.origin.number)) else { return Some(Vec::new()) };
    let each = part_of(lot.cost.paid()?, Decimal::ONE, lot.quantity)?;
    let unit = match index.books.book.thing(thing).unit.as_str() {
        "ea" => "for one".to_owned(),
        unit => format!("a {unit}"),
    };
    let each = SheetCell::new(Cost, unit_cost_text(each)).figure(format!("lot/{}", index.names.lot(lot.origin.number)));
    Some(vec![
        words(format!(" It was last bought on {}, at ", lot.origin.date)),
        each,
        words(format!(" {unit}, freight and tax with it.")),
    ])
}

fn cost_by_part(product: &ProductCost, figure: &impl Fn(&str) -> Option<String>) -> SheetTable {
    let mut table = SheetTable::new("cost", "What one piece costs, part by part", &[("Part", Words), ("For one", Cost)]);
    let Some(per_unit) = &product.per_unit else { return table };
    let parts = [
        ("Materials", &per_unit.materials, "materials"),
        ("Blades, paper and other wear", &per_unit.wear, "wear"),
        ("Bought-in time", &per_unit.bought_in_time, "bought-in-time"),
        ("Royalty", &per_unit.royalty, "royalty"),
        ("Laid out", &per_unit.paid, "paid"),
        ("Own time", &per_unit.own_time, "own-time"),
        ("Overhead", &per_unit.overhead, "overhead"),
        ("Full cost", &per_unit.full, "full"),
    ];
    for (said, text, part) in parts {
        let cell = SheetCell::new(Cost, text.as_str());
        let cell = match figure(part) {
            Some(name) => cell.figure(name),
            None => cell,
        };
        if matches!(part, "paid" | "full") {
            table.sums.push(table.rows.len());
        }
        table.row(vec![words(said), cell]);
    }
    if let Some(minutes) = &product.minutes_per_unit {
        let cell = SheetCell::new(Minutes, minutes.as_str());
        table.row(vec![
            words("Your time"),
            match figure("minutes") {
                Some(name) => cell.figure(name),
                None => cell,
            },
        ]);
    }
    table
}

fn batches(product: &ProductCost) -> SheetTable {
    let columns = [
        ("Batch", Words),
        ("Done", Day),
        ("Made", Quantity),
        ("Lost", Quantity),
        ("Materials", Cost),
        ("Wear", Cost),
        ("Bought-in time", Cost),
        ("Royalty", Cost),
        ("Laid out", Cost),
        ("Own time", Cost),
        ("Overhead", Cost),
        ("Full cost", Cost),
        ("Your time", Minutes),
    ];
    let mut table = SheetTable::new("batches", "Batch by batch", &columns);
    table.note = "what one piece of each cost";
    for batch in &product.batches {
        let name = plain_name(&batch.name);
        let per_unit = &batch.per_unit;
        let costs = [
            (&per_unit.materials, "/materials"),
            (&per_unit.wear, "/wear"),
            (&per_unit.bought_in_time, "/bought-in-time"),
            (&per_unit.royalty, "/royalty"),
            (&per_unit.paid, ""),
            (&per_unit.own_time, "/own-time"),
            (&per_unit.overhead, "/overhead"),
            (&per_unit.full, ""),
        ];
        let minutes = batch.minutes_per_unit.as_ref();
        let minutes = minutes.map_or_else(|| SheetCell::without(Minutes, HOURS), |one| SheetCell::new(Minutes, one.as_str()));
        let figure = |part: &str| format!("batch/{name}{part}");
        let mut cells = vec![
            words(batch.name.as_str()).of(SheetName::new(SheetKind::Batch, name.as_str())),
            SheetCell::new(Day, batch.finished.as_str()),
            SheetCell::quantity(batch.made.as_str(), &product.unit).figure(figure("")),
            SheetCell::quantity(batch.lost.as_str(), &product.unit).figure(figure("")),
        ];
        cells.extend(costs.map(|(text, part)| SheetCell::new(Cost, text.as_str()).figure(figure(part))));
        cells.push(minutes.figure(figure("/minutes")));
        table.row_on(batch.finished.as_str(), cells);
    }
    table
}

/// Time at each step, for one piece.
fn steps(index: &SheetIndex<'_>, thing: ThingId, product: &ProductCost, figure: &impl Fn(&str) -> Option<String>) -> SheetTable {
    let book = index.books.book;
    let recipe = book.thing(thing).takes.on(index.books.costed.until.unwrap_or_default());
    let take = |title: &str| recipe.iter().find(|take| book.step(take.step).named.title == title);
    let columns = [("Step", Words), ("Yours", Minutes), ("Planned", Minutes), ("Bought in", Minutes)];
    let mut table = SheetTable::new("steps", "Time at each step, for one", &columns);
    for step in &product.steps {
        let minutes = |text: Option<&String>| {
            text.map_or_else(|| SheetCell::without(Minutes, "not planned"), |text| SheetCell::new(Minutes, text.as_str()))
        };
        let mut own = minutes(Some(&step.minutes_per_unit));
        let of_step = |whose: &str| figure(&format!("steps/{}/{whose}", plain_name(&step.name)));
        own.figure = of_step("minutes");
        let mut bought_in = minutes(Some(&step.bought_in_minutes_per_unit));
        bought_in.figure = of_step("bought-in-minutes");
        let planned = minutes(step.planned_minutes_per_unit.as_ref());
        let planned = planned.at(take(&step.title).and_then(|take| index.place(take.span)));
        table.row(vec![words(step.title.as_str()), own, planned, bought_in]);
    }
    table
}

/// What goes into one.
fn uses(product: &ProductCost, figure: &impl Fn(&str) -> Option<String>) -> SheetTable {
    let columns = [("Thing", Words), ("For one", Quantity), ("Laid out", Cost)];
    let mut table = SheetTable::new("uses", "What goes into one", &columns);
    for used in &product.uses {
        let mut quantity = SheetCell::quantity(used.quantity.as_str(), &used.unit);
        let mut cost = SheetCell::new(Cost, used.cost.as_str());
        (quantity.figure, cost.figure) = (figure("paid"), figure("paid"));
        let head = words(used.title.as_str()).of(SheetName::new(SheetKind::Thing, plain_name(&used.name)));
        table.row(vec![head, quantity, cost]);
    }
    table
}

/// What its definition says of its price and of when to reorder.
fn terms(index: &SheetIndex<'_>, thing: ThingId, reports: &ReportsByName<'_>) -> SheetTable {
    let mut table = SheetTable::new("terms", "As it is defined", &[("What", Words), ("Figure", Cost)]);
    let named = &index.books.book.thing(thing).named;
    let line = |word: &str| index.line_of_definition(named, word);
    if let Some(product) = reports.cost(&named.name) {
        let price = match &product.price {
            Some(price) => SheetCell::new(Cost, price.as_str()).at(line("price")),
            None => SheetCell::without(Cost, NO_PRICE),
        };
        table.row(vec![words("List price"), price]);
    }
    if reports.has_price_sheet(thing) {
        let head = words("What it must fetch, and what its price earns").of(price_sheet_name(index, thing));
        table.row(vec![head, SheetCell::without(Cost, "channel by channel")]);
    }
    let of_day = index.books.costed.until.and_then(|day| *index.books.book.thing(thing).pattern.on(day));
    if let Some(pattern) = of_day.map(|pattern| &index.books.book.pattern(pattern).named) {
        let head = words(format!("Pattern: {}", pattern.title)).of(SheetName::new(SheetKind::List, "patterns"));
        table.row(vec![head, SheetCell::without(Cost, "licences and royalties")]);
    }
    if let Some(item) = reports.stock(&named.name).iter().find_map(|item| item.reorder_at.as_ref().map(|at| (at, &item.unit))) {
        table.row(vec![words("To reorder at"), SheetCell::quantity(item.0.as_str(), item.1).at(line("reorder"))]);
    }
    table
}

fn on_hand(name: &str, items: &[&StockItem]) -> SheetTable {
    let columns = [("Place", Words), ("On hand", Quantity), ("Laid out", Money), ("Full cost", Money)];
    let mut table = SheetTable::new("stock", "On hand", &columns);
    for item in items {
        let figure = format!("stock/{name}");
        table.row(vec![
            words(item.place_title.as_str()).beside(if item.reorder { "to reorder" } else { "" }),
            SheetCell::quantity(item.quantity.as_str(), &item.unit).figure(figure.as_str()),
            SheetCell::new(Money, item.paid.as_str()).figure(figure.as_str()),
            SheetCell::new(Money, item.full.as_str()).figure(figure),
        ]);
    }
    table
}

fn used_in(reports: &ReportsByName<'_>, thing: &str) -> SheetTable {
    let columns = [("Product", Words), ("In one", Quantity), ("Laid out", Cost)];
    let mut table = SheetTable::new("used-in", "What it goes into", &columns);
    table.note = "for one piece, over the batches finished in this time";
    for (product, uses) in reports.used_in(thing) {
        let name = plain_name(&product.name);
        let figure = reports.when.map(|when| format!("cost/{name}{when}"));
        let mut quantity = SheetCell::quantity(uses.quantity.as_str(), &uses.unit);
        let mut cost = SheetCell::new(Cost, uses.cost.as_str());
        (quantity.figure, cost.figure) = (figure.clone(), figure);
        table.row(vec![words(product.title.as_str()).of(SheetName::new(SheetKind::Thing, name)), quantity, cost]);
    }
    table
}

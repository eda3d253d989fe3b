//! The sheet of a batch: what it collected, what it gave, its hours step by step, and how it did against its recipe.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::batch_goods::{went_in, where_now};
use super::column_cells;
use super::reports_by_name::ReportsByName;
use super::sheet::{CellKind, Sheet, SheetCell, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use crate::costing::{BatchAccount, BatchState, variances_of};
use crate::events::Output;
use crate::names::StepId;
use crate::reports::overhead_so_far::open_year;
use crate::reports::period::{minutes_text, money_text, quantity_text, unit_cost_text};
use crate::reports::{BatchRecord, DirectRecords, Variance, WhyReport};
use crate::units::{Fixed6, checked_add_exact, part_of};

use CellKind::{Cost, Day, Minutes, Money, Quantity, Words};

/// What is said beside overhead of a year that is not over.
const OVERHEAD_SO_FAR: &str = "overhead is what the year spent so far, over its hours so far: it changes until the year is over";

/// Makes the sheet of a batch; `told` are the derivations of its figures, whose sums it shows; the reports know its variances. `None` where a figure is too large to be carried.
#[must_use]
pub fn sheet_of_batch(
    index: &SheetIndex<'_>,
    at: usize,
    reports: &ReportsByName<'_>,
    records: Option<&DirectRecords<'_>>,
    told: &[WhyReport],
) -> Option<Sheet> {
    let account = index.books.costed.batches.get(at)?;
    let name = index.batch_name(account.batch);
    let figure = format!("batch/{}", name.name);
    let title = index.books.book.batch(account.batch).name.clone();
    let differences = differences(reports.variances(&title));
    let mut tables = vec![
        by_component(index, told, &figure)?,
        went_in(index, account, &figure)?,
        gave(index, account, &figure)?,
        where_now(index, account)?,
        hours(index, account, &figure)?,
        against_recipe(index, account, &figure, !differences.rows.is_empty())?,
        differences,
    ];
    let of_children = records.map(|records| records.of_batch(account)).unwrap_or_default();
    tables.push(records_table(&of_children));
    tables.retain(|table| !table.rows.is_empty());
    Some(Sheet {
        says: says(index, account, told, &title, &figure)?,
        name,
        word: "batch",
        title,
        tables,
        trace: Some(format!("batch/{}", index.books.book.batch(account.batch).name)),
    })
}

fn words(text: impl Into<String>) -> SheetCell {
    SheetCell::new(Words, text)
}

fn what_of(index: &SheetIndex<'_>, what: Output) -> SheetCell {
    match what {
        Output::Thing(thing) => words(index.books.book.thing(thing).named.title.as_str()).of(index.thing_name(thing)),
        Output::Tool(tool) => words(index.books.book.tool(tool).named.title.as_str()),
    }
}

fn says(index: &SheetIndex<'_>, account: &BatchAccount, told: &[WhyReport], title: &str, figure: &str) -> Option<Vec<SheetCell>> {
    let book = index.books.book;
    let money = |sum: Fixed6| SheetCell::new(Money, money_text(book, sum)).figure(figure);
    let (paid, full) = sums_told(told, figure)?;
    let mut says = vec![words(format!("Batch {title} "))];
    let mut made: BTreeMap<Output, Decimal> = BTreeMap::new();
    for output in &account.outputs {
        let sum = made.entry(output.what).or_default();
        *sum = checked_add_exact(*sum, output.quantity).ok()?;
    }
    for (at, (what, quantity)) in made.iter().enumerate() {
        says.push(words(if at == 0 { "made " } else { " and " }));
        says.push(SheetCell::quantity(quantity_text(*quantity), "ea").figure(figure));
        says.push(words(" × "));
        says.push(what_of(index, *what));
    }
    says.push(words(if made.is_empty() { "has taken " } else { " from " }));
    says.push(money(paid));
    says.push(words(" laid out, "));
    says.push(money(full));
    says.push(words(" with own time and overhead"));
    if account.outputs.iter().any(|output| output.vector.hours_unknown()) {
        says.push(words(", and more: of some of what went in no hours are known"));
    }
    says.push(words(match account.state {
        BatchState::OnTheBench => "; it is still on the bench.",
        BatchState::GivenUp => "; it was given up.",
        BatchState::Done | BatchState::NotBegun => ".",
    }));
    Some(says)
}

/// Paid and full cost of a figure as its derivation comes to them; of one part both are that part.
pub(super) fn sums_told(told: &[WhyReport], figure: &str) -> Option<(Fixed6, Fixed6)> {
    let derivation = told.iter().find(|one| one.figure == figure)?;
    let Some(top) = derivation.steps.first() else { return Some((Fixed6::ZERO, Fixed6::ZERO)) };
    let read = |text: &str| Decimal::from_str_exact(text).ok().and_then(Fixed6::from_decimal_exact);
    Some((read(&top.paid)?, read(&top.full)?))
}

/// What it collected, by part of the cost; the derivation has it entry by entry.
fn by_component(index: &SheetIndex<'_>, told: &[WhyReport], figure: &str) -> Option<SheetTable> {
    let book = index.books.book;
    let mut table = SheetTable::new("collected", "What went into it, part by part", &[("Part", Words), ("Amount", Money)]);
    let parts = [
        ("Materials", "materials"),
        ("Blades, paper and other wear", "wear"),
        ("Bought-in time", "bought-in-time"),
        ("Royalty", "royalty"),
        ("Own time", "own-time"),
        ("Overhead", "overhead"),
    ];
    let mut sums = Vec::with_capacity(parts.len());
    for (_, part) in parts {
        sums.push(sums_told(told, &format!("{figure}/{part}"))?.0);
    }
    let (shown, all) = column_cells(book, &sums)?;
    for (((said, part), sum), shown) in parts.into_iter().zip(&sums).zip(shown) {
        if !sum.is_zero() {
            table.row(vec![words(said), SheetCell::new(Money, shown).figure(format!("{figure}/{part}"))]);
        }
    }
    if table.rows.len() > 1 {
        let cells = vec![words("Together"), SheetCell::new(Money, all).figure(format!("{figure}/full"))];
        table.total = Some(SheetRow { day: String::new(), cells });
    }
    Some(table)
}

/// The pieces that left it.
fn gave(index: &SheetIndex<'_>, account: &BatchAccount, figure: &str) -> Option<SheetTable> {
    let book = index.books.book;
    let columns = [
        ("What", Words),
        ("Day", Day),
        ("How many", Quantity),
        ("Laid out", Money),
        ("Full cost", Money),
        ("Full, for one", Cost),
    ];
    let mut table = SheetTable::new("gave", "What it gave", &columns);
    let mut rows = Vec::new();
    for output in &account.outputs {
        rows.push((output.event, output.date, what_of(index, output.what), output.quantity, &output.vector));
    }
    for loss in &account.losses {
        let head = loss.what.map_or_else(|| words("all that was on the bench"), |what| what_of(index, what));
        let head = head.beside(if loss.charged_off { "lost, beyond the usual" } else { "lost; the good pieces bear it" });
        rows.push((loss.event, loss.date, head, loss.quantity, &loss.vector));
    }
    rows.sort_by_key(|row| row.0);
    let sums =
        |of: fn(&crate::costing::CostVector) -> Option<Fixed6>| rows.iter().map(|row| of(row.4)).collect::<Option<Vec<_>>>();
    let (paid, _) = column_cells(book, &sums(crate::costing::CostVector::paid)?)?;
    let full_sums = sums(crate::costing::CostVector::full)?;
    let (full, _) = column_cells(book, &full_sums)?;
    for (at, (_, date, head, quantity, _)) in rows.into_iter().enumerate() {
        let money = |of: &[String]| SheetCell::new(Money, of.get(at).cloned().unwrap_or_default()).figure(figure);
        let whole = full_sums.get(at).copied().unwrap_or_default();
        let each = match quantity.is_zero() {
            true => SheetCell::without(Cost, "no piece"),
            false => SheetCell::new(Cost, unit_cost_text(part_of(whole, Decimal::ONE, quantity)?)).figure(figure),
        };
        let day = date.to_string();
        let many = SheetCell::quantity(quantity_text(quantity), "ea").figure(figure);
        table.row_on(day.as_str(), vec![head, SheetCell::new(Day, day.as_str()), many, money(&paid), money(&full), each]);
    }
    Some(table)
}

fn hours(index: &SheetIndex<'_>, account: &BatchAccount, figure: &str) -> Option<SheetTable> {
    let columns = [("Step", Words), ("Yours", Minutes), ("Bought in", Minutes), ("Cost", Money), ("Overhead on it", Money)];
    let mut table = SheetTable::new("hours", "Hours by step", &columns);
    let worked_in = |year: i32| account.time.iter().any(|time| chrono::Datelike::year(&time.date) == year);
    if open_year(index.books.book, index.books.costed).is_some_and(worked_in) {
        table.note = OVERHEAD_SO_FAR;
    }
    let mut steps: BTreeMap<StepId, [Fixed6; 4]> = BTreeMap::new();
    for time in &account.time {
        let sums = steps.entry(time.step).or_default();
        let minutes = if time.own { &mut sums[0] } else { &mut sums[1] };
        *minutes = minutes.checked_add(time.minutes)?;
        sums[2] = sums[2].checked_add(time.cost)?;
        sums[3] = sums[3].checked_add(time.overhead)?;
    }
    let book = index.books.book;
    let (cost, _) = column_cells(book, &steps.values().map(|sums| sums[2]).collect::<Vec<_>>())?;
    let (overhead, _) = column_cells(book, &steps.values().map(|sums| sums[3]).collect::<Vec<_>>())?;
    for ((step, sums), (cost, overhead)) in steps.iter().zip(cost.into_iter().zip(overhead)) {
        let minutes = |sum: Fixed6| SheetCell::new(Minutes, minutes_text(sum)).figure(figure);
        let money = |text: String, part: &str| SheetCell::new(Money, text).figure(format!("{figure}/{part}"));
        let head = words(book.step(*step).named.title.as_str());
        table.row(vec![head, minutes(sums[0]), minutes(sums[1]), money(cost, "own-time"), money(overhead, "overhead")]);
    }
    Some(table)
}

/// What the good pieces cost, and what the recipe allows for them; nothing where there is none.
fn against_recipe(index: &SheetIndex<'_>, account: &BatchAccount, figure: &str, has_differences: bool) -> Option<SheetTable> {
    let book = index.books.book;
    let mut table = SheetTable::new("recipe", "Against the recipe", &[("What", Words), ("Amount", Money)]);
    table.note = "with own time and overhead";
    let Some(of_batch) = variances_of(book, account, &index.prices)? else { return Some(table) };
    let thing = account.outputs.iter().find_map(|output| match output.what {
        Output::Thing(thing) => Some(thing),
        Output::Tool(_) => None,
    });
    let recipe = thing.and_then(|thing| index.place(book.thing(thing).named.span));
    let (shown, more) = column_cells(book, &[of_batch.actual, of_batch.allowed.checked_neg()?])?;
    let [actual, allowed] = shown.as_slice() else { return Some(table) };
    table.row(vec![words("The good pieces cost"), SheetCell::new(Money, actual.as_str()).figure(figure)]);
    let allowed = SheetCell::new(Money, allowed.as_str()).at(recipe);
    table
        .row(vec![words("less what they were to cost by the recipe").beside("at the last prices paid before it began"), allowed]);
    let said = if more.starts_with('-') { "Less than planned" } else { "More than planned" };
    let more = SheetCell::new(Money, more);
    let more = if has_differences { more.by_table("variances") } else { more };
    table.total = Some(SheetRow { day: String::new(), cells: vec![words(said), more] });
    Some(table)
}

/// How the difference from the recipe came about.
fn differences(variances: &[&Variance]) -> SheetTable {
    let mut table = SheetTable::new("variances", "Why it cost more than planned, or less", &[("Why", Words), ("More", Money)]);
    table.note = "below zero: less; these add up to the difference from the recipe";
    let is_nothing = |text: &str| text.bytes().all(|byte| matches!(byte, b'0' | b'.' | b'-'));
    for one in variances.iter().filter(|one| !is_nothing(&one.amount)) {
        table.row(vec![words(one.says.as_str()), SheetCell::new(Money, one.amount.as_str()).by_table("recipe")]);
    }
    table
}

/// The records of goods for children: their labels, how long to keep them, and what is missing.
fn records_table(records: &[BatchRecord]) -> SheetTable {
    let mut table = SheetTable::new("record", "Record of goods for children", &[("What", Words), ("It says", Words)]);
    table.note = "it does not decide whether a product is safe or lawful; parts that were made here have records of their own";
    for record in records {
        table.row(vec![words(record.title.as_str()), words(format!("for children {}", record.age))]);
        table.row(vec![words("Its label"), words(record.label.join("; "))]);
        if let Some(day) = &record.keep_until {
            table.row(vec![words("Keep this until"), words(day.as_str())]);
        }
    }
    // What went in is the same of all that a batch makes.
    let Some(record) = records.first() else { return table };
    for one in &record.materials {
        if let Some(certificate) = &one.certificate {
            table.row(vec![words(format!("Certificate of {}", one.title)), words(format!("{certificate}, of lot {}", one.lot))]);
        }
    }
    for one in &record.papers {
        let said = one.file.as_ref().map(|file| ("File", file.clone()));
        let said = said.or_else(|| one.note.as_ref().map(|note| ("Note", format!("“{note}”"))));
        let Some((what, said)) = said else { continue };
        let date = one.date.as_ref().map_or_else(String::new, |date| format!(" of {date}"));
        table.row(vec![words(format!("{what}{date}, {}", one.of)), words(said)]);
    }
    // Of several lots that lack the same, the reason is said once.
    let mut lacks: Vec<(&str, Vec<&str>, &str)> = Vec::new();
    for one in &record.missing {
        let (what, lot, why) = match one.split_once(" `").and_then(|(what, rest)| Some((what, rest.split_once("`: ")?))) {
            Some((what, (lot, why))) => (what, Some(lot), why),
            None => (one.as_str(), None, ""),
        };
        match lacks.iter_mut().find(|(of, lots, reason)| lot.is_some() && !lots.is_empty() && (*of, *reason) == (what, why)) {
            Some((_, lots, _)) => lots.extend(lot),
            None => lacks.push((what, lot.into_iter().collect(), why)),
        }
    }
    for (what, lots, why) in lacks {
        let says = if lots.is_empty() { what.to_owned() } else { format!("{what} {}: {why}", lots.join(", ")) };
        table.row(vec![words("Missing"), words(says)]);
    }
    table
}

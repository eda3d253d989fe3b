//! The sheet of hours: at which step they were worked, and for what. What the table of hours of the report of what pays is made of.

use std::collections::BTreeMap;

use super::sheet::{CellKind, Sheet, SheetCell, SheetKind, SheetName, SheetTable};
use super::sheet_index::SheetIndex;
use super::{plain_name, sheet_of_channel_name};
use crate::costing::Flow;
use crate::events::Output;
use crate::names::{BatchId, StepId, Target, ThingId};
use crate::reports::Period;
use crate::reports::period::minutes_text;
use crate::units::Fixed6;

use CellKind::{Minutes, Words};

/// For what hours were worked; the order is that of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum For {
    /// Batches of one product.
    Product(ThingId),
    /// A batch of several, or of a tool.
    Batch(BatchId),
    /// A line, channel or product outside a batch.
    On(Target),
    /// The shop at large.
    Shop,
}

/// Own minutes and bought in.
type Worked = [Fixed6; 2];

/// Makes the sheet of the hours of a time; `when` is the end of the names of its figures. `None` where a sum is too large to be carried, and inside
/// where nobody worked.
#[must_use]
pub fn sheet_of_hours(index: &SheetIndex<'_>, days: Period, when: Option<&str>) -> Option<Option<Sheet>> {
    let book = index.books.book;
    let columns = [("Step", Words), ("For", Words), ("Yours", Minutes), ("Bought in", Minutes)];
    let mut table = SheetTable::new("hours", "Hours at each step, by what they were worked for", &columns);
    for (step, by_what) in worked(index, days)? {
        let title = step.map_or("No step named", |step| book.step(step).named.title.as_str());
        let mut sum = Worked::default();
        for (what, minutes) in &by_what {
            add(&mut sum, *minutes)?;
            let (said, lead) = leads_to(index, what, when);
            let cells = minutes.map(|minutes| SheetCell { text: Some(minutes_text(minutes)), ..lead.clone() });
            let [own, bought_in] = cells;
            table.row(vec![SheetCell::new(Words, title), said, own, bought_in]);
        }
        table.sums.push(table.rows.len());
        let cells = sum.map(|minutes| SheetCell::new(Minutes, minutes_text(minutes)).by_table("hours"));
        let [own, bought_in] = cells;
        table.row(vec![SheetCell::new(Words, title).beside("together"), SheetCell::new(Words, ""), own, bought_in]);
    }
    if table.rows.is_empty() {
        return Some(None);
    }
    let says = vec![SheetCell::new(Words, "At which step hours were worked, and for what.")];
    let name = SheetName::new(SheetKind::List, "pays-hours");
    Some(Some(Sheet { name, word: "list", title: "Where the hours went".to_owned(), says, tables: vec![table], trace: None }))
}

fn add(sum: &mut Worked, minutes: Worked) -> Option<()> {
    for (sum, minutes) in sum.iter_mut().zip(minutes) {
        *sum = sum.checked_add(minutes)?;
    }
    Some(())
}

/// Minutes by step and by what they were worked for, in one way through the book.
fn worked(index: &SheetIndex<'_>, days: Period) -> Option<BTreeMap<Option<StepId>, BTreeMap<For, Worked>>> {
    let costed = index.books.costed;
    let mut found: BTreeMap<Option<StepId>, BTreeMap<For, Worked>> = BTreeMap::new();
    let mut put = |step: Option<StepId>, what: For, minutes: Worked| {
        if minutes.iter().all(|minutes| minutes.is_zero()) {
            return Some(());
        }
        add(found.entry(step).or_default().entry(what).or_default(), minutes)
    };
    for hour in costed.hours.iter().filter(|hour| days.covers(hour.date)) {
        let minutes = if hour.own { [hour.minutes, Fixed6::ZERO] } else { [Fixed6::ZERO, hour.minutes] };
        let what = match hour.on {
            Some(Target::Batch(batch)) => For::Batch(batch),
            Some(on) => For::On(on),
            None => For::Shop,
        };
        put(Some(hour.step), what, minutes)?;
    }
    for movement in costed.movements.iter().filter(|one| one.flow == Flow::Time && days.covers(one.date)) {
        let what = movement.batch.map_or(For::Shop, |batch| of_batch(index, batch));
        for one in movement.vector.minutes() {
            put(one.step, what, [one.own, one.bought_in])?;
        }
    }
    Some(found)
}

/// What a batch made: one product, or more than that.
fn of_batch(index: &SheetIndex<'_>, batch: BatchId) -> For {
    let account = index.books.costed.batches.get(batch.index());
    let mut made = account.into_iter().flat_map(|account| &account.outputs).map(|output| output.what);
    match made.next() {
        Some(Output::Thing(thing)) if made.all(|what| what == Output::Thing(thing)) => For::Product(thing),
        _ => For::Batch(batch),
    }
}

/// What it says, and a cell that leads where its minutes are told.
fn leads_to(index: &SheetIndex<'_>, what: &For, when: Option<&str>) -> (SheetCell, SheetCell) {
    let book = index.books.book;
    let minutes = SheetCell::new(Minutes, "");
    match what {
        For::Product(thing) => {
            let sheet = index.thing_name(*thing);
            let said = SheetCell::new(Words, book.thing(*thing).named.title.as_str()).of(sheet.clone());
            (said, minutes.of(sheet))
        }
        For::Batch(batch) => {
            let sheet = index.batch_name(*batch);
            let said = SheetCell::new(Words, format!("batch {}", book.batch(*batch).name)).of(sheet.clone());
            (said, minutes.of(sheet).by_table("hours"))
        }
        For::On(target) => {
            let (title, sheet) = match *target {
                Target::Line(line) => {
                    (&book.line(line).title, SheetName::new(SheetKind::Line, plain_name(&book.line(line).name)))
                }
                Target::Channel(channel) => (&book.channel(channel).named.title, sheet_of_channel_name(book, channel)),
                Target::Product(thing) => (&book.thing(thing).named.title, index.thing_name(thing)),
                Target::Batch(batch) => (&book.batch(batch).name, index.batch_name(batch)),
            };
            (SheetCell::new(Words, title.as_str()).of(sheet.clone()), minutes.of(sheet))
        }
        For::Shop => {
            let said = SheetCell::new(Words, "the shop at large");
            match when {
                Some(when) => (said, minutes.figure(format!("pays/all{when}/indirect-minutes"))),
                None => (said, minutes.by_table("hours")),
            }
        }
    }
}

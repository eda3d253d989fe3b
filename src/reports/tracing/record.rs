//! The batch records of goods for children: what went into them, what their label says, and what is missing.
//!
//! A record is no proof that a toy complies; the report says so beside it.

use std::collections::BTreeSet;

use chrono::Months;
use rust_decimal::Decimal;

use super::Traced;
use super::asked::Asked;
use super::reach::Reach;
use super::record_papers::BatchEntries;
use super::record_rules::{Asks, RecordRules, record_rules};
use crate::costing::{BatchAccount, Came, Flow, LinkedLot};
use crate::events::Output;
use crate::names::{BatchId, ThingId, ThingKind};
use crate::reports::period::quantity_text;
use crate::reports::{BatchRecord, BatchRecords, RecordMaterial, RecordPaper};
use crate::units::{Dimension, Unit};

/// The records of the batches that are asked about or from which it came, of products for children; nothing where there is none.
pub(super) fn records_of(of: &Traced<'_>, asked: &Asked, reach: &Reach) -> Option<BatchRecords> {
    let rules = record_rules()?;
    let entries = BatchEntries::of(of.books);
    let batches: Vec<BatchId> = match asked {
        Asked::Batch(batch) => vec![*batch],
        Asked::Lots(_) | Asked::Orders(_) => reach.batches_before.iter().copied().collect(),
    };
    let mut records = Vec::new();
    for batch in batches {
        let Some(account) = of.books.costed.batches.get(batch.index()) else { continue };
        let mut products: Vec<ThingId> = of.index.outputs(batch).filter_map(|one| product_of(one.what)).collect();
        products.extend(account.aims.iter().filter_map(|(what, _)| product_of(*what)));
        products.sort_unstable();
        products.dedup();
        for product in products {
            let reach = Reach::before(of, batch);
            let papers = entries.papers(product, batch, &reach.batches_before);
            records.extend(record(of, &rules, account, (product, papers), &mut reach.before.iter().copied()));
        }
    }
    if records.is_empty() {
        return None;
    }
    Some(BatchRecords {
        caution: rules.caution.text,
        label_asks: format!("a tracking label says {} ({})", rules.label.asks, rules.label.source),
        keep_source: rules.keep.source,
        records,
    })
}

fn product_of(what: Output) -> Option<ThingId> {
    if let Output::Thing(thing) = what { Some(thing) } else { None }
}

/// The records of one batch, with what went into it itself: a part that was made has the record of its own batch.
pub(super) fn direct_records(
    of: &Traced<'_>,
    (rules, entries): (&RecordRules, &BatchEntries<'_>),
    account: &BatchAccount,
) -> Vec<BatchRecord> {
    let mut products: Vec<ThingId> = of.index.outputs(account.batch).filter_map(|one| product_of(one.what)).collect();
    products.sort_unstable();
    products.dedup();
    let mut lots: Vec<u32> = of.index.used_by(account.batch).map(|(lot, _)| lot).collect();
    lots.sort_unstable();
    lots.dedup();
    let papers = |product| entries.papers(product, account.batch, &BTreeSet::new());
    products
        .into_iter()
        .filter_map(|product| record(of, rules, account, (product, papers(product)), &mut lots.iter().copied()))
        .collect()
}

/// `lots` are those that are in it.
fn record(
    of: &Traced<'_>,
    rules: &RecordRules,
    account: &BatchAccount,
    (product, papers): (ThingId, Vec<RecordPaper>),
    lots: &mut dyn Iterator<Item = u32>,
) -> Option<BatchRecord> {
    let book = of.books.book;
    let thing = book.thing(product);
    let outputs: Vec<_> = of.index.outputs(account.batch).filter(|one| one.what == Output::Thing(product)).collect();
    let last = outputs.iter().map(|one| one.date).max().or(account.started)?;
    let first = account.started.unwrap_or(last);
    let months = (*thing.for_children_from_months.on(last))?;
    let mut pieces = Decimal::ZERO;
    for one in &outputs {
        pieces = pieces.saturating_add(one.quantity);
    }
    let name = &book.batch(account.batch).name;
    let made = of.index.lots_of_batch(account.batch).filter_map(|lot| of.links.lot(lot));
    let place = made.filter(|lot| lot.thing == product).map(|lot| book.place(lot.place).named.title.clone()).next();
    let mut missing = Vec::new();
    if outputs.is_empty() {
        missing.push("it is not finished yet".to_owned());
    }
    if of.index.straight_to(account.batch).any(|cost| cost.flow == Flow::Opened) {
        missing.push(format!(
            "the book does not say what lay in it when the book began: {} ({})",
            rules.part.asks, rules.part.source
        ));
    }
    let materials = materials(of, rules, lots, &mut missing);
    let pattern = (*thing.pattern.on(last)).map(|pattern| book.pattern(pattern).named.title.clone());
    let whole_product = match papers.iter().any(|paper| paper.file.is_some()) {
        true => {
            "whether the files of this record are the tests, checks and certificates of the whole product, the book does not know: look at them, and keep them \
             with it"
        }
        false => {
            "tests, checks and certificates of the whole product are not in the book: keep them with this record; `file \"…\"` in an entry of the batch or in the \
             product's definition names their papers, and the book looks whether they are there"
        }
    };
    missing.push(whole_product.to_owned());
    let mut label =
        vec![book.shop.title.clone(), format!("{}, made {}{}", thing.named.title, first.format("%Y-%m"), until(first, last))];
    let home = book.shop.home.map(|home| book.place(home).named.title.clone());
    match place.clone().or(home).filter(|title| names_a_town(title)) {
        Some(town) => label.push(town),
        None => missing.push(
            "town and country of making are not in the book: add them to the label, or give them in the title of the place where it is made, as in \
             `place bench \"Workshop, Troy, New York, USA\"`, and the label has them"
                .to_owned(),
        ),
    }
    label.push(format!("batch {name}"));
    Some(BatchRecord {
        batch: name.clone(),
        product: thing.named.name.clone(),
        title: thing.named.title.clone(),
        age: age(months),
        first: first.to_string(),
        last: last.to_string(),
        place,
        pieces: quantity_text(pieces),
        pattern,
        materials,
        papers,
        label,
        keep_until: last.checked_add_months(Months::new(rules.keep.years.saturating_mul(12))).map(|day| day.to_string()),
        missing,
    })
}

/// Whether a place's title says in which town it is: after a comma, as addresses do.
fn names_a_town(title: &str) -> bool {
    title.split_once(',').is_some_and(|(_, town)| town.contains(char::is_alphabetic))
}

fn until(first: chrono::NaiveDate, last: chrono::NaiveDate) -> String {
    let (from, to) = (first.format("%Y-%m").to_string(), last.format("%Y-%m").to_string());
    if from == to { String::new() } else { format!(" to {to}") }
}

/// `from 18 months`, `from 3 years`.
fn age(months: u32) -> String {
    match (months / 12, months % 12) {
        (0, 1) => "from 1 month".to_owned(),
        (1, 0) => "from 1 year".to_owned(),
        (years, 0) if years > 0 => format!("from {years} years"),
        _ => format!("from {months} months"),
    }
}

/// The lots from outside among some, with what the record lacks of them.
fn materials(
    of: &Traced<'_>,
    rules: &RecordRules,
    lots: &mut dyn Iterator<Item = u32>,
    missing: &mut Vec<String>,
) -> Vec<RecordMaterial> {
    let lots = lots.filter_map(|number| of.links.lot(number));
    let from_outside = lots.filter(|lot| lot.of_batch().is_none());
    let (mut list, mut lacks_papers) = (Vec::new(), false);
    for lot in from_outside.filter(|lot| is_in_the_piece(of.books.book.thing(lot.thing).kind)) {
        let purchase @ (supplier, receipt, certificate) = of.purchase(lot);
        let name = of.names.lot(lot.origin.number);
        if certificate.is_none()
            && let Some(told) = lacks(of, rules, lot, name)
        {
            missing.push(told);
            lacks_papers = true;
        }
        list.push(RecordMaterial {
            thing: of.thing(lot.thing).to_owned(),
            title: of.books.book.thing(lot.thing).named.title.clone(),
            lot: name.to_owned(),
            came: of.came(lot, purchase),
            supplier: supplier.map(str::to_owned),
            receipt: receipt.map(str::to_owned),
            certificate: certificate.map(str::to_owned),
        });
    }
    if lacks_papers {
        missing.push(
            "the certificate of a lot, or the label facts of a panel, stand in the book by `certificate \"papers/oil.pdf\"` on its line in `bought` or `opened`"
                .to_owned(),
        );
    }
    list
}

/// What a lot without a certificate lacks, and why that is asked. Liquids are coatings, oils and glues, unless they are wood by its volume; what is
/// weighed or measured by its area may be one, or a panel, and is known to be where its name or title says so. Else it is asked as a question.
/// A part that no batch of the book made and nobody sold may be anything.
fn lacks(of: &Traced<'_>, rules: &RecordRules, lot: &LinkedLot, name: &str) -> Option<String> {
    let thing = of.books.book.thing(lot.thing);
    let told = |asks: &Asks, what: &str| Some(format!("{what} `{name}`: {} ({})", asks.asks, asks.source));
    let asked = |asks: &Asks, what: &str| {
        Some(format!("if lot `{name}` is {what}, its certificate or label is missing: {} ({})", asks.asks, asks.source))
    };
    let says = |words: &[String]| is_called(&thing.named.title, words) || is_called(&thing.named.name, words);
    let unknown_source = match lot.came {
        Came::Found | Came::CountedMore | Came::Unrecorded => true,
        Came::Opened | Came::Contributed => thing.from.is_some(),
        Came::Bought | Came::Finished(_) | Came::Kept(_) => false,
    };
    let is_of_the_book = matches!(lot.came, Came::Bought | Came::Finished(_) | Came::Kept(_));
    if thing.kind == ThingKind::Product && !is_of_the_book {
        return told(&rules.part, "no batch of the book made lot");
    }
    if unknown_source {
        return told(&rules.wood, "the source is unknown of lot");
    }
    match thing.unit.dimension() {
        Dimension::Volume if is_wood_by_volume(thing.unit) => None,
        Dimension::Volume => told(&rules.finish, "no certificate stands with lot"),
        Dimension::Mass if says(&rules.called.finish) => told(&rules.finish, "no certificate stands with lot"),
        Dimension::Mass => asked(&rules.finish, "a coating, oil, paint or glue"),
        Dimension::Area if says(&rules.called.panel) => told(&rules.panel, "no label facts stand with panel"),
        Dimension::Area => asked(&rules.panel, "a panel"),
        _ => None,
    }
}

/// Wood is measured so, liquids are not.
const fn is_wood_by_volume(unit: Unit) -> bool {
    matches!(unit, Unit::BoardFoot | Unit::CubicInch | Unit::CubicFoot)
}

/// Whether one of the words of a name or title is one of those, in small letters.
fn is_called(text: &str, words: &[String]) -> bool {
    let text = text.to_lowercase();
    text.split(|letter: char| !letter.is_alphanumeric()).any(|word| words.iter().any(|one| one == word))
}

/// Whether things of a kind go into the piece itself, unlike blades and cartons.
fn is_in_the_piece(kind: ThingKind) -> bool {
    matches!(kind, ThingKind::Material | ThingKind::Product)
}

//! The page of patterns: what was made by each, what its licences still permit, and what royalties are due.

use rust_decimal::Decimal;

use super::plain_name;
use super::sheet::{CellKind, Sheet, SheetCell, SheetKind, SheetName, SheetTable};
use super::sheet_index::SheetIndex;
use crate::reports::PatternUse;
use crate::reports::period::money_text;
use crate::units::Fixed6;

use CellKind::{Money, Quantity, Words};

/// The table of royalties.
const ROYALTIES: &str = "royalties";

fn words(text: impl Into<String>) -> SheetCell {
    SheetCell::new(Words, text)
}

/// Makes the page; nothing where the book has no pattern. The outer `None` is a figure too large to be carried.
pub(super) fn sheet_of_patterns(index: &SheetIndex<'_>, patterns: &[PatternUse]) -> Option<Option<Sheet>> {
    if patterns.is_empty() {
        return Some(None);
    }
    let mut due = Fixed6::ZERO;
    for one in patterns {
        let of = Decimal::from_str_exact(&one.due).ok().and_then(Fixed6::from_decimal_exact)?;
        due = due.checked_add(of)?;
    }
    let mut says = Vec::new();
    let near: Vec<&str> = patterns.iter().filter(|one| one.near).map(|one| one.title.as_str()).collect();
    says.push(words(match near.as_slice() {
        [] => "No licence runs short: another batch of the usual size is permitted of each pattern. ".to_owned(),
        several => format!(
            "Buy a licence before the next batch, of {}: another batch of the usual size would go over. ",
            several.join("; of ")
        ),
    }));
    if due.is_zero() {
        says.push(words("No royalty is due."));
    } else {
        says.push(SheetCell::new(Money, money_text(index.books.book, due)).by_table(ROYALTIES));
        says.push(words(" of royalties is due."));
    }
    let mut tables = vec![list_of_patterns(index, patterns), royalties(patterns)];
    tables.retain(|table| !table.rows.is_empty());
    let name = SheetName::new(SheetKind::List, "patterns");
    Some(Some(Sheet { name, word: "list", title: "Patterns and licences".to_owned(), says, tables, trace: None }))
}

/// The product that is made by a pattern, where its batches stand.
fn made_by(one: &PatternUse, cell: SheetCell) -> SheetCell {
    match one.products.first() {
        Some(product) => cell.of(SheetName::new(SheetKind::Thing, plain_name(product))),
        None => cell.by_table("list"),
    }
}

fn list_of_patterns(index: &SheetIndex<'_>, patterns: &[PatternUse]) -> SheetTable {
    let columns = [
        ("Pattern", Words),
        ("Made", Quantity),
        ("Permitted", Quantity),
        ("Left", Quantity),
        ("A usual batch", Quantity),
        ("Royalty due", Money),
        ("What that means", Words),
    ];
    let mut table = SheetTable::new("list", "Pieces made, and still permitted", &columns);
    for one in patterns {
        let many = |text: Option<&String>, why: &str| match text {
            Some(text) => made_by(one, SheetCell::quantity(text.as_str(), "ea")),
            None => SheetCell::without(Quantity, why),
        };
        let due = SheetCell::new(Money, one.due.as_str());
        let things = &index.books.book.things;
        let titles: Vec<&str> = one
            .products
            .iter()
            .filter_map(|name| things.iter().find(|thing| thing.named.name == *name))
            .map(|thing| thing.named.title.as_str())
            .collect();
        let head = words(one.title.as_str()).beside(titles.join(", "));
        table.row(vec![
            made_by(one, head),
            many(Some(&one.made), ""),
            many(one.permitted.as_ref(), "no limit"),
            many(one.left.as_ref(), "no limit"),
            many(one.usual_batch.as_ref(), "–"),
            if one.royalties.is_empty() { due.by_table("list") } else { due.by_table(ROYALTIES) },
            words(one.says.as_str()),
        ]);
    }
    table
}

fn royalties(patterns: &[PatternUse]) -> SheetTable {
    let columns = [("Pattern", Words), ("Quarter", Words), ("Pieces", Quantity), ("Royalty", Money), ("Not paid", Money)];
    let mut table = SheetTable::new(ROYALTIES, "Royalties, quarter by quarter", &columns);
    for one in patterns {
        for row in &one.royalties {
            let head =
                words(one.title.as_str()).beside(one.payee.as_ref().map_or_else(String::new, |payee| format!("to {payee}")));
            let money = |text: &str| made_by(one, SheetCell::new(Money, text));
            let pieces = made_by(one, SheetCell::quantity(row.pieces.as_str(), "ea"));
            table.row(vec![head, words(row.quarter.as_str()), pieces, money(&row.royalty), money(&row.due)]);
        }
    }
    table
}

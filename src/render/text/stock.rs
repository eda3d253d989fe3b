//! *What have I?* as text.

use super::bar::Bars;
use super::sheet::{Look, Sheet};
use super::table::{Stand, Table};
use super::{number, time};
use crate::render::answer::answer_stock;
use crate::render::html::Question;
use crate::render::number_format::Shown;
use crate::render::spoken::kind_heading;
use crate::reports::StockReport;

/// Renders the stock report.
#[must_use]
pub fn text_stock(report: &StockReport, look: Look) -> String {
    let answer = answer_stock(report, Shown::Terminal);
    let mut sheet = Sheet::open(look, Question::Stock.asked(), &report.head, &answer);
    sheet.table("On hand", on_hand(report));
    sheet.table("On the bench", bench(report));
    sheet.table("Laid out in goods", totals(report));
    patterns(&mut sheet, report);
    sheet.table("Lots", lots(report));
    sheet.table("Month by month", months(report));
    sheet.notes(&report.notes);
    sheet.close()
}

/// Patterns with what their licences still permit, and their royalties.
fn patterns(sheet: &mut Sheet, report: &StockReport) {
    let mut table = Table::new([
        ("Pattern", Stand::Left),
        ("Made", Stand::Point),
        ("Permitted", Stand::Point),
        ("Left", Stand::Point),
        ("Royalty due", Stand::Point),
        ("To", Stand::Left),
        ("", Stand::Left),
    ]);
    for one in &report.patterns {
        let or_dash = |figure: &Option<String>| figure.as_deref().map_or_else(|| "-".to_owned(), number);
        table.row(vec![
            one.title.clone(),
            number(&one.made),
            or_dash(&one.permitted),
            or_dash(&one.left),
            number(&one.due),
            one.payee.clone().unwrap_or_default(),
            if one.near { "near its limit" } else { "" }.to_owned(),
        ]);
    }
    sheet.table("Patterns and their licences", table);
    let mut table = Table::new([
        ("Royalties of", Stand::Left),
        ("Quarter", Stand::Left),
        ("Pieces", Stand::Point),
        ("Royalty", Stand::Point),
        ("Not paid", Stand::Point),
    ]);
    for one in &report.patterns {
        for (at, row) in one.royalties.iter().enumerate() {
            let title = if at == 0 { one.title.clone() } else { String::new() };
            table.row(vec![title, row.quarter.clone(), number(&row.pieces), number(&row.royalty), number(&row.due)]);
        }
    }
    sheet.table("Royalties by quarter", table);
}

fn on_hand(report: &StockReport) -> Table {
    let mut table = Table::new([
        ("Thing", Stand::Left),
        ("Place", Stand::Left),
        ("On hand", Stand::Point),
        ("", Stand::Left),
        ("Laid out", Stand::Point),
        ("Full cost", Stand::Point),
        ("", Stand::Left),
    ]);
    for kind in ["material", "wear", "packing", "product"] {
        let mut list = report.items.iter().filter(|item| item.kind == kind).peekable();
        if list.peek().is_some() {
            table.heading(kind_heading(kind));
        }
        for item in list {
            let reorder = match (item.reorder, &item.reorder_at) {
                (true, Some(at)) => format!("reorder, at {} {} or less", number(at), item.unit),
                (true, None) => "reorder".to_owned(),
                (false, _) => String::new(),
            };
            table.row(vec![
                item.title.clone(),
                item.place_title.clone(),
                number(&item.quantity),
                item.unit.clone(),
                number(&item.paid),
                number(&item.full),
                reorder,
            ]);
        }
    }
    table
}

fn bench(report: &StockReport) -> Table {
    let mut table = Table::new([
        ("Batch", Stand::Left),
        ("Begun", Stand::Left),
        ("Aims at", Stand::Left),
        ("Time so far", Stand::Right),
        ("Laid out", Stand::Point),
        ("Full cost", Stand::Point),
    ]);
    for batch in &report.on_the_bench {
        let aims = if batch.aims.is_empty() { "not said".to_owned() } else { batch.aims.clone() };
        table.row(vec![
            batch.batch.clone(),
            batch.started.clone(),
            aims,
            time(Some(&batch.minutes), "unknown"),
            number(&batch.paid),
            number(&batch.full),
        ]);
    }
    table
}

fn totals(report: &StockReport) -> Table {
    let mut table = Table::new([("", Stand::Left), ("Laid out", Stand::Point), ("", Stand::Bar)]);
    let totals = &report.totals;
    let parts = [
        ("Materials", &totals.materials),
        ("Blades, paper and other wear", &totals.wear),
        ("Packing", &totals.packing),
        ("Products", &totals.products),
        ("On the bench", &totals.on_the_bench),
    ];
    let bars = Bars::over(parts.iter().map(|(_, sum)| vec![sum.as_str()]));
    for (name, sum) in parts {
        table.row(vec![name.to_owned(), number(sum), bars.draw(&[sum])]);
    }
    table.total(vec!["Together".to_owned(), number(&totals.paid)]);
    table.row(vec!["Full cost of the same goods".to_owned(), number(&totals.full)]);
    table
}

fn lots(report: &StockReport) -> Table {
    let mut table = Table::new([
        ("Origin", Stand::Left),
        ("Day", Stand::Left),
        ("Left", Stand::Point),
        ("", Stand::Left),
        ("Laid out", Stand::Point),
    ]);
    for item in report.items.iter().filter(|item| !item.lots.is_empty()) {
        table.heading(&format!("{}, {}", item.title, item.place_title));
        for lot in &item.lots {
            table.row(vec![lot.origin.clone(), lot.date.clone(), number(&lot.quantity), item.unit.clone(), number(&lot.paid)]);
        }
    }
    table
}

fn months(report: &StockReport) -> Table {
    let mut table = Table::new([("Month", Stand::Left), ("Laid out", Stand::Point), ("", Stand::Bar)]);
    let bars = Bars::over(report.over_time.iter().map(|(_, paid)| vec![paid.as_str()]));
    for (month, paid) in &report.over_time {
        table.row(vec![month.clone(), number(paid), bars.draw(&[paid])]);
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    #[test]
    fn things_stand_under_their_kind_and_say_when_to_reorder() {
        let text = text_stock(&made_up::stock(), Look::default());
        let line = text.lines().find(|line| line.contains("Red oak, kiln dried  bench")).expect("a row");
        assert!(line.ends_with("reorder, at 20 bf or less"), "{line}");
        assert!(text.find("  Materials\n") < text.find("  Products\n"), "{text}");
    }

    #[test]
    fn an_empty_book_has_no_table_of_things() {
        let mut report = made_up::stock();
        (report.on, report.items, report.on_the_bench, report.over_time) = (None, Vec::new(), Vec::new(), Vec::new());
        let text = text_stock(&report, Look::default());
        assert!(!text.contains("On hand"), "{text}");
        assert!(text.contains("The book is empty"), "{text}");
    }
}

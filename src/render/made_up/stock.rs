//! A made-up report of what there is: plausible, but of no book.

use super::head;
use super::verdicts_of_pays;
use crate::reports::{BenchItem, StockItem, StockLotLine, StockReport, StockTotals};

fn item(kind: &str, name: &str, title: &str, place: &str, quantity: (&str, &str), paid: &str, reorder: bool) -> StockItem {
    StockItem {
        name: name.to_owned(),
        title: title.to_owned(),
        kind: kind.to_owned(),
        place: place.to_owned(),
        place_title: place.to_owned(),
        quantity: quantity.0.to_owned(),
        unit: quantity.1.to_owned(),
        paid: paid.to_owned(),
        full: paid.to_owned(),
        lots: vec![
            StockLotLine {
                origin: "RO-1".to_owned(),
                date: "2026-03-02".to_owned(),
                quantity: quantity.0.to_owned(),
                paid: paid.to_owned(),
            },
            StockLotLine {
                origin: "receipt A-1182 <b>".to_owned(),
                date: "2026-05-02".to_owned(),
                quantity: "0".to_owned(),
                paid: "0.00".to_owned(),
            },
        ],
        reorder,
        reorder_at: reorder.then(|| "20".to_owned()),
    }
}

/// A stock report with every kind of thing, two places, and a batch on the bench.
pub(crate) fn stock() -> StockReport {
    StockReport {
        head: head("stock"),
        on: Some("2026-12-31".to_owned()),
        items: vec![
            item("material", "red-oak", "Red oak, kiln dried", "bench", ("14.25", "bf"), "84.07", true),
            item("material", "clear-oil", "Clear oil", "bench", ("310", "ml"), "12.78", false),
            item("wear", "blade-no7", "Blade no. 7", "bench", ("4.222222222", "ea"), "6.32", true),
            item("packing", "box-small", "Small carton", "bench", ("38", "ea"), "21.66", false),
            item("product", "pull-cart", "Pull-along cart", "bench", ("11", "ea"), "1151.90", false),
            item("product", "pull-cart", "Pull-along cart", "gift-shop", ("7", "ea"), "87.35", false),
        ],
        on_the_bench: vec![BenchItem {
            batch: "VS-020".to_owned(),
            started: "2026-12-18".to_owned(),
            paid: "479.12".to_owned(),
            full: "602.40".to_owned(),
            minutes: "105".to_owned(),
            aims: "20 × Village, twelve blocks in a bag".to_owned(),
        }],
        totals: StockTotals {
            materials: "96.85".to_owned(),
            wear: "6.32".to_owned(),
            packing: "21.66".to_owned(),
            products: "1239.25".to_owned(),
            on_the_bench: "479.12".to_owned(),
            paid: "1843.20".to_owned(),
            full: "2410.00".to_owned(),
        },
        over_time: [
            ("2026-01", "822.10"),
            ("2026-02", "1210.55"),
            ("2026-03", "1499.10"),
            ("2026-04", "1380.00"),
            ("2026-05", "1105.20"),
            ("2026-06", "990.45"),
            ("2026-07", "1240.00"),
            ("2026-08", "1622.95"),
            ("2026-09", "2120.40"),
            ("2026-10", "2655.00"),
            ("2026-11", "2301.75"),
            ("2026-12", "1843.20"),
        ]
        .iter()
        .map(|(month, paid)| ((*month).to_owned(), (*paid).to_owned()))
        .collect(),
        patterns: vec![verdicts_of_pays::pattern()],
        notes: Vec::new(),
    }
}

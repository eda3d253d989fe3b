//! A made-up report of what things cost: plausible, but of no book.

use super::head;
use crate::reports::{BatchCost, CostReport, PerUnit, ProductCost, StepCost, UseCost, Variance};

fn per_unit(figures: [&str; 8]) -> PerUnit {
    let [materials, wear, bought_in_time, royalty, paid, own_time, overhead, full] = figures.map(str::to_owned);
    PerUnit { materials, wear, bought_in_time, royalty, paid, own_time, overhead, full }
}

fn variance(name: &str, amount: &str, word: &str, says: &str) -> Variance {
    let [name, amount, word, says] = [name, amount, word, says].map(str::to_owned);
    Variance { name, amount, word, says }
}

fn batch(name: &str, finished: &str, made: &str, minutes: Option<&str>, figures: [&str; 8]) -> BatchCost {
    BatchCost {
        name: name.to_owned(),
        finished: finished.to_owned(),
        made: made.to_owned(),
        lost: "1".to_owned(),
        per_unit: per_unit(figures),
        minutes_per_unit: minutes.map(str::to_owned),
        variances: vec![
            variance("material price", "4.20", "unfavourable", "Materials were dearer than when last bought before it"),
            variance("efficiency at cutting", "-11.60", "favourable", "Cutting at the scroll saw took 29 min less than planned"),
        ],
    }
}

/// The cost report of three products, one of them with a title that would break a careless page, one not made.
pub(crate) fn cost() -> CostReport {
    let cart = ProductCost {
        name: "pull-cart".to_owned(),
        title: "Pull-along cart".to_owned(),
        line: Some("rolling-toys".to_owned()),
        made: "54".to_owned(),
        unit: "ea".to_owned(),
        per_unit: Some(per_unit(["9.333333", "0.52", "2.125", "0.50", "12.478333", "15.60", "2.991667", "31.07"])),
        minutes_per_unit: Some("39".to_owned()),
        bought_in_minutes_per_unit: Some("7".to_owned()),
        steps: vec![
            StepCost {
                name: "cutting".to_owned(),
                title: "Cutting at the scroll saw".to_owned(),
                minutes_per_unit: "18.25".to_owned(),
                bought_in_minutes_per_unit: "0".to_owned(),
                planned_minutes_per_unit: Some("18".to_owned()),
            },
            StepCost {
                name: "finishing".to_owned(),
                title: "Oiling and drying".to_owned(),
                minutes_per_unit: "20.75".to_owned(),
                bought_in_minutes_per_unit: "7".to_owned(),
                planned_minutes_per_unit: None,
            },
        ],
        batches: vec![
            batch("PC-014", "2026-03-09", "18", Some("44"), ["10.10", "0.55", "2.00", "0.50", "13.15", "17.60", "3.20", "33.95"]),
            batch("PC-015", "2026-06-21", "20", Some("38"), ["9.20", "0.50", "2.25", "0.50", "12.45", "15.20", "2.95", "30.60"]),
            batch("PC-016", "2026-10-02", "16", Some("35"), ["8.60", "0.51", "2.10", "0.50", "11.71", "14.00", "2.80", "28.51"]),
        ],
        price: Some("42.00".to_owned()),
        uses: vec![
            UseCost {
                name: "red-oak".to_owned(),
                title: "Red oak, kiln dried".to_owned(),
                quantity: "0.851852".to_owned(),
                unit: "bf".to_owned(),
                cost: "5.112".to_owned(),
            },
            UseCost {
                name: "wheel-40".to_owned(),
                title: "Birch wheel, 40 mm".to_owned(),
                quantity: "4".to_owned(),
                unit: "ea".to_owned(),
                cost: "0.98".to_owned(),
            },
        ],
    };
    let board = ProductCost {
        name: "cutting-board".to_owned(),
        title: "Cutting board <script>".to_owned(),
        line: None,
        made: "21".to_owned(),
        per_unit: Some(per_unit(["14.20", "0.31", "0.00", "0.00", "14.51", "20.00", "2.916667", "37.426667"])),
        minutes_per_unit: None,
        batches: vec![batch(
            "cutting-board/2026-05-02",
            "2026-05-02",
            "21",
            None,
            ["14.20", "0.31", "0.00", "0.00", "14.51", "20.00", "2.916667", "37.426667"],
        )],
        price: None,
        steps: Vec::new(),
        uses: Vec::new(),
        ..cart.clone()
    };
    let duck = ProductCost {
        name: "rolling-duck".to_owned(),
        title: "Rolling duck".to_owned(),
        made: "0".to_owned(),
        per_unit: None,
        minutes_per_unit: None,
        bought_in_minutes_per_unit: None,
        batches: Vec::new(),
        steps: Vec::new(),
        uses: Vec::new(),
        price: Some("29.00".to_owned()),
        ..cart.clone()
    };
    CostReport {
        head: head("cost"),
        products: vec![board, cart, duck],
        notes: vec!["hours of goods opened without hours are unknown".to_owned()],
    }
}

//! A made-up report of what pays: plausible, but of no book.

use super::head;
use super::verdicts_of_pays;
use super::year::year;
use crate::reports::{PaysBridge, PaysGroup, PaysMonth, PaysReport, PaysRestRow, PaysSums, PaysTotals, StepHours, Unassigned};

fn group(by: &str, name: &str, title: &str, paid_margin: &str, per_hour: Option<&str>) -> PaysGroup {
    let text = |text: &str| text.to_owned();
    PaysGroup {
        by: text(by),
        name: text(name),
        title: text(title),
        units: text("61"),
        unit: text("ea"),
        sums: PaysSums {
            revenue: text("3105.50"),
            fees: text("214.93"),
            postage: text("96.20"),
            packing: text("24.80"),
            direct_expenses: text("85.00"),
            paid_cost: text("374.02"),
            paid_margin: text(paid_margin),
            own_time: text("902.40"),
            overhead: text("131.60"),
            full_margin: text("-75.45"),
            own_minutes: per_hour.map(|_| text("2256")),
        },
        earned_per_hour: per_hour.map(str::to_owned),
    }
}

fn rest(by: &str, why: &str, title: &str, paid_margin: &str) -> PaysRestRow {
    let text = |text: &str| text.to_owned();
    PaysRestRow {
        by: text(by),
        name: None,
        why: text(why),
        title: text(title),
        units: text("0"),
        sums: PaysSums {
            revenue: text("0.00"),
            fees: text("0.00"),
            postage: text("0.00"),
            packing: text("0.00"),
            direct_expenses: text(paid_margin.trim_start_matches('-')),
            paid_cost: text("0.00"),
            paid_margin: text(paid_margin),
            own_time: text("0.00"),
            overhead: text("0.00"),
            full_margin: text(paid_margin),
            own_minutes: Some(text("2400")),
        },
    }
}

fn step_hours(name: &str, title: &str, own: &str, bought_in: &str) -> StepHours {
    StepHours {
        name: Some(name.to_owned()),
        title: title.to_owned(),
        own_minutes: own.to_owned(),
        bought_in_minutes: bought_in.to_owned(),
    }
}

/// A report of two lines, three channels and two products, one with a loss and one without known hours.
pub(crate) fn pays() -> PaysReport {
    let text = |text: &str| text.to_owned();
    PaysReport {
        head: head("pays"),
        groups: vec![
            group("line", "rolling-toys", "Rolling toys", "2310.55", Some("22.10")),
            group("line", "kitchen", "Kitchen boards", "1480.20", Some("31.20")),
            group("channel", "craft-fair", "Booth at fairs", "1822.00", Some("18.75")),
            group("channel", "web-page", "Own web page", "-114.05", Some("-3.10")),
            group("channel", "gift-shop", "Consignment at the gift shop", "640.10", None),
            group("product", "pull-cart", "Pull-along cart", "1610.00", Some("24.40")),
            group("product", "cutting-board", "Cutting board <script>", "1480.20", Some("31.20")),
        ],
        rest: vec![rest("line", "for_channels", "For channels as a whole", "-385.00")],
        fairs: vec![group("fair", "craft-fair/2026-06-14", "Booth at fairs, 2026-06-14", "411.50", Some("18.75"))],
        fairs_total: None,
        verdicts: verdicts_of_pays::verdicts(),
        trend: vec![verdicts_of_pays::trend()],
        stock_ages: verdicts_of_pays::stock_ages(),
        bridges: vec![PaysBridge { year: 2026, lines: year().bridge }],
        totals: PaysTotals {
            units: text("182"),
            sums: PaysSums {
                revenue: text("8120.00"),
                fees: text("611.20"),
                postage: text("190.40"),
                packing: text("61.10"),
                direct_expenses: text("385.00"),
                paid_cost: text("3081.55"),
                paid_margin: text("3790.75"),
                own_time: text("2804.00"),
                overhead: text("409.00"),
                full_margin: text("577.75"),
                own_minutes: text("7010").into(),
            },
            earned_per_hour: text("28.94").into(),
        },
        unassigned: Unassigned { indirect_minutes: text("1930"), overhead_under_applied: text("112.44") },
        year_per_hour: Some(text("19.85")),
        owner_rate: Some(text("24.00")),
        hours: vec![
            step_hours("cutting", "Cutting", "4210", "600"),
            step_hours("sanding", "Sanding & rounding over", "2805.5", "0"),
        ],
        months: (1..=12)
            .map(|month: u32| PaysMonth {
                month: format!("2026-{month:02}"),
                revenue: format!("{}.40", 240 + (month * 137) % 700 + month * 40),
                cost: format!("{}.10", 180 + (month * 91) % 420),
            })
            .collect(),
        notes: vec![text("one batch has unknown hours")],
    }
}

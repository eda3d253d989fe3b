//! The part of a made-up report of what pays that judges: plausible, but of no book.

use crate::reports::{
    ByAge, IfDropped, PatternUse, PaysTrend, PaysVerdict, RoyaltyQuarter, SlowStock, StockAges, TrendYear, Verdict,
};

pub(super) fn verdicts() -> Vec<PaysVerdict> {
    vec![
        verdict("line", "rolling-toys", "Rolling toys", Verdict::BelowRate),
        verdict("channel", "web-page", "Own web page <script>", Verdict::Loses),
    ]
}

fn verdict(by: &str, name: &str, title: &str, verdict: Verdict) -> PaysVerdict {
    let text = |text: &str| text.to_owned();
    PaysVerdict {
        by: text(by),
        name: text(name),
        title: text(title),
        verdict,
        says: text("it does not pay your hour: one in it earned 22.10, 1.90 less than your rate of 24.00"),
        over_rate: Some(text("-1.90")),
        best_other: None,
        if_dropped: IfDropped {
            loses: text("3105.50"),
            saves: text("794.95"),
            overhead_stays: text("131.60"),
            frees_minutes: Some(text("2256")),
            says: text("without it 3105.50 of revenue would not come"),
        },
    }
}

pub(super) fn trend() -> PaysTrend {
    let of_year = |year: i32, so_far: bool| TrendYear {
        year,
        so_far,
        revenue: "3105.50".to_owned(),
        paid_margin: "2310.55".to_owned(),
        full_margin: "-75.45".to_owned(),
        own_minutes: (!so_far).then(|| "2256".to_owned()),
        earned_per_hour: (!so_far).then(|| "22.10".to_owned()),
    };
    PaysTrend {
        by: "line".to_owned(),
        name: "rolling-toys".to_owned(),
        title: "Rolling toys".to_owned(),
        years: vec![of_year(2026, false), of_year(2027, true)],
    }
}

pub(super) fn stock_ages() -> StockAges {
    let text = |text: &str| text.to_owned();
    StockAges {
        on: Some(text("2026-12-31")),
        all: ByAge { to_90_days: text("100.00"), to_180_days: text("50.00"), to_365_days: text("20.00"), older: text("10.00") },
        slow: vec![SlowStock {
            name: text("bird-house"),
            title: text("Bird house"),
            kind: text("product"),
            quantity: text("9"),
            unit: text("ea"),
            slow_quantity: text("7"),
            slow_paid: text("30.00"),
            oldest: text("2026-02-01"),
            oldest_days: 333,
            gone_in_a_year: text("3"),
            lasts_months: Some(text("36")),
            says: text("7 of 9 ea came over 180 days ago, the oldest on 2026-02-01"),
        }],
    }
}

pub(super) fn pattern() -> PatternUse {
    let text = |text: &str| text.to_owned();
    PatternUse {
        name: text("cart-pattern"),
        title: text("Cart pattern <script>"),
        products: vec![text("pull-cart")],
        payee: Some(text("A pattern maker")),
        made: text("48"),
        permitted: Some(text("50")),
        left: Some(text("2")),
        usual_batch: Some(text("6")),
        near: true,
        royalties: vec![RoyaltyQuarter {
            quarter: text("2026-Q1"),
            pieces: text("48"),
            royalty: text("24.00"),
            due: text("12.00"),
        }],
        due: text("12.00"),
        says: text("48 made, 2 of 50 permitted left; another batch of the usual 6 would go over: buy a licence first"),
    }
}

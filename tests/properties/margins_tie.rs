//! Margins tie: every column of what pays is derived here once more from postings and movements; products, lines and channels add up to
//! the same totals; the full margin is the paid margin less own time and overhead in those goods; and the bridge begins with the
//! paid margins of all products and ends at the form's net profit, to the last digit.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use kerfbook::costing::{Account, Component, CostOptions, CostedBook, Flow};
use kerfbook::diagnostics::{Diagnostics, Severity, render_short};
use kerfbook::reports::{PaysGroup, Period, report_pays};
use kerfbook::units::Fixed6;
use kerfbook::year::{Books, Forms, mark_unpaid, year_of, years_of};
use proptest::prelude::*;

use crate::compiled_pages::CompiledPages;
use crate::how_many::books;
use crate::random_book::any_book;

/// The exact sums of a group, in millionths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Exact {
    revenue: i128,
    fees: i128,
    postage: i128,
    packing: i128,
    paid_cost: i128,
    own_time: i128,
    overhead: i128,
}

impl Exact {
    fn paid_margin(self) -> i128 {
        self.revenue - self.fees - self.postage - self.packing - self.paid_cost
    }

    fn full_margin(self) -> i128 {
        self.paid_margin() - self.own_time - self.overhead
    }
}

/// A group's kind and name.
type Key = (&'static str, String);

/// Every group's sums in a period, and those of all pieces, from postings and movements.
fn derive(compiled: &CompiledPages, costed: &CostedBook, covers: impl Fn(NaiveDate) -> bool) -> BTreeMap<Key, Exact> {
    let book = &compiled.book;
    let mut groups: BTreeMap<Key, Exact> = BTreeMap::new();
    for one in costed.postings.iter().filter(|one| covers(one.date)) {
        let Some(thing) = one.thing else {
            // What a shipment cost is in its channel's margin, and on no piece.
            if one.order.is_none() && matches!(one.account, Account::Postage | Account::Packing) {
                let channel = one.channel.map(|id| ("channel", book.channel(id).named.name.clone()));
                for key in channel.into_iter().chain([("shipments", String::new())]) {
                    post(groups.entry(key).or_default(), one.account, one.money.micros());
                }
            }
            continue;
        };
        let channel = one.channel.map(|id| book.channel(id).named.name.clone());
        for key in keys(compiled, thing, one.date, channel) {
            post(groups.entry(key).or_default(), one.account, one.money.micros());
        }
    }
    for one in costed.movements.iter().filter(|one| one.flow == Flow::Sold && covers(one.date)) {
        let order = one.order.map(|at| &costed.orders[at as usize]);
        let channel = order.and_then(|order| order.channel).map(|id| book.channel(id).named.name.clone());
        for key in keys(compiled, one.thing.expect("goods are sold"), one.date, channel) {
            let sums = groups.entry(key).or_default();
            sums.paid_cost += one.vector.paid().expect("small figures").micros();
            sums.own_time += one.vector.get(Component::OwnTime).micros();
            sums.overhead += one.vector.get(Component::Overhead).micros();
        }
    }
    groups
}

/// The groups of a piece: its product, its line, its channel, and all pieces.
fn keys(compiled: &CompiledPages, thing: kerfbook::names::ThingId, day: NaiveDate, channel: Option<String>) -> Vec<Key> {
    let product = compiled.book.thing(thing);
    // Material that is sold as it is has no line.
    let line = product.line.on(day).map_or(("no line", String::new()), |id| ("line", compiled.book.line(id).name.clone()));
    let own = [("product", product.named.name.clone()), ("all", String::new())];
    own.into_iter().chain([line]).chain(channel.map(|name| ("channel", name))).collect()
}

fn post(sums: &mut Exact, account: Account, money: i128) {
    match account {
        Account::Goods | Account::ShippingCharged => sums.revenue += money,
        Account::Refund => sums.revenue -= money,
        Account::Fee | Account::Commission => sums.fees += money,
        Account::FeeBack => sums.fees -= money,
        Account::Postage => sums.postage += money,
        Account::Packing => sums.packing += money,
        _ => {}
    }
}

fn cents(text: &str) -> i128 {
    let digits = text.replace('.', "");
    digits.parse().expect("money with two digits")
}

/// Rounded half away from zero.
fn in_cents(micros: i128) -> i128 {
    (micros.abs() + 5_000) / 10_000 * micros.signum()
}

/// The columns of a row, as shown and exactly.
fn columns(row: &PaysGroup, exact: &Exact) -> [(&'static str, i128, i128); 9] {
    let direct = cents(&row.sums.direct_expenses) * 10_000;
    [
        ("revenue", cents(&row.sums.revenue), exact.revenue),
        ("fees", cents(&row.sums.fees), exact.fees),
        ("postage", cents(&row.sums.postage), exact.postage),
        ("packing", cents(&row.sums.packing), exact.packing),
        ("paid cost", cents(&row.sums.paid_cost), exact.paid_cost),
        ("own time", cents(&row.sums.own_time), exact.own_time),
        ("overhead", cents(&row.sums.overhead), exact.overhead),
        ("paid margin", cents(&row.sums.paid_margin), exact.paid_margin() - direct),
        ("full margin", cents(&row.sums.full_margin), exact.full_margin() - direct),
    ]
}

fn check(compiled: &CompiledPages, costed: &CostedBook, year: Option<i32>) -> Result<(), String> {
    let period = year.map_or_else(Period::default, Period::year);
    let derived = derive(compiled, costed, |day| period.covers(day));
    let of = |key: Key| derived.get(&key).copied().unwrap_or_default();
    // Nobody drives for a line here, so that only money is direct.
    let report = report_pays(&compiled.book, &compiled.log, costed, period, &|_| None, &[]).expect("small figures");
    for by in ["product", "line", "channel"] {
        let rows: Vec<&PaysGroup> = report.groups.iter().filter(|row| row.by == by).collect();
        let mut sums = [(0, 0); 9];
        for row in &rows {
            for (at, (column, shown, exact)) in columns(row, &of((by, row.name.clone()))).into_iter().enumerate() {
                // A column is apportioned to its total: each figure is rounded up or down. Direct expenses are cents here, and in
                // a share of business use a part of one.
                if (shown * 10_000 - exact).abs() > 20_000 {
                    return Err(format!("{year:?} {by} {}: {column} {shown} cents, derived {exact}", row.name));
                }
                sums[at].0 += shown;
                sums[at].1 += exact;
            }
        }
        let named: usize = derived.keys().filter(|key| key.0 == by).count();
        if named > rows.len() {
            return Err(format!("{year:?} {by}: {named} derived, {} told", rows.len()));
        }
        // Without direct expenses a column sums to its own exact sum, rounded once; with what stands in none of the kind, to all sales.
        let rests: Vec<_> = report.rest.iter().filter(|row| row.by == by).collect();
        let all = &report.totals;
        let all = [
            &all.sums.revenue,
            &all.sums.fees,
            &all.sums.postage,
            &all.sums.packing,
            &all.sums.paid_cost,
            &all.sums.own_time,
            &all.sums.overhead,
        ];
        for row in &rests {
            let row = [
                &row.sums.revenue,
                &row.sums.fees,
                &row.sums.postage,
                &row.sums.packing,
                &row.sums.paid_cost,
                &row.sums.own_time,
                &row.sums.overhead,
            ];
            sums.iter_mut().zip(row).for_each(|(sum, shown)| sum.0 += cents(shown));
        }
        for (at, (shown, exact)) in sums.iter().enumerate().take(7) {
            let wanted = if rests.is_empty() { in_cents(*exact) } else { cents(all[at]) };
            if *shown != wanted {
                return Err(format!("{year:?} {by}: column {at} sums to {shown} cents, derived {exact}"));
            }
        }
    }
    let sum_by = |by: &str| {
        let groups = derived.iter().filter(|(key, _)| key.0 == by).map(|(_, sums)| *sums);
        groups.fold((0, 0), |sum, one| (sum.0 + one.paid_margin(), sum.1 + one.full_margin()))
    };
    let (pieces, shipments) = (of(("all", String::new())), of(("shipments", String::new())));
    let (products, lines, without) = (sum_by("product"), sum_by("line"), sum_by("no line"));
    let all = (pieces.paid_margin(), pieces.full_margin());
    if products != all || (lines.0 + without.0, lines.1 + without.1) != all {
        return Err(format!("{year:?}: all {all:?}, products {products:?}, lines {lines:?}, without a line {without:?}"));
    }
    let direct = cents(&report.totals.sums.direct_expenses) * 10_000;
    let total = pieces.paid_margin() + shipments.paid_margin();
    let totals =
        [(&report.totals.sums.paid_margin, total), (&report.totals.sums.full_margin, total - pieces.own_time - pieces.overhead)];
    for (shown, exact) in totals {
        if (cents(shown) * 10_000 - (exact - direct)).abs() > 10_000 {
            return Err(format!("{year:?}: total {shown}, derived {exact} less {direct}"));
        }
    }
    Ok(())
}

/// The bridge of every year that the form has data for: its first line, and its sum.
fn bridges(compiled: &CompiledPages, costed: &CostedBook) -> Result<u32, String> {
    let forms = Forms::built_in();
    let with = |costed| Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed };
    // On the cash basis what is unpaid at a year's end is marked first.
    let marked = mark_unpaid(with(costed), &CostOptions::default());
    let costed = marked.as_ref().unwrap_or(costed);
    let books = with(costed);
    let mut bridged = 0;
    for of in years_of(books, &forms) {
        let mut found = Diagnostics::default();
        let year = year_of(books, of, &forms, &mut found);
        if found.count(Severity::Error) > 0 {
            return Err(format!("{of}: {}", render_short(&compiled.sources, found.as_slice())));
        }
        let year = year.ok_or("no tax year")?;
        let (net, steps) = year.bridge.split_last().ok_or("no bridge")?;
        let sum = Fixed6::checked_sum(steps.iter().map(|line| line.amount)).ok_or("too large")?;
        if (sum, net.amount) != (year.net_cents(), year.net_cents()) {
            return Err(format!("{of}: the bridge sums to {sum}, net is {}", year.net_cents()));
        }
        let sums = derive(compiled, costed, |day| day.year() == of);
        let pieces = sums.get(&("all", String::new())).copied().unwrap_or_default();
        let first = steps.first().ok_or("no paid margins")?;
        if first.amount.micros() != pieces.paid_margin() {
            return Err(format!("{of}: {} is {}, derived {}", first.name, first.amount, pieces.paid_margin()));
        }
        bridged += 1;
    }
    Ok(bridged)
}

proptest! {
    #![proptest_config(books(100))]

    #[test]
    fn what_pays_is_what_the_postings_and_the_goods_sold_say(book in any_book(5..110)) {
        let compiled = CompiledPages::of(&book.pages());
        let costed = compiled.cost(None).map_err(TestCaseError::fail)?;
        for year in [None, Some(2026), Some(2027)] {
            check(&compiled, &costed, year).map_err(|told| TestCaseError::fail(compiled.named(&told)))?;
        }
    }

    #[test]
    fn the_bridge_leads_from_the_products_paid_margins_to_the_net_profit(book in any_book(20..110)) {
        let compiled = CompiledPages::of(&book.pages());
        let costed = compiled.cost(None).map_err(TestCaseError::fail)?;
        let bridged = bridges(&compiled, &costed).map_err(|told| TestCaseError::fail(compiled.named(&told)))?;
        prop_assert!(bridged > 0, "no year");
    }
}

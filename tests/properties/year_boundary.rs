//! A year's end moves nothing: what is on each shelf, on the bench and in licences on 31 December is there on 1 January, component by
//! component and minute by minute, whatever changes on that day; and on any day it is what the proof ends with.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use kerfbook::costing::{BatchState, Component, CostVector, CostedBook, Movement};
use proptest::prelude::*;

use crate::compiled_pages::CompiledPages;
use crate::how_many::books;
use crate::random_book::{RandomBook, any_book};

/// A cost without what is said of it: each component, and the minutes by step.
fn figures(vector: &CostVector) -> Vec<String> {
    let money = Component::ALL.iter().map(|component| vector.get(*component).to_string());
    let minutes = vector.minutes().iter().map(|at| format!("{:?}: {} {}", at.step, at.own, at.bought_in));
    money.chain(minutes).collect()
}

/// What is on hand by place and thing, on the bench by batch, and in licences, each by its name.
fn by_place(compiled: &CompiledPages, costed: &CostedBook) -> BTreeMap<(String, String), CostVector> {
    let mut heaps: BTreeMap<(String, String), CostVector> = BTreeMap::new();
    let book = &compiled.book;
    let mut put = |place: &str, what: &str, vector: &CostVector| {
        heaps.entry((place.to_owned(), what.to_owned())).or_default().add(vector).expect("small figures");
    };
    for lot in &costed.stock {
        put(&book.place(lot.place).named.name, &book.thing(lot.thing).named.name, &lot.vector);
    }
    for batch in costed.batches.iter().filter(|batch| batch.state == BatchState::OnTheBench) {
        put("(bench)", &book.batch(batch.batch).name, &batch.on_the_bench);
    }
    for licence in &costed.licences {
        put("(licences)", &format!("{:?}", licence.pattern), &licence.vector);
    }
    heaps
}

fn sum<'v>(vectors: impl Iterator<Item = &'v CostVector>) -> CostVector {
    let mut sum = CostVector::default();
    vectors.for_each(|vector| sum.add(vector).expect("small figures"));
    sum
}

/// All that came in on the days of a span less all that went out.
fn net_flow(movements: &[Movement], after: Option<NaiveDate>, to: NaiveDate) -> CostVector {
    let mut net = CostVector::default();
    for one in movements.iter().filter(|one| after.is_none_or(|after| after < one.date) && one.date <= to) {
        let moved = if one.flow.comes_in() { net.add(&one.vector) } else { net.subtract(&one.vector) };
        moved.expect("small figures");
    }
    net
}

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a day")
}

/// The book up to the first of January after a year, without that day's entries; what changes on it stays.
fn over_new_year(book: &RandomBook, year: i32) -> RandomBook {
    let (last, first) = (format!("{year}-12-31"), format!("{}-01-01", year + 1));
    let mut cut = book.until(&first);
    cut.entries.retain(|entry| entry.day.as_deref().is_none_or(|of| of <= last.as_str()) || entry.head.starts_with("changed"));
    cut
}

proptest! {
    #![proptest_config(books(60))]

    #[test]
    fn what_is_there_on_the_last_day_of_a_year_is_there_on_the_first_of_the_next(book in any_book(40..120)) {
        let days = book.days();
        let years: Vec<i32> = days.iter().filter_map(|day| day.get(..4)?.parse().ok()).collect();
        let (first, last) = (years.iter().min().copied().unwrap_or(2026), years.iter().max().copied().unwrap_or(2026));
        for year in first..=last {
            let compiled = CompiledPages::of(&over_new_year(&book, year).pages());
            let at = |date: &str| compiled.cost(Some(day(date))).map_err(TestCaseError::fail);
            let (old, new) = (at(&format!("{year}-12-31"))?, at(&format!("{}-01-01", year + 1))?);
            let texts = |costed| -> BTreeMap<_, _> {
                by_place(&compiled, costed).into_iter().map(|(of, vector)| (of, figures(&vector))).collect()
            };
            prop_assert_eq!(texts(&old), texts(&new));
            let all = figures(&sum(by_place(&compiled, &old).values()));
            let ends = &old.proof.years.get(&year).expect("the year's proof").at_end;
            prop_assert_eq!(&figures(ends), &all);
            let begins = new.proof.years.get(&(year + 1)).map(|next| figures(&next.at_start));
            if let Some(begins) = begins {
                prop_assert_eq!(&begins, &all);
            }
        }
    }

    #[test]
    fn the_whole_book_knows_what_was_on_hand_at_each_year_s_end(book in any_book(40..120)) {
        let compiled = CompiledPages::of(&book.pages());
        let whole = compiled.cost(None).map_err(TestCaseError::fail)?;
        for end in &whole.year_ends {
            let then = compiled.cost(Some(day(&format!("{}-12-31", end.year)))).map_err(TestCaseError::fail)?;
            prop_assert_eq!(whole.stock_at_end_of(end.year), &then.stock[..]);
        }
    }

    #[test]
    fn on_any_day_the_places_hold_what_the_proof_ends_with(book in any_book(5..100), at in any::<prop::sample::Index>(), then in any::<prop::sample::Index>()) {
        let days = book.days();
        let days: Vec<NaiveDate> = days.iter().map(|text| day(text)).collect();
        let (one, other) = (*at.get(&days), *then.get(&days));
        let (early, late) = (one.min(other), one.max(other));
        let compiled = CompiledPages::of(&book.pages());
        let mut held = Vec::new();
        for date in [early, late] {
            let costed = compiled.cost(Some(date)).map_err(TestCaseError::fail)?;
            let all = sum(by_place(&compiled, &costed).values());
            // A day on which nothing but a note is written begins no year.
            let last = costed.proof.years.range(..=date.year()).next_back().map(|(_, year)| &year.at_end);
            prop_assert_eq!(figures(&all), figures(last.unwrap_or(&CostVector::default())));
            prop_assert_eq!(figures(&all), figures(&net_flow(&costed.movements, None, date)));
            held.push(all);
        }
        // Between the two days the places changed by what came in and went out, and by nothing else.
        let whole = compiled.cost(None).map_err(TestCaseError::fail)?;
        let mut grown = held.pop().expect("two days");
        grown.subtract(&held.pop().expect("two days")).expect("small figures");
        prop_assert_eq!(figures(&grown), figures(&net_flow(&whole.movements, Some(early), late)));
    }
}

#[test]
fn a_batch_over_two_years_rates_and_goods_elsewhere_and_unpaid_stay_what_they_are() {
    // Worked by hand. Oak: 10 bf for 50.00, unpaid, 4 of them used: 20.00 on the bench, 30.00 at home. One cart of 12.00 at the shop.
    // The batch: 2 h in 2026 at 24.00 and 3.00 of overhead, 1 h in 2027 at 26.00 and 4.00: 54.00, then 30.00.
    let text = "shop \"Wren & Gable Woodshop\"
    currency USD
    costing fifo
    tax form us-schedule-c
    cash basis
    owner time 24.00 per h
    overhead 3.00 per h
place bench \"Bench\"
    home
place gift-shop \"Gift shop\"
channel gift-shop \"Gift shop\"
    consignment 40%
material oak \"Oak\"
    measured in bf
product cart \"Cart\"
step cutting \"Cutting\"
opened 2026-11-01
    1 cart for 12.00, 0h
sent 2026-11-02 to gift-shop
    1 cart
bought 2026-12-20 from yard receipt \"A-1\"
    10 bf oak for 50.00
    unpaid
started 2026-12-28 batch PC-1
    aims at 2 cart
    used 4 bf oak
    took 2h cutting
changed 2027-01-01 shop
    costing average
    owner time 26.00 per h
    overhead 4.00 per h
finished 2027-01-05 batch PC-1
    took 1h cutting
    made 2 cart
paid 2027-01-20 to yard
    50.00 for receipt \"A-1\"
";
    let compiled = CompiledPages::of(&vec![("book.kerf".to_owned(), text.to_owned())]);
    let told = |date: &str| -> Vec<String> {
        let costed = compiled.cost(Some(day(date))).expect("no mistakes");
        let rows = by_place(&compiled, &costed).into_iter().map(|((place, what), vector)| {
            let money = |sum: Option<kerfbook::units::Fixed6>| sum.expect("small figures").to_fixed_text(2, 6);
            format!("{place} {what}: {} paid, {} full", money(vector.paid()), money(vector.full()))
        });
        rows.collect()
    };
    let there =
        ["(bench) PC-1: 20.00 paid, 74.00 full", "bench oak: 30.00 paid, 30.00 full", "gift-shop cart: 12.00 paid, 12.00 full"];
    assert_eq!(told("2026-12-31"), there);
    assert_eq!(told("2027-01-01"), there);
    assert_eq!(told("2027-01-05"), ["bench cart: 20.00 paid, 104.00 full", there[1], there[2]]);
    let whole = compiled.cost(None).expect("no mistakes");
    assert_eq!(figures(&whole.proof.years[&2026].at_end), figures(&whole.proof.years[&2027].at_start));
}

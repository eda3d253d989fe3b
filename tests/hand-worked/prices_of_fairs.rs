//! How many pieces meet a fair, learnt from the last one; worked by hand.
//!
//! A top cost 2.00 and 3 min, and is sold at 10.00: it leaves 8.00, and 7.00 where its own 3 min are paid at 20.00 an hour. The fair of March took 30.00 and 2 h. That of
//! April took two days, a booth of 50.00 paid ten days before, 40 mi and 5 h.

use chrono::NaiveDate;
use kerfbook::names::ThingId;
use kerfbook::reports::{BreakEven, Period, PriceIndex, PriceReport, Wanted, report_price_by};
use kerfbook::units::Fixed6;
use kerfbook::year::Books;
use rust_decimal::Decimal;

use crate::compiled::compile_texts;

const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
    owner time 20.00 per h
place bench \"Bench\"
    home
step selling \"At the booth\"
product top \"Top\"
    price 10.00
channel fair \"Fair\"
channel web \"Web page\"
expense booth-fee \"Booth and stall fees\"
opened 2026-01-01
    20 top for 40.00, 1h
paid 2026-03-07 to the-hall
    30.00 for booth-fee on fair
sold 2026-03-07 via fair
    2 top
worked 2026-03-07
    2h selling on fair
paid 2026-04-01 to the-hall
    50.00 for booth-fee on fair
drove 2026-04-11 40 mi on fair
sold 2026-04-11 via fair
    1 top
worked 2026-04-11
    3h selling on fair
sold 2026-04-12 via fair
    1 top
worked 2026-04-12
    2h selling on fair
sold 2026-04-20 via web order \"W-1\"
    1 top
";

fn money(text: &str) -> Fixed6 {
    Fixed6::from_decimal_exact(text.parse().expect("a decimal")).expect("small")
}

fn price(to: Option<&str>, rate: Option<&str>, wanted: Wanted) -> PriceReport {
    let compiled = compile_texts(&[("book.kerf", BOOK)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let top = compiled.book.things.iter().position(|thing| thing.named.name == "top").expect("defined");
    let rate = rate.map(|rate| rate.parse::<Decimal>().expect("a decimal"));
    let mile_rate = |_: NaiveDate| rate;
    let days = Period { from: None, to: to.map(|day| day.parse().expect("a day")) };
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
    let index = PriceIndex::of(books, days, &mile_rate).and_then(|index| index.with_fairs(&mile_rate)).expect("small figures");
    report_price_by(&index, ThingId(u32::try_from(top).expect("few")), wanted).expect("a report")
}

fn met(report: &PriceReport) -> &BreakEven {
    let fair = report.channels.iter().find(|one| one.name == "fair").expect("the channel");
    fair.break_even.as_ref().expect("it is learnt")
}

fn figures(met: &BreakEven) -> [&str; 5] {
    let or = |figure: &'static str| figure;
    [
        met.money.as_str(),
        met.minutes.as_str(),
        met.pieces.as_deref().unwrap_or(or("never")),
        met.takings.as_deref().unwrap_or(or("never")),
        met.pieces_with_hours.as_deref().unwrap_or(or("never")),
    ]
}

#[test]
fn what_the_last_fair_took_is_what_the_next_has_to_meet() {
    // 40 mi at 0.70 are 28.00. 78.00 / 8.00 = 9.75. With 5 h at 20.00: 178.00 / 7.00 = 25.4.
    let report = price(None, Some("0.70"), Wanted::default());
    assert_eq!(figures(met(&report)), ["78.00", "300", "10", "100.00", "26"]);
    assert_eq!(met(&report).learnt_from.as_deref(), Some("the fair from 2026-04-11 to 2026-04-12"));
    let told = "what `fair` is to meet is what the fair from 2026-04-11 to 2026-04-12 took: $50.00 for booth and other expenses and $28.00 for driving, and 300 min of yours";
    assert!(
        report
            .notes
            .iter()
            .any(|note| note.starts_with(told) && note.contains("`kerfbook why price/top/fair/break-even-pieces`")),
        "{:#?}",
        report.notes
    );
    assert!(report.fixed.is_none());
    // A web page is no fair.
    assert!(report.channels.iter().find(|one| one.name == "web").expect("the channel").break_even.is_none());
    // Without a rate for a mile: 50.00 / 8.00 = 6.25, and 150.00 / 7.00 = 21.4.
    assert_eq!(figures(met(&price(None, None, Wanted::default()))), ["50.00", "300", "7", "70.00", "22"]);
}

#[test]
fn another_fixed_cost_goes_before_and_days_say_which_fair_is_the_last() {
    // 10.00 / 8.00 = 1.25, and 10.00 / 7.00 = 1.4, in each channel.
    let wanted = Wanted { fixed: Some((money("10.00"), Fixed6::ZERO)), ..Wanted::default() };
    let report = price(None, Some("0.70"), wanted);
    assert_eq!((figures(met(&report)), met(&report).learnt_from.as_deref()), (["10.00", "0", "2", "20.00", "2"], None));
    assert!(report.channels.iter().all(|one| one.break_even.is_some()));
    // By the end of March: 30.00 / 8.00 = 3.75, and 70.00 / 7.00 = 10.
    let report = price(Some("2026-03-31"), Some("0.70"), Wanted::default());
    assert_eq!(figures(met(&report)), ["30.00", "120", "4", "40.00", "10"]);
    assert_eq!(met(&report).learnt_from.as_deref(), Some("the fair of 2026-03-07"));
}

//! Every block of what pays, by line, by channel and by product, adds up to all sales, worked by hand.
//!
//! Ten tops at 2.00 and ten pegs at 1.00 are there. Four tops (of the line toys) are sold at 5.00 over the counter, 3 pegs (of no line) at 4.00 there, and
//! two tops are swapped at 6.00 for wood. 7.00 is spent on the line and 9.50 on the counter.

use kerfbook::reports::{PaysGroup, PaysReport, PaysRestRow, Period, report_pays};

use crate::compiled::compile_texts;
use crate::year::shop;

fn pays() -> PaysReport {
    let text = format!(
        "{}expense booth-fee \"Booth fees\"\n    form line 48\nline toys \"Toys\"\nmaterial oak \"Oak\"\n    measured in bf\nproduct top \"Top\"\n    line toys\n\
         product peg \"Peg\"\nopened 2026-01-01\n    10 top for 20.00\n    10 peg for 10.00\n\
         sold 2026-02-01 via counter\n    4 top at 5.00\n    3 peg at 4.00\n\
         swapped 2026-02-02 with \"a neighbour\"\n    gave 2 top at 6.00\n    got 3 bf oak\n\
         paid 2026-02-03 to \"the fair\"\n    7.00 for booth-fee on toys\n    9.50 for booth-fee on counter\n",
        shop("")
    );
    let compiled = compile_texts(&[("book.kerf", &text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    report_pays(&compiled.book, &compiled.log, &compiled.costed, Period::default(), &|_| None, &[]).expect("small figures")
}

fn group(one: &PaysGroup) -> [&str; 6] {
    [&one.title, &one.units, &one.sums.revenue, &one.sums.direct_expenses, &one.sums.paid_cost, &one.sums.paid_margin]
}

fn rest(one: &PaysRestRow) -> [&str; 6] {
    [&one.title, &one.units, &one.sums.revenue, &one.sums.direct_expenses, &one.sums.paid_cost, &one.sums.paid_margin]
}

#[test]
fn every_block_of_what_pays_adds_up_to_all_sales() {
    let report = pays();
    let rows = |by: &str| -> Vec<[&str; 6]> {
        let groups = report.groups.iter().filter(|one| one.by == by).map(group);
        groups.chain(report.rest.iter().filter(|one| one.by == by).map(rest)).collect()
    };
    // 4 · 5.00 + 2 · 6.00 = 32.00 of tops that cost 12.00: 32.00 − 7.00 − 12.00 = 13.00. Pegs: 12.00 − 3.00.
    assert_eq!(
        rows("line"),
        [
            ["Toys", "6", "32.00", "7.00", "12.00", "13.00"],
            ["Goods in no product line", "3", "12.00", "0.00", "3.00", "9.00"],
            ["For channels as a whole", "0", "0.00", "9.50", "0.00", "-9.50"],
        ]
    );
    // Over the counter 20.00 + 12.00, which cost 8.00 + 3.00: 32.00 − 9.50 − 11.00 = 11.50. Swapped 12.00 − 4.00.
    assert_eq!(
        rows("channel"),
        [
            ["Over the counter", "7", "32.00", "9.50", "11.00", "11.50"],
            ["Swapped, by no channel", "2", "12.00", "0.00", "4.00", "8.00"],
            ["For product lines as a whole", "0", "0.00", "7.00", "0.00", "-7.00"],
        ]
    );
    assert_eq!(
        rows("product"),
        [
            ["Peg", "3", "12.00", "0.00", "3.00", "9.00"],
            ["Top", "6", "32.00", "0.00", "12.00", "20.00"],
            ["For product lines as a whole", "0", "0.00", "7.00", "0.00", "-7.00"],
            ["For channels as a whole", "0", "0.00", "9.50", "0.00", "-9.50"],
        ]
    );
    let all = &report.totals;
    let sums = [&all.units, &all.sums.revenue, &all.sums.direct_expenses, &all.sums.paid_cost, &all.sums.paid_margin]
        .map(String::as_str);
    assert_eq!(sums, ["9", "44.00", "16.50", "15.00", "12.50"]);
    let why: Vec<&str> = report.rest.iter().map(|one| one.why.as_str()).collect();
    assert_eq!(why, ["no_line", "for_channels", "swapped", "for_lines", "for_lines", "for_channels"]);
}

#[test]
fn the_text_has_the_rows_that_make_a_block_add_up() {
    let text = kerfbook::render::text::text_pays(&pays(), kerfbook::render::text::Look::default());
    for said in ["Goods in no product line", "Swapped, by no channel", "For product lines as a whole", "For channels as a whole"]
    {
        assert!(text.contains(said), "{said}: {text}");
    }
}

#[test]
fn drives_without_a_rate_and_what_is_spent_on_no_fair_are_told() {
    // A fair on 7 February with its booth of 30.00; 40.00 paid five days after it, with no fair to come. The drive has no rate.
    let text = format!(
        "{}expense booth-fee \"Booth fees\"\n    form line 48\nproduct top \"Top\"\nchannel fair \"Fair\"\nopened 2026-01-01\n    10 top for 20.00\n\
         sold 2026-02-07 via fair\n    4 top at 5.00\npaid 2026-02-07 to \"the fair\"\n    30.00 for booth-fee on fair\n\
         drove 2026-02-07 10 mi on fair\npaid 2026-02-12 to \"the fair\"\n    40.00 for booth-fee on fair\n",
        shop("")
    );
    let compiled = compile_texts(&[("book.kerf", &text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let pays = |rate: Option<rust_decimal::Decimal>| {
        let (book, log) = (&compiled.book, &compiled.log);
        report_pays(book, log, &compiled.costed, Period::default(), &|_| rate, &[]).expect("small figures")
    };
    let report = pays(None);
    let [fair] = report.fairs.as_slice() else { panic!("{:#?}", report.fairs) };
    assert_eq!(fair.sums.direct_expenses, "30.00");
    let told = |report: &PaysReport, begins: &str| report.notes.iter().any(|note| note.starts_with(begins));
    assert!(told(&report, "$40.00 spent on `fair` are in a row of their own beside its fairs"), "{:#?}", report.notes);
    assert!(told(&report, "what was driven on `fair` costs nothing in these figures"), "{:#?}", report.notes);
    assert!(!told(&pays(Some(rust_decimal::Decimal::ONE)), "what was driven"), "{:#?}", report.notes);
}

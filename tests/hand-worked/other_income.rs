//! Income without goods, beside the margins of what pays.

use crate::compiled::compile_texts;
use crate::year::shop;
use kerfbook::reports::{PaysReport, Period, report_pays};

/// The stools came without their hours.
const HOURS: &str = "not all hours of Stool are known: in each row that holds some of it own time is at least what is printed, and the full margin at most";

fn pays(sales: &str) -> PaysReport {
    let text = format!(
        "{}channel market \"Market\"\n    fee 6% of total\nincome engraving \"Engraving\"\n    form line 6\nproduct stool \"Stool\"\n\
         opened 2026-01-01\n    4 stool for 40.00\n{sales}",
        shop("")
    );
    let compiled = compile_texts(&[("book.kerf", &text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    report_pays(&compiled.book, &compiled.log, &compiled.costed, Period::default(), &|_| None, &[]).expect("small figures")
}

#[test]
fn income_without_goods_is_told_with_its_fees_where_no_goods_were_sold() {
    let report = pays("sold 2026-03-01 via market order \"M-1\"\n    115.00 for engraving\n");
    // 6 % of 115.00 is 6.90.
    assert_eq!(
        report.notes,
        ["$115.00 of income without goods came by Market, with $6.90 of fees on it; it stands in no margin"]
    );
    let text = kerfbook::render::text::text_pays(&report, kerfbook::render::text::Look::default());
    assert!(text.contains("No goods were sold in this time") && !text.contains("Nothing was sold"), "{text}");
    assert!(text.contains("115.00 of income without goods"), "{text}");
}

#[test]
fn beside_goods_the_income_has_its_share_of_the_fees() {
    let report = pays(
        "sold 2026-03-01 via market order \"M-1\"\n    1 stool at 45.00\n    15.00 for engraving\n\
         received 2026-04-01 from ada\n    20.00 for engraving\n",
    );
    // 6 % of 60.00 is 3.60: 2.70 on the stool, 0.90 on the engraving.
    assert_eq!(
        report.notes,
        [
            "$20.00 of income without goods came; it stands in no margin",
            "$15.00 of income without goods came by Market, with $0.90 of fees on it; it stands in no margin",
            HOURS
        ]
    );
    assert_eq!([report.totals.sums.revenue.as_str(), report.totals.sums.fees.as_str()], ["45.00", "2.70"]);
}

#[test]
fn a_deposit_s_fee_that_moves_to_the_goods_is_no_income() {
    let report = pays(
        "received 2026-02-01 from ada via market\n    20.00 for order \"M-2\"\n\
         sold 2026-03-01 via market order \"M-2\"\n    1 stool at 45.00\n",
    );
    assert_eq!(report.notes, [HOURS]);
}

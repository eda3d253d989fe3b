//! The simplified home workshop: Rev. Proc. 2013-13 and the examples of Publication 587.
//!
//! 5 a square foot, at most 300, the average of twelve months, a month of fewer than fifteen days at nothing. VERIFIED: Rev.
//! Proc. 2013-13 as reported at lexology.com and fountainheadtax.com; that nothing is carried: betweenthenumbers.net.

use crate::tax_year::{book, figures, year};
use kerfbook::year::Forms;

/// Line 30 of a year, with more than enough income.
fn line_30(home: &str, rest: &str, of: i32) -> String {
    let income = format!(
        "income work \"Work\"\n    form line 1\nreceived {of}-01-02 from a-buyer\n    9000.00 for work\nnoted {of}-12-31 \"done\"\n"
    );
    let shop = book(&format!("    home workshop {home}\n"), &format!("{income}{rest}"));
    year(&shop, &Forms::built_in(), of).line("30").expect("a line").cents.to_string()
}

#[test]
fn five_dollars_a_square_foot_and_at_most_1500() {
    let forms = Forms::built_in();
    for of in 2022..=2026 {
        let rule = figures(&forms).home_simplified(of).expect("a rule");
        let said = (rule.per_square_foot.0.to_string(), rule.most_square_feet.0.to_string(), rule.fewest_days_of_a_month);
        assert_eq!(said, ("5".to_owned(), "300".to_owned(), 15));
    }
    let feet = ["200", "300", "301", "2000"].map(|feet| line_30(&format!("{feet} sq ft, simplified"), "", 2026));
    assert_eq!(feet, ["1000", "1500", "1500", "1500"]);
}

/// Publication 587, example: 420 square feet from 20 July to the year's end are 125 on the average, 300 for each month from
/// August to December; July has twelve days. VERIFIED (3rd-party): a public summary of the publication's examples ("420 sq ft
/// from July 20: 125; 100 then 330 sq ft: 150").
#[test]
fn a_workshop_from_20_july_on_has_125_square_feet_on_the_average() {
    for of in [2024, 2025, 2026] {
        assert_eq!(line_30(&format!("420 sq ft, simplified, from {of}-07-20"), "", of), "625");
    }
}

/// Publication 587, example: 100 square feet from 20 April, 330 from 5 August: (3 × 100 + 5 × 300) ÷ 12 = 150. VERIFIED
/// (3rd-party): the days and the sum of months as retold at constructionservices.org.uk, the result also in the summary above.
#[test]
fn a_workshop_that_grows_counts_each_month_by_its_own_area() {
    let grown = "changed 2026-08-05 shop\n    home workshop 330 sq ft, simplified\n";
    assert_eq!(line_30("100 sq ft, simplified, from 2026-04-20", grown, 2026), "750");
}

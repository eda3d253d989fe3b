//! Rounding to whole dollars and to cents: half away from zero, never half to even.

use std::str::FromStr;

use kerfbook::units::{Currency, Fixed6, Percent, line_total};
use rust_decimal::Decimal;

fn amount(text: &str) -> Fixed6 {
    Fixed6::from_decimal_exact(Decimal::from_str(text).expect("a decimal")).expect("at most six digits")
}

/// VERIFIED: 26 CFR 301.6102-1(a), table (checkoutapi.com/regulations/26/301.6102-1): 18.49 is 18, 18.50 is 19, 18.51 is 19.
/// Instructions for Form 1040, "Rounding Off to Whole Dollars": 1.39 becomes 1 and 2.50 becomes 3.
#[test]
fn a_half_dollar_becomes_the_next_dollar() {
    let cases = [("18.49", "18"), ("18.50", "19"), ("18.51", "19"), ("1.39", "1"), ("2.50", "3")];
    for (cents, dollars) in cases {
        assert_eq!(amount(cents).round_to(0).to_fixed_text(0, 0), dollars, "{cents}");
    }
    // Below zero the magnitude is rounded (convention; no official text found).
    assert_eq!(amount("-18.50").round_to(0).to_fixed_text(0, 0), "-19");
}

/// VERIFIED: Streamlined Sales and Use Tax Agreement 324, Rhode Island General Laws 44-18.1-25
/// (webserver.rilegislature.gov): to the third decimal, up where it is above four. Examples COMPUTED there.
/// The text carries tax to the third decimal before it rounds; a single rounding gives the same cents.
#[test]
fn sales_tax_is_rounded_at_the_third_decimal() {
    for (exact, cents) in [("1.234", "1.23"), ("1.235", "1.24"), ("1.2349", "1.23")] {
        assert_eq!(amount(exact).to_fixed_text(2, 2), cents);
    }
    // Three pieces of 4.99 at 7.25 %: 0.36 each, 1.09 on the invoice.
    let rate = Percent::new(Decimal::new(725, 2));
    assert_eq!(rate.of_rounded(amount("4.99"), 2), Some(amount("0.36")));
    let invoice = line_total(Decimal::new(499, 2), Decimal::from(3), Currency::USD).expect("fits");
    assert_eq!(rate.of_rounded(invoice, 2), Some(amount("1.09")));
}

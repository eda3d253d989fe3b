//! Sums, prices and rates: what is typed of money, and the line that is handed over.

use super::Under::{Bought, Channel, Helper, Nothing, Paid, Received, Sold};
use super::{check, told};

#[test]
fn money_is_a_bare_number() {
    check(&[
        (Bought, "31.5 bf red-oak at $5.90", "31.5 bf red-oak at 5.90"),
        (Bought, "31.5 bf red-oak at 5,90", "31.5 bf red-oak at 5.90"),
        (Bought, "total 1,250.00", "total 1250.00"),
        (Bought, "total 1 250.00", "total 1250.00"),
        (Bought, "total 1.250,00", "total 1250.00"),
        (Bought, "total $1,250.00", "total 1250.00"),
        (Bought, "total 1,250", "total 1250 || total 1.250"),
        (Bought, "total .50", "total 0.50"),
        (Bought, "total 12.", "total 12"),
        (Bought, "discount -5.00", "discount 5.00"),
        (Bought, "total 12.00 EUR", "total 12.00 | 1 EUR = RATE || total 12.00"),
        (Bought, "total USD 58", "total 58"),
        (Bought, "31.5 bf red-oak at 5.90/bf", "31.5 bf red-oak at 5.90 per bf"),
        (Bought, "31.5 bf red-oak 9.40/bf", "31.5 bf red-oak at 9.40 per bf"),
        (Bought, "31.5 bf red-oak @ 5.90", "31.5 bf red-oak at 5.90"),
        (Bought, "31.5 bf red-oak @5.90", "31.5 bf red-oak at 5.90"),
        (Bought, "31.5 bf red-oak @ $5,90", "31.5 bf red-oak at 5.90"),
        (Bought, "31.5 bf red-oak at 5.90 a bf", "31.5 bf red-oak at 5.90 per bf"),
        (Sold, "2 pull-cart 40.00 each", "2 pull-cart at 40.00"),
        (Bought, "60 cotton-bag 1.10 at", "60 cotton-bag at 1.10"),
        (Bought, "9 bf walnut 99.00 for \"dry\"", "9 bf walnut for 99.00 \"dry\""),
        (Bought, "24 bf for cedar 60.00", "24 bf cedar for 60.00"),
        (Bought, "31.5 bf red-oak 5.90", "31.5 bf red-oak at 5.90 || 31.5 bf red-oak for 5.90"),
        (Sold, "discount 10 %", "discount 10%"),
        (Channel, "consignment 40", "consignment 40%"),
        (Paid, "$85.00 for booth-fee", "85.00 for booth-fee"),
        (Paid, "85.00 to booth-fee", "85.00 for booth-fee"),
    ]);
}

#[test]
fn a_rate_is_told_as_it_is_written() {
    let (found, lines) = told(Channel, "fee 3 percent of total");
    assert_eq!((found[0].message.as_str(), lines), ("a part of a hundred is written `3%`", vec!["fee 3% of total".to_owned()]));
    let (found, lines) = told(Helper, "costs 18.00 an hour");
    assert_eq!(
        (found[0].message.as_str(), lines),
        ("a price per unit is written `18.00 per h`", vec!["costs 18.00 per h".to_owned()])
    );
    let (found, _) = told(Bought, "31.5 bf red-oak at 5.90/bf");
    assert_eq!(found[0].message, "a price per unit is written `at 5.90 per bf`");
}

#[test]
fn where_a_correction_can_mean_two_things_both_are_offered() {
    check(&[
        (Bought, "12 bf cherry $84", "12 bf cherry at 84 || 12 bf cherry for 84"),
        (Bought, "12 bf cherry 84 USD", "12 bf cherry at 84 || 12 bf cherry for 84"),
        // Of one both are the same.
        (Bought, "1 qt clear-oil 27.50", "1 qt clear-oil for 27.50"),
        (Bought, "1 qt clear-oil $27.50", "1 qt clear-oil for 27.50"),
        (
            Nothing,
            "came back 2026-03-02 from gift-shop",
            "brought-back 2026-03-02 from gift-shop || returned 2026-03-02 from gift-shop",
        ),
    ]);
    for typed in ["12 bf cherry $84", "1 qt clear-oil $27.50", "pull-cart 2"] {
        assert!(told(Bought, typed).0.iter().all(|one| one.sure_fix().is_none()), "{typed}");
    }
}

#[test]
fn a_word_and_a_figure_in_an_entry_of_money_are_a_sum() {
    check(&[
        (Paid, "clamps 34", "34 for clamps"),
        (Paid, "sharpening 15.00", "15.00 for sharpening"),
        (Received, "deposit 100", "100 for order \"NAME\""),
    ]);
}

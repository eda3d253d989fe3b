//! Digits below the unit of every currency. VERIFIED: ISO 4217 table A.1, published 2024-06-25, in the repository
//! datasets/currency-codes, commit ab9b0ae (1 February 2026), archive/table_a1.xml and data/codes-all.csv.

use kerfbook::units::Currency;

fn digits(code: &str) -> Option<u32> {
    Currency::parse(code).map(Currency::digits)
}

#[test]
fn seventeen_currencies_have_no_digits() {
    let none = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF";
    assert!(none.split(' ').all(|code| digits(code) == Some(0)));
    assert_eq!(Currency::all().filter(|c| c.digits() == 0).count(), 17);
}

#[test]
fn seven_have_three_and_two_have_four() {
    assert!("BHD IQD JOD KWD LYD OMR TND".split(' ').all(|code| digits(code) == Some(3)));
    assert!("CLF UYW".split(' ').all(|code| digits(code) == Some(4)));
    assert_eq!(Currency::all().filter(|c| c.digits() == 3).count(), 7);
    assert_eq!(Currency::all().filter(|c| c.digits() == 4).count(), 2);
}

#[test]
fn the_other_139_have_two() {
    assert!("USD CAD GBP EUR MGA MRU".split(' ').all(|code| digits(code) == Some(2)));
    assert_eq!(Currency::all().filter(|c| c.digits() == 2).count(), 139);
    assert_eq!(Currency::all().count(), 165);
}

#[test]
fn codes_without_a_minor_unit_are_refused() {
    let none = "XAG XAU XBA XBB XBC XBD XDR XPD XPT XSU XTS XUA";
    // The last is the code for no currency at all.
    let no_currency = concat!("XX", "X");
    assert!(none.split(' ').chain([no_currency]).all(|code| Currency::parse(code).is_none()));
}

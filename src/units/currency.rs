//! Currencies and the digits below their unit, from ISO 4217.
//!
//! Source: ISO 4217 table A.1, published 2024-06-25, as in the open data set `datasets/currency-codes`
//! (its commit ab9b0ae, 1 February 2026). Codes to which the standard gives no minor unit (metals,
//! the test code, bond market units, drawing rights) aren't in the table and are refused.

use std::fmt;

/// A currency by its ISO 4217 code.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Currency {
    code: &'static str,
    digits: u32,
}

impl Currency {
    /// The United States dollar, two digits.
    pub const USD: Currency = Currency { code: "USD", digits: 2 };

    /// Finds a currency by its three capital letters; `None` when the standard has no such code or gives it
    /// no minor unit.
    pub fn parse(code: &str) -> Option<Currency> {
        TABLE.iter().find_map(|(digits, codes)| {
            let found = codes.iter().find(|c| **c == code)?;
            Some(Currency { code: found, digits: *digits })
        })
    }

    /// Gives every currency of the table, by digits and then by code.
    pub fn all() -> impl Iterator<Item = Currency> {
        TABLE.iter().flat_map(|(digits, codes)| codes.iter().map(|code| Currency { code, digits: *digits }))
    }

    /// Gives the three letters of the code.
    pub const fn code(self) -> &'static str {
        self.code
    }

    /// Gives the sign that stands for this one currency in most readers' minds; of all others the code says which they are.
    pub fn sign(self) -> Option<&'static str> {
        match self.code {
            "USD" => Some("$"),
            "EUR" => Some("€"),
            "GBP" => Some("£"),
            "JPY" => Some("¥"),
            "INR" => Some("₹"),
            _ => None,
        }
    }

    /// Gives how many digits stand below the unit (2 for cents), from 0 to 4.
    pub const fn digits(self) -> u32 {
        self.digits
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.code)
    }
}

#[rustfmt::skip]
const TABLE: [(u32, &[&str]); 4] = [
    (2, &[
        "AED", "AFN", "ALL", "AMD", "AOA", "ARS", "AUD", "AWG", "AZN", "BAM", "BBD", "BDT", "BGN", "BMD", "BND",
        "BOB", "BOV", "BRL", "BSD", "BTN", "BWP", "BYN", "BZD", "CAD", "CDF", "CHE", "CHF", "CHW", "CNY", "COP",
        "COU", "CRC", "CUP", "CVE", "CZK", "DKK", "DOP", "DZD", "EGP", "ERN", "ETB", "EUR", "FJD", "FKP", "GBP",
        "GEL", "GHS", "GIP", "GMD", "GTQ", "GYD", "HKD", "HNL", "HTG", "HUF", "IDR", "ILS", "INR", "IRR", "JMD",
        "KES", "KGS", "KHR", "KPW", "KYD", "KZT", "LAK", "LBP", "LKR", "LRD", "LSL", "MAD", "MDL", "MGA", "MKD",
        "MMK", "MNT", "MOP", "MRU", "MUR", "MVR", "MWK", "MXN", "MXV", "MYR", "MZN", "NAD", "NGN", "NIO", "NOK",
        "NPR", "NZD", "PAB", "PEN", "PGK", "PHP", "PKR", "PLN", "QAR", "RON", "RSD", "RUB", "SAR", "SBD", "SCR",
        "SDG", "SEK", "SGD", "SHP", "SLE", "SOS", "SRD", "SSP", "STN", "SVC", "SYP", "SZL", "THB", "TJS", "TMT",
        "TOP", "TRY", "TTD", "TWD", "TZS", "UAH", "USD", "USN", "UYU", "UZS", "VED", "VES", "WST", "XCD", "XCG",
        "YER", "ZAR", "ZMW", "ZWG",
    ]),
    (0, &[
        "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND", "VUV", "XAF",
        "XOF", "XPF",
    ]),
    (3, &["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"]),
    (4, &["CLF", "UYW"]),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_currency_is_written_as_its_code_and_keeps_its_column() {
        assert_eq!(format!("{}|{:>5}|", Currency::USD, Currency::USD), "USD|  USD|");
    }

    #[test]
    fn a_code_is_three_capitals_of_the_table() {
        assert_eq!(Currency::parse("USD"), Some(Currency::USD));
        // The last three are codes of ISO 4217 for gold, for tests and for no currency at all: nothing is sold in them.
        for text in ["usd", "US", "USDX", "", "$", "XAU", "XTS", concat!("XX", "X")] {
            assert_eq!(Currency::parse(text), None, "{text:?}");
        }
    }

    #[test]
    fn the_table_is_in_order_and_holds_no_code_twice() {
        for (_, codes) in TABLE {
            assert!(codes.is_sorted());
        }
        let all: std::collections::BTreeSet<_> = Currency::all().map(Currency::code).collect();
        assert_eq!(all.len(), Currency::all().count());
        assert!(all.iter().all(|c| c.len() == 3 && c.bytes().all(|b| b.is_ascii_uppercase())));
    }
}

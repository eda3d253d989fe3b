//! Rounding to what a sheet prints: whole dollars, or cents.
//!
//! 26 CFR 301.6102-1(a): a fraction of a dollar is dropped unless it is half or more, then the dollar goes up (18.49 is 18, 18.50
//! is 19). Below zero the magnitude is rounded (convention, no source). A line is rounded once, from its exact cents; lines that
//! add lines add what is printed, and the exact cents stand beside.

use crate::units::Fixed6;

/// The unit of a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct SheetUnit {
    cents: u32,
    printed: u32,
}

impl SheetUnit {
    /// `digits` are the currency's.
    pub(crate) const fn new(digits: u32, whole: bool) -> Self {
        Self { cents: digits, printed: if whole { 0 } else { digits } }
    }

    /// The exact cents of a sum with six digits.
    pub(crate) fn cents(self, exact: Fixed6) -> Fixed6 {
        exact.round_to(self.cents)
    }

    /// What is printed of exact cents.
    pub(crate) fn printed(self, cents: Fixed6) -> Fixed6 {
        cents.round_to(self.printed)
    }

    /// How many digits are printed.
    pub(crate) const fn digits(self) -> u32 {
        self.printed
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn amount(text: &str) -> Fixed6 {
        Fixed6::from_decimal_exact(text.parse().expect("a decimal")).expect("six digits")
    }

    #[test]
    fn half_a_dollar_goes_up_and_below_zero_down() {
        let sheet = SheetUnit::new(2, true);
        for (exact, printed) in
            [("18.49", "18"), ("18.50", "19"), ("2.50", "3"), ("1.39", "1"), ("-18.50", "-19"), ("-0.49", "0")]
        {
            assert_eq!(sheet.printed(amount(exact)), amount(printed), "{exact}");
        }
    }

    #[test]
    fn a_sheet_in_cents_prints_the_cents() {
        let sheet = SheetUnit::new(2, false);
        assert_eq!(sheet.printed(sheet.cents(amount("10.004"))), amount("10.00"));
        assert_eq!(sheet.printed(sheet.cents(amount("5.006"))), amount("5.01"));
    }
}

//! Corrections that leave out a currency: sure only where it is the shop's own.
//!
//! `€5.90` in a book of dollars may be five euros ninety, which a line of the entry would say; the table of slips doesn't know
//! the shop's currency.

use crate::diagnostics::{Diagnostics, corrected_lines};
use crate::sources::SourceSet;
use crate::units::Currency;

/// Signs and words that stand for money of several currencies, and how the codes end that they may stand for.
const SIGNS: [(&str, &str); 6] = [("$", "D"), ("dollar", "D"), ("bucks", "D"), ("€", "EUR"), ("euro", "EUR"), ("£", "GBP")];
/// Signs that stand for a part of it, or for several currencies at once.
const NEVER: [&str; 2] = ["¢", "¥"];

/// Goes over corrections that are called sure: those that leave out another currency than the shop's are not.
pub(crate) fn doubt_other_money(sources: &SourceSet, own: Currency, found: &mut Diagnostics) {
    found.revise(|told| {
        for fix in told.fixes.iter_mut().filter(|fix| fix.sure) {
            let corrected = corrected_lines(sources, fix);
            let (before, after) = (sources.text(corrected.span), corrected.text.as_str());
            fix.sure = !leaves_out_other(before, after, own);
        }
    });
}

fn leaves_out_other(before: &str, after: &str, own: Currency) -> bool {
    let (lower_before, lower_after) = (before.to_lowercase(), after.to_lowercase());
    let fewer = |word: &str| lower_after.matches(word).count() < lower_before.matches(word).count();
    let other_sign = SIGNS.iter().any(|(sign, codes)| fewer(sign) && !own.code().ends_with(codes));
    let other_code = Currency::all().any(|one| one != own && fewer(&one.code().to_lowercase()) && has_code(before, one));
    other_sign || other_code || NEVER.iter().any(|sign| fewer(sign))
}

/// Whether a currency's code stands in a line as a word, or joined to a number.
fn has_code(line: &str, one: Currency) -> bool {
    let words = line.split(|letter: char| !letter.is_alphanumeric() && letter != '.');
    words.into_iter().any(|word| {
        word.trim_start_matches(|letter: char| letter.is_ascii_digit() || letter == '.').eq_ignore_ascii_case(one.code())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_shop_s_own_currency_may_be_left_out() {
        let dollars = Currency::parse("USD").expect("a currency");
        let euros = Currency::parse("EUR").expect("a currency");
        for (before, after, own, other) in [
            ("5 oak at $5.90", "5 oak at 5.90", dollars, false),
            ("5 oak at $5.90", "5 oak at 5.90", euros, true),
            ("5 oak at €5.90", "5 oak at 5.90", dollars, true),
            ("5 oak at €5.90", "5 oak at 5.90", euros, false),
            ("paid 12.00 EUR", "paid 12.00", dollars, true),
            ("paid 12.00USD", "paid 12.00", dollars, false),
            ("paid 12.00 dollars", "paid 12.00", dollars, false),
            ("at 50¢", "at 50", dollars, true),
            ("at @ 5.90", "at 5.90", dollars, false),
        ] {
            assert_eq!(leaves_out_other(before, after, own), other, "{before} in {}", own.code());
        }
    }
}

//! Average gross receipts of the years before, and the limit above which the stock has to bear overhead.
//!
//! Up to three years count, and of those each year of the book, also one in which nothing was received; years before the book are
//! not known.

use std::collections::BTreeMap;

use chrono::Datelike;

use crate::costing::Account;
use crate::units::{Fixed6, mul_div_round};
use crate::year::Rule;
use crate::year::books::BooksOfYear;
use crate::year::questions::Questions;
use crate::year::settled::Settled;

/// The average gross receipts of up to three earlier years of the book against the limit, in a sentence; a question above it. Empty for a book
/// without an earlier year, or where the form has no limit. `None` on overflow.
pub(crate) fn average_receipts(
    of: &BooksOfYear<'_>,
    settled: &Settled,
    questions: &mut Questions,
    notes: &mut Vec<String>,
) -> Option<String> {
    let mut by_year: BTreeMap<i32, Fixed6> = BTreeMap::new();
    for (at, posting) in (0u32..).zip(&of.costed().postings) {
        let sign = match posting.account {
            Account::Goods | Account::ShippingCharged | Account::Income(_) => 1,
            Account::Refund => -1,
            _ => continue,
        };
        for part in settled.posting(of.costed(), at) {
            let sum = by_year.entry(part.date.year()).or_default();
            *sum = sum.checked_add(part.amount.checked_mul_int(sign)?)?;
        }
    }
    // A year of the book in which nothing was received counts as well; one before the book is not known.
    let first_year = of.books.log.first_day.map_or(of.year, |day| day.year()).max(of.year.checked_sub(3)?);
    let earlier: Vec<Fixed6> = (first_year..of.year).map(|year| by_year.get(&year).copied().unwrap_or_default()).collect();
    let (Some(rule), Ok(years)) = (of.figures.gross_receipts(of.year), i128::try_from(earlier.len())) else {
        return Some(String::new());
    };
    if years == 0 {
        return Some(String::new());
    }
    let sum = Fixed6::checked_sum(earlier)?;
    let average = Fixed6::from_micros(mul_div_round(sum.micros(), 1, years)?);
    let limit = Fixed6::round_from_decimal(rule.limit.0)?;
    if average > limit {
        let question = format!(
            "average gross receipts of {} are above {}: this sheet is no filing figure; who absorbs the overhead?",
            of.money(average),
            of.money(limit)
        );
        questions.ask("stock/small-taxpayer", question.clone(), Rule::SmallTaxpayer, "a preparer", vec![of.book().shop.span]);
        notes.push(question);
    }
    let word = if years == 1 { "year" } else { "years" };
    Some(format!(
        "average gross receipts of {years} earlier {word} {}, limit of a small taxpayer {}; no overhead is in the stock",
        of.money(average),
        of.money(limit)
    ))
}

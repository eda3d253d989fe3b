//! What a batch cost otherwise than planned, in a maker's words: what it was, by how much, and why.

use crate::costing::{BatchVariance, TakenOut, VarianceOf};
use crate::names::ResolvedBook;
use crate::units::Fixed6;
use rust_decimal::{Decimal, RoundingStrategy};

/// A variance in words, without its money.
pub(crate) fn variance_says(book: &ResolvedBook, row: &BatchVariance) -> String {
    let more = row.amount.is_positive();
    let either = |yes: &str, no: &str| (if more { yes } else { no }).to_owned();
    let goods = |wear: bool| if wear { "Blades, paper and other wear" } else { "Materials" };
    match row.of {
        VarianceOf::Price { wear } => {
            format!("{} were {} than when last bought before it", goods(wear), if more { "dearer" } else { "cheaper" })
        }
        VarianceOf::PartPrice => either(
            "Parts were dearer than those of the batch that made them last before it",
            "Parts were cheaper than those of the batch that made them last before it",
        ),
        VarianceOf::Quantity { wear: true } => {
            either("More wear than the good pieces take by the recipe", "Less wear than the good pieces take by the recipe")
        }
        VarianceOf::Quantity { wear: false } => either(
            "More material went in than the good pieces hold by the recipe",
            "Less material went in than the good pieces hold by the recipe",
        ),
        VarianceOf::Rate => either("Bought-in hours cost more than yours", "Bought-in hours cost less than yours"),
        VarianceOf::Hours { step, minutes } => {
            let title = &book.step(step).named.title;
            let planned = row.parts.iter().any(|part| !part.allowed.is_zero());
            match minutes.is_positive() {
                true if !planned => format!("{title} took {}, and the recipe has none of it", time_words(minutes)),
                true => format!("{title} took {} longer than planned", time_words(minutes)),
                false => format!("{title} took {} less than planned", time_words(minutes)),
            }
        }
        VarianceOf::Overhead => {
            either("Overhead on more hours, or at another rate", "Overhead on fewer hours, or at another rate")
        }
        VarianceOf::Straight => "Bought for this batch alone, or in it when the book began".to_owned(),
        VarianceOf::TakenOut(TakenOut::Kept) => "Put back on the shelf, so the pieces don't bear it".to_owned(),
        VarianceOf::TakenOut(TakenOut::ChargedOff) => "Lost and charged off, so the good pieces don't bear it".to_owned(),
    }
}

/// Minutes as they are said, without their sign: below an hour in whole minutes, else in hours to one digit; below ten minutes to a tenth.
fn time_words(minutes: Fixed6) -> String {
    let Some(minutes) = minutes.to_decimal().map(|minutes| minutes.abs()) else { return "long".to_owned() };
    let round =
        |value: Decimal, digits: u32| value.round_dp_with_strategy(digits, RoundingStrategy::MidpointAwayFromZero).normalize();
    let hour = Decimal::from(60);
    match minutes {
        _ if minutes < Decimal::TEN => format!("{} min", round(minutes, 1)),
        _ if round(minutes, 0) < hour => format!("{} min", round(minutes, 0)),
        _ => minutes.checked_div(hour).map_or_else(|| format!("{minutes} min"), |hours| format!("{} h", round(hours, 1))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_is_said_in_minutes_below_an_hour_and_in_hours_above() {
        for (minutes, said) in
            [("2.5", "2.5 min"), ("-12.4", "12 min"), ("59.4", "59 min"), ("59.6", "1 h"), ("-84", "1.4 h"), ("0.04", "0 min")]
        {
            let minutes = Fixed6::from_decimal_exact(minutes.parse().expect("a number")).expect("six digits");
            assert_eq!(time_words(minutes), said);
        }
    }
}

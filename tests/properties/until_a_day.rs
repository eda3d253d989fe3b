//! Nothing dated later moves an earlier figure: a book costed up to a day is the whole book's state at that day, and that of a book
//! in which what comes later was never written.

use chrono::NaiveDate;
use kerfbook::costing::{CostedBook, Movement, Posting};
use proptest::prelude::*;

use crate::compiled_pages::CompiledPages;
use crate::how_many::books;
use crate::random_book::any_book;

fn movements_until(costed: &CostedBook, day: NaiveDate) -> Vec<&Movement> {
    costed.movements.iter().filter(|one| one.date <= day).collect()
}

fn postings_until(costed: &CostedBook, day: NaiveDate) -> Vec<&Posting> {
    costed.postings.iter().filter(|one| one.date <= day).collect()
}

proptest! {
    #![proptest_config(books(80))]

    #[test]
    fn what_is_dated_later_moves_no_earlier_figure(book in any_book(5..120), at in any::<prop::sample::Index>()) {
        let days = book.days();
        let day_text = at.get(&days).clone();
        let day: NaiveDate = day_text.parse().expect("a day as written");
        let compiled = CompiledPages::of(&book.pages());
        let whole = compiled.cost(None).map_err(TestCaseError::fail)?;
        let part = compiled.cost(Some(day)).map_err(TestCaseError::fail)?;
        prop_assert!(part.proof.holds());
        prop_assert_eq!(movements_until(&whole, day), part.movements.iter().collect::<Vec<_>>());
        prop_assert_eq!(postings_until(&whole, day), part.postings.iter().collect::<Vec<_>>());

        let short = CompiledPages::of(&book.until(&day_text).pages());
        let short_costed = short.cost(Some(day)).map_err(TestCaseError::fail)?;
        // A tax year is never asked for up to a day; `tax_years.rs` holds it against a book that ends there.
        let (until, alone) = (compiled.reports(&part), short.reports(&short_costed));
        for ((name, until), (_, alone)) in until.iter().zip(&alone).filter(|((name, _), _)| name != "year") {
            let differs = until.lines().zip(alone.lines()).find(|(a, b)| a != b);
            prop_assert!(until == alone, "{} until {}: {:?}", name, day_text, differs);
        }
    }
}

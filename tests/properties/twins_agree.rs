//! The engine and its exact twin: each lot, output, sold line and flow differs by no more than its splits allow.

use proptest::prelude::*;

use crate::compiled_pages::CompiledPages;
use crate::exact_twin::{cost_exactly, differences};
use crate::how_many::books;
use crate::random_book::{RandomBook, any_book, any_book_of_actual_overhead, any_short_book};

fn agree(book: &RandomBook) -> Result<(), TestCaseError> {
    let compiled = CompiledPages::of(&book.pages());
    let costed = compiled.cost(None).map_err(TestCaseError::fail)?;
    let twin = cost_exactly(&compiled.log, &compiled.book);
    let told = differences(&costed, &twin);
    prop_assert!(told.is_empty(), "{}", compiled.named(&told.join("\n")));
    Ok(())
}

proptest! {
    #![proptest_config(books(50))]

    #[test]
    fn the_engine_and_its_exact_twin_agree(book in any_book(1..100)) {
        agree(&book)?;
    }

    #[test]
    fn the_engine_and_its_exact_twin_agree_where_a_book_runs_short(book in any_short_book(1..70)) {
        agree(&book)?;
    }

    #[test]
    fn the_engine_and_its_exact_twin_agree_on_overhead_from_expenses(book in any_book_of_actual_overhead(1..70)) {
        agree(&book)?;
    }
}

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

#[test]
fn lots_that_are_not_there_any_more_are_each_a_draw_from_the_pool_with_a_rounding_of_its_own() {
    // 8 of 31 cartons at 13.65 and a third of a cent: 3.082333 and 0.440333, where at once it were 3.522667.
    let book = "\
shop \"Wren & Gable Woodshop\"
    costing average
place bench \"Bench\"
    home
material carton \"Carton\"
    measured in ea
opened 2026-01-01
    7 ea carton for 1.48
bought 2026-01-01 from valley-supply
    23 ea carton for 11.73, lot L-010
counted 2026-01-02
    31 carton
counted 2026-01-03
    23 carton lot L-010
    nothing else
";
    let compiled = CompiledPages::of(&vec![("book.kerf".to_owned(), book.to_owned())]);
    let costed = compiled.cost(None).expect("the book has no mistakes");
    let told = differences(&costed, &cost_exactly(&compiled.log, &compiled.book));
    assert!(told.is_empty(), "{}", told.join("\n"));
}

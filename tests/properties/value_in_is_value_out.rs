//! Random books compile, and what was there and came in is what is there and went somewhere, to the last digit.

use kerfbook::costing::CostedBook;
use proptest::prelude::*;

use crate::compiled_pages::CompiledPages;
use crate::how_many::books;
use crate::random_book::{any_book, any_short_book};

/// The proof of every year and of all years is zero in every component and in minutes.
fn proof_is_zero(costed: &CostedBook) -> Result<(), TestCaseError> {
    for (year, proof) in &costed.proof.years {
        let difference = proof.difference().expect("small books do not overflow");
        prop_assert!(difference.is_zero(), "{year}: {difference:?}");
    }
    let all = costed.proof.over_all().and_then(|all| all.difference()).expect("small books do not overflow");
    prop_assert!(all.is_zero(), "{all:?}");
    prop_assert!(costed.proof.holds());
    Ok(())
}

/// Nothing on hand, on the bench or sold is below zero.
fn nothing_is_below_zero(costed: &CostedBook) -> Result<(), TestCaseError> {
    for lot in &costed.stock {
        prop_assert!(lot.quantity.is_sign_positive() && !lot.quantity.is_zero(), "{lot:?}");
        prop_assert!(!lot.vector.has_negative(), "{lot:?}");
    }
    for batch in &costed.batches {
        prop_assert!(!batch.on_the_bench.has_negative(), "{batch:?}");
        prop_assert!(!batch.collected.has_negative(), "{batch:?}");
        for output in &batch.outputs {
            prop_assert!(!output.vector.has_negative(), "{output:?}");
        }
    }
    for order in &costed.orders {
        for line in &order.lines {
            for pieces in &line.pieces {
                prop_assert!(!pieces.vector.has_negative(), "{pieces:?}");
            }
        }
    }
    for licence in &costed.licences {
        prop_assert!(!licence.left.is_sign_negative() && !licence.vector.has_negative(), "{licence:?}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(books(150))]

    #[test]
    fn every_random_book_compiles_and_its_proof_is_zero(book in any_book(1..120)) {
        let compiled = CompiledPages::of(&book.pages());
        let costed = compiled.cost(None).map_err(TestCaseError::fail)?;
        proof_is_zero(&costed)?;
        nothing_is_below_zero(&costed)?;
    }

    #[test]
    fn a_book_that_may_run_short_has_a_proof_of_zero_too(book in any_short_book(1..90)) {
        let compiled = CompiledPages::of(&book.pages());
        let costed = compiled.cost(None).map_err(TestCaseError::fail)?;
        proof_is_zero(&costed)?;
    }
}

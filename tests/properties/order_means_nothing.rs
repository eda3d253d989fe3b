//! Files, and the order of entries in them, mean nothing: the same bytes come out.

use proptest::prelude::*;

use crate::compiled_pages::CompiledPages;
use crate::how_many::books;
use crate::random_book::{Dice, Pages, RandomBook, any_book, shuffled};

fn reports_of(pages: &Pages) -> Result<Vec<(String, String)>, TestCaseError> {
    let compiled = CompiledPages::of(pages);
    let costed = compiled.cost(None).map_err(TestCaseError::fail)?;
    Ok(compiled.reports(&costed))
}

fn same_bytes(book: &RandomBook, seed: u64, lines_too: bool) -> Result<(), TestCaseError> {
    let written = reports_of(&book.pages())?;
    let pages = shuffled(&book.definitions, &book.entries, &mut Dice::new(seed), lines_too);
    let other = reports_of(&pages)?;
    for ((name, written), (_, other)) in written.iter().zip(&other) {
        if written != other {
            let differs = written.lines().zip(other.lines()).find(|(a, b)| a != b);
            let text: String = pages.iter().map(|(path, text)| format!("\n== {path}\n{text}")).collect();
            return Err(TestCaseError::fail(format!("{name}: {differs:?} with{text}")));
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(books(80))]

    #[test]
    fn a_book_cut_into_other_files_with_its_entries_shuffled_gives_the_same_bytes(book in any_book(1..120), seed in any::<u64>()) {
        same_bytes(&book, seed, false)?;
    }

    #[test]
    fn the_details_of_an_entry_in_another_order_give_the_same_bytes(book in any_book(1..120), seed in any::<u64>()) {
        same_bytes(&book, seed, true)?;
    }
}

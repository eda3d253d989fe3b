//! The three example blocks of the language's design, read whole.

use super::read;

#[test]
fn every_line_of_the_example_blocks_is_read() {
    let book = read(include_str!("every_form.kerf"));
    for found in &book.found {
        eprintln!("{} {} `{}`", found.code, found.message, book.sources.text(found.primary.span));
    }
    assert_eq!(book.found.len(), 0);
    assert_eq!(book.syntax.definitions.len(), 33);
    assert_eq!(book.syntax.entries.len(), 41);
}

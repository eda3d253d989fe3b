//! The three example blocks of the language's design, read whole.

use super::read;

#[test]
fn every_line_of_the_example_blocks_is_read() {
    let book = read(include_str!("every_form.kerf"));
    assert_eq!(book.found, []);
    assert_eq!(book.syntax.definitions.len(), 33);
    assert_eq!(book.syntax.entries.len(), 42);
}

#[test]
fn the_example_books_are_read_without_a_finding() {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/ledger-examples");
    let mut books = 0;
    for file in walkdir::WalkDir::new(root).sort_by_file_name() {
        let file = file.expect("the examples can be listed");
        if file.path().extension().is_some_and(|extension| extension == "kerf") {
            let book = read(&std::fs::read_to_string(file.path()).expect("an example can be read"));
            assert_eq!(book.found, [], "{}", file.path().display());
            books += 1;
        }
    }
    assert!(books > 20, "{books}");
}

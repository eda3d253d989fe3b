//! The examples of the pages for this stage's codes do what the pages say.

use crate::diagnostics::{Code, Diagnostics, all_codes, explain_examples, explain_preamble};
use crate::sources::SourceSet;
use crate::syntax::parse_book;

/// The codes that are found in an example, read as a file of its own beside the names of the preamble.
fn codes(example: &str) -> Vec<Code> {
    let mut sources = SourceSet::default();
    sources.add("book.kerf", example).expect("short");
    sources.add("names.kerf", explain_preamble()).expect("short");
    let mut found = Diagnostics::default();
    let _ = parse_book(&sources, &mut found);
    found.into_sorted().into_iter().map(|one| one.code).collect()
}

#[test]
fn a_wrong_example_has_the_mistake_of_its_page_and_a_right_one_has_none() {
    let mut wrong = Vec::new();
    for code in all_codes().filter(|code| code.0 < 190) {
        for example in explain_examples(code) {
            let expected: &[Code] = if example.wrong { &[code] } else { &[] };
            let found = codes(example.text);
            if found != expected {
                wrong.push(format!("{code} gives {found:?}\n{}", example.text));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_preamble_reads() {
    assert_eq!(codes(""), []);
}

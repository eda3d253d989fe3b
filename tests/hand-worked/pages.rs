//! The explain pages of the tax year's codes: each wrong example gives its code, each right one no mistake.

use crate::compiled::compile_texts;
use kerfbook::diagnostics::{Code, Diagnostics, Severity, all_codes, explain_examples, explain_preamble};
use kerfbook::year::{Books, Forms, year_of};

fn mistakes(text: &str) -> Vec<Code> {
    let whole = if text.starts_with("shop") { text.to_owned() } else { format!("{}{text}", explain_preamble()) };
    let compiled = compile_texts(&[("book.kerf", &whole)]);
    let mut found = Diagnostics::default();
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
    assert!(!compiled.has_mistakes(), "{text}: {:#?}", compiled.found);
    let _ = year_of(books, 2026, &Forms::built_in(), &mut found);
    found.into_sorted().into_iter().filter(|one| one.severity == Severity::Error).map(|one| one.code).collect()
}

#[test]
fn the_examples_of_the_year_s_pages_are_as_they_say() {
    let mut seen = 0;
    for code in all_codes().filter(|code| (500..600).contains(&code.0)) {
        for example in explain_examples(code) {
            let expected: &[Code] = if example.wrong { &[code] } else { &[] };
            assert_eq!(mistakes(example.text), expected, "{code}: {}", example.text);
            seen += 1;
        }
    }
    assert_eq!(seen, 18);
}

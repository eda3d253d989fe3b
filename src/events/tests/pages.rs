//! The explain pages of this stage's codes: each wrong example gives its code and nothing else, each right one nothing at all.

use crate::diagnostics::{all_codes, explain_examples, explain_preamble};
use crate::events::tests::read_files;

#[test]
fn the_examples_of_the_pages_are_as_they_say() {
    let of_events = |code: u16| (300..400).contains(&code) || (920..960).contains(&code);
    let codes: Vec<_> = all_codes().filter(|code| of_events(code.0)).collect();
    assert!(codes.len() > 40);
    for code in codes {
        for example in explain_examples(code) {
            let preamble = if example.text.starts_with("shop") { "" } else { explain_preamble() };
            let read = read_files(&[("shop.kerf", preamble), ("example.kerf", example.text)], Some("2027-12-31"));
            let found: Vec<_> = read.found.iter().map(|one| one.code).collect();
            let expected: &[_] = if example.wrong { &[code] } else { &[] };
            assert_eq!(found, expected, "{code} {}: {:#?}", example.text, read.told());
        }
    }
}

//! The explain pages of this stage's codes: each wrong example gives its code and nothing else, each right one nothing at all.

use super::*;
use crate::diagnostics::{all_codes, explain_examples};

#[test]
fn the_examples_of_the_pages_are_as_they_say() {
    for code in all_codes().filter(|code| (200..300).contains(&code.0) || (900..910).contains(&code.0)) {
        for example in explain_examples(code) {
            let read = if example.text.starts_with("shop") { read_files(&[example.text]) } else { read(example.text) };
            let mut found = Diagnostics::default();
            // Quantities are told where an entry is built, which is the next stage's matter.
            let wanted = [DefinitionWord::Material, DefinitionWord::Product, DefinitionWord::Tool];
            let rule = match read.syntax.entries.last().map(|entry| entry.verb) {
                Some(crate::syntax::Verb::Bought) => CountRule::Bringing,
                _ => CountRule::Plain,
            };
            let is_work = read.syntax.entries.last().is_some_and(|entry| entry.verb == crate::syntax::Verb::Worked);
            let items = if read.syntax.entries.is_empty() { Vec::new() } else { read.items() };
            for item in items {
                if is_work {
                    read.lookup().time(item, &mut found);
                } else if !item.licence {
                    read.lookup().item(item, &wanted, Counting { day: None, rule }, &mut found);
                }
            }
            let codes: Vec<_> = read.found.iter().chain(found.as_slice()).map(|one| one.code).collect();
            let expected: &[_] = if example.wrong { &[code] } else { &[] };
            assert_eq!(codes, expected, "{code} {}: {:#?} {:#?}", example.text, messages(&read.found), found.as_slice());
        }
    }
}

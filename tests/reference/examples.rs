//! Every example of the reference compiles, or is wrong, as its fence says.

use std::collections::BTreeSet;

use kerfbook::diagnostics::{Severity, render_short};
use kerfbook::syntax::placement_table_markdown;

use crate::compiled::Compiled;
use crate::fences::{Block, Promise, blocks};
use crate::{REFERENCE, compile_texts};

/// The book on which the examples stand.
fn preamble(blocks: &[Block]) -> String {
    blocks.iter().filter(|block| block.promise == Promise::Preamble).map(|block| block.text.as_str()).collect()
}

fn codes(compiled: &Compiled, severity: Severity) -> BTreeSet<String> {
    compiled.found.iter().filter(|one| one.severity == severity).map(|one| one.code.to_string()).collect()
}

/// What is wrong with a block; `None` where its fence holds.
fn broken(block: &Block, preamble: &str) -> Option<String> {
    let (alone, mistakes, warnings) = match &block.promise {
        Promise::Preamble => return None,
        Promise::Compiles { alone, warns } => (*alone, BTreeSet::new(), Some(warns)),
        Promise::Wrong(codes) => (false, codes.clone(), None),
    };
    let compiled = match alone {
        true => compile_texts(&[("example.kerf", &block.text)]),
        false => compile_texts(&[("preamble.kerf", preamble), ("example.kerf", &block.text)]),
    };
    let as_promised = codes(&compiled, Severity::Error) == mistakes
        && warnings.is_none_or(|warnings| codes(&compiled, Severity::Warning) == *warnings)
        && compiled.is_sound() == mistakes.is_empty();
    (!as_promised).then(|| format!("line {}:\n{}", block.line, render_short(&compiled.sources, &compiled.found)))
}

#[test]
fn the_book_on_which_the_examples_stand_compiles_without_a_word() {
    let compiled = compile_texts(&[("preamble.kerf", &preamble(&blocks(REFERENCE)))]);
    assert!(compiled.found.is_empty(), "{}", render_short(&compiled.sources, &compiled.found));
}

#[test]
fn every_example_does_what_its_fence_says() {
    let blocks = blocks(REFERENCE);
    let preamble = preamble(&blocks);
    let broken: Vec<_> = blocks.iter().filter_map(|block| broken(block, &preamble)).collect();
    assert!(broken.is_empty(), "{} examples:\n{}", broken.len(), broken.join("\n"));
    assert!(blocks.len() > 60, "only {} examples were found", blocks.len());
}

#[test]
fn the_examples_show_both_right_and_wrong() {
    let blocks = blocks(REFERENCE);
    let wrong = blocks.iter().filter(|block| matches!(block.promise, Promise::Wrong(_))).count();
    assert!(wrong >= 6, "{wrong} wrong examples");
}

#[test]
fn the_small_book_of_the_readme_compiles() {
    let blocks = blocks(include_str!("../../README.md"));
    assert!(!blocks.is_empty());
    let broken: Vec<_> = blocks.iter().filter_map(|block| broken(block, "")).collect();
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}

/// The words in backticks with which a row of the placement table begins.
fn word_of_row(row: &str) -> Option<&str> {
    row.strip_prefix("| `")?.split('`').next()
}

#[test]
fn every_entry_definition_and_line_of_the_placement_table_is_shown() {
    let blocks = blocks(REFERENCE);
    let lines: Vec<_> =
        blocks.iter().flat_map(|block| block.text.lines()).map(|line| line.split(" #").next().unwrap_or("")).collect();
    let shown = |word: &str| {
        // `sales-tax included` stands for `sales-tax 6% included`, `1 UNIT =` for `1 bag = 50 ea`.
        let parts: Vec<_> = word.split(' ').filter(|part| *part != "UNIT").collect();
        lines.iter().any(|line| {
            let mut rest = format!("{} ", line.replace(',', " ,"));
            parts.iter().all(|part| {
                let at = rest.find(&format!(" {part} ")).or_else(|| rest.starts_with(&format!("{part} ")).then_some(0));
                at.map(|at| rest = rest.split_off(at + part.len())).is_some()
            })
        })
    };
    let table = placement_table_markdown();
    let missing: Vec<_> = table.lines().filter_map(word_of_row).filter(|word| !shown(word)).collect();
    assert!(missing.is_empty(), "no example shows {}", missing.join(", "));
    assert!(table.lines().filter_map(word_of_row).count() > 140);
}

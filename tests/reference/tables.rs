//! The reference's tables are those of the code: what may stand where, units with their factors, reserved words.

use kerfbook::diagnostics::Severity;
use kerfbook::syntax::placement_table_markdown;
use kerfbook::units::{Dimension, Unit};

use crate::{REFERENCE, compile_texts};

#[test]
fn the_placement_table_is_the_one_that_the_compiler_uses() {
    let table = placement_table_markdown();
    assert!(section("What may stand where").contains(table.trim()), "the table is not this one:\n{table}");
}

/// The part of the reference below a heading.
fn section(heading: &str) -> &'static str {
    let (_, after) = REFERENCE.split_once(&format!("\n## {heading}\n")).expect("the heading");
    after.split_once("\n## ").map_or(after, |(section, _)| section)
}

/// The unit in which all of a dimension are counted.
fn base(dimension: Dimension) -> Unit {
    match dimension {
        Dimension::Length => Unit::Millimetre,
        Dimension::Volume => Unit::Millilitre,
        Dimension::Mass => Unit::Gram,
        Dimension::Count => Unit::Each,
        Dimension::Time => Unit::Minute,
        // The square millimetre has no name in the language.
        Dimension::Area => Unit::SquareMetre,
    }
}

/// A factor as a decimal; all denominators are powers of ten.
fn decimal(numerator: i128, denominator: i128) -> String {
    let places = denominator.ilog10();
    assert_eq!(10_i128.pow(places), denominator, "a power of ten");
    let (whole, rest) = (numerator / denominator, numerator % denominator);
    let digits = format!("{rest:0width$}", width = places as usize);
    let digits = digits.trim_end_matches('0');
    if digits.is_empty() { whole.to_string() } else { format!("{whole}.{digits}") }
}

/// The row of a unit: its word, what it measures, and how many of the base unit it is.
fn row(unit: Unit) -> String {
    let base = base(unit.dimension());
    let (numerator, denominator) = unit.factor();
    let (base_numerator, base_denominator) = base.factor();
    assert_eq!(base_denominator, 1, "a base unit is whole");
    format!("| `{unit}` | {} | {} {base} |", unit.dimension(), decimal(numerator, denominator * base_numerator))
}

#[test]
fn the_units_are_those_of_the_code_with_their_factors() {
    let section = section("Units");
    for unit in Unit::ALL {
        assert!(section.lines().any(|line| line.starts_with(&row(unit))), "no row begins {}", row(unit));
    }
    assert_eq!(section.lines().filter(|line| line.starts_with("| `")).count(), Unit::ALL.len());
}

/// Whether a word may be a material's name.
fn may_be_a_name(word: &str) -> bool {
    let book = format!("shop \"S\"\n    currency USD\nmaterial {word} \"A thing\"\n    measured in g\n");
    !compile_texts(&[("book.kerf", &book)]).found.iter().any(|one| one.severity == Severity::Error)
}

#[test]
fn the_reserved_words_are_never_a_name_and_others_are() {
    let (_, after) = section("Reserved words").split_once("```text\n").expect("the list");
    let words: Vec<_> = after.split_once("```").expect("its end").0.split_whitespace().collect();
    assert!(words.len() >= 58);
    for word in &words {
        assert!(!may_be_a_name(word), "`{word}` may be a name");
    }
    for unit in Unit::ALL.iter().filter(|unit| !matches!(unit, Unit::Pair | Unit::Dozen | Unit::Gross)) {
        let first = unit.as_str().split(' ').next().expect("a word");
        assert!(words.contains(&first), "`{first}` is not in the list");
    }
    for word in ["board", "piece", "pair", "dozen", "gross", "licence", "bag", "paid", "sold", "line"] {
        assert!(may_be_a_name(word), "`{word}` may not be a name");
    }
}

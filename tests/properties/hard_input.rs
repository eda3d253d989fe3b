//! No panic and no wrong number on whatever is fed to the whole pipeline: soups of real lines, figures at the limits, one enormous day,
//! one enormous line.
//!
//! A book either has mistakes, or its proof holds: there is no third way.

use std::fmt::Write as _;
use std::sync::OnceLock;

use kerfbook::cli::{CompileOptions, compile_sources};
use kerfbook::diagnostics::Severity;
use kerfbook::sources::{Loaded, SourceSet};
use kerfbook::year::Forms;
use proptest::prelude::*;

use crate::how_many::books;

/// The forms, read once.
static FORMS: OnceLock<Forms> = OnceLock::new();

/// Takes text through every stage; gives how many mistakes were told. A book without one must have a proof that holds.
fn mistakes_in(text: &str) -> usize {
    let mut sources = SourceSet::default();
    sources.add("book.kerf", text).expect("under four gigabytes");
    let loaded = Loaded { sources, damaged: Vec::new() };
    let compiled = compile_sources(loaded, FORMS.get_or_init(Forms::built_in), CompileOptions::default(), &|_| false);
    let mistakes = compiled.found.count(Severity::Error);
    assert!(mistakes > 0 || compiled.costed.proof.holds(), "no mistake was told, and the proof does not hold:\n{text}");
    mistakes
}

const EXAMPLE: [&str; 4] = [
    include_str!("../../ledger-examples/wren-and-gable/shop.kerf"),
    include_str!("../../ledger-examples/wren-and-gable/2026-01.kerf"),
    include_str!("../../ledger-examples/wren-and-gable/2026-05.kerf"),
    include_str!("../../ledger-examples/wren-and-gable/2026-12.kerf"),
];

fn lines() -> Vec<&'static str> {
    EXAMPLE.iter().flat_map(|text| text.lines()).collect()
}

proptest! {
    #![proptest_config(books(48))]

    #[test]
    fn lines_of_a_real_book_in_any_order_never_panic(picks in prop::collection::vec(any::<prop::sample::Index>(), 1..120)) {
        let lines = lines();
        let soup: Vec<&str> = picks.iter().map(|pick| *pick.get(&lines)).collect();
        mistakes_in(&soup.join("\n"));
    }

    #[test]
    fn a_real_book_with_lines_left_out_doubled_or_cut_never_panics(
        changes in prop::collection::vec((any::<prop::sample::Index>(), 0u8..4, any::<prop::sample::Index>()), 1..12)
    ) {
        let mut lines: Vec<String> = lines().into_iter().map(str::to_owned).collect();
        for (at, what, cut) in &changes {
            let at = at.index(lines.len());
            match what {
                0 => { lines.remove(at); }
                1 => { let twice = lines[at].clone(); lines.insert(at, twice); }
                2 => {
                    let line = &mut lines[at];
                    let letters = line.chars().count();
                    if letters > 0 {
                        let keep = cut.index(letters);
                        *line = line.chars().take(keep).collect();
                    }
                }
                _ => {
                    let line = &mut lines[at];
                    *line = line.chars().map(|one| if one.is_ascii_digit() { '9' } else { one }).collect();
                }
            }
        }
        mistakes_in(&lines.join("\n"));
    }

    #[test]
    fn figures_of_any_length_are_carried_exactly_or_refused(digits in 1usize..40, places in 0usize..30, count in 1usize..30) {
        let number = if places == 0 { "9".repeat(digits) } else { format!("{}.{}", "9".repeat(digits), "9".repeat(places)) };
        let count = "9".repeat(count);
        mistakes_in(&format!(
            "shop \"Limits\"\n    currency USD\nplace bench \"Bench\"\n    home\nchannel counter \"Counter\"\nmaterial oak \"Oak\"\n    measured in bf\n\
             bought 2026-01-01\n    {number} bf oak at {number}\nbought 2026-01-02\n    {count} bf oak for {number}\n    freight {number}\n\
             sold 2026-01-03 via counter\n    {number} bf oak at {number}\n"
        ));
    }
}

#[test]
fn a_quantity_and_a_price_at_the_limit_of_the_decimal_type_are_refused_at_their_entry() {
    let largest = "79228162514264337593543950335";
    let shop = "shop \"Limits\"\n    currency USD\nplace bench \"Bench\"\n    home\nmaterial oak \"Oak\"\n    measured in bf\n";
    assert!(mistakes_in(&format!("{shop}bought 2026-01-01\n    {largest} bf oak at {largest}\n")) > 0);
    let twice =
        format!("{shop}bought 2026-01-01\n    {largest} bf oak for 1.00\nbought 2026-01-02\n    {largest} bf oak for 1.00\n");
    assert!(mistakes_in(&twice) > 0);
    let lost = format!("{shop}bought 2026-01-01\n    {largest} bf oak for 1.00\nbought 2026-01-02\n    0.5 bf oak for 1.00\n");
    assert!(mistakes_in(&lost) > 0, "half a board foot would be lost beside so many");
}

#[test]
fn a_hundred_thousand_entries_of_one_day_are_ordered_and_costed() {
    let mut text = String::from(
        "shop \"One day\"\n    currency USD\nplace bench \"Bench\"\n    home\nchannel counter \"Counter\"\nproduct top \"Top\"\n    price 9.50\n",
    );
    text.push_str("opened 2026-01-01\n    100000 top for 100000.00\n");
    for at in 0..100_000 {
        let _ = write!(text, "sold 2026-05-01 via counter order \"N-{at}\"\n    1 top\n");
    }
    assert_eq!(mistakes_in(&text), 0);
}

#[test]
fn ten_megabytes_in_one_line_are_one_mistake() {
    let text = format!("sold 2026-05-01 via counter\n    {}\n", "1 top, ".repeat(1_500_000));
    assert!(mistakes_in(&text) > 0);
}

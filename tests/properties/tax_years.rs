//! Random books over three years under every switch: the tax year ties, foots and bridges; everything counts once; nothing that happens
//! later moves an earlier year.

use crate::compiled::{Compiled, compile_texts};
use crate::compiled_pages::CompiledPages;
use crate::how_many::books;
use crate::random_book::any_book;
use crate::random_shop::{cut_after, random_shop};
use chrono::Datelike;
use kerfbook::costing::{Component, CostOptions, CostedBook, Flow, Mark, cost_book};
use kerfbook::diagnostics::{Diagnostics, Severity};
use kerfbook::names::CostingMethod;
use kerfbook::units::Fixed6;
use kerfbook::year::{Books, Forms, TaxYear, mark_unpaid, year_of};
use proptest::prelude::*;

/// How many books; more were tried when the stage was written.
const SEEDS: u64 = 8;

const COMBINATIONS: [(&str, &str); 4] =
    [("accrual", "inventory"), ("cash", "inventory"), ("accrual", "supplies"), ("cash", "supplies")];

fn switches(seed: u64, basis: &str, stock: &str) -> String {
    let costing = if seed.is_multiple_of(2) { "fifo" } else { "average" };
    let unit = if seed.is_multiple_of(3) { "whole dollars" } else { "cents" };
    format!("    costing {costing}\n    {basis} basis\n    stock kept as {stock}\n    {unit}\n    overhead 3.50 per h\n")
}

fn compiled(text: &str) -> Compiled {
    let book = compile_texts(&[("book.kerf", text)]);
    let mistakes: Vec<_> = book.found.iter().filter(|one| one.severity == Severity::Error).collect();
    assert!(mistakes.is_empty(), "{mistakes:#?}");
    assert!(book.costed.proof.holds());
    book
}

fn figured(book: &Compiled, forms: &Forms, year: i32) -> TaxYear {
    let mut found = Diagnostics::default();
    let books = Books { sources: &book.sources, book: &book.book, log: &book.log, costed: &book.costed };
    let figured = year_of(books, year, forms, &mut found);
    assert_eq!(found.count(Severity::Error), 0, "{year}: {:#?}", found.as_slice());
    figured.expect("a tax year")
}

fn cents(year: &TaxYear, line: &str) -> Fixed6 {
    year.line(line).expect("a line").cents
}

fn sum(amounts: impl IntoIterator<Item = Fixed6>) -> Fixed6 {
    Fixed6::checked_sum(amounts).expect("fits")
}

#[test]
fn every_random_year_ties_foots_and_bridges() {
    let forms = Forms::built_in();
    for seed in 0..SEEDS {
        for (basis, stock) in COMBINATIONS {
            let book = compiled(&random_shop(seed, &switches(seed, basis, stock), false));
            let mut last_closing = None;
            for of in 2024..=2026 {
                let year = figured(&book, &forms, of);
                let printed = |lines: &[&str]| sum(lines.iter().map(|line| year.line(line).expect("a line").printed));
                assert_eq!(printed(&["40"]), printed(&["35", "36", "37", "38", "39"]));
                assert_eq!(printed(&["40"]), printed(&["41", "42"]));
                assert_eq!(printed(&["7"]), printed(&["28", "30", "31"]));
                for tool in &year.equipment {
                    let added = tool.steps.iter().filter(|one| one.step.is_added()).filter_map(|one| one.amount);
                    assert_eq!(sum(added), sum([tool.section_179, tool.amount]), "seed {seed} {of} {basis} {stock}: {tool:#?}");
                }
                let steps = year.bridge.iter().rev().skip(1).map(|line| line.amount);
                assert_eq!(sum(steps), year.net_cents(), "seed {seed} {of} {basis} {stock}");
                // The opening stock is last year's closing stock, but for what of it was donated.
                if let Some(closing) = last_closing {
                    let donated = sum(year.cost_of_goods.donations.iter().map(|item| item.amount));
                    let start = sum([cents(&year, "35"), donated.round_to(2)]);
                    let off = (start.micros() - Fixed6::micros(closing)).abs();
                    assert!(off <= 10_000, "seed {seed} {of} {basis} {stock}: {start} after {closing}");
                }
                last_closing = Some(cents(&year, "41"));
            }
        }
    }
}

/// With every bill paid in the end, the two bases count the same over all years: each line of income and expense, and the cost of goods.
#[test]
fn over_all_years_both_bases_count_everything_once() {
    let forms = Forms::built_in();
    for seed in 0..SEEDS {
        for stock in ["inventory", "supplies"] {
            let exact = |line: &str, book: &Compiled| {
                let years = (2024..=2026).map(|of| {
                    let year = figured(book, &forms, of);
                    // Before a category's year is rounded to the cent, which two years do twice.
                    sum(year.line(line).expect("a line").sums.iter().map(|sum| sum.whole))
                });
                sum(years)
            };
            let [accrual, cash] =
                ["accrual", "cash"].map(|basis| compiled(&random_shop(seed, &switches(seed, basis, stock), true)));
            for line in ["1", "2", "6", "8", "10", "11", "18", "22", "25", "26", "27b", "48"] {
                let (accrual, cash) = (exact(line, &accrual), exact(line, &cash));
                assert_eq!(accrual, cash, "seed {seed} {stock} line {line}");
            }
            // What is donated out of the opening stock leaves the cost of goods, on the cash basis only as far as it was paid by then.
            let goods = |book: &Compiled| {
                let years = (2024..=2026).map(|of| figured(book, &forms, of).cost_of_goods);
                sum(years.flat_map(|cost| cost.donations.into_iter().map(|item| item.amount).chain([cost.exact])))
            };
            assert_eq!(goods(&accrual), goods(&cash), "seed {seed} {stock}");
        }
    }
}

/// Payments, returns and anything else of later years move no figure of a year that is over.
#[test]
fn what_happens_later_moves_nothing_of_an_earlier_year() {
    let forms = Forms::built_in();
    for seed in 0..SEEDS {
        for (basis, stock) in COMBINATIONS {
            let text = random_shop(seed, &switches(seed, basis, stock), true);
            let whole = compiled(&text);
            for of in [2024, 2025] {
                let then = compiled(&cut_after(&text, &format!("{of}-12-31")));
                let (now, then) = (figured(&whole, &forms, of), figured(&then, &forms, of));
                let lines = |year: &TaxYear| -> Vec<String> {
                    year.lines.iter().map(|line| format!("{} {} {}", line.number, line.cents, line.printed)).collect()
                };
                assert_eq!(lines(&now), lines(&then), "seed {seed} {of} {basis} {stock}");
                assert_eq!(now.bridge, then.bridge, "seed {seed} {of} {basis} {stock}");
            }
        }
    }
}

/// Marks say something of a cost and never change it.
#[test]
fn marks_move_no_figure() {
    for seed in 0..SEEDS {
        let marked = compiled(&random_shop(seed, &switches(seed, "cash", "inventory"), true));
        let plain = cost_book(&marked.log, &marked.book, &CostOptions::default(), &mut Diagnostics::default());
        assert_eq!(plain.movements.len(), marked.costed.movements.len());
        let mut unpaid = 0;
        for (plain, marked) in plain.movements.iter().zip(&marked.costed.movements) {
            for component in Component::ALL {
                assert_eq!(plain.vector.get(component), marked.vector.get(component), "seed {seed} {marked:?}");
            }
            let of_some_year = (2024..=2026).any(|year| !marked.vector.marked(Mark::NotPaid(year)).is_zero());
            unpaid += usize::from(of_some_year && !marked.flow.comes_in());
        }
        assert!(unpaid > 0, "seed {seed}: nothing left unpaid, so the test shows nothing");
    }
}

/// How many marks say what is unpaid. No more of a cost is unpaid than there is, nor less than nothing; a mark is rounded apart from its cost at
/// each split.
fn marks_within_their_costs(costed: &CostedBook) -> Result<usize, String> {
    // What a supplier credits beside a bill counts as paid, though the goods for which it came may not be.
    let beside = costed.movements.iter().filter(|one| matches!(one.flow, Flow::Credited | Flow::SentBack) && one.bill.is_none());
    let beside: i128 = beside.map(|one| one.vector.paid().expect("small figures").micros().abs()).sum();
    let rounded = beside + 20;
    let mut marks = 0;
    let ends =
        costed.year_ends.iter().flat_map(|end| end.shelf.iter().chain([&end.bench, &end.licences]).map(|one| (end.year, one)));
    let moved = costed.movements.iter().map(|movement| (movement.date.year(), &movement.vector));
    for (of, vector) in moved.chain(ends) {
        // What was unpaid at the end of a year may have been credited after it.
        for year in of..=2028 {
            let unpaid = vector.marked(Mark::NotPaid(year));
            for component in Component::ALL {
                let (part, whole) = (unpaid.get(component).micros(), vector.get(component).micros());
                marks += usize::from(part != 0);
                if part < whole.min(0) - rounded || part > whole.max(0) + rounded {
                    return Err(format!("{year} {component:?}: {part} of {whole} unpaid"));
                }
            }
        }
    }
    Ok(marks)
}

#[test]
fn of_no_cost_is_more_unpaid_than_there_is() {
    let mut marks = 0;
    for seed in 0..SEEDS * 5 {
        let book = compiled(&random_shop(seed, &switches(seed, "cash", "inventory"), false));
        marks += marks_within_their_costs(&book.costed).expect("as much as there is");
    }
    assert!(marks > 1000, "{marks}");
}

proptest! {
    #![proptest_config(books(60))]

    #[test]
    fn of_no_cost_of_a_random_book_is_more_unpaid_than_there_is(book in any_book(40..150)) {
        let compiled = CompiledPages::of(&book.pages());
        // From a pool goods go back at its average, of which another part may be unpaid than of their own bill.
        let costing = &compiled.book.shop.costing;
        let pools = costing.changes().iter().map(|(_, method)| method).chain([costing.first()]).any(|one| *one == CostingMethod::Average);
        prop_assume!(!pools);
        let costed = compiled.cost(None).map_err(TestCaseError::fail)?;
        let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
        if let Some(marked) = mark_unpaid(books, &CostOptions::default()) {
            marks_within_their_costs(&marked).map_err(|told| TestCaseError::fail(compiled.named(&told)))?;
        }
    }
}

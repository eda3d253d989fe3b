//! Every derivation adds up: the steps below a sum come to it, to the last digit, down to what an entry says.

use kerfbook::costing::{CostOptions, CostedBook, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::names::ThingId;
use kerfbook::reports::{Derived, FigureName, Period, WhyReport, WhyRule, WhyStep, report_cost, report_stock, report_why};
use kerfbook::units::Fixed6;
use kerfbook::year::{Books, Forms, TaxYear, mark_unpaid, year_of};
use proptest::prelude::*;
use rust_decimal::Decimal;

use crate::compiled_pages::CompiledPages;
use crate::how_many::books;
use crate::random_book::any_book;
use crate::random_shop::random_shop;

fn figure(text: &str) -> Decimal {
    text.parse().expect("a figure")
}

fn figures(step: &WhyStep) -> (Decimal, Decimal) {
    (figure(&step.paid), figure(&step.full))
}

/// Goes down a derivation; gives how many steps it has.
fn adds_up(step: &WhyStep) -> usize {
    let of_below: Vec<(Decimal, Decimal)> = step.steps.iter().map(figures).collect();
    match step.rule {
        WhyRule::SumOf if !of_below.is_empty() => {
            let sum = of_below.iter().fold((Decimal::ZERO, Decimal::ZERO), |sum, one| (sum.0 + one.0, sum.1 + one.1));
            assert_eq!(sum, figures(step), "{step:#?}");
        }
        WhyRule::SumOf => assert_eq!(figures(step), (Decimal::ZERO, Decimal::ZERO), "a sum of nothing: {step:#?}"),
        WhyRule::PartOf => {
            let [whole] = of_below.as_slice() else { panic!("a part of one thing: {step:#?}") };
            let part = figures(step);
            assert!(part.0.abs() <= whole.0.abs() && part.1.abs() <= whole.1.abs(), "a part above its whole: {step:#?}");
        }
        WhyRule::PerUnit => assert_eq!(of_below.len(), 1, "{step:#?}"),
        WhyRule::Said | WhyRule::Above | WhyRule::Deeper => assert!(of_below.is_empty(), "{step:#?}"),
    }
    1 + step.steps.iter().map(adds_up).sum::<usize>()
}

fn steps_of(report: &WhyReport) -> usize {
    report.steps.iter().map(adds_up).sum()
}

fn top(report: &WhyReport) -> (Decimal, Decimal) {
    report.steps.first().map_or((Decimal::ZERO, Decimal::ZERO), figures)
}

/// Derives every figure of a book, and holds each to the figure of its report. Gives how many steps there were.
fn derive_all(compiled: &CompiledPages, costed: &CostedBook, years: &[TaxYear]) -> usize {
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed };
    let derived = Derived { books, years, levels: 100 };
    let why = |figure: &FigureName| report_why(&derived, figure).expect("small books do not overflow");
    let stock = report_stock(&compiled.book, &compiled.log, costed, None).expect("fits");
    let cost = report_cost(&compiled.book, &compiled.log, costed, Period::default(), None).expect("fits");
    let mut steps = 0;
    for (at, thing) in (0u32..).zip(&compiled.book.things) {
        let report = why(&FigureName::Stock { thing: ThingId(at), on: None });
        let here = costed.stock.iter().filter(|lot| lot.thing == ThingId(at));
        let paid = Fixed6::checked_sum(here.map(|lot| lot.vector.paid().expect("fits"))).expect("fits");
        assert_eq!(top(&report).0, paid.to_decimal().expect("fits"), "{}", thing.named.name);
        assert!(stock.items.iter().any(|item| item.name == thing.named.name) || paid.is_zero());
        steps += steps_of(&report);
        let report = why(&FigureName::Cost { thing: ThingId(at), year: None });
        if let Some(product) = cost.products.iter().find(|product| product.name == thing.named.name)
            && let Some(unit) = &product.per_unit
        {
            let off = (top(&report).1 - figure(&unit.full)).abs();
            assert!(off <= Decimal::new(1, 6), "{}: {report:#?} {unit:?}", thing.named.name);
        }
        steps += steps_of(&report);
    }
    for year in years {
        let report = why(&FigureName::CostOfGoods { year: year.year });
        assert_eq!(top(&report).0, year.cost_of_goods.exact.to_decimal().expect("fits"));
        steps += steps_of(&report);
    }
    steps
}

fn traced(compiled: &CompiledPages) -> CostedBook {
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    let costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
    mark_unpaid(books, &options).unwrap_or(costed)
}

proptest! {
    #![proptest_config(books(40))]

    #[test]
    fn the_cost_and_the_stock_of_a_random_book_are_derived_to_the_last_digit(book in any_book(1..90)) {
        let compiled = CompiledPages::of(&book.pages());
        let plain = compiled.cost(None).map_err(TestCaseError::fail)?;
        let costed = traced(&compiled);
        // The trace looks on and moves nothing.
        prop_assert_eq!(compiled.reports(&plain), compiled.reports(&costed));
        derive_all(&compiled, &costed, &[]);
    }
}

#[test]
fn the_cost_of_goods_of_random_years_is_derived_to_the_last_digit() {
    let forms = Forms::built_in();
    for seed in 0..3 {
        for (basis, stock) in [("accrual", "inventory"), ("cash", "inventory"), ("cash", "supplies")] {
            let costing = if seed % 2 == 0 { "fifo" } else { "average" };
            let shop = format!("    costing {costing}\n    {basis} basis\n    stock kept as {stock}\n");
            let compiled = CompiledPages::of(&vec![("book.kerf".to_owned(), random_shop(seed, &shop, true))]);
            let costed = traced(&compiled);
            let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
            let years = (2024..=2026).filter_map(|year| year_of(books, year, &forms, &mut Diagnostics::default()));
            let years: Vec<TaxYear> = years.collect();
            assert_eq!(years.len(), 3);
            let steps = derive_all(&compiled, &costed, &years);
            assert!(steps > 300, "seed {seed}: only {steps} steps");
        }
    }
}

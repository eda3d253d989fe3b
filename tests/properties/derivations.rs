//! Every derivation adds up: the steps below a sum come to it, to the last digit, down to what an entry says.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use kerfbook::cli::{CompileOptions, compile_book};
use kerfbook::costing::{CostOptions, CostedBook, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::events::EventLog;
use kerfbook::names::{ResolvedBook, ThingId};
use kerfbook::reports::{
    CostFigure, Derived, FigureName, HowDeep, Period, StockFigure, StockOf, WhyReport, WhyRule, WhyStep, report_cost,
    report_stock, report_why,
};
use kerfbook::units::Fixed6;
use kerfbook::year::{Books, Forms, TaxYear, mark_unpaid, year_of};
use proptest::prelude::*;
use rust_decimal::Decimal;

use crate::compiled_pages::CompiledPages;
use crate::how_many::books;
use crate::random_book::any_book;
use crate::random_shop::random_shop;

pub(crate) fn figure(text: &str) -> Decimal {
    text.parse().expect("a figure")
}

pub(crate) fn figures(step: &WhyStep) -> (Decimal, Decimal) {
    (figure(&step.paid), figure(&step.full))
}

/// Goes down a derivation; gives how many steps it has.
pub(crate) fn adds_up(step: &WhyStep) -> usize {
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
        WhyRule::Figured => assert!(!of_below.is_empty(), "{step:#?}"),
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

/// Derives a figure of a book.
fn why(of: &Derived<'_>, figure: FigureName) -> WhyReport {
    report_why(of, figure, HowDeep::Deep).expect("small books do not overflow")
}

/// Derives every figure of a book, and holds each to the figure of its report. Gives the derivations.
fn derive_all(books: Books<'_>, years: &[TaxYear]) -> Vec<WhyReport> {
    let Books { book, log, costed, .. } = books;
    let stock = report_stock(book, log, costed, None).expect("fits");
    let cost = report_cost(book, log, costed, Period::default(), None).expect("fits");
    let of = Derived::of(books, years).expect("costed with its trace");
    let mut derived = Vec::new();
    for (at, thing) in (0u32..).zip(&book.things) {
        let report = why(&of, FigureName::Stock(StockFigure { of: StockOf::Thing(ThingId(at)), on: None }));
        let here = costed.stock.iter().filter(|lot| lot.thing == ThingId(at));
        let paid = Fixed6::checked_sum(here.map(|lot| lot.vector.paid().expect("fits"))).expect("fits");
        assert_eq!(top(&report).0, paid.to_decimal().expect("fits"), "{}", thing.named.name);
        assert!(stock.items.iter().any(|item| item.name == thing.named.name) || paid.is_zero());
        derived.push(report);
        let report = why(&of, FigureName::Cost(CostFigure { thing: ThingId(at), year: None, part: None }));
        if let Some(product) = cost.products.iter().find(|product| product.name == thing.named.name)
            && let Some(unit) = &product.per_unit
        {
            let off = (top(&report).1 - figure(&unit.full)).abs();
            assert!(off <= Decimal::new(1, 6), "{}: {report:#?} {unit:?}", thing.named.name);
        }
        derived.push(report);
    }
    for year in years {
        let report = why(&of, FigureName::CostOfGoods { year: year.year });
        let cents = year.cost_of_goods_line.and_then(|at| year.lines.get(at)).map(|line| line.cents);
        assert_eq!(top(&report).0, cents.unwrap_or(year.cost_of_goods.exact).to_decimal().expect("fits"));
        derived.push(report);
        for (at, line) in year.lines.iter().enumerate() {
            let report = why(&of, FigureName::Line { year: year.year, at });
            assert_eq!(
                top(&report),
                (line.cents.to_decimal().expect("fits"), line.cents.to_decimal().expect("fits")),
                "{}",
                line.number
            );
            derived.push(report);
        }
    }
    derived
}

fn traced(log: &EventLog, book: &ResolvedBook) -> CostedBook {
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    cost_book(log, book, &options, &mut Diagnostics::default())
}

proptest! {
    #![proptest_config(books(40))]

    #[test]
    fn the_cost_and_the_stock_of_a_random_book_are_derived_to_the_last_digit(book in any_book(1..90)) {
        let compiled = CompiledPages::of(&book.pages());
        let plain = compiled.cost(None).map_err(TestCaseError::fail)?;
        let costed = traced(&compiled.log, &compiled.book);
        // The trace looks on and moves nothing.
        prop_assert_eq!(compiled.reports(&plain), compiled.reports(&costed));
        let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
        derive_all(books, &[]).iter().for_each(|report| { steps_of(report); });
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
            let costed = traced(&compiled.log, &compiled.book);
            let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
            let years = (2024..=2026).filter_map(|year| year_of(books, year, &forms, &mut Diagnostics::default()));
            let years: Vec<TaxYear> = years.collect();
            assert_eq!(years.len(), 3);
            let derived = derive_all(books, &years);
            let steps: usize = derived.iter().map(steps_of).sum();
            assert!(steps > 300, "seed {seed}: only {steps} steps");
            // What is not paid at a year's end is marked beside the costs, and changes nothing of how they are derived.
            let options = CostOptions { keep_trace: true, ..CostOptions::default() };
            let marked = mark_unpaid(books, &options);
            assert!(marked.is_some() || basis == "accrual", "seed {seed}: nothing is open over a year's end");
            if let Some(marked) = marked {
                assert_eq!(derive_all(Books { costed: &marked, ..books }, &years), derived);
            }
        }
    }
}

#[test]
fn every_figure_of_the_golden_books_of_stock_is_derived_to_the_last_digit() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden/stock");
    let mut all = 0;
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let options = CompileOptions { today: NaiveDate::from_ymd_opt(2030, 1, 1), ..CompileOptions::default() };
        let compiled = compile_book(&entry.expect("an entry").path(), &Forms::built_in(), options).expect("a book");
        let costed = traced(&compiled.log, &compiled.book);
        let derived = derive_all(Books { costed: &costed, ..compiled.books() }, &compiled.years);
        all += derived.iter().map(steps_of).sum::<usize>();
    }
    assert!(all > 20, "only {all} steps");
}

#[test]
fn every_thing_is_derived_on_from_the_day_on_which_its_pool_is_parted_into_lots() {
    let mut text = SHOP.replace("costing fifo", "costing average");
    text.push_str("place barn \"Barn\"\nmaterial ash \"Ash\"\n    measured in bf\nchanged 2027-01-01 shop\n    costing fifo\n");
    for (day, money) in [("02", "8.00"), ("03", "21.00")] {
        let _ = write!(text, "bought 2026-01-{day} from yard\n    4 bf oak for {money}\n    4 bf ash for {money}\n");
    }
    text.push_str("sent 2026-01-04 to barn\n    3 bf ash\nused-up 2026-01-05\n    3 bf oak\n    1 bf ash\n");
    text.push_str("used-up 2027-01-05\n    2 bf oak\n    1 bf ash\nused-up 2027-01-06 at barn\n    1 bf ash\n");
    let compiled = CompiledPages::of(&vec![("book.kerf".to_owned(), text)]);
    compiled.cost(None).expect("a book without mistakes");
    let costed = traced(&compiled.log, &compiled.book);
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
    let steps: usize = derive_all(books, &[]).iter().map(steps_of).sum();
    assert!(steps > 10, "only {steps} steps");
}

/// The folders of the example books.
fn examples() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("ledger-examples");
    let entries = std::fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
    let mut folders: Vec<PathBuf> = entries.filter(|path| path.is_dir()).collect();
    folders.sort();
    folders
}

#[test]
fn every_figure_of_the_example_books_is_derived_to_the_last_digit() {
    let mut all = 0;
    for folder in examples() {
        let options = CompileOptions { today: NaiveDate::from_ymd_opt(2027, 2, 1), ..CompileOptions::default() };
        let compiled = compile_book(&folder, &Forms::built_in(), options).expect("a book");
        let costed = traced(&compiled.log, &compiled.book);
        let derived = derive_all(Books { costed: &costed, ..compiled.books() }, &compiled.years);
        let steps: usize = derived.iter().map(steps_of).sum();
        assert!(steps > 0, "{}", folder.display());
        all += steps;
    }
    assert!(all > 5000, "only {all} steps");
}

/// Every step of a derivation in words, each after two spaces for each level, with its paid cost and the number of its line.
fn told(step: &WhyStep, level: usize, out: &mut String) {
    let line = step.at.as_ref().map_or_else(String::new, |at| format!(" [{}]", at.line));
    let _ = writeln!(out, "{}{} {}{line}", "  ".repeat(level), step.paid, step.says);
    step.steps.iter().for_each(|step| told(step, level + 1, out));
}

fn derived(text: &str, figure: &str) -> String {
    let compiled = CompiledPages::of(&vec![("book.kerf".to_owned(), text.to_owned())]);
    compiled.cost(None).expect("a book without mistakes");
    let costed = traced(&compiled.log, &compiled.book);
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
    let of = Derived::of(books, &[]).expect("costed with its trace");
    let figure = FigureName::read(figure, of.names()).expect("a figure");
    let mut out = String::new();
    why(&of, figure).steps.iter().for_each(|step| told(step, 0, &mut out));
    out
}

const SHOP: &str = "\
shop \"S\"
    currency USD
    costing fifo
place bench \"Bench\"
    home
material oak \"Oak\"
    measured in bf
product block \"Block\"
channel counter \"Counter\"
";

#[test]
fn goods_that_were_used_to_the_last_name_the_line_that_bought_them() {
    let text = format!(
        "{SHOP}bought 2026-01-02 from yard\n    2 bf oak at 4.00\nbuilt 2026-01-03\n    used 2 bf oak\n    made 4 block\n"
    );
    let expected = "\
2.00 one block, of all that were finished
  8.00 4 block
    8.00 4 block, which were made in batch block/2026-01-03 on 2026-01-03 [14]
      8.00 what had gone into batch block/2026-01-03 [12]
        8.00 used 2 bf oak [13]
          8.00 2 bf oak, which were bought on 2026-01-02 [11]
";
    assert_eq!(derived(&text, "cost/block"), expected);
}

#[test]
fn what_a_bill_says_for_all_its_lines_names_the_weights_by_which_it_is_shared() {
    let text = format!(
        "{SHOP}bought 2026-01-02 from yard\n    4 bf oak at 4.00\n    6 bf oak at 4.00\n    freight 5.00\n    discount 1.00\n"
    );
    let expected = "\
17.60 4 bf oak, which were bought on 2026-01-02 [11]
  16.00 its price [11]
  -0.40 less its share of the discount of 1.00: 16.00 of 40.00 by value [10]
  2.00 its share of the freight of 5.00: 16.00 of 40.00 by value [10]
";
    assert_eq!(derived(&text, "lot/oak/2026-01-02"), expected);
    let by_quantity = text.replace("freight 5.00", "freight 5.00 shared by quantity");
    assert!(
        derived(&by_quantity, "lot/oak/2026-01-02-2")
            .contains("3.00 its share of the freight of 5.00: 60% of all that came, by how much it is")
    );
}

#[test]
fn the_sum_of_a_sale_is_what_it_brought_in_less_what_it_cost() {
    let mut text = format!(
        "{SHOP}bought 2026-01-02 from yard\n    2 bf oak at 4.00\nbuilt 2026-01-03\n    used 2 bf oak\n    made 4 block\n"
    );
    text.push_str("sold 2026-01-04 via counter\n    2 block at 9.00\nsold 2026-01-04 via counter\n    1 block at 8.00\n");
    let expected = "\
6.00 what is left of order 2026-01-04
  8.00 revenue
    8.00 2026-01-04 for block [18]
  -2.00 less cost of goods
    -2.00 2026-01-04 1 block of the 4 that were made in batch block/2026-01-03 on 2026-01-03 [18]
      8.00 4 block, which were made in batch block/2026-01-03 on 2026-01-03 [14]
        8.00 what had gone into batch block/2026-01-03 [12]
          8.00 used 2 bf oak [13]
            8.00 2 bf oak, which were bought on 2026-01-02 [11]
";
    assert_eq!(derived(&text, "order/2026-01-04"), expected);
}

#[test]
fn a_bench_that_was_told_of_is_told_on_from_there() {
    let mut text = format!(
        "{SHOP}bought 2026-01-02 from yard\n    8 bf oak at 4.00\nstarted 2026-01-03 batch B\n    aims at 4 block\n    used 4 bf oak\n"
    );
    text.push_str(
        "finished 2026-01-04 batch B\n    made 1 block\nfinished 2026-01-05 batch B\n    used 1 bf oak\n    made 3 block\n",
    );
    let expected = "\
5.00 one block, of all that were finished
  20.00 4 block
    4.00 1 block, which was made in batch B on 2026-01-04 [16]
      4.00 taken off the bench of batch B: of materials 1 of 1 + 3 weighted pieces, of the work 1 of 1 + 3 x 100% [15]
        16.00 what had gone into batch B [15]
          16.00 used 4 bf oak of the 8 that were bought on 2026-01-02 [14]
            32.00 8 bf oak, which were bought on 2026-01-02 [11]
    16.00 3 block, which were made in batch B on 2026-01-05 [19]
      16.00 what had gone into batch B and not yet come out [17]
        12.00 what was left when 1 weighted piece had been taken off [15]
        4.00 used 1 bf oak of the 8 that were bought on 2026-01-02 [18]
          32.00 8 bf oak, which were bought on 2026-01-02 [11]
";
    assert_eq!(derived(&text, "cost/block"), expected);
}

#[test]
fn a_pool_is_told_once_and_names_the_credit_that_lowered_it() {
    let shop = SHOP.replace("costing fifo", "costing average");
    let mut text = format!("{shop}bought 2026-01-02 from yard receipt \"Y-1\"\n    10 bf oak at 4.00\n");
    text.push_str("credited 2026-01-03 by yard receipt \"Y-1\"\n    10.00 off oak \"bark\"\n");
    text.push_str(
        "started 2026-01-04 batch LATE\n    used 2 bf oak\nbuilt 2026-01-05 batch SOON\n    used 4 bf oak\n    made 4 block\n",
    );
    text.push_str("finished 2026-01-06 batch LATE\n    made 2 block\n");
    let expected = "\
3.00 one block, of all that were finished
  18.00 6 block
    12.00 4 block, which were made in batch SOON on 2026-01-05 [18]
      12.00 what had gone into batch SOON [16]
        12.00 used 4 bf oak at the average of what was there [17]
          24.00 what was at bench: 8 bf oak
            40.00 10 bf oak, which were bought on 2026-01-02 [11]
            -10.00 2026-01-03 the supplier's credit on it [13]
            -6.00 2 went in 1 piece before
    6.00 2 block, which were made in batch LATE on 2026-01-06 [20]
      6.00 what had gone into batch LATE [19]
        6.00 used 2 bf oak at the average of what was there [15]
          30.00 what was at bench: 10 bf oak
            30.00 what had come by then: 10
";
    assert_eq!(derived(&text, "cost/block"), expected);
}

//! Every figure of a book: its name reads back, its derivation adds up at each level, it is what the reports print, and a folded derivation is the
//! deep one up to where it folds.

use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use kerfbook::cli::{CompileOptions, compile_book};
use kerfbook::costing::{CostOptions, CostedBook, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::reports::{
    CostFigure, CostPart, CostReport, Derived, FigureName, HowDeep, OrderFigure, OrderPart, PerUnit, Period, StockFigure,
    StockKind, StockOf, StockReport, WhyMeasure, WhyReport, WhyRule, WhyStep, YearReport, report_cost, report_pays, report_stock,
    report_why, report_year,
};
use kerfbook::year::{Books, Forms, TaxYear};
use proptest::prelude::*;
use rust_decimal::Decimal;

use crate::compiled_pages::CompiledPages;
use crate::derivations::{adds_up, figure, figures};
use crate::how_many::books;
use crate::random_book::any_book;

/// The reports to which figures are held, made without a trace.
struct Printed {
    cost: CostReport,
    cost_of_year: Vec<(i32, CostReport)>,
    stock: StockReport,
    years: Vec<YearReport>,
    revenue: Decimal,
    paid_cost: Decimal,
}

impl Printed {
    fn of(books: Books<'_>, plain: &CostedBook, years: &[TaxYear]) -> Self {
        let Books { book, log, .. } = books;
        let cost = |period| report_cost(book, log, plain, period, None).expect("fits");
        let of_years = book_years(plain).map(|year| (year, cost(Period::year(year)))).collect();
        let pays = report_pays(book, log, plain, Period::default(), &|_| None, &[]).expect("fits");
        Self {
            cost: cost(Period::default()),
            cost_of_year: of_years,
            stock: report_stock(book, log, plain, None).expect("fits"),
            years: years.iter().map(|year| report_year(Books { costed: plain, ..books }, year).expect("fits")).collect(),
            revenue: figure(&pays.totals.sums.revenue),
            paid_cost: figure(&pays.totals.sums.paid_cost),
        }
    }

    /// Holds a figure to the report that prints it; gives whether one does.
    fn holds(&self, name: FigureName, report: &WhyReport, books: Books<'_>, years: &[TaxYear]) -> bool {
        let first = report.steps.first();
        let both = first.map_or((Decimal::ZERO, Decimal::ZERO), figures);
        match name {
            FigureName::Cost(CostFigure { thing, year, part }) => {
                let cost = match year {
                    None => &self.cost,
                    Some(year) => &self.cost_of_year.iter().find(|(one, _)| *one == year).expect("a year").1,
                };
                let name = &books.book.thing(thing).named.name;
                let product = cost.products.iter().find(|product| product.name == *name).expect("it was made");
                let unit = product.per_unit.as_ref().expect("it was made");
                match part {
                    None => assert_eq!(first.map(|step| (&step.paid, &step.full)), Some((&unit.paid, &unit.full)), "{report:#?}"),
                    Some(CostPart::Minutes) => {
                        assert_eq!(first.map(|step| step.paid.clone()), product.minutes_per_unit, "{report:#?}");
                    }
                    Some(part) => assert_eq!(first.map(|step| step.paid.as_str()), Some(column(unit, part)), "{report:#?}"),
                }
            }
            FigureName::Stock(StockFigure { of: what, .. }) => {
                let (printed, rows) = match what {
                    StockOf::Thing(thing) => {
                        let name = &books.book.thing(thing).named.name;
                        let rows: Vec<_> = self.stock.items.iter().filter(|item| item.name == *name).collect();
                        let sum = |of: fn(&kerfbook::reports::StockItem) -> &str| rows.iter().map(|row| figure(of(row))).sum();
                        ((sum(|row| &row.paid), Some(sum(|row| &row.full))), rows.len())
                    }
                    StockOf::Kind(kind) => (self.stock_of(kind), 1),
                };
                // A printed column adds up to its total, so each row may be a cent off.
                let cents = Decimal::new(i64::try_from(rows).expect("few"), 2);
                assert!((both.0 - printed.0).abs() <= cents, "{printed:?} {report:#?}");
                assert!(printed.1.is_none_or(|full| (both.1 - full).abs() <= cents), "{printed:?} {report:#?}");
            }
            FigureName::CostOfGoods { year } | FigureName::Line { year, .. } => {
                let number = report.figure.rsplit_once("line-").expect("a line").1;
                let printed = self.years.iter().zip(years).find(|(_, one)| one.year == year).expect("a year").0;
                let line = printed.lines.iter().find(|line| line.line == number).expect("a line");
                assert_eq!(both.0, figure(&line.cents), "{report:#?}");
            }
            FigureName::Batch(_) if first.is_some() => {
                let [collected, gave] = report.steps.as_slice() else { panic!("what came and what went: {report:#?}") };
                assert_eq!(figures(collected), figures(gave), "{report:#?}");
            }
            _ => return false,
        }
        true
    }

    fn stock_of(&self, kind: StockKind) -> (Decimal, Option<Decimal>) {
        let totals = &self.stock.totals;
        match kind {
            StockKind::Materials => (figure(&totals.materials), None),
            StockKind::Wear => (figure(&totals.wear), None),
            StockKind::Packing => (figure(&totals.packing), None),
            StockKind::Products => (figure(&totals.products), None),
            StockKind::OnTheBench => (figure(&totals.on_the_bench), None),
            StockKind::All => (figure(&totals.paid), Some(figure(&totals.full))),
        }
    }
}

fn book_years(costed: &CostedBook) -> impl Iterator<Item = i32> {
    costed.year_ends.iter().map(|end| end.year)
}

fn column(unit: &PerUnit, part: CostPart) -> &str {
    match part {
        CostPart::Materials => &unit.materials,
        CostPart::Wear => &unit.wear,
        CostPart::BoughtInTime => &unit.bought_in_time,
        CostPart::Royalty => &unit.royalty,
        CostPart::Paid => &unit.paid,
        CostPart::OwnTime => &unit.own_time,
        CostPart::Overhead => &unit.overhead,
        CostPart::Full => &unit.full,
        CostPart::Minutes => panic!("minutes stand beside"),
    }
}

/// Holds a folded step to the deep one. Gives how many steps were the same.
fn agrees(folded: &WhyStep, deep: &WhyStep) -> usize {
    assert_eq!((figures(folded), &folded.figure, &folded.at), (figures(deep), &deep.figure, &deep.at), "{folded:#?} {deep:#?}");
    if folded.rule == WhyRule::Deeper || deep.rule == WhyRule::Above {
        return 1;
    }
    assert_eq!((&folded.says, folded.rule), (&deep.says, deep.rule));
    // A pool or a bench that the deep one reached before is told on from there.
    let told_on = |step: &WhyStep| step.steps.iter().any(|below| below.rule == WhyRule::Above);
    if told_on(deep) {
        return 1;
    }
    assert_eq!(folded.steps.len(), deep.steps.len(), "{folded:#?} {deep:#?}");
    1 + folded.steps.iter().zip(&deep.steps).map(|(folded, deep)| agrees(folded, deep)).sum::<usize>()
}

/// What is said of the book's figures in all.
#[derive(Default)]
struct Told {
    figures: usize,
    printed: usize,
    steps: usize,
    agreed: usize,
}

/// Derives every figure of a book that is asked for, and holds each to what is true of all.
fn hold_all(books: Books<'_>, plain: &CostedBook, years: &[TaxYear], asked: fn(usize, FigureName) -> bool) -> Told {
    let of = Derived::of(books, years).expect("costed with its trace");
    let printed = Printed::of(books, plain, years);
    let mut told = Told::default();
    let (mut revenue, mut paid_cost) = (Decimal::ZERO, Decimal::ZERO);
    let all = of.names().all();
    let mut texts: Vec<String> = all.iter().map(|name| name.text(of.names())).collect();
    for (at, (name, text)) in all.into_iter().zip(&texts).enumerate() {
        assert_eq!(FigureName::read(text, of.names()), Ok(name), "{text}");
        if !asked(at, name) {
            continue;
        }
        let deep = report_why(&of, name, HowDeep::Deep).expect("small books do not overflow");
        assert_eq!(deep.figure, *text);
        assert!(!deep.answer.is_empty(), "{text}");
        told.figures += 1;
        told.steps += deep.steps.iter().map(adds_up).sum::<usize>();
        told.printed += usize::from(printed.holds(name, &deep, books, years));
        let folded = report_why(&of, name, HowDeep::Fold).expect("fits");
        assert_eq!(folded.answer, deep.answer);
        assert_eq!(folded.steps.len(), deep.steps.len());
        told.agreed += folded.steps.iter().zip(&deep.steps).map(|(folded, deep)| agrees(folded, deep)).sum::<usize>();
        let one_amount = deep.measure != WhyMeasure::PaidAndFull;
        assert!(!one_amount || deep.steps.iter().all(|step| step.paid == step.full), "{text}");
        match name {
            FigureName::Order(OrderFigure { part: Some(OrderPart::Revenue), .. }) => revenue += figure(&deep.steps[0].paid),
            FigureName::Order(OrderFigure { part: Some(OrderPart::CostOfGoods), .. }) => paid_cost += figure(&deep.steps[0].paid),
            _ => {}
        }
    }
    if asked(usize::MAX, FigureName::CostOfGoods { year: 0 }) {
        let cent = Decimal::new(1, 2);
        assert!((revenue - printed.revenue).abs() <= cent, "{revenue} {}", printed.revenue);
        assert!((paid_cost - printed.paid_cost).abs() <= cent, "{paid_cost} {}", printed.paid_cost);
    }
    texts.sort_unstable();
    assert!(texts.windows(2).all(|two| two[0] != two[1]), "a name stands for two figures");
    told
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
fn every_figure_of_the_example_books_adds_up_to_what_the_reports_print() {
    for folder in examples() {
        let options = CompileOptions { today: NaiveDate::from_ymd_opt(2027, 2, 1), ..CompileOptions::default() };
        let compiled = compile_book(&folder, &Forms::built_in(), options).expect("a book");
        let options = CostOptions { keep_trace: true, ..CostOptions::default() };
        let costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
        let books = Books { costed: &costed, ..compiled.books() };
        let told = hold_all(books, &compiled.costed, &compiled.years, |_, _| true);
        let Told { figures, printed, steps, agreed } = told;
        assert!(figures > 20 && printed > 5 && steps > figures && agreed > figures, "{figures} {printed} {steps} {agreed}");
        if folder.ends_with("wren-and-gable") {
            assert!(figures > 1000 && printed > 300, "{figures} figures, {printed} of them printed");
        }
    }
}

proptest! {
    #![proptest_config(books(24))]

    #[test]
    fn every_figure_of_a_random_book_adds_up_to_what_the_reports_print(book in any_book(1..60)) {
        let compiled = CompiledPages::of(&book.pages());
        let plain = compiled.cost(None).map_err(TestCaseError::fail)?;
        let options = CostOptions { keep_trace: true, ..CostOptions::default() };
        let costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
        let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
        // Of the parts each is tried on some of the books' costs.
        hold_all(books, &plain, &[], |at, name| match name {
            FigureName::Cost(CostFigure { part: Some(_), .. }) => at % 2 == 0,
            FigureName::Lot(figure) => figure.part.is_none() || at % 7 == 0,
            FigureName::Batch(figure) => figure.part.is_none() || at % 5 == 0,
            _ => true,
        });
    }
}

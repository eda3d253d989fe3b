//! The whole way: no panic in any stage, and where nothing is wrong with a book the proof holds and every report can be written.

use std::sync::OnceLock;

use kerfbook::cli::{CompileOptions, Compiled, compile_sources};
use kerfbook::costing::{CostOptions, cost_book};
use kerfbook::diagnostics::{Diagnostics, TextStyle, render_text};
use kerfbook::render::render_json;
use kerfbook::render::text::{Look, text_cost, text_pays, text_proof, text_stock, text_why, text_year};
use kerfbook::reports::{
    Derived, FigureName, HowDeep, Period, report_cost, report_pays, report_proof, report_stock, report_why, report_year,
};
use kerfbook::sources::{Loaded, SourceSet};
use kerfbook::year::{Forms, mark_unpaid};
use rust_decimal::Decimal;

/// How many levels of a derivation are told.
const LEVELS: usize = 6;

/// What stands before the bytes, where they define no shop: so that what the fuzzer writes are entries that may compile.
const DEFINITIONS: &str = include_str!("definitions.kerf");

/// The forms, read once.
static FORMS: OnceLock<Forms> = OnceLock::new();

/// Compiles the bytes.
pub fn compile(bytes: &[u8]) {
    let text = super::as_text(bytes);
    let mut sources = SourceSet::default();
    if !text.starts_with("shop") {
        sources.add("shop.kerf", DEFINITIONS).expect("a short text fits");
    }
    sources.add("book.kerf", &text).expect("a short text fits");
    let loaded = Loaded { sources, damaged: Vec::new() };
    let options = CompileOptions { today: chrono::NaiveDate::from_ymd_opt(2027, 2, 1), ..CompileOptions::default() };
    let forms = FORMS.get_or_init(Forms::built_in);
    let compiled = compile_sources(loaded, forms, options, &|path| path.len() % 2 == 0);
    let found = compiled.found.clone().into_sorted();
    let _ = render_text(&compiled.sources, &found, TextStyle::default());
    if compiled.found.has_errors() {
        return;
    }
    assert!(compiled.costed.proof.holds(), "the proof does not hold:\n{text}");
    write_reports(&compiled);
    derive_figures(compiled);
}

/// Every report, as text and JSON.
fn write_reports(compiled: &Compiled) {
    let Compiled { book, log, costed, years, .. } = compiled;
    let look = Look::default();
    let all = Period::default();
    if let Some(report) = report_cost(book, log, costed, all, None) {
        let _ = text_cost(&report, look);
        let _ = render_json(&report).expect("JSON");
    }
    if let Some(report) = report_stock(book, log, costed, None) {
        let _ = text_stock(&report, look);
        let _ = render_json(&report).expect("JSON");
    }
    if let Some(report) = report_pays(book, log, costed, all, &|_| Some(Decimal::new(70, 2)), &[]) {
        let _ = text_pays(&report, look);
        let _ = render_json(&report).expect("JSON");
    }
    let proof = report_proof(book, costed, log.first_day);
    let _ = text_proof(&proof, look);
    let _ = render_json(&proof).expect("JSON");
    for year in years {
        if let Some(report) = report_year(compiled.books(), year) {
            let _ = text_year(&report, look);
            let _ = render_json(&report).expect("JSON");
        }
    }
}

/// The derivation of every figure that has one, from the book costed once more with its trace.
fn derive_figures(mut compiled: Compiled) {
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    compiled.costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    if let Some(marked) = mark_unpaid(compiled.books(), &options) {
        compiled.costed = marked;
    }
    let Some(derived) = Derived::of(compiled.books(), &compiled.years) else { return };
    for (at, figure) in derived.names().all().into_iter().enumerate() {
        assert_eq!(
            FigureName::read(&figure.text(derived.names()), derived.names()),
            Ok(figure),
            "a figure reads back from its name"
        );
        if let Some(report) = report_why(&derived, figure, if at % 5 == 0 { HowDeep::Levels(LEVELS) } else { HowDeep::Fold }) {
            let _ = text_why(&report, Look::default());
            let _ = render_json(&report).expect("JSON");
        }
    }
}

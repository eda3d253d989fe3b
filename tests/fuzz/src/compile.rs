//! The whole way: no panic in any stage, and where nothing is wrong with a book the proof holds and every report can be written.

use std::sync::OnceLock;

use kerfbook::costing::{CostOptions, cost_book};
use kerfbook::diagnostics::{Diagnostics, TextStyle, render_text};
use kerfbook::events::build_events;
use kerfbook::names::resolve_book;
use kerfbook::render::render_json;
use kerfbook::render::text::{Look, text_cost, text_pays, text_proof, text_stock, text_year};
use kerfbook::reports::{Period, report_cost, report_pays, report_proof, report_stock, report_year};
use kerfbook::sources::SourceSet;
use kerfbook::syntax::parse_book;
use kerfbook::year::{Books, Forms, mark_unpaid, year_of, years_of};
use rust_decimal::Decimal;

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
    let mut found = Diagnostics::default();
    let syntax = parse_book(&sources, &mut found);
    let book = resolve_book(&sources, &syntax, &mut found);
    let today = chrono::NaiveDate::from_ymd_opt(2027, 2, 1);
    let log = build_events(&sources, syntax, &book, today, &|path| path.len() % 2 == 0, &mut found);
    let options = CostOptions::default();
    let mut costed = cost_book(&log, &book, &options, &mut found);
    let _ = render_text(&sources, &found.clone().into_sorted(), TextStyle::default());
    if found.has_errors() {
        return;
    }
    assert!(costed.proof.holds(), "the proof does not hold:\n{text}");
    if let Some(marked) = mark_unpaid(Books { sources: &sources, book: &book, log: &log, costed: &costed }, &options) {
        costed = marked;
        assert!(costed.proof.holds(), "the proof of the marked costs does not hold:\n{text}");
    }
    let look = Look::default();
    let all = Period::default();
    if let Some(report) = report_cost(&book, &log, &costed, all, None) {
        let _ = text_cost(&report, look);
        let _ = render_json(&report).expect("JSON");
    }
    if let Some(report) = report_stock(&book, &log, &costed, None) {
        let _ = text_stock(&report, look);
        let _ = render_json(&report).expect("JSON");
    }
    if let Some(report) = report_pays(&book, &log, &costed, all, &|_| Some(Decimal::new(70, 2)), None) {
        let _ = text_pays(&report, look);
        let _ = render_json(&report).expect("JSON");
    }
    let proof = report_proof(&book, &costed, log.first_day);
    let _ = text_proof(&proof, look);
    let _ = render_json(&proof).expect("JSON");
    let forms = FORMS.get_or_init(Forms::built_in);
    let books = Books { sources: &sources, book: &book, log: &log, costed: &costed };
    for of in years_of(books, forms) {
        let mut told = Diagnostics::default();
        let figured = year_of(books, of, forms, &mut told).filter(|_| !told.has_errors());
        if let Some(report) = figured.and_then(|year| report_year(books, &year)) {
            let _ = text_year(&report, look);
            let _ = render_json(&report).expect("JSON");
        }
    }
}

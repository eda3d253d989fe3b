//! A random book brought through the stages, and its reports as bytes.

use chrono::NaiveDate;
use kerfbook::costing::{CostOptions, CostedBook, cost_book};
use kerfbook::diagnostics::{Diagnostics, Severity, render_short};
use kerfbook::events::{EventLog, build_events};
use kerfbook::names::{ResolvedBook, resolve_book};
use kerfbook::reports::{Period, YearReport, report_cost, report_pays, report_proof, report_stock, report_year};
use kerfbook::sources::SourceSet;
use kerfbook::syntax::parse_book;
use kerfbook::year::{Books, Forms, mark_unpaid, year_of, years_of};
use rust_decimal::Decimal;

use crate::random_book::Pages;

/// A book after the last stage before costing.
pub(crate) struct CompiledPages {
    pub(crate) sources: SourceSet,
    pub(crate) book: ResolvedBook,
    pub(crate) log: EventLog,
    found: Diagnostics,
}

impl CompiledPages {
    /// Reads the pages.
    pub(crate) fn of(pages: &Pages) -> Self {
        let mut sources = SourceSet::default();
        for (path, text) in pages {
            sources.add(path.clone(), text).expect("a small book fits");
        }
        let mut found = Diagnostics::default();
        let syntax = parse_book(&sources, &mut found);
        let book = resolve_book(&sources, &syntax, &mut found);
        let log = build_events(&sources, syntax, &book, None, &|_| true, &mut found);
        Self { sources, book, log, found }
    }

    /// Costs the book up to a day, or all of it. Gives the errors as lines where there are any.
    pub(crate) fn cost(&self, until: Option<NaiveDate>) -> Result<CostedBook, String> {
        let mut found = self.found.clone();
        let options = CostOptions { until, ..CostOptions::default() };
        let costed = cost_book(&self.log, &self.book, &options, &mut found);
        let errors: Vec<_> = found.into_sorted().into_iter().filter(|one| one.severity == Severity::Error).collect();
        if errors.is_empty() { Ok(costed) } else { Err(render_short(&self.sources, &errors)) }
    }

    /// Every report of a costed book, as JSON.
    pub(crate) fn reports(&self, costed: &CostedBook) -> Vec<(String, String)> {
        let mut out = Vec::new();
        let all = Period::default();
        // The rate of a mile is the tax year's matter; any rate will do.
        let rate = |_: NaiveDate| Some(Decimal::new(70, 2));
        let mut add = |name: &str, report: Result<String, serde_json::Error>| {
            out.push((name.to_owned(), report.expect("a report is JSON")))
        };
        add("cost", serde_json::to_string_pretty(&report_cost(&self.book, &self.log, costed, all, None).expect("cost fits")));
        add("stock", serde_json::to_string_pretty(&report_stock(&self.book, &self.log, costed, None).expect("stock fits")));
        add(
            "pays",
            serde_json::to_string_pretty(&report_pays(&self.book, &self.log, costed, all, &rate, &[]).expect("pays fits")),
        );
        add("proof", serde_json::to_string_pretty(&report_proof(&self.book, costed, self.log.first_day)));
        for year in self.years(costed) {
            add("year", serde_json::to_string_pretty(&year));
        }
        out
    }

    /// The years of the book that the form has data for. Where an open question names a line by its file, its text stands instead: which files
    /// there are is the one thing that a report may say otherwise.
    fn years(&self, costed: &CostedBook) -> Vec<YearReport> {
        let forms = Forms::built_in();
        let mut books = Books { sources: &self.sources, book: &self.book, log: &self.log, costed };
        let options = CostOptions { until: costed.until, ..CostOptions::default() };
        let marked = mark_unpaid(books, &options);
        books.costed = marked.as_ref().unwrap_or(costed);
        let mut years = Vec::new();
        for of in years_of(books, &forms) {
            let mut found = Diagnostics::default();
            let year = year_of(books, of, &forms, &mut found);
            assert_eq!(found.count(Severity::Error), 0, "{of}: {}", render_short(&self.sources, found.as_slice()));
            let mut report = report_year(books, &year.expect("a tax year")).expect("year fits");
            for entry in report.open_questions.iter_mut().flat_map(|question| &mut question.entries) {
                *entry = self.line_at(entry);
            }
            years.push(report);
        }
        years
    }

    /// The text of `path:line`.
    fn line_at(&self, place: &str) -> String {
        let (path, line) = place.rsplit_once(':').expect("a file and a line");
        let file = self.sources.files().iter().find(|file| file.path == path).expect("a file of the book");
        let line: usize = line.parse().expect("a line's number");
        self.sources.text(file.span).lines().nth(line - 1).expect("a line of the file").trim().to_owned()
    }
}

impl CompiledPages {
    /// What is told of a book, with the entries' heads and the things' names at its end.
    pub(crate) fn named(&self, told: &str) -> String {
        let events =
            self.log.events.iter().enumerate().map(|(at, event)| format!("event {at}: {}\n", self.sources.text(event.head)));
        let things = self.book.things.iter().enumerate().map(|(at, thing)| format!("thing {at}: {}\n", thing.named.name));
        format!("{told}\n{}{}", events.collect::<String>(), things.collect::<String>())
    }
}

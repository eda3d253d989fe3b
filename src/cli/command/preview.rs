//! `kerfbook preview`: the pages in a browser on this machine, made anew when a file is saved.
//!
//! A book with mistakes shows them in place of every page, so that no figure is shown that the book no longer says.

use std::collections::BTreeMap;
use std::path::Path;
use std::thread::Builder;

use super::site::make_site;
use super::{Book, Done};
use crate::cli::args::PreviewArgs;
use crate::cli::clock::Timer;
use crate::cli::compile::{CompileOptions, compile_sources};
use crate::cli::faults::proof_fails;
use crate::cli::forms::read_forms;
use crate::cli::options::{BookOptions, today};
use crate::cli::outcome::Outcome;
use crate::cli::preview::{Shown, ShownPages, serve, take_port};
use crate::cli::progress::Progress;
use crate::cli::streams::Streams;
use crate::cli::templates::read_templates;
use crate::cli::watch::Watch;
use crate::diagnostics::{Diagnostic, Diagnostics, Severity, TextStyle, render_each};
use crate::render::html::{Mistake, render_mistakes};
use crate::reports::Period;
use crate::sources::{LineIndex, SourceSet, load_book};

/// How many findings the page tells; a book may have thousands after one slip.
const MOST_TOLD: usize = 200;

/// Runs it.
pub(super) fn run(args: &PreviewArgs, streams: &Streams) -> Done {
    let options = BookOptions::meant(&args.book).map_err(Outcome::refused)?;
    options.is_folder().map_err(Outcome::refused)?;
    let folder = options.folder;
    let (listener, port) = take_port(args.port).map_err(Outcome::refused)?;
    let mut watch = Watch::begin(&folder, args.templates.as_deref());
    let make = |watch: &Watch| {
        let timer = Timer::start();
        let progress = Progress::begin();
        let made = make_pages(args, &folder, watch);
        drop(progress);
        (made, timer.taken().as_millis())
    };
    let (made, took) = make(&watch);
    let words = made.words();
    let shown = Shown::new(made.pages()?);
    let served = shown.clone();
    let server = Builder::new().name("preview".to_owned()).spawn(move || serve(&listener, port, &served));
    server.map_err(|fault| Outcome::refused(format!("no page can be served: {fault}")))?;
    streams.say(&format!("the pages are at http://127.0.0.1:{port}/ (Ctrl-C ends)\n{words}; took {took} ms\n"));
    loop {
        let changed = watch.wait();
        let (made, took) = make(&watch);
        let words = made.words();
        shown.show(made.pages()?);
        // The pages go on where nobody reads these words any more.
        streams.say(&format!("{}; {words}; took {took} ms\n", changed.words()));
    }
}

/// What came of a book: its pages, or why there are none.
enum Made {
    Site(BTreeMap<String, String>),
    Nothing { sentence: String, mistakes: Vec<Mistake> },
}

impl Made {
    fn pages(self) -> Result<ShownPages, Outcome> {
        Ok(match self {
            Self::Site(files) => ShownPages::Site(files),
            Self::Nothing { sentence, mistakes } => {
                ShownPages::Instead(render_mistakes(&sentence, &mistakes).map_err(Outcome::refused)?)
            }
        })
    }

    fn words(&self) -> String {
        match self {
            Self::Site(files) => format!("{} pages", files.keys().filter(|name| name.ends_with(".html")).count()),
            Self::Nothing { sentence, .. } => sentence.lines().next().unwrap_or("").to_owned(),
        }
    }

    /// Where something stands in the way as a whole.
    fn refused(outcome: &Outcome) -> Self {
        let words = outcome.err.trim_end();
        Self::Nothing { sentence: words.strip_prefix("kerfbook: ").unwrap_or(words).to_owned(), mistakes: Vec::new() }
    }
}

/// Reads the book, the templates and the forms as they are now, and makes the pages.
fn make_pages(args: &PreviewArgs, folder: &Path, watch: &Watch) -> Made {
    let made = || -> Result<Made, Outcome> {
        let today = today(&args.book).map_err(Outcome::refused)?;
        let own = read_templates(args.templates.as_deref()).map_err(Outcome::refused)?;
        let forms = read_forms(folder).map_err(Outcome::refused)?;
        let loaded = load_book(folder).map_err(Outcome::refused)?;
        let compiling = CompileOptions { today, ..CompileOptions::default() };
        let compiled = compile_sources(loaded, &forms, compiling, &|path| watch.has_paper(path));
        if compiled.found.has_errors() {
            return Ok(tell_mistakes(&compiled.sources, compiled.found));
        }
        if !compiled.costed.proof.holds() {
            return Err(proof_fails());
        }
        let book = Book { compiled, forms, folder: folder.to_owned(), today };
        Ok(Made::Site(make_site(&book, Period::default(), &own)?))
    };
    made().unwrap_or_else(|outcome| Made::refused(&outcome))
}

/// Everything that was found, as `kerfbook check` tells it.
fn tell_mistakes(sources: &SourceSet, found: Diagnostics) -> Made {
    let found = found.into_sorted();
    let count = found.iter().filter(|one| one.severity == Severity::Error).count();
    let words = if count == 1 { "1 mistake".to_owned() } else { format!("{count} mistakes") };
    let told = found.get(..found.len().min(MOST_TOLD)).unwrap_or_default();
    let more = match found.len() - told.len() {
        0 => String::new(),
        more => format!(" The first {} findings are told here; `kerfbook check` tells the other {more} too.", told.len()),
    };
    let index = LineIndex::of(sources);
    let place = |one: &Diagnostic| {
        index.place(one.primary.span.start).map_or_else(String::new, |place| format!("{}, line {}", place.path, place.line))
    };
    let texts = render_each(sources, told, TextStyle::default());
    let mistakes = told.iter().zip(texts).map(|(one, text)| Mistake { place: place(one), text }).collect();
    let sentence = format!("{words} in the book; its figures are shown when it is mended and saved.{more}");
    Made::Nothing { sentence, mistakes }
}

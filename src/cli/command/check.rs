//! `kerfbook check`: mistakes, warnings, and the proof in one line.

use std::path::Path;

use super::{Done, check_fix};
use crate::cli::args::{CheckArgs, FindingsFormat};
use crate::cli::clock::Timer;
use crate::cli::compile::{CompileOptions, Compiled, compile_sources};
use crate::cli::faults::proof_fails;
use crate::cli::forms::read_forms;
use crate::cli::options::{BookOptions, today};
use crate::cli::outcome::{Outcome, Status};
use crate::cli::progress::Progress;
use crate::cli::streams::Streams;
use crate::cli::watch::Watch;
use crate::cli::write_report::write_report;
use crate::diagnostics::{Diagnostic, Severity, TextStyle, model_diagnostics, render_short, render_text};
use crate::render::render_json;
use crate::reports::{CheckReport, MendedModel, PROOF_WAITS, Period, proof_line};
use crate::sources::{Loaded, SourceSet, exists_in_book, load_book};
use crate::year::Forms;

/// Runs it.
pub(super) fn run(args: &CheckArgs, streams: &Streams) -> Done {
    let options = BookOptions::meant(&args.book).map_err(Outcome::refused)?;
    if args.fix {
        return check_fix::run(args, &options, streams);
    }
    if args.watch {
        options.is_folder().map_err(Outcome::refused)?;
        return watch(args, &options.folder, streams);
    }
    let checked = check(&options, &|path| exists_in_book(&options.folder, path))?;
    let style = if args.out.is_some() { TextStyle::default() } else { streams.out.style() };
    let made = checked.words(args.format, style)?;
    let out = match &args.out {
        Some(path) => write_report(path, &options.folder, &made)?,
        None => made,
    };
    let status = checked.status();
    // A large book takes longer to take apart in memory than the process has left to live.
    std::mem::forget(checked);
    Ok(Outcome { out, more: Vec::new(), err: String::new(), status })
}

/// Checks whenever a file is saved, for as long as anybody reads what it says. A book that can't be read may be one by the next save.
fn watch(args: &CheckArgs, folder: &Path, streams: &Streams) -> Done {
    let mut watch = Watch::begin(folder, None);
    loop {
        let timer = Timer::start();
        let progress = Progress::begin();
        let options = BookOptions { folder: folder.to_owned(), today: today(&args.book).map_err(Outcome::refused)? };
        let checked = check(&options, &|path| watch.has_paper(path));
        let made = checked.as_ref().map_err(Clone::clone).and_then(|checked| checked.words(args.format, streams.out.style()));
        drop(progress);
        let outcome = match (&checked, &made) {
            (Ok(checked), Ok(_)) => checked.summary.in_short(),
            _ => "the book can't be checked".to_owned(),
        };
        let line = format!("{outcome}; took {} ms; waiting for a save (Ctrl-C ends)\n", timer.taken().as_millis());
        // JSON is for a program, which is to find nothing else on standard output.
        let is_json = args.format == FindingsFormat::Json;
        let (mut out, mut err) = made.map_or_else(|refused| (refused.out, refused.err), |made| (made, String::new()));
        if is_json { &mut err } else { &mut out }.push_str(&line);
        // Let go before the wait, which may be long.
        drop(checked);
        streams.print(&Outcome { out: String::new(), more: Vec::new(), err, status: Status::Good });
        if !streams.say(&out) {
            return Ok(Outcome::said(String::new()));
        }
        let saved = format!("\n{}\n", watch.wait().words());
        if !is_json && !streams.say(&saved) {
            return Ok(Outcome::said(String::new()));
        }
    }
}

/// A book that was checked, and what was found.
pub(super) struct Checked {
    compiled: Compiled,
    found: Vec<Diagnostic>,
    summary: Summary,
}

/// Checks a book once; `exists` says whether there is a file that it names.
fn check(options: &BookOptions, exists: &dyn Fn(&str) -> bool) -> Result<Checked, Outcome> {
    let forms = read_forms(&options.folder).map_err(Outcome::refused)?;
    let loaded = load_book(&options.folder).map_err(Outcome::refused)?;
    check_sources(options, loaded, &forms, exists)
}

/// Checks a book that was read from a folder.
pub(super) fn check_loaded(options: &BookOptions, loaded: Loaded, forms: &Forms) -> Result<Checked, Outcome> {
    check_sources(options, loaded, forms, &|path| exists_in_book(&options.folder, path))
}

fn check_sources(
    options: &BookOptions,
    loaded: Loaded,
    forms: &Forms,
    exists: &dyn Fn(&str) -> bool,
) -> Result<Checked, Outcome> {
    let compiling = CompileOptions { today: options.today, only_check: true, keep_links: false };
    let compiled = compile_sources(loaded, forms, compiling, exists);
    if !compiled.found.has_errors() && !compiled.costed.proof.holds() {
        return Err(proof_fails());
    }
    let found = compiled.found.clone().into_sorted();
    let summary = Summary::of(&compiled, &found);
    Ok(Checked { compiled, found, summary })
}

impl Checked {
    /// The book's text.
    pub(super) fn sources(&self) -> &SourceSet {
        &self.compiled.sources
    }

    /// What was found, in the order of the files.
    pub(super) fn found(&self) -> &[Diagnostic] {
        &self.found
    }

    pub(super) fn status(&self) -> Status {
        if self.summary.mistakes > 0 { Status::Mistakes } else { Status::Good }
    }

    /// What is told, as it was asked for.
    pub(super) fn words(&self, format: FindingsFormat, style: TextStyle) -> Result<String, Outcome> {
        let (sources, found, summary) = (&self.compiled.sources, &self.found, &self.summary);
        Ok(match format {
            FindingsFormat::Text => format!("{}{}\n", first_of(sources, found, style), summary.words()),
            FindingsFormat::Short => format!("{}{}\n", render_short(sources, found), summary.words()),
            FindingsFormat::Json => self.as_json(Vec::new())?,
        })
    }

    /// The findings as JSON, with what was mended before.
    pub(super) fn as_json(&self, mended: Vec<MendedModel>) -> Result<String, Outcome> {
        render_json(&report(&self.compiled, &self.found, &self.summary, mended))
            .map_err(|fault| Outcome::refused(format!("the findings can't be written as JSON: {fault}")))
    }
}

/// What is said of a book in which nothing has happened.
const NOTHING_YET: &str = "nothing has happened yet in this book: write down what was there with `opened`, what came in with `bought`; \
     `kerfbook help opened` shows how\n";

/// How many findings are told with the lines of the book.
const MOST_TOLD: usize = 50;

/// The findings with the lines of the book: mistakes before all else where there are too many to tell, and how many more there are.
fn first_of(sources: &SourceSet, found: &[Diagnostic], style: TextStyle) -> String {
    if found.len() <= MOST_TOLD {
        return render_text(sources, found, style);
    }
    let mistakes = found.iter().filter(|one| one.severity == Severity::Error);
    let others = found.iter().filter(|one| one.severity != Severity::Error);
    let first: Vec<Diagnostic> = mistakes.chain(others).take(MOST_TOLD).cloned().collect();
    let more = found.len() - first.len();
    format!("{}and {more} more; `--as short` tells each in a line\n\n", render_text(sources, &first, style))
}

/// The last lines of a check.
struct Summary {
    entries: usize,
    files: usize,
    mistakes: usize,
    warnings: usize,
    questions: usize,
    /// The first year that asks something.
    asks: Option<i32>,
    proof: Option<String>,
}

impl Summary {
    fn of(compiled: &Compiled, found: &[Diagnostic]) -> Self {
        let count = |severity| found.iter().filter(|one| one.severity == severity).count();
        let mistakes = count(Severity::Error);
        Self {
            entries: compiled.entries,
            files: compiled.sources.files().len(),
            mistakes,
            warnings: count(Severity::Warning),
            questions: count(Severity::Question) + compiled.years.iter().map(|year| year.open_questions().count()).sum::<usize>(),
            asks: compiled.years.iter().find(|year| year.open_questions().next().is_some()).map(|year| year.year),
            proof: (mistakes == 0).then(|| proof_line(&compiled.book, &compiled.costed)),
        }
    }

    fn in_short(&self) -> String {
        let counts = [counted(self.mistakes, "mistake", "mistakes"), counted(self.warnings, "warning", "warnings")];
        counts.join(", ")
    }

    fn words(&self) -> String {
        let mut words = format!(
            "{} in {}: {}",
            counted(self.entries, "entry", "entries"),
            counted(self.files, "file", "files"),
            self.in_short(),
        );
        if self.questions > 0 {
            words.push_str(&format!(", {}", counted(self.questions, "open question", "open questions")));
            if let Some(year) = self.asks {
                words.push_str(&format!(" (`kerfbook year {year}` asks)"));
            }
        }
        words.push('\n');
        if self.entries == 0 && self.mistakes == 0 {
            words.push_str(NOTHING_YET);
        }
        match &self.proof {
            Some(line) => words.push_str(line),
            None => words.push_str(PROOF_WAITS),
        }
        words
    }
}

fn counted(number: usize, one: &str, several: &str) -> String {
    match number {
        0 => format!("no {several}"),
        1 => format!("1 {one}"),
        number => format!("{number} {several}"),
    }
}

fn report(compiled: &Compiled, found: &[Diagnostic], summary: &Summary, mended: Vec<MendedModel>) -> CheckReport {
    CheckReport {
        head: Period::default().head("check", &compiled.book, compiled.log.first_day, compiled.costed.until),
        entries: summary.entries,
        files: summary.files,
        mistakes: summary.mistakes,
        warnings: summary.warnings,
        questions: summary.questions,
        proof: summary.proof.clone(),
        findings: model_diagnostics(&compiled.sources, found),
        mended,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_summary_counts_in_words() {
        let summary = Summary {
            entries: 1,
            files: 13,
            mistakes: 0,
            warnings: 1,
            questions: 2,
            asks: Some(2026),
            proof: Some("the proof: 0".to_owned()),
        };
        let words = "1 entry in 13 files: no mistakes, 1 warning, 2 open questions (`kerfbook year 2026` asks)\nthe proof: 0";
        assert_eq!(summary.words(), words);
    }
}

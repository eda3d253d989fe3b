//! `kerfbook check`: mistakes, warnings, and the proof in one line.

use super::Done;
use crate::cli::args::{CheckArgs, FindingsFormat};
use crate::cli::compile::{CompileOptions, Compiled, compile_book};
use crate::cli::faults::proof_fails;
use crate::cli::forms::read_forms;
use crate::cli::options::BookOptions;
use crate::cli::outcome::{Outcome, Status};
use crate::cli::streams::Streams;
use crate::cli::write_report::write_report;
use crate::diagnostics::{Diagnostic, Severity, TextStyle, model_diagnostics, render_short, render_text};
use crate::render::render_json;
use crate::reports::{CheckReport, PROOF_WAITS, Period, proof_line};

/// Runs it.
pub(super) fn run(args: &CheckArgs, streams: &Streams) -> Done {
    let options = BookOptions::meant(&args.book).map_err(Outcome::refused)?;
    let forms = read_forms(&options.folder).map_err(Outcome::refused)?;
    let compiling = CompileOptions { today: options.today, only_check: true };
    let compiled = compile_book(&options.folder, &forms, compiling).map_err(Outcome::refused)?;
    let has_errors = compiled.found.has_errors();
    if !has_errors && !compiled.costed.proof.holds() {
        return Err(proof_fails());
    }
    let found = compiled.found.clone().into_sorted();
    let summary = Summary::of(&compiled, &found);
    let style = if args.out.is_some() { TextStyle::default() } else { streams.out.style() };
    let made = match args.format {
        FindingsFormat::Text => format!("{}{}\n", render_text(&compiled.sources, &found, style), summary.words()),
        FindingsFormat::Short => format!("{}{}\n", render_short(&compiled.sources, &found), summary.words()),
        FindingsFormat::Json => render_json(&report(&compiled, &found, &summary))
            .map_err(|fault| Outcome::refused(format!("the findings can't be written as JSON: {fault}")))?,
    };
    let out = match &args.out {
        Some(path) => write_report(path, &options.folder, &made)?,
        None => made,
    };
    let status = if has_errors { Status::Mistakes } else { Status::Good };
    // A large book takes longer to take apart in memory than the process has left to live.
    std::mem::forget(compiled);
    Ok(Outcome { out, err: String::new(), status })
}

/// The last lines of a check.
struct Summary {
    entries: usize,
    files: usize,
    mistakes: usize,
    warnings: usize,
    questions: usize,
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
            proof: (mistakes == 0).then(|| proof_line(&compiled.book, &compiled.costed)),
        }
    }

    fn words(&self) -> String {
        let mut words = format!(
            "{} in {}: {}, {}",
            counted(self.entries, "entry", "entries"),
            counted(self.files, "file", "files"),
            counted(self.mistakes, "mistake", "mistakes"),
            counted(self.warnings, "warning", "warnings"),
        );
        if self.questions > 0 {
            words.push_str(&format!(", {}", counted(self.questions, "open question", "open questions")));
        }
        words.push('\n');
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

fn report(compiled: &Compiled, found: &[Diagnostic], summary: &Summary) -> CheckReport {
    CheckReport {
        head: Period::default().head("check", &compiled.book, compiled.log.first_day, compiled.costed.until),
        entries: summary.entries,
        files: summary.files,
        mistakes: summary.mistakes,
        warnings: summary.warnings,
        questions: summary.questions,
        proof: summary.proof.clone(),
        findings: model_diagnostics(&compiled.sources, found),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_summary_counts_in_words() {
        let summary =
            Summary { entries: 1, files: 13, mistakes: 0, warnings: 1, questions: 2, proof: Some("the proof: 0".to_owned()) };
        assert_eq!(summary.words(), "1 entry in 13 files: no mistakes, 1 warning, 2 open questions\nthe proof: 0");
    }
}

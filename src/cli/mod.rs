//! The command in front of the library: arguments, printing, whole files, exit status.
//!
//! In: the words that were typed. Out: text on the terminal, files, and a status: 0 where the book has no mistakes, 1 where it
//! has, 2 where the command was used wrongly or could not do its work. Here alone is a clock read, the environment asked,
//! anything written, and a browser answered.

mod args;
mod asked_name;
mod clock;
mod command;
mod compile;
mod faults;
mod forms;
mod meaning;
mod options;
mod outcome;
mod preview;
mod progress;
mod rewrite;
mod site_folder;
mod streams;
mod templates;
mod watch;
mod write_report;
mod write_whole;

use std::ffi::OsString;
use std::path::Path;
use std::process::ExitCode;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{CommandFactory, Parser};

use self::args::{Args, as_typed};
use self::outcome::{Outcome, Status};
use self::streams::Streams;

pub use self::compile::{CompileOptions, Compiled, compile_book, compile_sources};
pub use self::meaning::{Meaning, meaning_of};

/// Runs a command and gives the status to exit with.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let streams = Streams::of_process();
    let arguments: Vec<OsString> = arguments.into_iter().collect();
    let outcome = match Args::try_parse_from(&arguments) {
        Ok(args) => command::run(args.command, &streams),
        Err(told) => usage(&told, &arguments, &streams),
    };
    ExitCode::from(streams.print(&outcome).number())
}

/// What the reader of arguments has to say: help and version on standard output, a wrong use on standard error.
fn usage(told: &clap::Error, arguments: &[OsString], streams: &Streams) -> Outcome {
    let words = told.render();
    if told.kind() == ErrorKind::UnknownArgument
        && let Some(typed) = less_than_nothing_earned(arguments)
    {
        return Outcome::refused(format!("`--earn {typed}`: what an hour is to earn is money, as in `--earn 25 per h`"));
    }
    let is_answer = matches!(told.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion);
    let colours = if is_answer { streams.out.colours } else { streams.err.colours };
    let mut text = if colours { words.ansi().to_string() } else { words.to_string() };
    // As every other refusal begins.
    if words.to_string().starts_with("error:") {
        text = text.replacen("error:", "kerfbook:", 1);
    }
    if let Some(hint) = book_without_its_word(told, arguments)
        && let Some(end) = text.find('\n')
    {
        text.insert_str(end, &format!("\n{hint}"));
    }
    if is_answer {
        Outcome::said(text)
    } else {
        Outcome { out: String::new(), more: Vec::new(), err: text, status: Status::WrongUse }
    }
}

/// What stands after `--earn` where it is less than nothing and more than a number: `-5 per h`, which else reads as an option.
fn less_than_nothing_earned(arguments: &[OsString]) -> Option<&str> {
    let at = arguments.iter().position(|one| one == "--earn")?;
    let typed = arguments.get(at.checked_add(1)?)?.to_str()?;
    let figure = typed.strip_prefix('-')?;
    figure.starts_with(|one: char| one.is_ascii_digit() || one == '.').then_some(typed)
}

/// What is to be said where a command that has `--book` was given a folder without that word.
fn book_without_its_word(told: &clap::Error, arguments: &[OsString]) -> Option<String> {
    let Some(ContextValue::String(folder)) = told.get(ContextKind::InvalidArg) else { return None };
    let args = Args::command();
    let command = arguments.get(1).and_then(|name| args.find_subcommand(name))?;
    let has_book = command.get_arguments().any(|one| one.get_id() == "book");
    let folder = Path::new(folder);
    let is_meant = told.kind() == ErrorKind::UnknownArgument && has_book && folder.is_dir();
    is_meant.then(|| format!("a book's folder is said with `--book {}`", as_typed(folder)))
}

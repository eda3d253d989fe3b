//! One file per command: what it reads, what it makes, what it says.

mod check;
mod check_fix;
mod cost;
mod form_help;
mod help;
mod new;
mod pays;
mod places;
mod plan;
mod preview;
mod price;
mod proof;
mod schema;
mod show;
mod site;
mod site_pages;
mod stock;
mod tidy;
mod trace;
mod trade_words;
mod why;
mod year;

use std::path::PathBuf;

use chrono::NaiveDate;

use super::args::{BookArgs, Command};
use super::compile::{CompileOptions, Compiled, compile_book};
use super::faults::stands_in_the_way;
use super::forms::read_forms;
use super::options::BookOptions;
use super::outcome::Outcome;
use super::progress::Progress;
use super::streams::Streams;
use crate::year::Forms;

/// Runs a command.
pub(super) fn run(command: Command, streams: &Streams) -> Outcome {
    // A command that goes on shows for each round by itself what it is at.
    let goes_on = matches!(&command, Command::Preview(_)) || matches!(&command, Command::Check(args) if args.watch);
    let progress = if goes_on { None } else { Progress::begin() };
    let done = match command {
        Command::Check(args) => check::run(&args, streams),
        Command::Cost(args) => cost::run(&args, streams),
        Command::Stock(args) => stock::run(&args, streams),
        Command::Pays(args) => pays::run(&args, streams),
        Command::Places(args) => places::run(&args, streams),
        Command::Price(args) => price::run(&args, streams),
        Command::Plan(args) => plan::run(&args, streams),
        Command::Trace(args) => trace::run(&args, streams),
        Command::Year(args) => year::run(&args, streams),
        Command::Proof(args) => proof::run(&args, streams),
        Command::Why(args) => why::run(&args, streams),
        Command::Site(args) => site::run(&args, streams),
        Command::Preview(args) => preview::run(&args, streams),
        Command::Tidy(args) => tidy::run(&args),
        Command::Schema(args) => schema::run(&args),
        Command::New(args) => new::run(&args),
        Command::Help(args) => help::run(&args, streams),
    };
    drop(progress);
    done.unwrap_or_else(|outcome| outcome)
}

/// What a command has to say, or why it has nothing else to say.
type Done = Result<Outcome, Outcome>;

/// A book of which a report is wanted, and the forms that it may use.
struct Book {
    compiled: Compiled,
    forms: Forms,
    /// Where it lies.
    folder: PathBuf,
    /// The day that counts as today.
    today: Option<NaiveDate>,
}

/// Compiles a book of which a report is wanted; a book with mistakes has none.
fn compile(args: &BookArgs, streams: &Streams) -> Result<Book, Outcome> {
    compile_for(args, streams, CompileOptions::default())
}

/// Compiles a book to follow its goods: with its links, and no more of a journal than a check keeps.
fn compile_with_links(args: &BookArgs, streams: &Streams) -> Result<Book, Outcome> {
    compile_for(args, streams, CompileOptions { only_check: true, keep_links: true, ..CompileOptions::default() })
}

fn compile_for(args: &BookArgs, streams: &Streams, compiling: CompileOptions) -> Result<Book, Outcome> {
    let options = BookOptions::meant(args).map_err(Outcome::refused)?;
    let forms = read_forms(&options.folder).map_err(Outcome::refused)?;
    let compiling = CompileOptions { today: options.today, ..compiling };
    let compiled = compile_book(&options.folder, &forms, compiling).map_err(Outcome::refused)?;
    match stands_in_the_way(&compiled, streams) {
        Some(outcome) => Err(outcome),
        None => Ok(Book { compiled, forms, folder: options.folder, today: options.today }),
    }
}

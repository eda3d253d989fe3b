//! `kerfbook help`: all commands, one command, what a code means, or a form of the language with examples.

use clap::CommandFactory;

use super::Done;
use super::form_help::form_lines;
use super::trade_words::{TRADE_WORDS, trade_word};
use crate::cli::args::{Args, HelpArgs};
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::diagnostics::{did_you_mean, explain_typed};
use crate::syntax::{begins_block, form_help, form_words};

/// Runs it.
pub(super) fn run(args: &HelpArgs, streams: &Streams) -> Done {
    let mut all = Args::command();
    // Gives every command its full name before one of them is taken out.
    all.build();
    let Some(topic) = &args.topic else { return Ok(Outcome::said(words(&mut all, streams))) };
    // A word may be that of a command and of a form: `price`.
    let form = form_page(topic);
    if let Some(command) = all.find_subcommand_mut(topic) {
        let form = form.map_or_else(String::new, |form| format!("\nIn a book, {form}"));
        return Ok(Outcome::said(words(command, streams) + &form));
    }
    if let Some(form) = form {
        return Ok(Outcome::said(form));
    }
    if topic == REFERENCE_WORD {
        return Ok(Outcome::said(REFERENCE.to_owned()));
    }
    if let Some(word) = trade_word(topic) {
        let form = form_page(word.form).unwrap_or_default();
        return Ok(Outcome::said(format!("{}\n\n{form}", word.says)));
    }
    if let Some(lines) = form_lines(topic) {
        return Ok(Outcome::said(lines));
    }
    if looks_like_code(topic) {
        return match explain_typed(topic) {
            Ok(page) => Ok(Outcome::said(page.to_owned())),
            Err(told) => Err(Outcome::refused(told)),
        };
    }
    let mut names: Vec<String> = all.get_subcommands().map(|command| command.get_name().to_owned()).collect();
    names.extend(form_words().map(str::to_owned));
    let trade = TRADE_WORDS.iter().flat_map(|one| one.words).copied();
    // A word of the language comes before one of the trade.
    let near = did_you_mean(topic, names.iter().map(String::as_str)).or_else(|| did_you_mean(topic, trade));
    let near = near.map_or_else(String::new, |near| format!("; {near}"));
    Err(Outcome::refused(format!("there is no command, code, form of the language or word of the trade `{topic}`{near}")))
}

fn words(command: &mut clap::Command, streams: &Streams) -> String {
    let words = command.render_long_help();
    if streams.out.colours { words.ansi().to_string() } else { words.to_string() }
}

/// The users' reference, of which every example is compiled by a test.
const REFERENCE: &str = include_str!("../../../grammar/README.md");
/// The word by which it is asked for.
const REFERENCE_WORD: &str = "reference";
/// How many examples of a form are shown.
const MOST_EXAMPLES: usize = 4;

/// What a form of the language is, with examples from the reference; `None` where no form begins so.
fn form_page(word: &str) -> Option<String> {
    let mut page = form_help(word)?;
    let examples = if begins_block(word) { examples_of(word) } else { Vec::new() };
    if !examples.is_empty() {
        page.push_str("\nexamples:\n\n");
        page.push_str(&examples.join("\n"));
    }
    page.push_str("\n`kerfbook help reference` is the whole reference\n");
    Some(page)
}

/// The first blocks of the reference's examples that begin with a word, indented.
fn examples_of(word: &str) -> Vec<String> {
    let mut examples: Vec<String> = Vec::new();
    let (mut in_example, mut open) = (false, false);
    for line in REFERENCE.lines() {
        if let Some(kind) = line.strip_prefix("```") {
            in_example = !in_example && kind.starts_with("kerf") && !kind.contains("wrong");
            open = false;
            continue;
        }
        if !line.starts_with(' ') {
            open = in_example && line.split(' ').next() == Some(word) && examples.len() < MOST_EXAMPLES;
            if open {
                examples.push(String::new());
            }
        }
        if let Some(example) = examples.last_mut().filter(|_| open) {
            example.push_str(&format!("    {}\n", line.trim_end()));
        }
    }
    examples
}

fn looks_like_code(topic: &str) -> bool {
    topic.bytes().any(|byte| byte.is_ascii_digit())
}

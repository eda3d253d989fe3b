//! `kerfbook help`: all commands, one command, or what a code means.

use clap::CommandFactory;

use super::Done;
use crate::cli::args::{Args, HelpArgs};
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::diagnostics::{did_you_mean, explain_typed};

/// Runs it.
pub(super) fn run(args: &HelpArgs, streams: &Streams) -> Done {
    let mut all = Args::command();
    // Gives every command its full name before one of them is taken out.
    all.build();
    let Some(topic) = &args.topic else { return Ok(Outcome::said(words(&mut all, streams))) };
    if let Some(command) = all.find_subcommand_mut(topic) {
        return Ok(Outcome::said(words(command, streams)));
    }
    if looks_like_code(topic) {
        return match explain_typed(topic) {
            Ok(page) => Ok(Outcome::said(page.to_owned())),
            Err(told) => Err(Outcome::refused(told)),
        };
    }
    let names: Vec<String> = all.get_subcommands().map(|command| command.get_name().to_owned()).collect();
    let near = did_you_mean(topic, names.iter().map(String::as_str)).map_or_else(String::new, |near| format!("; {near}"));
    Err(Outcome::refused(format!("there is no command or code `{topic}`{near}")))
}

fn words(command: &mut clap::Command, streams: &Streams) -> String {
    let words = command.render_long_help();
    if streams.out.colours { words.ansi().to_string() } else { words.to_string() }
}

fn looks_like_code(topic: &str) -> bool {
    topic.bytes().any(|byte| byte.is_ascii_digit())
}

//! The two streams of a terminal: whether they take colours, how wide they are, and how they are written to.
//!
//! Colours are used on a terminal only, and not where `NO_COLOR` is set to anything or `TERM` is `dumb`. A reader that
//! stops reading (`kerfbook check | head`) is no fault.

use std::ffi::OsStr;
use std::io::{self, ErrorKind, IsTerminal, Write};

use super::outcome::{Outcome, Status};
use crate::diagnostics::TextStyle;
use crate::render::text::Look;

/// The width of a paragraph where there is no terminal, and the most on one.
const WIDTH: usize = 96;

/// What is known of a stream.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stream {
    /// Whether colours may be used.
    pub(super) colours: bool,
    /// Its columns, where it is a terminal.
    pub(super) width: Option<usize>,
}

impl Stream {
    fn of(is_terminal: bool, no_color: Option<&OsStr>, term: Option<&OsStr>, width: Option<usize>) -> Self {
        let refused = no_color.is_some_and(|value| !value.is_empty()) || term.is_some_and(|term| term == "dumb");
        Self { colours: is_terminal && !refused, width: width.filter(|_| is_terminal) }
    }

    /// How a report looks on it.
    pub(super) fn look(self) -> Look {
        Look { colours: self.colours, width: self.width.unwrap_or(WIDTH).min(WIDTH), table_width: self.width }
    }

    /// How findings look on it.
    pub(super) fn style(self) -> TextStyle {
        TextStyle { colours: self.colours, width: self.width.unwrap_or(WIDTH) }
    }
}

/// Standard output and standard error.
#[derive(Clone, Copy, Debug)]
pub(super) struct Streams {
    /// Standard output.
    pub(super) out: Stream,
    /// Standard error.
    pub(super) err: Stream,
}

impl Streams {
    /// Those of this process.
    #[expect(clippy::disallowed_methods, reason = "the environment says whether colours are wanted")]
    pub(super) fn of_process() -> Self {
        let no_color = std::env::var_os("NO_COLOR");
        let term = std::env::var_os("TERM");
        let width = terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
        let stream = |is_terminal| Stream::of(is_terminal, no_color.as_deref(), term.as_deref(), width);
        Self { out: stream(io::stdout().is_terminal()), err: stream(io::stderr().is_terminal()) }
    }

    /// Prints words on standard output while a command goes on; whether anybody still reads them.
    pub(super) fn say(&self, words: &str) -> bool {
        write_all(&mut io::stdout().lock(), words).is_ok()
    }

    /// Prints what a command has to say, and gives the status to exit with.
    pub(super) fn print(&self, outcome: &Outcome) -> Status {
        // Where even standard error can't be written to, nobody can be told.
        let _ = write_all(&mut io::stderr().lock(), &outcome.err);
        let mut out = io::stdout().lock();
        match std::iter::once(&outcome.out).chain(&outcome.more).try_for_each(|part| write_all(&mut out, part)) {
            Ok(()) => outcome.status,
            Err(fault) if fault.kind() == ErrorKind::BrokenPipe => outcome.status,
            Err(fault) => {
                let _ = write_all(&mut io::stderr().lock(), &format!("kerfbook: standard output can't be written: {fault}\n"));
                Status::WrongUse
            }
        }
    }
}

fn write_all(stream: &mut dyn Write, text: &str) -> io::Result<()> {
    stream.write_all(text.as_bytes())?;
    stream.flush()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_are_for_a_terminal_that_does_not_refuse_them() {
        let colours = |is_terminal, no_color: Option<&str>, term: Option<&str>| {
            Stream::of(is_terminal, no_color.map(OsStr::new), term.map(OsStr::new), Some(80)).colours
        };
        assert!(colours(true, None, Some("xterm")));
        assert!(colours(true, Some(""), None));
        assert!(!colours(true, Some("0"), None));
        assert!(!colours(true, None, Some("dumb")));
        assert!(!colours(false, None, Some("xterm")));
    }

    #[test]
    fn a_table_is_as_wide_as_it_needs_where_there_is_no_terminal() {
        let file = Stream::of(false, None, None, Some(40));
        assert_eq!(file.look(), Look { colours: false, width: 96, table_width: None });
        let terminal = Stream::of(true, None, None, Some(40));
        assert_eq!(terminal.look(), Look { colours: true, width: 40, table_width: Some(40) });
    }
}

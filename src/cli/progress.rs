//! Says on a terminal what long work is at: one line, after half a second, gone when the work is done.
//!
//! It stands on standard error and only where that is a terminal, so that no pipe or file ever holds it. There is one
//! terminal, so what the work is at is kept once for the process; where nobody shows it, it is only kept.

use std::io::{self, IsTerminal, Write};
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::thread::{JoinHandle, spawn};
use std::time::Duration;

/// Work that takes no longer says nothing.
const DELAY: Duration = Duration::from_millis(500);
/// How often the line is written anew.
const PACE: Duration = Duration::from_millis(100);

static AT: Mutex<At> = Mutex::new(At { words: "", part: None });

/// What the work is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct At {
    words: &'static str,
    /// How many are done, of how many.
    part: Option<(usize, usize)>,
}

/// Says what the work is at: `costing the book`.
pub(super) fn at(words: &'static str) {
    *AT.lock().unwrap_or_else(PoisonError::into_inner) = At { words, part: None };
}

/// Says what the work is at and how far: `writing pages`, 120 of 480.
pub(super) fn at_part(words: &'static str, done: usize, all: usize) {
    *AT.lock().unwrap_or_else(PoisonError::into_inner) = At { words, part: Some((done, all)) };
}

/// Shows what the work is at for as long as it is kept.
#[derive(Debug)]
pub(super) struct Progress {
    done: Arc<(Mutex<bool>, Condvar)>,
    line: Option<JoinHandle<()>>,
}

impl Progress {
    /// Begins to watch over work. `None` where nobody sees it.
    pub(super) fn begin() -> Option<Self> {
        io::stderr().is_terminal().then(|| Self::on(io::stderr(), DELAY))
    }

    fn on(terminal: impl Write + Send + 'static, delay: Duration) -> Self {
        at("reading the book");
        let done = Arc::new((Mutex::new(false), Condvar::new()));
        let asked = Arc::clone(&done);
        Self { done, line: Some(spawn(move || show_until_done(terminal, delay, &asked))) }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        *self.done.0.lock().unwrap_or_else(PoisonError::into_inner) = true;
        self.done.1.notify_all();
        // The line is gone before anything else is printed.
        let _ = self.line.take().map(JoinHandle::join);
    }
}

fn show_until_done(mut terminal: impl Write, delay: Duration, done: &(Mutex<bool>, Condvar)) {
    let mut written = String::new();
    let mut wait = delay;
    loop {
        let is_done = done.0.lock().unwrap_or_else(PoisonError::into_inner);
        let (is_done, _) = done.1.wait_timeout_while(is_done, wait, |is_done| !*is_done).unwrap_or_else(PoisonError::into_inner);
        let ends = *is_done;
        drop(is_done);
        let line = if ends { String::new() } else { words(*AT.lock().unwrap_or_else(PoisonError::into_inner)) };
        if line != written {
            let blank = " ".repeat(written.len().saturating_sub(line.len()));
            // Blanks over what stood there, since not every terminal knows a sign to erase it.
            let back = if ends { "\r" } else { "" };
            let _ = write!(terminal, "\r{line}{blank}{back}").and_then(|()| terminal.flush());
            written = line;
        }
        if ends {
            return;
        }
        wait = PACE;
    }
}

fn words(at: At) -> String {
    match at.part {
        Some((done, all)) => format!("kerfbook: {}, {done} of {all}", at.words),
        None => format!("kerfbook: {}", at.words),
    }
}

#[cfg(test)]
mod tests {
    use std::thread::sleep;

    use super::*;

    #[derive(Clone, Default)]
    struct Screen(Arc<Mutex<Vec<u8>>>);

    impl Write for Screen {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.0.lock().expect("kept").extend_from_slice(bytes);
            Ok(bytes.len())
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    impl Screen {
        fn text(&self) -> String {
            String::from_utf8(self.0.lock().expect("kept").clone()).expect("text")
        }
    }

    #[test]
    fn short_work_says_nothing() {
        let screen = Screen::default();
        drop(Progress::on(screen.clone(), Duration::from_secs(60)));
        assert_eq!(screen.text(), "");
    }

    #[test]
    fn long_work_says_what_it_is_at_and_leaves_nothing_behind() {
        let screen = Screen::default();
        let progress = Progress::on(screen.clone(), Duration::ZERO);
        while !screen.text().contains("kerfbook: ") {
            sleep(Duration::from_millis(1));
        }
        drop(progress);
        let text = screen.text();
        let last: Vec<&str> = text.rsplitn(3, '\r').collect();
        assert_eq!(last[0], "", "{text:?}");
        assert!(!last[1].is_empty() && last[1].chars().all(|letter| letter == ' '), "{text:?}");
    }

    #[test]
    fn a_part_is_told_with_its_whole() {
        assert_eq!(words(At { words: "writing pages", part: Some((120, 480)) }), "kerfbook: writing pages, 120 of 480");
        assert_eq!(words(At { words: "costing the book", part: None }), "kerfbook: costing the book");
    }
}

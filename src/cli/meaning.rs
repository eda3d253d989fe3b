//! What a book means, to be compared: all that the stages made of it, without where it stands.
//!
//! Everything that a compiled book holds is written out once and drawn together to one number; a place in the text counts as the
//! words that stand there. Findings count by what they say. So two texts that are laid out in two ways mean the same, and two that
//! differ in a figure, a name, a lot or a finding do not.

use std::fmt::{self, Write};
use std::hash::{DefaultHasher, Hasher};

use super::compile::Compiled;
use crate::diagnostics::{Diagnostic, Severity};
use crate::events::EventLog;
use crate::sources::{SourceSet, Span};
use crate::syntax::bare_words;

/// What a book means.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meaning {
    /// Definitions, events, lots, batches, orders, what is owed, the proof, tax years: drawn together.
    figures: u64,
    /// What was found, in the order of the text.
    found: Vec<(u16, Severity, String)>,
}

/// What a compiled book means.
#[must_use]
pub fn meaning_of(compiled: &Compiled) -> Meaning {
    let says = |one: &Diagnostic| (one.code.0, one.severity, without_blanks(&one.message));
    let found = compiled.found.clone().into_sorted().iter().map(says).collect();
    Meaning { figures: drawn(compiled, DefaultHasher::new()).finish(), found }
}

/// All that a compiled book holds, drawn into a number or whatever else takes bytes.
fn drawn<H: Hasher>(compiled: &Compiled, hasher: H) -> H {
    let mut draw = Draw { sources: &compiled.sources, hasher, waiting: String::new() };
    let Compiled { sources: _, entries, book, log, costed, years, found: _ } = compiled;
    // What is in doubt follows from the lines that can't be read, which are told; it is known by places alone.
    let EventLog { events, uncertain, doubts: _, first_day, papers } = log;
    // What is drawn in never fails.
    let _ = write!(draw, "{entries:?} {book:?} {events:?} {uncertain:?} {first_day:?} {papers:?} {costed:?} {years:?}");
    draw.draw_in(0);
    draw.hasher
}

/// A message without blanks, and with one kind of quotes: it may quote a line of the book.
fn without_blanks(message: &str) -> String {
    let straight = |letter| if matches!(letter, '\u{201C}'..='\u{201E}') { '"' } else { letter };
    message.chars().filter(|letter| !letter.is_whitespace()).map(straight).collect()
}

/// How the debug form of a place begins.
const PLACE: &str = "Span { start: ";
/// How much is gathered before it is drawn in.
const GATHERED: usize = 16 * 1024;
/// The longest debug form of a place.
const LONGEST_PLACE: usize = 64;

/// Draws a text together as it is written, with the words of the book in place of positions.
struct Draw<'s, H> {
    sources: &'s SourceSet,
    hasher: H,
    waiting: String,
}

impl<H: Hasher> Draw<'_, H> {
    /// Draws in what waits, save for the last bytes, in which a place may have begun.
    fn draw_in(&mut self, keep: usize) {
        let mut from = 0;
        while let Some(at) = self.waiting.get(from..).and_then(|rest| rest.find(PLACE)) {
            let place = from + at;
            if place + LONGEST_PLACE > self.waiting.len() && keep > 0 {
                break;
            }
            self.hasher.write(self.waiting.get(from..place).unwrap_or("").as_bytes());
            let (span, length) = read_place(self.waiting.get(place..).unwrap_or("")).unwrap_or((Span::new(0, 0), PLACE.len()));
            self.hasher.write(bare_words(self.sources.text(span)).as_bytes());
            from = place + length;
        }
        let mut end = self.waiting.len().saturating_sub(keep).max(from);
        while !self.waiting.is_char_boundary(end) {
            end -= 1;
        }
        self.hasher.write(self.waiting.get(from..end).unwrap_or("").as_bytes());
        self.waiting.drain(..end);
    }
}

impl<H: Hasher> Write for Draw<'_, H> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.waiting.push_str(text);
        if self.waiting.len() > GATHERED {
            self.draw_in(LONGEST_PLACE);
        }
        Ok(())
    }
}

/// Reads a place from its debug form, and how long that is.
fn read_place(text: &str) -> Option<(Span, usize)> {
    let (start, rest) = text.strip_prefix(PLACE)?.split_once(", end: ")?;
    let (end, rest) = rest.split_once(" }")?;
    Some((Span::new(start.parse().ok()?, end.parse().ok()?), text.len() - rest.len()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::{CompileOptions, compile_sources};
    use crate::sources::Loaded;
    use crate::year::Forms;

    const BOOK: &str = "shop \"A\"\n    currency USD\nplace bench \"Bench\"\nmaterial oak \"Oak\"\n    measured in bf\nproduct cart \"Cart\"\n    price 42.00\nchannel web \"Web\"\nbought 2026-03-02 from mill\n    20 bf oak at 5.90\nbuilt 2026-03-09 batch PC-1\n    used 4.8 bf oak\n    made 6 cart\nsold 2026-03-20 via web order \"W-1\"\n    2 cart \"for a friend\"\n";

    fn meaning(text: &str) -> Meaning {
        let mut loaded = Loaded::default();
        loaded.add("book.kerf", text.as_bytes()).expect("short");
        meaning_of(&compile_sources(loaded, &Forms::built_in(), CompileOptions::default(), &|_| true))
    }

    #[test]
    fn another_layout_means_the_same() {
        let laid_out =
            BOOK.replace("    ", "\t").replace("bought", "\n\n# wood\nbought").replace(" at 5.90", "   at  5.90 # a comment");
        assert_ne!(laid_out, BOOK);
        assert_eq!(meaning(&laid_out), meaning(BOOK));
    }

    #[test]
    fn another_figure_name_lot_text_or_order_of_lines_means_something_else() {
        for (from, to) in [
            ("5.90", "5.91"),
            ("4.8 bf", "4.7 bf"),
            ("PC-1", "PC-2"),
            ("\"W-1\"", "\"W-2\""),
            ("from mill", "from mil"),
            ("via web", "via wbe"),
            ("\"Oak\"", "\"oak\""),
            ("\"for a friend\"", "\"for a  friend\""),
            ("2026-03-20", "2026-03-21"),
            ("    made 6 cart\n", ""),
        ] {
            assert!(BOOK.contains(from));
            assert_ne!(meaning(&BOOK.replace(from, to)), meaning(BOOK), "{from} {to}");
        }
    }

    #[test]
    fn a_place_is_found_wherever_the_text_is_cut() {
        let sources = {
            let mut sources = SourceSet::default();
            sources.add("a.kerf", "one two\n").expect("short");
            sources
        };
        let written = format!("é {:?} x {:?}", Span::new(0, 3), Span::new(4, 7)).repeat(900);
        let number = |step: usize| {
            let mut draw = Draw { sources: &sources, hasher: DefaultHasher::new(), waiting: String::new() };
            let letters: Vec<char> = written.chars().collect();
            for part in letters.chunks(step) {
                draw.write_str(&part.iter().collect::<String>()).expect("written");
            }
            draw.draw_in(0);
            draw.hasher.finish()
        };
        assert!([1, 7, 100, 17_000].iter().all(|step| number(*step) == number(3)));
    }
}

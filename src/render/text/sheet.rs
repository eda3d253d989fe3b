//! A report as it is laid out on a terminal: question, shop and days, the answer, then headings, paragraphs and tables.

use anstyle::{Effects, Style};
use unicode_width::UnicodeWidthStr;

use super::table::{Table, fold, printable};
use crate::render::answer::Answer;
use crate::reports::ReportHead;

/// Blanks by which a level stands further in.
const INDENT: usize = 2;
/// Blanks between words and the quiet ones behind them.
const GAP: usize = 2;

/// How much room there is, and whether colours may be used. The words say the same without them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// Whether letters may be set bold or faint.
    pub colours: bool,
    /// Columns that a paragraph fills.
    pub width: usize,
    /// Columns that a table may fill, or as many as it needs. A wider one is told row by row.
    pub table_width: Option<usize>,
}

impl Default for Look {
    fn default() -> Self {
        Self { colours: false, width: 96, table_width: None }
    }
}

impl Look {
    pub(super) fn strong(self, words: &str) -> String {
        self.styled(words, Style::new().effects(Effects::BOLD))
    }

    pub(super) fn quiet(self, words: &str) -> String {
        self.styled(words, Style::new().effects(Effects::DIMMED))
    }

    fn styled(self, words: &str, style: Style) -> String {
        if self.colours { format!("{style}{words}{style:#}") } else { words.to_owned() }
    }
}

/// The text so far.
pub(super) struct Sheet {
    look: Look,
    out: String,
}

impl Sheet {
    /// Opens with the question, whose book it is and which days, and the answer.
    pub(super) fn open(look: Look, question: &str, head: &ReportHead, answer: &Answer) -> Self {
        let mut sheet = Self { look, out: String::new() };
        sheet.out.push_str(&look.strong(question));
        sheet.out.push('\n');
        let days = match (&head.from, &head.to) {
            (Some(from), Some(to)) => format!(", {from} to {to}"),
            _ => String::new(),
        };
        sheet.lines(&format!("{}{days}, in {}", head.whose(), head.currency), 0);
        sheet.out.push('\n');
        sheet.answer(answer);
        sheet
    }

    fn answer(&mut self, answer: &Answer) {
        let figures: Vec<&str> =
            answer.phrases().iter().filter(|phrase| phrase.is_figure).map(|phrase| phrase.text.as_str()).collect();
        let mut figures = figures.into_iter().peekable();
        for line in fold(&printable(&answer.words()), self.look.width) {
            let mut rest = line.as_str();
            while let Some((before, figure, after)) =
                figures.peek().and_then(|figure| rest.split_once(*figure).map(|(before, after)| (before, *figure, after)))
            {
                self.out.push_str(before);
                let strong = self.look.strong(figure);
                self.out.push_str(&strong);
                rest = after;
                figures.next();
            }
            self.out.push_str(rest);
            self.out.push('\n');
        }
    }

    /// Words of their own, after a blank line.
    pub(super) fn paragraph(&mut self, words: &str) {
        self.out.push('\n');
        self.lines(words, 0);
    }

    /// A heading, after a blank line.
    pub(super) fn heading(&mut self, words: &str) {
        self.out.push('\n');
        let words = self.look.strong(&printable(words));
        self.out.push_str(&words);
        self.out.push('\n');
    }

    /// An indented line or more.
    pub(super) fn item(&mut self, words: &str) {
        self.lines(words, 2);
    }

    /// Steps of a tree under a heading, each so many levels in; nothing where there are none. What is folded goes on further in.
    pub(super) fn steps(&mut self, heading: &str, steps: &[(usize, String)]) {
        if steps.is_empty() {
            return;
        }
        self.heading(heading);
        for (level, words) in steps {
            // Far down the levels stand as close to the edge as words have room.
            let indent = (INDENT + level.saturating_mul(INDENT)).min(self.look.width / 2);
            let room = self.look.width.saturating_sub(indent + INDENT).max(20);
            for (number, line) in fold(&printable(words), room).into_iter().enumerate() {
                let blanks = if number == 0 { indent } else { indent + INDENT };
                self.out.push_str(&" ".repeat(blanks));
                self.out.push_str(&line);
                self.out.push('\n');
            }
        }
    }

    /// Words behind a lead, and quiet ones behind them, on one line where nothing says how wide it may be. Else they are folded under
    /// each other, and the quiet ones have lines of their own where they don't fit.
    pub(super) fn hung(&mut self, lead: &str, words: &str, quiet: &str) {
        let (words, quiet) = (printable(words), printable(quiet));
        let Some(width) = self.look.table_width else {
            let gap = if quiet.is_empty() { "" } else { "  " };
            return self.line(&format!("{lead}{words}{gap}{quiet}"));
        };
        let hang = lead.width().min(width / 2);
        let blanks = " ".repeat(hang);
        let room = width.saturating_sub(lead.width().max(hang)).max(width / 3);
        let mut lines = fold(&words, room);
        let last = lines.last().map_or(0, |line| line.width());
        let fits = !quiet.is_empty() && last + GAP + quiet.width() <= room;
        if let (true, Some(line)) = (fits, lines.last_mut()) {
            line.push_str(&format!("  {}", self.look.quiet(&quiet)));
        }
        for (number, line) in lines.iter().enumerate() {
            self.out.push_str(if number == 0 { lead } else { &blanks });
            self.out.push_str(line.trim_end());
            self.out.push('\n');
        }
        if !fits && !quiet.is_empty() {
            for line in fold(&quiet, room.saturating_sub(GAP)) {
                self.out.push_str(&format!("{blanks}  {}\n", self.look.quiet(line.trim_end())));
            }
        }
    }

    /// A line that is never folded.
    pub(super) fn line(&mut self, words: &str) {
        self.out.push_str(printable(words).trim_end());
        self.out.push('\n');
    }

    /// A table under a heading; nothing where it has no row.
    pub(super) fn table(&mut self, heading: &str, table: Table) {
        if !table.is_empty() {
            self.heading(heading);
            table.draw(self.look, &mut self.out);
        }
    }

    /// What a reader of the figures must know.
    pub(super) fn notes(&mut self, notes: &[String]) {
        if !notes.is_empty() {
            self.heading("To know");
            for note in notes {
                self.item(note);
            }
        }
    }

    /// The whole.
    pub(super) fn close(self) -> String {
        self.out
    }

    fn lines(&mut self, words: &str, indent: usize) {
        let words = printable(words);
        let room = self.look.width.saturating_sub(indent).max(20);
        for (number, line) in fold(&words, room).into_iter().enumerate() {
            let blanks = if number == 0 { indent } else { indent * 2 };
            debug_assert!(line.width() <= room || !line.contains(' '), "a line is folded");
            self.out.push_str(&" ".repeat(blanks));
            self.out.push_str(&line);
            self.out.push('\n');
        }
    }
}

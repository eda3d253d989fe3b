//! Open questions: what the program can't decide, and who answered it.
//!
//! A question has a stable name. `answered DATE "NAME" "TEXT"` answers it for the tax year of its date, and, written while the
//! year is being prepared, for the year before. A detail of the book that settles the matter makes the question go away.

use chrono::Datelike;

use crate::events::EventKind;
use crate::sources::Span;
use crate::year::books::BooksOfYear;
use crate::year::tax_year::Question;

/// A rule and where it stands.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rule {
    pub(crate) rule: &'static str,
    pub(crate) source: &'static str,
}

/// The questions of a year.
#[derive(Clone, Debug, Default)]
pub(crate) struct Questions {
    asked: Vec<Question>,
}

impl Questions {
    /// Asks. A second question of one name adds its entries to the first.
    pub(crate) fn ask(&mut self, name: &str, question: String, rule: Rule, answer_with: &str, entries: Vec<Span>) {
        if let Some(asked) = self.asked.iter_mut().find(|asked| asked.name == name) {
            asked.entries.extend(entries);
            return;
        }
        self.asked.push(Question {
            name: name.to_owned(),
            question,
            rule: rule.rule.to_owned(),
            source: rule.source.to_owned(),
            answer_with: answer_with.to_owned(),
            entries,
            answer: None,
        });
    }

    /// The questions by name, with the answers of the book, and the names of answers that answer none.
    pub(crate) fn answered(mut self, of: &BooksOfYear<'_>) -> (Vec<Question>, Vec<String>) {
        let mut loose = Vec::new();
        for event in &of.books.log.events {
            let EventKind::Answered { question, answer } = event.kind else { continue };
            let year = event.date.year();
            if year != of.year && year.checked_sub(1) != Some(of.year) {
                continue;
            }
            let name = unquoted(of.books.sources.text(question));
            match self.asked.iter_mut().find(|asked| asked.name == name) {
                Some(asked) => asked.answer = Some(unquoted(of.books.sources.text(answer)).to_owned()),
                None if year == of.year => loose.push(name.to_owned()),
                None => {}
            }
        }
        for question in &mut self.asked {
            question.entries.sort_unstable();
            question.entries.dedup();
        }
        self.asked.sort_by(|a, b| a.name.cmp(&b.name));
        (self.asked, loose)
    }
}

fn unquoted(text: &str) -> &str {
    text.trim().trim_matches('"')
}

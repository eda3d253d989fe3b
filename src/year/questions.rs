//! Open questions: what the program can't decide, and who answered it.
//!
//! A question has a stable name. `answered DATE "NAME" "TEXT"` answers it for the tax year of its date, and, written while the
//! year is being prepared, for the year before, where that has no answer of its own. A detail of the book that settles the
//! matter makes the question go away.

use chrono::Datelike;
use rustc_hash::FxHashSet;

use crate::events::EventKind;
use crate::sources::Span;
use crate::syntax::bare_words;
use crate::year::Rule;
use crate::year::books::BooksOfYear;
use crate::year::tax_year::Question;

/// The questions of a year.
#[derive(Clone, Debug, Default)]
pub(crate) struct Questions {
    asked: Vec<Question>,
    /// The rules of those, whose texts are looked up last.
    rules: Vec<Option<Rule>>,
    /// Those that only a definition settles.
    by_definition: Vec<String>,
    /// Those to which a no is no answer, with what settles it then.
    to_confirm: Vec<(String, String)>,
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
            rule: String::new(),
            source: String::new(),
            answer_with: answer_with.to_owned(),
            entries,
            answer: None,
        });
        self.rules.push(Some(rule));
    }

    /// Asks what the form itself asks, with the rule that its file names.
    pub(crate) fn ask_by_form(&mut self, question: Question) {
        if let Some(asked) = self.asked.iter_mut().find(|asked| asked.name == question.name) {
            asked.entries.extend(question.entries);
            return;
        }
        self.asked.push(question);
        self.rules.push(None);
    }

    /// Asks what only a definition settles: a figure waits for it, and an answer in words would leave the amount out unseen.
    pub(crate) fn ask_definition(&mut self, name: &str, question: String, rule: Rule, answer_with: &str, entries: Vec<Span>) {
        self.ask(name, question, rule, answer_with, entries);
        self.by_definition.push(name.to_owned());
    }

    /// Asks what a figure has taken for granted: a yes lets it stand, and a no leaves it open, since words don't move a figure; `otherwise`
    /// says what does.
    pub(crate) fn ask_to_confirm(
        &mut self,
        name: &str,
        question: String,
        rule: Rule,
        (answer_with, otherwise): (&str, &str),
        entries: Vec<Span>,
    ) {
        self.ask(name, question, rule, answer_with, entries);
        self.to_confirm.push((name.to_owned(), otherwise.to_owned()));
    }

    /// What settles a question that is answered with a no.
    fn otherwise(&self, name: &str, answer: &str) -> Option<&str> {
        let first = answer.split(|letter: char| !letter.is_alphabetic()).find(|word| !word.is_empty())?;
        let no = ["no", "not", "never"].iter().any(|word| first.eq_ignore_ascii_case(word));
        self.to_confirm.iter().find(|(known, _)| no && known == name).map(|(_, otherwise)| otherwise.as_str())
    }

    /// The questions by name, with the answers of the book, and what is to be said of answers that answer none.
    pub(crate) fn answered(mut self, of: &BooksOfYear<'_>) -> (Vec<Question>, Vec<String>) {
        let mut loose = Vec::new();
        // A year's own answers stand; those of the next year are first of all for that one.
        let mut answered_in_the_year: FxHashSet<&str> = FxHashSet::default();
        for event in &of.books.log.events {
            let EventKind::Answered { question, answer } = event.kind else { continue };
            let year = event.date.year();
            if year != of.year && year.checked_sub(1) != Some(of.year) {
                continue;
            }
            let name = unquoted(of.books.sources.text(question));
            if year == of.year {
                answered_in_the_year.insert(name);
            } else if answered_in_the_year.contains(name) {
                continue;
            }
            if let Some(otherwise) = self.otherwise(name, unquoted(of.books.sources.text(answer))) {
                loose.push(format!("`answered \"{name}\"` with a no leaves the question open: what settles it is {otherwise}"));
                if let Some(asked) = self.asked.iter_mut().find(|asked| asked.name == name) {
                    asked.answer = None;
                }
                continue;
            }
            match self.asked.iter_mut().find(|asked| asked.name == name) {
                Some(asked) if self.by_definition.contains(&asked.name) => {
                    loose.push(format!(
                        "`answered \"{name}\"` leaves the question open: what settles it is {}",
                        asked.answer_with
                    ));
                }
                Some(asked) => asked.answer = Some(unquoted(of.books.sources.text(answer)).to_owned()),
                None if year == of.year => loose.push(format!("`answered \"{name}\"` answers no question of this year")),
                None => {}
            }
        }
        let days = DayOrder::of(of);
        for (question, rule) in self.asked.iter_mut().zip(&self.rules) {
            if let Some(rule) = rule {
                (question.rule, question.source) = of.rule(*rule);
            }
            question.answer_with = as_typed(&question.answer_with, of.year, &question.name);
            question.entries.sort_by_cached_key(|entry| days.key(*entry));
            question.entries.dedup();
        }
        self.asked.sort_by(|a, b| a.name.cmp(&b.name));
        (self.asked, loose)
    }
}

/// The order of lines by the day of their entries, which files and places in them mean nothing to.
struct DayOrder<'a> {
    of: &'a BooksOfYear<'a>,
    /// Where entries begin, with their events' indices.
    entries: Vec<(u32, usize)>,
}

impl<'a> DayOrder<'a> {
    fn of(of: &'a BooksOfYear<'a>) -> Self {
        let events = of.books.log.events.iter().enumerate();
        let mut entries: Vec<(u32, usize)> = events.map(|(at, event)| (event.span.start, at)).collect();
        entries.sort_unstable();
        Self { of, entries }
    }

    /// What is defined comes first, then the events in the order in which they count; lines of one of these by their text.
    fn key(&self, line: Span) -> (Option<usize>, String, Span) {
        let after = self.entries.partition_point(|(start, _)| *start <= line.start);
        let entry = after.checked_sub(1).and_then(|before| self.entries.get(before)).map(|(_, at)| *at);
        let entry = entry.filter(|at| self.of.books.log.events.get(*at).is_some_and(|event| line.start < event.span.end));
        let sources = self.of.books.sources;
        let text = if line.is_empty() { String::new() } else { bare_words(sources.text(sources.lines_of(line))) };
        (entry, text, line)
    }
}

/// What answers a question, with the whole line of an answer in words: `answered 2026-12-31 "gifts/limit" "…"`.
fn as_typed(answer_with: &str, year: i32, name: &str) -> String {
    let Some((before, after)) = answer_with.split_once("answered …") else { return answer_with.to_owned() };
    // A question that knows its likely answer has it behind its name.
    let likely = after.strip_prefix(&format!(" \"{name}\" \"")).and_then(|rest| rest.split_once('"'));
    let (words, after) = likely.unwrap_or(("…", after));
    format!("{before}`answered {year}-12-31 \"{name}\" \"{words}\"`{after}")
}

pub(crate) fn unquoted(text: &str) -> &str {
    text.trim().trim_matches('"')
}

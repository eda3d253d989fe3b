//! On which line of the form each expense and income of a book stands.
//!
//! `form line` gives a line's number, or names it by what it is (`other`), so that a book survives when letters move. A line
//! that the program itself feeds is refused, and so is a line of the other side.

use chrono::{Datelike, NaiveDate};

use crate::diagnostics::Diagnostics;
use crate::names::{Category, CountsAs, Dated, ExpenseId, IncomeId};
use crate::sources::{SourceSet, Span};
use crate::year::books::Books;
use crate::year::errors::{fed_line, house_cost_line, unknown_line, wrong_side};
use crate::year::forms::form::{Form, Takes};
use crate::year::forms::source_note::SourceNote;
use crate::year::questions::Questions;
use crate::year::tax_year::Question;
use crate::year::{Feed, Forms};

/// Lines of a form by category; `None` where the category has none.
#[derive(Clone, Debug)]
pub(crate) struct FormLines {
    expenses: Vec<Dated<Option<usize>>>,
    incomes: Vec<Dated<Option<usize>>>,
    /// Lines with a caution that categories name by their numbers, and where.
    by_number: Vec<(usize, Span)>,
}

impl FormLines {
    /// Looks up every category, and tells those that can't stand where they say.
    pub(crate) fn of(books: Books<'_>, form: &Form, found: &mut Diagnostics) -> Self {
        let book = books.book;
        let expenses = book.expenses.iter().map(|category| {
            let house = *category.counts_as.first() == CountsAs::HouseCost
                || category.counts_as.changes().iter().any(|(_, counts)| *counts == CountsAs::HouseCost);
            lines_of(books.sources, category, form, if house { Takes::House } else { Takes::Expense }, found)
        });
        let expenses = expenses.collect();
        let incomes = book.incomes.iter().map(|category| lines_of(books.sources, category, form, Takes::Income, found)).collect();
        let by_number =
            book.expenses.iter().chain(&book.incomes).flat_map(|category| named_by_number(books.sources, category, form));
        Self { expenses, incomes, by_number: by_number.collect() }
    }

    /// Asks of lines that are named by a number which has a caution.
    pub(crate) fn ask(&self, form: &Form, questions: &mut Questions) {
        for (at, place) in &self.by_number {
            let Some(line) = form.lines.get(*at) else { continue };
            let source = form.sources.get(line.source);
            questions.ask_by_form(Question {
                name: format!("line-{}", line.number),
                question: format!("line {} is \"{}\": is that line meant?", line.number, line.label),
                rule: line.caution.clone(),
                source: source.map_or_else(String::new, SourceNote::says),
                answer_with: "form line …, by the line's name, in the category's definition; or answered …".to_owned(),
                entries: vec![*place],
                answer: None,
            });
        }
    }

    pub(crate) fn expense(&self, id: ExpenseId, day: chrono::NaiveDate) -> Option<usize> {
        *self.expenses.get(id.index())?.on(day)
    }

    pub(crate) fn income(&self, id: IncomeId, day: chrono::NaiveDate) -> Option<usize> {
        *self.incomes.get(id.index())?.on(day)
    }
}

/// Tells the categories whose lines are none of the shop's form, by its form of the last year of entries, else of today, else the nearest:
/// for a book of which no year is figured yet, so that a wrong line is known as soon as it is written.
pub fn tell_form_lines(books: Books<'_>, forms: &Forms, today: Option<NaiveDate>, found: &mut Diagnostics) {
    let Some(name) = &books.book.shop.tax_form else { return };
    let year = books.log.events.last().map(|event| event.date).or(today).map(|day| day.year());
    let nearest = forms.years(name).min_by_key(|known| {
        year.map_or_else(|| known.saturating_neg(), |year| year.abs_diff(*known).try_into().unwrap_or(i32::MAX))
    });
    if let Some(form) = nearest.and_then(|year| forms.form(name, year)) {
        FormLines::of(books, form, found);
    }
}

fn named_by_number(sources: &SourceSet, category: &Category, form: &Form) -> Vec<(usize, Span)> {
    let changes = category.form_line.changes().iter().map(|(_, written)| written);
    let written = std::iter::once(category.form_line.first()).chain(changes).flatten();
    let cautioned = |written: &String| form.lines.iter().position(|line| line.number == *written && !line.caution.is_empty());
    written.filter_map(|written| Some((cautioned(written)?, place_of(sources, category, written)))).collect()
}

fn lines_of(
    sources: &SourceSet,
    category: &Category,
    form: &Form,
    takes: Takes,
    found: &mut Diagnostics,
) -> Dated<Option<usize>> {
    let mut look_up = |written: &Option<String>| match written {
        Some(written) => look_up_line(sources, category, written, form, takes, found),
        None if takes == Takes::House => form.line_of(Feed::HomeWorkshop),
        None => None,
    };
    let mut lines = Dated::new(look_up(category.form_line.first()));
    for (from, written) in category.form_line.changes() {
        lines.change(*from, look_up(written));
    }
    lines
}

fn look_up_line(
    sources: &SourceSet,
    category: &Category,
    written: &str,
    form: &Form,
    takes: Takes,
    found: &mut Diagnostics,
) -> Option<usize> {
    let by = |wanted: Option<Takes>| {
        form.lines.iter().position(|line| {
            let called = line.number == written || line.name == written || line.also.iter().any(|name| name == written);
            called && wanted.is_none_or(|takes| line.takes.contains(&takes))
        })
    };
    if let Some(at) = by(Some(takes)) {
        return Some(at);
    }
    let place = place_of(sources, category, written);
    let elsewhere = by(Some(Takes::Expense)).or_else(|| by(Some(Takes::Income)));
    let told = match (elsewhere.or_else(|| by(None)), form.line_of(Feed::HomeWorkshop)) {
        (None, _) => unknown_line(place, category, written, form, takes),
        (Some(at), home) if takes == Takes::House => house_cost_line(place, category, form, at, home),
        (Some(at), _) if elsewhere.is_some() => wrong_side(place, category, form, at, takes),
        (Some(at), _) => fed_line(place, category, form, at),
    };
    found.push(told);
    None
}

/// Where the category's definition says `form line`; its name where that can't be found.
fn place_of(sources: &SourceSet, category: &Category, written: &str) -> Span {
    let name = category.named.span;
    let mut start = name.start as usize;
    for (at, line) in sources.whole().get(start..).unwrap_or("").split_inclusive('\n').enumerate() {
        let text = line.trim_start();
        if at > 0 && !text.is_empty() && text.len() == line.len() && !text.starts_with('#') {
            break;
        }
        if at > 0
            && text.starts_with("form")
            && text.contains("line")
            && let Some(within) = line.find("line").and_then(|after| Some(after + 4 + line.get(after + 4..)?.find(written)?))
        {
            let found = start + within;
            if let (Ok(from), Ok(to)) = (u32::try_from(found), u32::try_from(found + written.len())) {
                return Span::new(from, to);
            }
        }
        start += line.len();
    }
    name
}

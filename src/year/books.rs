//! What the stage reads: the book, its events and its costs, and one year of them with its form.
//!
//! In: what the stages before left. Out: the same, with the year's first and last day, its switches and its rules at hand, so that no later file asks
//! twice. Must not: figure anything.

use chrono::{Datelike, NaiveDate};

use crate::costing::{CostedBook, Mark};
use crate::events::{Event, EventLog};
use crate::names::{Basis, ResolvedBook, StockKept};
use crate::sources::{SourceSet, Span};
use crate::units::Fixed6;
use crate::year::forms::rule::RuleText;
use crate::year::{Figures, Form, Rule};

/// A book with all that was made of it.
#[derive(Clone, Copy, Debug)]
pub struct Books<'a> {
    /// Its text, for answers, parties and places.
    pub sources: &'a SourceSet,
    /// Its definitions.
    pub book: &'a ResolvedBook,
    /// Its events, by the indices that the costs name.
    pub log: &'a EventLog,
    /// Its costs.
    pub costed: &'a CostedBook,
}

/// One year of a book, by one form.
#[derive(Clone, Copy, Debug)]
pub(crate) struct BooksOfYear<'a> {
    pub(crate) books: Books<'a>,
    pub(crate) form: &'a Form,
    pub(crate) figures: &'a Figures,
    pub(crate) year: i32,
    pub(crate) first: NaiveDate,
    pub(crate) last: NaiveDate,
    /// The last year at whose end it is marked what is not paid; after it nothing is paid any more.
    last_marked: i32,
}

impl Books<'_> {
    /// The year of the book's last day or of its last payment, whichever is later.
    pub(crate) fn last_marked_year(&self) -> Option<i32> {
        let paid = self.costed.bills.iter().flat_map(|bill| bill.paid.iter().map(|(day, _)| *day));
        paid.chain(self.costed.until).map(|day| day.year()).max()
    }
}

impl<'a> BooksOfYear<'a> {
    /// `None` for a year that no calendar has.
    pub(crate) fn new(books: Books<'a>, form: &'a Form, figures: &'a Figures, year: i32) -> Option<Self> {
        let first = NaiveDate::from_ymd_opt(year, 1, 1)?;
        let last = NaiveDate::from_ymd_opt(year, 12, 31)?;
        let last_marked = books.last_marked_year().unwrap_or(year);
        Some(Self { books, form, figures, year, first, last, last_marked })
    }

    /// What is not paid at the end of a year, be it one after the book's last.
    pub(crate) fn not_paid_at_end_of(&self, year: i32) -> Mark {
        Mark::NotPaid(year.min(self.last_marked))
    }

    pub(crate) fn book(&self) -> &'a ResolvedBook {
        self.books.book
    }

    pub(crate) fn costed(&self) -> &'a CostedBook {
        self.books.costed
    }

    /// Whether a day lies in the year.
    pub(crate) fn has(&self, day: NaiveDate) -> bool {
        day.year() == self.year
    }

    pub(crate) fn basis(&self) -> Basis {
        *self.book().shop.basis.on(self.last)
    }

    pub(crate) fn stock(&self) -> StockKept {
        *self.book().shop.stock_kept.on(self.last)
    }

    pub(crate) fn whole_dollars(&self) -> bool {
        *self.book().shop.whole_dollars.on(self.last)
    }

    /// Digits of the currency below its unit.
    pub(crate) fn digits(&self) -> u32 {
        self.book().shop.currency.digits()
    }

    /// An amount as it stands in words: all of the currency's digits.
    pub(crate) fn money(&self, amount: Fixed6) -> String {
        amount.to_fixed_text(self.digits(), self.digits())
    }

    /// What a rule says and where it stands, or that the form's data lacks it.
    pub(crate) fn rule(&self, rule: Rule) -> (String, String) {
        let text = self.figures.rule(rule).map(|text| (text.rule.clone(), text.source()));
        text.unwrap_or_else(|| RuleText::lacking(&self.form.name))
    }

    pub(crate) fn event(&self, index: u32) -> Option<&'a Event> {
        self.books.log.events.get(index as usize)
    }

    /// The head line of an event; empty where the log has none.
    pub(crate) fn head(&self, index: u32) -> Span {
        self.event(index).map_or_else(Span::default, |event| event.head)
    }
}

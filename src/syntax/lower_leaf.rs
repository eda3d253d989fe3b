//! From tokens to values: names, codes, texts, sums, percentages, dates.
//!
//! A leaf of the grammar is whatever stands up to the next blank, comma or line end; here it is spelled out, strictly. What
//! isn't spelled right is told at its place, or left to the table of slips.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::sources::Span;
use crate::syntax::errors::{self, Unread};
use crate::syntax::grammar::Rule;
use crate::syntax::nodes::{Branch, Siblings};
use crate::syntax::words::{first_word, is_code, is_name, is_reserved, is_word_of_language};
use crate::syntax::{Figure, Party};
use crate::units::{NumberFault, read_date, read_decimal, read_percent};

/// Reads the leaves of one book.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Leaves<'s> {
    whole: &'s str,
}

impl<'s> Leaves<'s> {
    /// Reads from the whole text of a source set.
    pub(crate) fn new(whole: &'s str) -> Self {
        Self { whole }
    }

    /// The text of a span.
    pub(crate) fn text(self, span: Span) -> &'s str {
        self.whole.get(span.range()).unwrap_or("")
    }

    /// A name, as spelled; a reserved word is none.
    pub(crate) fn name(self, span: Span) -> Result<Span, Unread> {
        let text = self.text(span);
        if is_name(text) && !is_word_of_language(text) { Ok(span) } else { Err(Unread::Slip) }
    }

    /// A name, or the word `home`, which a place may have for its name.
    pub(crate) fn place(self, span: Span) -> Result<Span, Unread> {
        if self.text(span) == "home" { Ok(span) } else { self.name(span) }
    }

    /// A rule's only child, a name.
    pub(crate) fn only_name(self, mut inner: Siblings<'_>) -> Result<Span, Unread> {
        self.name(inner.next().ok_or(Unread::Slip)?.node.span)
    }

    /// The next child, a name.
    pub(crate) fn next_name(self, inner: &mut Siblings<'_>) -> Result<Span, Unread> {
        self.name(inner.next().ok_or(Unread::Slip)?.node.span)
    }

    /// A name that a definition gives; units and other words of the language can't be one.
    pub(crate) fn new_name(self, span: Span) -> Result<Span, Unread> {
        let text = self.text(span);
        if is_reserved(text) {
            return Err(errors::reserved_name(span, text).into());
        }
        if is_name(text) { Ok(span) } else { Err(errors::misspelled_name(span, text).into()) }
    }

    /// A code, as spelled; a reserved word is none, nor is a date.
    pub(crate) fn code(self, span: Span) -> Result<Span, Unread> {
        let text = self.text(span);
        let is_date =
            matches!(text.as_bytes(), [y, _, _, _, b'-', _, _, b'-', _, _] if y.is_ascii_digit()) && read_date(text).is_ok();
        if is_code(text) && !is_word_of_language(text) && !is_date { Ok(span) } else { Err(Unread::Slip) }
    }

    /// A rule's last child, a code.
    pub(crate) fn only_code(self, inner: Siblings<'_>) -> Result<Span, Unread> {
        self.code(inner.last().ok_or(Unread::Slip)?.node.span)
    }

    /// The next child, text in quotes or a bare code; a text is without its quotes.
    pub(crate) fn text_or_code(self, inner: &mut Siblings<'_>) -> Result<Span, Unread> {
        let leaf = inner.next().ok_or(Unread::Slip)?;
        if leaf.node.rule == Rule::text { inner_text(leaf.inner) } else { self.code(leaf.node.span) }
    }

    /// The next child, a supplier, buyer or payee: text in quotes, or a name. A word of the language is one only in quotes.
    pub(crate) fn party(self, inner: &mut Siblings<'_>) -> Result<Party, Unread> {
        let leaf = inner.next().ok_or(Unread::Slip)?;
        let span = leaf.node.span;
        match leaf.node.rule {
            Rule::text => Ok(Party { span: inner_text(leaf.inner)?, quoted: true }),
            _ if is_reserved(self.text(span)) => Err(errors::reserved_party(span, self.text(span)).into()),
            _ => Ok(Party { span: self.name(span)?, quoted: false }),
        }
    }

    /// The next child, one that only a name or the place `home` may be.
    pub(crate) fn place_or_channel(self, inner: &mut Siblings<'_>) -> Result<Span, Unread> {
        let span = inner.next().ok_or(Unread::Slip)?.node.span;
        if is_word_of_language(self.text(span)) && self.text(span) != "home" {
            return Err(errors::reserved_name(span, self.text(span)).into());
        }
        self.place(span)
    }

    /// The first word of a span.
    pub(crate) fn first_word(self, span: Span) -> &'s str {
        first_word(self.text(span))
    }

    /// A decimal: a sum of money, a share, a rate.
    pub(crate) fn decimal(self, span: Span) -> Result<Decimal, Unread> {
        let text = self.text(span);
        read_decimal(text).map_err(|fault| self.number_fault(span, fault))
    }

    /// The next child, a decimal.
    pub(crate) fn next_decimal(self, inner: &mut Siblings<'_>) -> Result<Decimal, Unread> {
        self.decimal(inner.next().ok_or(Unread::Slip)?.node.span)
    }

    /// The next child, a percentage.
    pub(crate) fn next_percent(self, inner: &mut Siblings<'_>) -> Result<Decimal, Unread> {
        match self.sum_or_percent(inner)? {
            Figure::Percent(percent) => Ok(percent),
            Figure::Money(_) => Err(Unread::Slip),
        }
    }

    /// The next child, a sum or a percentage.
    pub(crate) fn sum_or_percent(self, inner: &mut Siblings<'_>) -> Result<Figure, Unread> {
        let span = inner.next().ok_or(Unread::Slip)?.node.span;
        let text = self.text(span);
        if text.ends_with('%') {
            let percent = read_percent(text).map_err(|fault| self.number_fault(span, fault))?;
            return Ok(Figure::Percent(percent.figure()));
        }
        self.decimal(span).map(Figure::Money)
    }

    /// Says why a number can't be read.
    pub(crate) fn number_fault(self, span: Span, fault: NumberFault) -> Unread {
        let text = self.text(span);
        if fault == NumberFault::NotANumber
            && let Some(at) = text.find(char::is_alphabetic)
            && let Some((number, unit)) = text.split_at_checked(at)
            && read_decimal(number).is_ok()
            && unit.chars().all(char::is_alphabetic)
            && unit != "x"
        {
            return errors::joined_unit(span, number, unit).into();
        }
        errors::number_fault(span, text, fault).map_or(Unread::Slip, Unread::from)
    }

    /// A date.
    pub(crate) fn date(self, span: Span) -> Result<NaiveDate, Unread> {
        read_date(self.text(span)).map_err(|fault| errors::date_fault(span, fault).map_or(Unread::Slip, Unread::from))
    }

    /// The next child, a date.
    pub(crate) fn next_date(self, inner: &mut Siblings<'_>) -> Result<NaiveDate, Unread> {
        self.date(inner.next().ok_or(Unread::Slip)?.node.span)
    }

    /// A year of four digits.
    pub(crate) fn year(self, span: Span) -> Result<i32, Unread> {
        self.text(span).parse().map_err(|_| Unread::Slip)
    }

    /// The words of a span with one blank between them, for matching.
    pub(crate) fn words(self, span: Span) -> String {
        let mut words = String::with_capacity(self.text(span).len());
        for word in self.text(span).split_whitespace() {
            if !words.is_empty() {
                words.push(' ');
            }
            words.push_str(word);
        }
        words
    }
}

/// The text within quotes, below `text` or `memo`.
pub(crate) fn inner_text(mut inner: Siblings<'_>) -> Result<Span, Unread> {
    inner.when(Rule::inner).map(|leaf| leaf.node.span).ok_or(Unread::Slip)
}

/// The next child, text in quotes, without them.
pub(crate) fn next_text(inner: &mut Siblings<'_>) -> Result<Span, Unread> {
    let Branch { inner, .. } = inner.when(Rule::text).ok_or(Unread::Slip)?;
    inner_text(inner)
}

//! The lines of a definition and of the `changed` entries about it, read one word at a time.
//!
//! A word that may change gives a [`Dated`] value; one that is said once and for all gives a plain one, and a change of it is
//! a mistake. That a word stands only once, and not beside one that excludes it, has been seen to before this stage.

use chrono::NaiveDate;

use crate::diagnostics::Diagnostics;
use crate::names::Dated;
use crate::names::changes::Change;
use crate::names::errors::defining;
use crate::sources::Span;
use crate::syntax::Detail;

/// What a reader finds in a line.
pub(crate) enum Reading<T> {
    /// The line says something else.
    Other,
    /// The line says this, with a mistake that has been told.
    Bad,
    /// What it says.
    Is(T),
}

impl<T> Reading<T> {
    /// A value that may be missing because of a mistake that has been told.
    pub(crate) fn of(value: Option<T>) -> Self {
        value.map_or(Self::Bad, Self::Is)
    }
}

/// The lines of one definition, with its changes in the order of their days.
#[derive(Clone, Copy)]
pub(crate) struct DefinitionLines<'s> {
    base: &'s [Detail],
    changes: &'s [Change<'s>],
}

impl<'s> DefinitionLines<'s> {
    pub(crate) const fn new(base: &'s [Detail], changes: &'s [Change<'s>]) -> Self {
        Self { base, changes }
    }

    /// A word that is said once and for all. Also gives its line.
    pub(crate) fn once<T>(
        self,
        found: &mut Diagnostics,
        mut read: impl FnMut(&'s Detail, &mut Diagnostics) -> Reading<T>,
    ) -> Option<(T, Span)> {
        let first = first_among(self.base, found, &mut read);
        for change in self.changes {
            let mut unheard = Diagnostics::default();
            for detail in change.details {
                if !matches!(read(detail, &mut unheard), Reading::Other) {
                    found.push(defining::never_changes(detail.span));
                }
            }
        }
        first.and_then(|(value, span)| Some((value?, span)))
    }

    /// Whether a word that is said once and for all is there.
    pub(crate) fn has(self, found: &mut Diagnostics, mut is: impl FnMut(&'s Detail) -> bool) -> bool {
        self.once(found, |detail, _| if is(detail) { Reading::Is(()) } else { Reading::Other }).is_some()
    }

    /// A word that may change from a day on.
    pub(crate) fn dated<T: Clone>(
        self,
        default: T,
        found: &mut Diagnostics,
        mut read: impl FnMut(&'s Detail, &mut Diagnostics) -> Reading<T>,
    ) -> Dated<T> {
        let first = first_among(self.base, found, &mut read).and_then(|(value, _)| value);
        let mut value = Dated::new(first.unwrap_or(default));
        let mut last: Option<(NaiveDate, Span)> = None;
        for change in self.changes {
            let Some((changed, span)) = first_among(change.details, found, &mut read) else { continue };
            if !told_on_one_day(&mut last, change.day, span, found)
                && let Some(changed) = changed
            {
                value.change(change.day, changed);
            }
        }
        value
    }

    /// A word of which several lines stand together: the lines of the definition, and those of each day that has some. A change
    /// replaces all of them.
    pub(crate) fn groups(
        self,
        found: &mut Diagnostics,
        mut is: impl FnMut(&Detail) -> bool,
    ) -> (Vec<&'s Detail>, Vec<(NaiveDate, Vec<&'s Detail>)>) {
        let base = self.base.iter().filter(|detail| is(detail)).collect();
        let mut days: Vec<(NaiveDate, Vec<&Detail>)> = Vec::new();
        let mut last: Option<(NaiveDate, Span)> = None;
        for change in self.changes {
            let lines: Vec<&Detail> = change.details.iter().filter(|detail| is(detail)).collect();
            let Some(first) = lines.first() else { continue };
            if !told_on_one_day(&mut last, change.day, first.span, found) {
                days.push((change.day, lines));
            }
        }
        (base, days)
    }
}

/// The first of the lines that say a word, with its value unless that is a mistake. That it is the only one has been seen to where
/// the lines were read.
fn first_among<'s, T>(
    details: &'s [Detail],
    found: &mut Diagnostics,
    read: &mut impl FnMut(&'s Detail, &mut Diagnostics) -> Reading<T>,
) -> Option<(Option<T>, Span)> {
    details.iter().find_map(|detail| match read(detail, found) {
        Reading::Other => None,
        Reading::Bad => Some((None, detail.span)),
        Reading::Is(value) => Some((Some(value), detail.span)),
    })
}

/// Tells a second change of one word on one day: which of them counts must not depend on the order of files.
fn told_on_one_day(last: &mut Option<(NaiveDate, Span)>, day: NaiveDate, span: Span, found: &mut Diagnostics) -> bool {
    match *last {
        Some((earlier, first)) if earlier == day => {
            found.push(defining::changed_twice_on_one_day(span, first, day));
            true
        }
        _ => {
            *last = Some((day, span));
            false
        }
    }
}

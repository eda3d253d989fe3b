//! What is said of a name that isn't known, or is of another kind than belongs there.

use chrono::NaiveDate;

use crate::diagnostics::{Diagnostic, near_names};
use crate::names::batches::targets;
use crate::names::errors::{UNKNOWN_NAME, WRONG_KIND, offer_near};
use crate::names::kinds::{a, any_of, kind_of, named_of, names_of, word_of};
use crate::names::{Known, Lookup};
use crate::sources::Span;
use crate::syntax::DefinitionWord;

/// A name that may not stand there: unknown, or of another kind.
pub(crate) fn not_found(lookup: &Lookup<'_>, name: Span, wanted: &[DefinitionWord], known: Option<Known>) -> Diagnostic {
    let text = lookup.text(name);
    let candidates = wanted.iter().flat_map(|kind| names_of(lookup.book, *kind));
    let near = near_names(&text, candidates);
    if let Some(told) = known.and_then(|known| wrong_kind(lookup, name, known, &any_of(wanted))) {
        return offer_near(told, name, near);
    }
    let kinds = any_of(wanted);
    let told = Diagnostic::new(UNKNOWN_NAME, name, format!("`{text}` is not defined")).label(format!("no {kinds} of this name"));
    let told = match wanted {
        [only] if near.is_empty() => told.note(format!("define it in any file: {}", example(*only, &text))),
        _ => told,
    };
    offer_near(told, name, near)
}

/// A name that is known, but as another kind than belongs there.
fn wrong_kind(lookup: &Lookup<'_>, name: Span, known: Known, wanted: &str) -> Option<Diagnostic> {
    let kind = kind_of(lookup.book, known)?;
    let told = Diagnostic::new(WRONG_KIND, name, format!("`{}` is {}", lookup.text(name), a(kind)))
        .label(format!("here belongs: {wanted}"));
    Some(match named_of(lookup.book, known) {
        Some(named) => told.also(named.span, format!("defined here as {}", a(kind))),
        None => told,
    })
}

/// How a kind is defined.
fn example(kind: DefinitionWord, name: &str) -> String {
    format!("`{} {name} \"…\"`", word_of(kind))
}

/// `on NAME` names nothing for which work or a cost can be.
pub(crate) fn no_target(lookup: &Lookup<'_>, name: Span, day: Option<NaiveDate>, known: Option<Known>) -> Diagnostic {
    let text = lookup.text(name);
    let near = near_names(&text, batches_until(lookup, day).chain(targets(lookup)));
    let told = known.and_then(|known| wrong_kind(lookup, name, known, "a batch, line, channel or product"));
    let told = told.unwrap_or_else(|| {
        Diagnostic::new(UNKNOWN_NAME, name, format!("`{text}` is not known"))
            .label("no batch, line, channel or product of this name")
    });
    offer_near(told, name, near)
}

/// A batch's code that no entry begins.
pub(crate) fn no_batch(lookup: &Lookup<'_>, code: Span, day: Option<NaiveDate>, known: Option<Known>) -> Diagnostic {
    let text = lookup.text(code);
    let near = near_names(&text, batches_until(lookup, day));
    let told = known.and_then(|known| wrong_kind(lookup, code, known, "a batch"));
    let told = told.unwrap_or_else(|| {
        Diagnostic::new(UNKNOWN_NAME, code, format!("`{text}` is no batch")).label("no entry begins a batch of this name")
    });
    offer_near(told, code, near)
}

/// The batches that had begun by a day.
fn batches_until<'b>(lookup: &Lookup<'b>, day: Option<NaiveDate>) -> impl Iterator<Item = &'b str> {
    let began = move |first: Option<NaiveDate>| first.zip(day).is_none_or(|(first, day)| first <= day);
    lookup.book.batches.iter().filter(move |batch| began(batch.first_day)).map(|batch| batch.name.as_str())
}

/// `changed` names nothing that is defined.
pub(crate) fn nothing_to_change<'n>(name: &str, place: Span, names: impl Iterator<Item = &'n str>) -> Diagnostic {
    let told = Diagnostic::new(UNKNOWN_NAME, place, format!("`{name}` is not defined, so it can't change"))
        .label("no definition of this name");
    offer_near(told, place, near_names(name, names.chain(["shop"])))
}

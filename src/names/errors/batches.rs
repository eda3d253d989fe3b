//! What is wrong, or looks wrong, with the names of batches, and with names that are never defined.

use crate::diagnostics::Diagnostic;
use crate::names::Named;
use crate::names::errors::{BATCH_NAME_TAKEN, BATCH_NEEDS_NAME, NEARLY_ANOTHER, ONLY_WORKED, UNIT_AS_CODE, behind, offer_near};
use crate::names::kinds::a;
use crate::sources::Span;
use crate::syntax::{DefinitionWord, Entry};

pub(crate) fn second_unnamed(entry: &Entry, first: Span, name: &str, free: String) -> Diagnostic {
    Diagnostic::new(BATCH_NEEDS_NAME, entry.head, format!("a second batch of that day needs a name; `{name}` is the first"))
        .also(first, "the first, known by its product and day")
        .fix("name the batch", behind(entry.head), format!(" batch {free}"))
}

pub(crate) fn several_products_need_a_name(entry: &Entry, first: &str, second: &str, free: String) -> Diagnostic {
    let message = format!("a batch that makes several things needs a name; this one makes `{first}` and `{second}`");
    Diagnostic::new(BATCH_NEEDS_NAME, entry.head, message).fix("name the batch", behind(entry.head), format!(" batch {free}"))
}

pub(crate) fn nothing_made_needs_a_name(entry: &Entry) -> Diagnostic {
    Diagnostic::new(BATCH_NEEDS_NAME, entry.head, "a batch that makes nothing has no product to be known by, so it needs a name")
        .fix("name the batch", behind(entry.head), " batch TRY-1")
}

pub(crate) fn named_like_another(
    name: &str,
    place: Span,
    taken: DefinitionWord,
    other: Option<&Named>,
    free: String,
) -> Diagnostic {
    let told = Diagnostic::new(BATCH_NAME_TAKEN, place, format!("a batch can't be named `{name}`, which is {}", a(taken)))
        .note("`on NAME` could mean either")
        .fix("another name, in each of its entries", place, free);
    match other {
        Some(named) => told.also(named.span, format!("defined here as {}", a(taken))),
        None => told,
    }
}

/// `batch journals`, where `journal` is a product.
pub(crate) fn named_as_its_plural(name: &str, place: Span, product: &Named, free: String) -> Diagnostic {
    let message = format!("a batch can't be named `{name}`, which is the plural of the product `{}`", product.name);
    Diagnostic::new(BATCH_NAME_TAKEN, place, message)
        .note("`on NAME` could mean either")
        .fix("another name, in each of its entries", place, free)
        .also(product.span, "defined here as a product")
}

pub(crate) fn unit_as_code(name: &str, place: Span) -> Diagnostic {
    Diagnostic::new(UNIT_AS_CODE, place, format!("`{name}` is a unit, so it can't be a code"))
}

pub(crate) fn only_worked(name: &str, place: Span, near: &[String]) -> Diagnostic {
    let told = Diagnostic::new(ONLY_WORKED, place, format!("only `worked` entries name the batch `{name}`"))
        .label("is this the batch that was meant?")
        .note("a batch begins with the first entry that names it; this one was never built, started or finished");
    offer_near(told, place, near.iter().map(String::as_str))
}

/// Somebody who was paid may have a channel's name too: then it is what it was for that says so.
pub(crate) fn or_a_payee(told: Diagnostic, channel: &str) -> Diagnostic {
    told.note(format!(
        "a cost of selling there has the channel behind its sum, whoever was paid: `60.00 for booth-fee on {channel}`"
    ))
}

/// `place` is that of the name, and that which the other would take.
pub(crate) fn nearly_another(what: &str, name: &str, place: (Span, Span), other: &str, first: Span) -> Diagnostic {
    Diagnostic::new(NEARLY_ANOTHER, place.0, format!("the {what} `{name}` is nearly `{other}`"))
        .label("are these two the same?")
        .also(first, format!("`{other}` stands here"))
        .fix(format!("if `{other}` is meant"), place.1, other)
}

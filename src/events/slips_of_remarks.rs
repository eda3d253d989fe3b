//! A look over remarks that say what the figures don't: goods that are called damaged where they stay on the shelf, and presents to the family as
//! costs of the shop.
//!
//! In: all events in their order. Out: a warning for each such line. Must not: move a figure.

use crate::diagnostics::Diagnostics;
use crate::events::{Event, EventKind, LeftHow, errors};
use crate::names::ResolvedBook;
use crate::sources::SourceSet;
use crate::syntax::Verb;

/// Words that say of goods that they are gone or no good any more.
const DAMAGE: [&str; 26] = [
    "damaged",
    "damage",
    "broken",
    "broke",
    "cracked",
    "chipped",
    "ruined",
    "spoiled",
    "spoilt",
    "stained",
    "torn",
    "lost",
    "missing",
    "stolen",
    "moth",
    "moths",
    "mildew",
    "mold",
    "mould",
    "mouldy",
    "moldy",
    "rotten",
    "warped",
    "scrapped",
    "defective",
    "unsellable",
];
/// Those to whom a present is no cost of a shop.
const FAMILY: [&str; 26] = [
    "sister",
    "brother",
    "mother",
    "mom",
    "mum",
    "father",
    "dad",
    "wife",
    "husband",
    "son",
    "daughter",
    "niece",
    "nephew",
    "aunt",
    "uncle",
    "cousin",
    "grandma",
    "grandmother",
    "grandpa",
    "grandfather",
    "granddaughter",
    "grandson",
    "family",
    "partner",
    "girlfriend",
    "boyfriend",
];

/// Looks over all events in their order.
pub(crate) fn look_over(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    for event in events {
        match &event.kind {
            EventKind::Counted(counted) => {
                for line in counted.lines.iter().filter(|line| says_difference(sources.text(line.memo))) {
                    let name = &book.thing(line.thing).named.name;
                    let there = line.quantity.normalize();
                    found.push(errors::slips::counted_as_damaged(line.span, there, name, (sources.text(line.memo), event.date)));
                }
            }
            EventKind::Moved(moved) if event.verb == Verb::BroughtBack => {
                for line in moved.lines.iter().filter(|line| says_damage(sources.text(line.memo))) {
                    let name = &book.thing(line.thing).named.name;
                    found.push(errors::slips::back_as_damaged(line.span, name, (sources.text(line.memo), event.date)));
                }
            }
            EventKind::Left(left) if matches!(left.how, LeftHow::Gave(_)) => {
                let to = left.to.map(|to| book.label(to)).filter(|to| is_family(to));
                if let Some(to) = to {
                    found.push(errors::slips::given_to_family(event.head, to, event.date));
                }
            }
            _ => {}
        }
    }
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|letter: char| !letter.is_alphanumeric())
}

/// Whether a remark says that goods are no good any more; `not damaged`, `none lost` say the contrary.
fn says_damage(text: &str) -> bool {
    let no_good = text.to_lowercase().contains("no good");
    no_good || says_one_of(text, &DAMAGE) && !says_one_of(text, &["not", "no", "none", "nothing", "never"])
}

/// Whether a remark of a count says a difference, as `short` or `over`, or that goods are gone.
fn says_difference(text: &str) -> bool {
    const DIFFERENCE: [&str; 9] = ["short", "over", "more", "less", "fewer", "extra", "gone", "surplus", "than"];
    says_damage(text) || says_one_of(text, &DIFFERENCE)
}

/// Whether one of these words stands in a text.
pub(crate) fn says_one_of(text: &str, wanted: &[&str]) -> bool {
    words(text).any(|word| wanted.iter().any(|one| one.eq_ignore_ascii_case(word)))
}

/// `my sister`, `sister Ann`: a word of the family first or behind `my`, `our`.
fn is_family(to: &str) -> bool {
    let mut words = words(to).filter(|word| !word.is_empty() && !matches!(*word, "my" | "our" | "My" | "Our" | "the"));
    words.next().is_some_and(|first| FAMILY.iter().any(|one| one.eq_ignore_ascii_case(first)))
}

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
/// Words that take such a word back: `not damaged`, `without the torn ones`, `still fine`.
const DENIED: [&str; 16] = [
    "not", "no", "none", "nothing", "never", "without", "after", "behind", "fine", "good", "ok", "still", "glued", "mended",
    "repaired", "fixed",
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
                    found.push(errors::meanings::counted_as_damaged(
                        line.span,
                        there,
                        name,
                        (sources.text(line.memo), event.date),
                    ));
                }
            }
            EventKind::Moved(moved) if event.verb == Verb::BroughtBack => {
                for line in moved.lines.iter().filter(|line| says_damage(sources.text(line.memo))) {
                    let name = &book.thing(line.thing).named.name;
                    found.push(errors::meanings::back_as_damaged(line.span, name, (sources.text(line.memo), event.date)));
                }
            }
            EventKind::Left(left) if matches!(left.how, LeftHow::Gave(_)) => {
                let to = left.to.map(|to| book.label(to)).filter(|to| is_family(to));
                if let Some(to) = to {
                    found.push(errors::meanings::given_to_family(event.head, to, event.date));
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
pub(crate) fn says_damage(text: &str) -> bool {
    let no_good = text.to_lowercase().contains("no good");
    no_good || says_one_of(text, &DAMAGE) && !says_one_of(text, &DENIED)
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

/// `my sister`, `my-sister`, `brother-in-law`, `sister Ann`, `Aunt Rose`, and no more: `Mother Earth Store` and `Sister Mary's school` are none of
/// the family.
fn is_family(to: &str) -> bool {
    // An in-law is family, and a name of one word has hyphens where a text has blanks.
    let spoken = to.replace("-in-law", "");
    let spoken = if ["my-", "our-"].iter().any(|one| spoken.starts_with(one)) { spoken.replace('-', " ") } else { spoken };
    let words: Vec<&str> = spoken.split_whitespace().collect();
    let mine = words.first().is_some_and(|first| ["my", "our"].iter().any(|one| one.eq_ignore_ascii_case(first)));
    let rest = words.get(usize::from(mine)..).unwrap_or_default();
    let is = |word: &str| FAMILY.iter().any(|one| one.eq_ignore_ascii_case(word.trim_end_matches([',', '.'])));
    let is_person = |word: &str| word.starts_with(char::is_uppercase) && !word.contains(['\'', '\u{2019}']);
    match rest {
        [one] => is(one) && (mine || !["partner", "family"].contains(&one.to_lowercase().as_str())),
        [one, name] => {
            is(one)
                && (is_person(name) || mine && one.ends_with(','))
                && !["partner", "family", "mother"].contains(&one.to_lowercase().as_str())
        }
        [one, ..] if mine => is(one) && one.ends_with(','),
        _ => false,
    }
}

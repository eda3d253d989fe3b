//! A word beside a name that is neither its unit nor a part of it: `1 hat blue`, `1 blue hat`, `1 font caslon`; and people who are counted.

use rust_decimal::Decimal;

use crate::diagnostics::{Diagnostic, Fix};
use crate::names::errors::typed_line::TypedLine;
use crate::names::errors::{NOT_WHOLE, UNKNOWN_NAME};
use crate::names::kinds::{named_of, names_of};
use crate::names::plural::{plural_of, singulars_of};
use crate::names::readings::Reading;
use crate::names::{Lookup, Thing, ThingKind};
use crate::sources::Span;
use crate::syntax::{Amount, AmountKind, DefinitionWord, Item, SaidWhat, Verb};
use crate::units::Unit;

/// What things come in: such a word is the name of a pack, and no remark.
const CONTAINERS: [&str; 28] = [
    "bag", "ball", "bottle", "box", "bundle", "can", "card", "carton", "case", "cone", "crate", "dozen", "gross", "jar", "kit",
    "pack", "package", "packet", "pad", "pair", "ream", "roll", "set", "sheet", "skein", "spool", "tin", "tube",
];

/// How those who are taught or fed are counted.
const PEOPLE: [&str; 10] =
    ["people", "person", "persons", "student", "students", "guest", "guests", "participants", "seats", "places"];

/// How many incomes are offered.
const MOST: usize = 4;

/// Whether things come in what a word names.
pub(crate) fn is_container(word: &str) -> bool {
    CONTAINERS.contains(&word)
}

/// Whether a word may say which one of a thing it is: small letters, and nothing in which things come.
fn is_remark(word: &str) -> bool {
    let is = |word: &str| CONTAINERS.contains(&word);
    let known = is(word) || singulars_of(word).iter().any(|one| is(one)) || Unit::parse(word).is_some();
    !known && word.chars().count() > 2 && word.chars().all(char::is_alphabetic)
}

/// The line in which a name and the word beside it are read as the name and a remark.
fn as_remark(lookup: &Lookup<'_>, place: Span, name: &str, remark: &str, why: String) -> Option<Fix> {
    let line = TypedLine::of(lookup.sources, place);
    if line.verb.is_none() || line.is_head {
        return None;
    }
    let lines = lookup.sources.lines_of(place);
    let reading = Reading { name: name.to_owned(), said: String::new(), remark: remark.to_owned(), why };
    let at = (place.start - lines.start) as usize..(place.end - lines.start) as usize;
    let (message, replacement) = reading.in_line(lookup.sources.text(lines), at);
    Some(Fix { message, span: lines, replacement, sure: false })
}

/// `1 hat blue at 38.00`: a known name where a unit stands, and a word behind it that says nothing to the book.
pub(crate) fn remark_behind(lookup: &Lookup<'_>, item: &Item, unit: Span, wanted: &[DefinitionWord]) -> Option<Diagnostic> {
    let (first, last) = (lookup.unit_words(unit), lookup.text(item.name));
    if first.contains(' ') || !is_remark(&last) {
        return None;
    }
    let known = lookup.quiet_find(unit, wanted, Some(item.amount.value)).ok()?;
    // What came back broken is not put back on the shelf.
    const BROKEN: [&str; 10] =
        ["broken", "broke", "damaged", "cracked", "chipped", "ruined", "spoiled", "smashed", "defective", "faulty"];
    let line = TypedLine::of(lookup.sources, item.name);
    if line.verb == Some(Verb::Returned) && BROKEN.contains(&last.as_ref()) {
        let message = format!("a piece that came back `{last}` is said to be `scrapped`");
        let told =
            Diagnostic::new(UNKNOWN_NAME, item.name, message).note("else it goes `back to stock`, or is `left with buyer`");
        return Some(told.fix("write it so", unit.to(item.name), format!("{first}, scrapped")));
    }
    if line.verb == Some(Verb::Sold) && matches!(last.as_ref(), "free" | "gratis") {
        let told = Diagnostic::new(UNKNOWN_NAME, item.name, "what cost the buyer nothing is said so: `for 0.00`")
            .note("what was given away may be an entry of its own: `gave DATE to \"…\" as gift`");
        return Some(told.fix("write it so", unit.to(item.name), format!("{first} for 0.00")));
    }
    let one = named_of(lookup.book, known).map_or_else(|| first.to_string(), |named| named.name.clone());
    let told =
        Diagnostic::new(UNKNOWN_NAME, item.name, format!("`{first}` is known, and `{last}` behind it says nothing by itself"));
    let told = told.note(format!("where it is a kind of its own, it has a name of one word: `product {one}-{last} \"…\"`"));
    Some(with_fix(told, as_remark(lookup, unit.to(item.name), &first, &last, "as a remark, in quotes".into())))
}

fn with_fix(mut told: Diagnostic, fix: Option<Fix>) -> Diagnostic {
    told.fixes.extend(fix);
    told
}

/// `1 blue hat`: the word where the unit stands, if it may say which one of a product it is.
pub(crate) fn remark_before(lookup: &Lookup<'_>, unit: Span, of: &Thing) -> Option<Fix> {
    let word = lookup.unit_words(unit);
    if of.kind != ThingKind::Product || !is_remark(&word) {
        return None;
    }
    let name = name_behind(lookup, unit)?;
    as_remark(lookup, unit.to(name), lookup.sources.text(name), &word, format!("if `{word}` only says which one, as a remark"))
}

/// The word that follows a unit.
fn name_behind(lookup: &Lookup<'_>, unit: Span) -> Option<Span> {
    let line = lookup.sources.lines_of(unit);
    let rest = lookup.sources.text(Span::new(unit.end, line.end));
    let from = rest.find(|letter: char| !letter.is_whitespace())?;
    let length = rest.get(from..)?.find([' ', '\t', ',']).unwrap_or(rest.len() - from);
    let start = unit.end.checked_add(u32::try_from(from).ok()?)?;
    Some(Span::new(start, start.checked_add(u32::try_from(length).ok()?)?))
}

/// Half a tool, a tool by weight, or `1 font caslon`.
pub(crate) fn not_a_whole_count(lookup: &Lookup<'_>, amount: &Amount, name: &str) -> Diagnostic {
    let text = lookup.sources.text(amount.span);
    let counts = format!("`1 {name}`, `2 {}`", plural_of(name));
    let AmountKind::Measured { unit } = amount.kind else {
        let told = Diagnostic::new(NOT_WHOLE, amount.span, format!("`{name}` is counted in whole numbers, and `{text}` is none"));
        return told.note(counts);
    };
    let word = lookup.unit_words(unit);
    let told = Diagnostic::new(NOT_WHOLE, unit, format!("`{name}` is counted, and `{word}` is no unit of it"));
    let told = told.label("nothing stands between the number and the name").note(counts);
    if amount.value != Decimal::ONE || Unit::parse(&word).is_some() {
        return told;
    }
    let fix = name_behind(lookup, unit).and_then(|behind| {
        let said = lookup.sources.text(behind);
        as_remark(lookup, unit.to(behind), said, &word, format!("one `{name}`, and `{word}` as a remark"))
    });
    with_fix(told, fix)
}

/// `6 people at 45.00` in a sale: what was earned without goods.
pub(crate) fn people(lookup: &Lookup<'_>, item: &Item) -> Option<Diagnostic> {
    let place = item.amount.span.to(item.name);
    if !PEOPLE.contains(&lookup.text(item.name).as_ref()) || TypedLine::of(lookup.sources, place).verb != Some(Verb::Sold) {
        return None;
    }
    let sum = item.said.iter().find_map(|said| match said.what {
        SaidWhat::At(price) => item.amount.value.checked_mul(price),
        SaidWhat::For(sum) => Some(sum),
        _ => None,
    });
    let told = Diagnostic::new(UNKNOWN_NAME, place, "people are no goods: what they pay for a class or a visit is an income");
    let names = names_of(lookup.book, DefinitionWord::Income);
    let shown = sum.map_or_else(|| "270.00".to_owned(), |sum| format!("{:.2}", sum.normalize()));
    let count = lookup.sources.text(place);
    let told = told
        .note(format!("its sum stands on the line, and how many came may follow as a remark: `{shown} for NAME \"{count}\"`"));
    if names.is_empty() || names.len() > MOST || sum.is_none() {
        return Some(told.note("an income is defined in any file: `income class \"Classes\"`"));
    }
    Some(names.into_iter().fold(told, |told, name| {
        told.fix(format!("as the income `{name}`"), item.span, format!("{shown} for {name} \"{count}\""))
    }))
}

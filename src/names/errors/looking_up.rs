//! What is said of a name that isn't known, or is of another kind than belongs there.

use chrono::NaiveDate;

use crate::diagnostics::{Diagnostic, Fix, edits, near_names};
use crate::names::batches::targets;
use crate::names::errors::roads::road_of;
use crate::names::errors::typed_line::TypedLine;
use crate::names::errors::{UNKNOWN_NAME, WRONG_KIND, offer_near};
use crate::names::kinds::{a, any_of, any_word_of, kind_of, named_of, names_of, word_of};
use crate::names::plural::singulars_of;
use crate::names::readings::{Reading, by_title, two_names, with_remark};
use crate::names::{Known, Lookup};
use crate::sources::{SourceSet, Span};
use crate::syntax::{DefinitionWord, FREIGHT_BACK, LEFT_TO_THE_READER, Verb};
use crate::units::Unit;

/// How many names are offered of which one is a part of the other.
const MOST_WITHIN: usize = 3;

/// How many names are offered in the place of such a word.
const MOST_IN_PLACE: usize = 4;

/// What money for goods is received for.
const FOR_A_SALE: &str = "money for goods names their sale: `29.40 for sold 2026-05-20`, or `29.40 for order \"C-07\"`";

/// Where what was paid for something stands.
pub(crate) const MONEY_IS_PAID: &str = "money for something stands in `paid 2026-03-05 to NAME`";

/// The names that hold another whole, as `red-oak` does `oak`, or are held by it; the longest first.
pub(crate) fn names_within<'n>(typed: &str, known: impl IntoIterator<Item = &'n str>) -> Vec<&'n str> {
    let within = |whole: &str, part: &str| format!("-{whole}-").contains(&format!("-{part}-"));
    let mut names: Vec<&str> = known.into_iter().filter(|name| within(typed, name) || within(name, typed)).collect();
    names.sort_unstable_by_key(|name| (std::cmp::Reverse(name.len()), *name));
    names.dedup();
    names.truncate(MOST_WITHIN);
    names
}

/// A name that may not stand there: unknown, or of another kind.
pub(crate) fn not_found(lookup: &Lookup<'_>, name: Span, wanted: &[DefinitionWord], known: Option<Known>) -> Diagnostic {
    let text = lookup.text(name);
    let candidates = || wanted.iter().flat_map(|kind| names_of(lookup.book, *kind));
    let near = near_names(&text, candidates());
    if let Some(told) = known.and_then(|known| wrong_kind(lookup, name, known, &any_of(wanted))) {
        let told = match (wanted, known) {
            ([DefinitionWord::Income], Some(Known::Expense(_))) => told.note(format!("a cost is an entry of its own, with a line `{} for {text}`: {MONEY_IS_PAID}", TypedLine::of(lookup.sources, name).first)),
            ([DefinitionWord::Income], Some(Known::Line(_))) => {
                told.note(FOR_A_SALE).fix("for goods, by the day of their sale", name, "sold DATE")
            }
            ([DefinitionWord::Income], Some(Known::Thing(_))) => told.fix("for goods, by the day of their sale", name, "sold DATE").note(FOR_A_SALE).note(format!(
                "what a supplier gives back for it is no income: `credited DATE by NAME`, and below it `{} off {text}`",
                TypedLine::of(lookup.sources, name).first
            )),
            ([DefinitionWord::Income], _) => told.note(FOR_A_SALE),
            ([DefinitionWord::Step], Some(Known::Channel(_) | Known::Line(_))) => {
                told.note("what was done is said by its step, and for what behind `on`").fix("with the step's name", name, format!("NAME on {text}"))
            }
            ([DefinitionWord::Expense, ..], Some(Known::Thing(thing)))
                if lookup.book.thing(thing).unit == Unit::Each && TypedLine::of(lookup.sources, name).verb == Some(Verb::Bought) =>
            {
                let line = lookup.sources.lines_of(name);
                let before = lookup.sources.text(Span::new(line.start, name.start));
                let indent = before.len() - before.trim_start().len();
                let sum = before.split_whitespace().next().unwrap_or("SUM");
                let start = line.start.saturating_add(u32::try_from(indent).unwrap_or(0));
                told.fix("as goods, one of it", Span::new(start, name.end), format!("1 {text} for {sum}"))
            }
            ([DefinitionWord::Expense, ..], Some(Known::Thing(_))) => told.note(
                "goods stand in `bought`; a sum settles a bill that is open: `110.00 for bought 2026-03-02`, or \
                 `110.00 for receipt \"A-1182\"`",
            ),
            ([DefinitionWord::Expense, ..], Some(Known::Step(_))) => told.note(format!(
                "what a helper gets for work stands in the batch: `took 3h {text} by NAME for 60.00`, with `helper NAME \"…\"` defined"
            )),
            ([DefinitionWord::Place], Some(Known::Channel(_))) => told.note(format!(
                "goods that lie there need a place, which may have the channel's name: {}",
                example(DefinitionWord::Place, &text)
            )),
            _ => told,
        };
        return offer_near(told, name, near);
    }
    let kinds = any_of(wanted);
    let told = Diagnostic::new(UNKNOWN_NAME, name, format!("`{text}` is not defined")).label(format!("no {kinds} of this name"));
    let line = TypedLine::of(lookup.sources, name);
    if LEFT_TO_THE_READER.contains(&text.as_ref()) {
        return in_its_place(lookup, name, wanted);
    }
    // `12 cedar-jar, 8 returned`: what was brought back from a fair.
    if line.verb == Some(Verb::Sold) && matches!(text.as_ref(), "returned" | "unsold" | "returns" | "left") && !line.is_head {
        let mut told = told;
        told.message = "what was not sold and came back is said of the goods: `12 pull-cart, 7 back`".into();
        return told.fix("write it so", name, "back");
    }
    // `made 8 ducks, 2 seconds`
    if line.first == "made" && matches!(text.as_ref(), "second" | "seconds" | "reject" | "rejects") {
        let made = line.text.split_whitespace().nth(2).map(|word| word.trim_end_matches(','));
        let one =
            made.and_then(|made| singulars_of(made).into_iter().next().or_else(|| Some(made.to_owned()))).unwrap_or_default();
        let mut told = told;
        told.message = "seconds are goods of their own, with a price of their own, beside the good ones".into();
        let name_of = format!("{one}-second");
        return told
            .note(format!(
                "define it in any file: {}; `made` counts the good ones alone, and the batch then says `shared by price`",
                example(DefinitionWord::Product, &name_of)
            ))
            .fix("as a product of its own", name, name_of);
    }
    // `10 cedar-jar, 7 sold`
    if line.verb == Some(Verb::Sold) && matches!(text.as_ref(), "sold" | "taken") && !line.is_head {
        let mut told = told;
        told.message = "what was taken along and not sold is said of the goods: `10 pull-cart, 3 back`".into();
        return told.note("the first figure is how many were taken along, the second how many came back");
    }
    let meant = meant(lookup, name, wanted, &line);
    let close = near.first().is_some_and(|near| edits(near, &text) <= 1);
    if let Some(road) = road_of(lookup.book, &text, &line, name).filter(|_| !close) {
        let mut told = told;
        let is_no_name = road.message.is_some();
        told.message = road.message.unwrap_or(told.message);
        let define = road.may_be_defined.then(|| wanted.first()).flatten();
        let define = define.map(|kind| format!("any other is defined in any file: {}", example(*kind, &text)));
        told.notes.extend(road.notes.into_iter().chain(define));
        // What is no name at all is not nearly one either.
        let nearly = meant.into_iter().filter(|_| !is_no_name);
        told.fixes.extend(road.fixes.into_iter().chain(nearly));
        return told;
    }
    let told = match wanted {
        _ if !two_names(lookup.book, &text, wanted, line.verb).is_empty() => told,
        // A name that is only somewhat like another may be a new one.
        _ if near.first().is_some_and(|near| edits(near, &text) <= 1 || wanted != [DefinitionWord::Step]) => told,
        // In a sale stands what was sold; what it cost is paid.
        [DefinitionWord::Income] if line.verb == Some(Verb::Sold) => told
            .note(format!("a cost is paid in an entry of its own, `{} for {text}`: {MONEY_IS_PAID}", line.first))
            .note(format!("if it is income beside the goods, define it: {}", example(DefinitionWord::Income, &text))),
        [DefinitionWord::Income] if is_freight(&text) || matches!(text.as_ref(), "refund" | "rebate" | "credit") => told
            .note("what a supplier gives back is no income: `credited 2026-02-15 by NAME`, and below it `8.00 off red-oak`")
            .note(FREIGHT_BACK),
        [DefinitionWord::Income]
            if singulars_of(&text).iter().any(|one| names_of(lookup.book, DefinitionWord::Product).contains(&one.as_str())) =>
        {
            told.note(FOR_A_SALE).fix("for goods, by the day of their sale", name, "sold DATE")
        }
        [DefinitionWord::Income] => told
            .note(FOR_A_SALE)
            .note(format!("any other income is defined in any file: {}", example(DefinitionWord::Income, &text))),
        // `60 for jim` under `paid … to jim`
        [DefinitionWord::Expense, ..] if line.head.split_whitespace().any(|word| word == text) => told
            .note(format!("a helper's time is hired in its batch: `took 3h sanding by {text} for {}`", line.first))
            .note(format!("any other cost is defined in any file, as in {}", example(DefinitionWord::Expense, "NAME"))),
        [DefinitionWord::Expense, ..] => told.note(format!(
            "define it in any file, as in {}, and under it `form line other` or the form's own line",
            example(DefinitionWord::Expense, &text)
        )),
        [DefinitionWord::Place] if text == "home" && line.verb == Some(Verb::UsedUp) => {
            let day = line.head.split_whitespace().nth(1).unwrap_or("2026-05-03");
            told.note(format!("what you or your family use yourselves is taken home: `took-home {day}`, and the goods below it"))
                .note("without `at`, a `used-up` entry is of what the shop used up where it works")
        }
        // A person, or a place by its title: no name of the book is so written.
        [DefinitionWord::Place] if text.contains(char::is_whitespace) => {
            let day = line.head.split_whitespace().nth(1).unwrap_or("2026-05-03");
            let one = text
                .to_lowercase()
                .split(|c: char| !c.is_alphanumeric())
                .filter(|word| !word.is_empty())
                .collect::<Vec<_>>()
                .join("-");
            told.note("`sent` is to a place where the goods stay yours; what goes to a buyer is `sold`, with `postage` on a line of its own")
                .note(format!("what a buyer gets in place of a faulty piece is `used-up {day} on CHANNEL`; a present is `gave {day} to \"{text}\" as gift`"))
                .note(format!("if it is a place where goods of yours lie, define it in any file: `place {one} \"{text}\"`"))
        }
        [only] => told.note(format!("define it in any file: {}", example(*only, &text))),
        [DefinitionWord::Material, ..] if line.verb == Some(Verb::Credited) && is_freight(&text) => told.note(FREIGHT_BACK),
        [DefinitionWord::Material, ..] => {
            // What is counted is named as one of it, by which many are understood.
            let one = singulars_of(&text).into_iter().next().filter(|_| line.of_many).unwrap_or_else(|| text.to_string());
            let unit = line.unit.map_or("ea", |unit| unit.as_str());
            let told = match line.first {
                _ if line.verb.is_some_and(moves_products) && line.first != "packed" => told
                    .note(format!("define it in any file: {}", example(DefinitionWord::Product, &one)))
                    .note(format!("or, of what was bought and not made, {}", example(DefinitionWord::Material, &one))),
                "made" | "aims" => told.note(format!("define it in any file: {}", example(DefinitionWord::Product, &one))),
                "kept" => told.note(format!(
                    "define it in any file, as in {}, and under it `measured in {unit}` and `from NAME`, the material that it was cut from",
                    example(DefinitionWord::Material, &one)
                )),
                "packed" => told.note(format!(
                    "define it in any file, as in {}, and under it `measured in {unit}` and `as packing`",
                    example(DefinitionWord::Material, &one)
                )),
                _ => told.note(format!(
                    "define it in any file, as in {}, and under it `measured in {unit}`",
                    example(DefinitionWord::Material, &one)
                )),
            };
            let told = match wanted.contains(&DefinitionWord::Tool)
                && line.unit.is_none()
                && matches!(line.verb, Some(Verb::Bought | Verb::Swapped))
            {
                true => told.note(format!("or, if it is kept for years, {}", example(DefinitionWord::Tool, &one))),
                false => told,
            };
            // `60 booth`
            match line.verb == Some(Verb::Sold) && line.bare {
                true => told.note(money_if_it_is(lookup, &text, &line)),
                false => told,
            }
        }
        [likely, ..] => told.note(format!("define it in any file, as in {}", example(*likely, &text))),
        [] => told,
    };
    let mut told = told;
    told.fixes.extend(meant);
    told
}

/// `60 table` in a sale: where it is a cost of selling there, how it is paid.
fn money_if_it_is(lookup: &Lookup<'_>, text: &str, line: &TypedLine<'_>) -> String {
    let expenses = || names_of(lookup.book, DefinitionWord::Expense);
    let near = near_names(text, expenses()).first().copied();
    let titled = || by_title(lookup.book, text, &[DefinitionWord::Expense]).map(|named| named.name.as_str());
    let within = || names_within(text, expenses()).first().copied();
    let name = near.or_else(within).or_else(titled).unwrap_or(text);
    let mut words = line.head.split_whitespace();
    let on = words.find(|word| *word == "via").and_then(|_| words.next()).map_or_else(String::new, |via| format!(" on {via}"));
    format!("if that is money, `{} for {name}{on}`: {MONEY_IS_PAID}", line.first)
}

/// What may be meant by a name that nothing defines, as corrections of its line, the likeliest first.
fn meant(lookup: &Lookup<'_>, name: Span, wanted: &[DefinitionWord], line: &TypedLine<'_>) -> Vec<Fix> {
    let text = lookup.text(name);
    let candidates = || wanted.iter().flat_map(|kind| names_of(lookup.book, *kind));
    let near = near_names(&text, candidates());
    let place = unquoted(lookup.sources, name);
    let lines = lookup.sources.lines_of(name);
    let at = (place.start - lines.start) as usize..(place.end - lines.start) as usize;
    let as_read = |reading: &Reading| {
        let (message, replacement) = reading.in_line(lookup.sources.text(lines), at.clone());
        Fix { message, span: lines, replacement, sure: false }
    };
    let as_named = |name: &str, why: String| Fix { message: why, span: place, replacement: name.to_owned(), sure: false };
    let mut readings = two_names(lookup.book, &text, wanted, line.verb);
    let mut fixes: Vec<Fix> = readings.iter().map(as_read).collect();
    // A letter that is wrong is likelier than a remark.
    let close = near.first().is_some_and(|near| edits(near, &text) <= 1);
    if !close {
        let remarks = with_remark(lookup.book, &text, wanted, line.verb.is_some() && !line.is_head);
        let remarks: Vec<Reading> =
            remarks.into_iter().filter(|one| !readings.iter().any(|known| known.name == one.name)).collect();
        fixes.extend(remarks.iter().map(as_read));
        readings.extend(remarks);
    }
    let new = near.into_iter().filter(|near| !readings.iter().any(|known| known.name == *near));
    fixes.extend(new.map(|name| as_named(name, format!("did you mean `{name}`?"))));
    if fixes.is_empty() {
        let titled = by_title(lookup.book, &text, wanted);
        fixes.extend(titled.map(|named| as_named(&named.name, format!("did you mean `{}` ({})?", named.name, named.title))));
    }
    if fixes.is_empty() {
        let within = names_within(&text, candidates());
        fixes.extend(within.into_iter().map(|name| as_named(name, format!("did you mean `{name}`?"))));
    }
    fixes
}

/// A name's place with the quotes around it, in which no name of the book stands.
pub(crate) fn unquoted(sources: &SourceSet, name: Span) -> Span {
    let is_quote = |text: &str| matches!(text, "\"");
    let wide = Span::new(name.start.saturating_sub(1), name.end.saturating_add(1));
    let (before, behind) = (Span::new(wide.start, name.start), Span::new(name.end, wide.end));
    match is_quote(sources.text(before)) && is_quote(sources.text(behind)) {
        true => wide,
        false => name,
    }
}

/// A word that a correction left to the reader, and that still stands there: with the names that may be meant, where they are few.
fn in_its_place(lookup: &Lookup<'_>, name: Span, wanted: &[DefinitionWord]) -> Diagnostic {
    let text = lookup.text(name);
    let kinds: Vec<String> = wanted.iter().map(|kind| a(*kind).to_owned()).collect();
    let message = format!("in place of `{text}` stands the name of {}", any_word_of(&kinds));
    let told = Diagnostic::new(UNKNOWN_NAME, name, message);
    let names: Vec<&str> = wanted.iter().flat_map(|kind| names_of(lookup.book, *kind)).collect();
    if names.is_empty() {
        let kind = wanted.first().copied().unwrap_or(DefinitionWord::Material);
        return told.note(format!("define it in any file: {}", example(kind, "name")));
    }
    let few = names.len() <= MOST_IN_PLACE;
    names.into_iter().filter(|_| few).fold(told, |told, known| told.fix(format!("if it is `{known}`"), name, known))
}

/// A word that a correction left to the reader, and that still stands where a number or somebody's name does.
pub(crate) fn left_to_the_reader(text: Span) -> Diagnostic {
    let told = Diagnostic::new(UNKNOWN_NAME, text, "in place of `NAME` stands who it is, or the number of the paper");
    told.note("several words stand in quotes: `to \"the landlord\"`")
}

/// Whether an entry is mostly about what the shop has made.
fn moves_products(verb: Verb) -> bool {
    matches!(verb, Verb::Sold | Verb::Sent | Verb::BroughtBack | Verb::Returned | Verb::Gave | Verb::TookHome)
}

/// Whether a word is one for what brings goods to the shop.
fn is_freight(word: &str) -> bool {
    matches!(word, "freight" | "shipping" | "delivery" | "carriage" | "postage")
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
    let told = match known {
        Some(Known::Tool(_) | Known::Step(_) | Known::Expense(_) | Known::Income(_) | Known::Thing(_)) => {
            without_target(lookup, told, name)
        }
        _ => told,
    };
    offer_near(told, name, near)
}

/// `60.00 for service on sewing-machine`: what is of the whole shop, with the name as a remark.
fn without_target(lookup: &Lookup<'_>, told: Diagnostic, name: Span) -> Diagnostic {
    let line = lookup.sources.lines_of(name);
    let before = lookup.sources.text(Span::new(line.start, name.start));
    let Some(front) = before.trim_end().strip_suffix("on") else { return told };
    let end = line.start.saturating_add(u32::try_from(front.trim_end().len()).unwrap_or(0));
    let behind = lookup.sources.text(Span::new(name.end, line.end)).trim();
    let is_head = TypedLine::of(lookup.sources, name).is_head;
    let place = Span::new(end, name.end);
    match () {
        () if is_head => told.fix("where it was for the whole shop", place, ""),
        () if behind.is_empty() => {
            told.fix("where it is of the whole shop, as a remark", place, format!(" \"{}\"", lookup.sources.text(name)))
        }
        () => told.fix("where it is of the whole shop", place, ""),
    }
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

//! What may be meant by a name that nothing defines: a defined name and a helper, a defined name and what it was for, a defined name
//! and a remark, or a word of a title.
//!
//! In: what was typed, joined with hyphens, and the kinds of names that may stand there. Out: readings, the likeliest first; and a
//! line as it reads so. Must not: leave out a word that may say something.

use std::ops::Range;

use crate::diagnostics::{edits, near_names};
use crate::names::kinds::{nameds_of, names_of};
use crate::names::plural::{plurals_of, singular_of};
use crate::names::{Named, ResolvedBook, ThingKind};
use crate::syntax::{DefinitionWord, Verb};

/// Words that say no more than the name beside them.
const EMPTY_WORDS: [&str; 12] = ["a", "an", "the", "another", "more", "some", "further", "extra", "other", "again", "of", "my"];

/// Words of titles that none is known by.
const JOINING_WORDS: [&str; 9] = ["and", "the", "for", "with", "from", "our", "own", "other", "shop"];

/// The fewest letters of a word by which a title is known.
const FEWEST_LETTERS: usize = 3;

/// A name as it may be meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Reading {
    /// The defined name, as it was typed where that is its plural.
    pub(crate) name: String,
    /// What else was said by the name: ` by nell`, ` on hat`; else empty.
    pub(crate) said: String,
    /// What is left as words for people; may be empty.
    pub(crate) remark: String,
    /// In words, for the offer.
    pub(crate) why: String,
}

impl Reading {
    /// A line that reads so, and what is said of it: `at` is where the name was typed. A remark stands at the end of its item, where
    /// that can be seen; else it is left out, and that is said.
    pub(crate) fn in_line(&self, line: &str, at: Range<usize>) -> (String, String) {
        let (before, behind) = (line.get(..at.start).unwrap_or(""), line.get(at.end..).unwrap_or(""));
        let (name, said, remark) = (&self.name, &self.said, &self.remark);
        let bare = format!("{before}{name}{said}{behind}");
        if remark.is_empty() {
            return (self.why.clone(), bare);
        }
        let item_ends = behind.find([',', '"', '\u{201C}', '#', '\n']).unwrap_or(behind.len());
        let (item, rest) = behind.split_at(item_ends);
        // What follows a comma may still be of this item, and a remark is its last word.
        let has_room = match rest.strip_prefix(',') {
            Some(more) => begins_an_item(more),
            None => !rest.starts_with(['"', '\u{201C}']),
        };
        if !has_room {
            let why = format!("did you mean `{name}`? `{remark}` is left out, and may stand in a line `note \"…\"`");
            return (why, bare);
        }
        let blank = if rest.starts_with('#') { " " } else { "" };
        (self.why.clone(), format!("{before}{name}{said}{} \"{remark}\"{blank}{rest}", item.trim_end()))
    }
}

/// Whether the next item of a list follows a comma: a number, and a word that is no side of a board.
fn begins_an_item(more: &str) -> bool {
    let mut words = more.split_whitespace();
    let is_count = words.next().is_some_and(|word| word.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.'));
    is_count && words.next().is_some_and(|word| word != "x" && word.starts_with(char::is_alphabetic))
}

/// Readings as two names: `nell-folding` is `folding by nell`, and `knitting-hats`, in `worked`, is `knitting on hat`.
pub(crate) fn two_names(book: &ResolvedBook, typed: &str, wanted: &[DefinitionWord], verb: Option<Verb>) -> Vec<Reading> {
    let is_work = wanted.contains(&DefinitionWord::Step);
    let mut readings = Vec::new();
    for kind in wanted.iter().filter(|kind| matches!(kind, DefinitionWord::Step | DefinitionWord::Expense)) {
        for name in names_of(book, *kind) {
            for rest in rests(typed, name).into_iter().flatten() {
                let reading = |said: String, why: String| Reading { name: name.to_owned(), said, remark: String::new(), why };
                if let Some(helper) = is_work.then(|| same(names_of(book, DefinitionWord::Helper), rest)).flatten() {
                    readings.push(reading(format!(" by {helper}"), format!("if it was done by `{helper}`")));
                }
                let may_be_for = verb == Some(if is_work { Verb::Worked } else { Verb::Paid });
                if let Some(target) = may_be_for.then(|| target_of(book, rest)).flatten() {
                    readings.push(reading(format!(" on {target}"), format!("if it was for `{target}`")));
                }
            }
        }
    }
    readings
}

/// What stands behind a name and what stands before it.
fn rests<'t>(typed: &'t str, name: &str) -> [Option<&'t str>; 2] {
    let head = typed.get(..name.len()).filter(|head| head.eq_ignore_ascii_case(name));
    let behind = head.and_then(|_| typed.get(name.len()..)?.strip_prefix('-'));
    let start = typed.len().checked_sub(name.len());
    let tail = start.filter(|at| typed.get(*at..).is_some_and(|tail| tail.eq_ignore_ascii_case(name)));
    let before = tail.and_then(|at| typed.get(..at)?.strip_suffix('-'));
    [behind, before]
}

/// The name that a text is, whatever its capitals.
pub(crate) fn same<'n>(names: impl IntoIterator<Item = &'n str>, text: &str) -> Option<&'n str> {
    names.into_iter().find(|name| name.eq_ignore_ascii_case(text))
}

/// What `on` may name, of this name or with this plural.
pub(crate) fn target_of<'b>(book: &'b ResolvedBook, text: &str) -> Option<&'b str> {
    let products = || book.things.iter().filter(|thing| thing.kind == ThingKind::Product).map(|thing| thing.named.name.as_str());
    let others = book.lines.iter().chain(book.channels.iter().map(|channel| &channel.named)).map(|named| named.name.as_str());
    let batches = book.batches.iter().map(|batch| batch.name.as_str());
    same(products().chain(others).chain(batches), text).or_else(|| products().find(|name| singular_of(text, name)))
}

/// Readings as a name and a remark: `text-paper-mildew` is `text-paper "mildew"`. The longest name that it begins with, and the
/// longest that it ends with.
pub(crate) fn with_remark(book: &ResolvedBook, typed: &str, wanted: &[DefinitionWord], may_remark: bool) -> Vec<Reading> {
    let mut found: [Option<(String, &str)>; 2] = [None, None];
    if !typed.contains('-') {
        return Vec::new();
    }
    for kind in wanted {
        let counted = matches!(kind, DefinitionWord::Material | DefinitionWord::Product | DefinitionWord::Tool);
        for name in names_of(book, *kind) {
            // Plurals are only made of what may be in it.
            let likely = counted && name.get(..name.len().saturating_sub(2)).is_some_and(|stem| typed.contains(stem));
            let plurals = if likely { plurals_of(name) } else { Vec::new() };
            for said in plurals.into_iter().chain([name.to_owned()]) {
                for (best, rest) in found.iter_mut().zip(rests(typed, &said)) {
                    let longer = best.as_ref().is_none_or(|(known, _)| known.len() < said.len());
                    if let Some(rest) = rest.filter(|rest| longer && is_words(rest)) {
                        *best = Some((said.clone(), rest));
                    }
                }
            }
        }
    }
    let mut readings = Vec::new();
    for (name, rest) in found.into_iter().flatten() {
        let words: Vec<&str> = rest.split('-').filter(|word| !EMPTY_WORDS.contains(word)).collect();
        let remark = if may_remark { words.join(" ") } else { String::new() };
        let why = match remark.is_empty() {
            true => format!("did you mean `{name}`?"),
            false => format!("did you mean `{name}`? the rest as a remark"),
        };
        readings.push(Reading { name, said: String::new(), remark, why });
    }
    readings
}

/// Whether a text is words that people say, and no number of a size or kind.
fn is_words(text: &str) -> bool {
    text.split('-').all(|word| !word.is_empty() && word.chars().all(|letter| letter.is_alphabetic() || letter == '\''))
}

/// The one name whose title is what was typed or nearly so, or that alone has all words of it in its title.
pub(crate) fn by_title<'b>(book: &'b ResolvedBook, typed: &str, wanted: &[DefinitionWord]) -> Option<&'b Named> {
    let words = words_of(typed);
    let known = words.iter().any(|word| word.chars().count() >= FEWEST_LETTERS && !JOINING_WORDS.contains(&word.as_str()));
    if !known {
        return None;
    }
    // Only titles are taken apart that have most of its longest word, or are about as long as several words: there may be thousands.
    let longest = words.iter().max_by_key(|word| word.len()).map_or("", String::as_str);
    let stem = longest.get(..longest.len().saturating_sub(2)).unwrap_or(longest);
    let as_long = |title: &str| words.len() > 1 && title.len().abs_diff(typed.len()) <= typed.len() / 4;
    let likely = |named: &&Named| has_ignoring_case(&named.title, stem) || as_long(&named.title);
    let titled: Vec<(&Named, Vec<String>)> = wanted
        .iter()
        .flat_map(|kind| nameds_of(book, *kind))
        .filter(likely)
        .map(|named| (named, words_of(&named.title)))
        .collect();
    let only = |is: &dyn Fn(&[String]) -> bool| {
        let mut alike = titled.iter().filter(|(_, title)| is(title)).map(|(named, _)| *named);
        alike.next().filter(|first| alike.all(|other| other.name == first.name))
    };
    let has = |title: &[String], word: &String| {
        let same = |said: &String| said == word || singular_of(said, word) || singular_of(word, said);
        (word.chars().count() >= FEWEST_LETTERS || words.len() > 1) && title.iter().any(same)
    };
    only(&|title| title == words.as_slice()).or_else(|| only(&|title| words.iter().all(|word| has(title, word)))).or_else(|| {
        let whole = words.join(" ");
        let titles: Vec<String> = titled.iter().map(|(_, title)| title.join(" ")).collect();
        let near = near_names(&whole, titles.iter().map(String::as_str));
        // Nearer than a name must be: titles have words in common.
        let near = near.first().filter(|near| words.len() > 1 && edits(near, &whole) <= whole.chars().count() / 5)?;
        only(&|title| title.join(" ") == *near)
    })
}

/// Whether a text holds another, whatever the capitals of plain letters.
fn has_ignoring_case(text: &str, part: &str) -> bool {
    let first = part.as_bytes().first().map(u8::to_ascii_lowercase);
    let mut windows = text.as_bytes().windows(part.len().max(1));
    windows.any(|some| some.first().map(u8::to_ascii_lowercase) == first && some.eq_ignore_ascii_case(part.as_bytes()))
}

/// A text's words, small.
pub(crate) fn words_of(text: &str) -> Vec<String> {
    let words = text.split(|letter: char| !letter.is_alphanumeric() && letter != '\'').filter(|word| !word.is_empty());
    words.map(str::to_lowercase).collect()
}

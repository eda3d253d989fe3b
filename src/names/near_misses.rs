//! Names that are never defined and nearly the same: suppliers, buyers and payees, and the codes of batches.
//!
//! Two rules, both blind to what tells real names apart (`J. in Dover` and `E. in Dover`, `VB-003` and `VS-003`). The same letters
//! and digits, save for case, joints, blanks and zeros before a number, are nearly the same; so are two names of which one word,
//! of five letters or more and without digits, has a letter too many, too few, another letter, or two neighbours swapped. Of four
//! letters two neighbours swapped are enough.

use std::collections::BTreeMap;
use std::hash::{Hash, Hasher};

use rustc_hash::FxHasher;

use crate::diagnostics::{Diagnostics, edits};
use crate::names::ResolvedBook;
use crate::names::errors::batches;
use crate::names::errors::looking_up::unquoted;
use crate::names::labels::Labels;
use crate::sources::{SourceSet, Span};

/// The fewest letters of a word in which one wrong letter counts.
const FEWEST_LETTERS: usize = 5;
/// The fewest letters of a word in which two neighbours that are swapped count.
const FEWEST_SWAPPED: usize = 4;

/// Warns of parties that are nearly another, and of batches whose names are.
pub(crate) fn tell_near_misses(sources: &SourceSet, book: &ResolvedBook, labels: &Labels<'_>, found: &mut Diagnostics) {
    // Helpers and channels are parties too; a name that is one of theirs is right.
    let helpers = book.helpers.iter().map(|helper| &helper.named);
    let channels = book.channels.iter().map(|channel| &channel.named);
    let mut parties: Vec<(&str, Span)> = helpers.chain(channels).map(|named| (named.name.as_str(), named.span)).collect();
    let defined = parties.len();
    let others = labels.parties.iter().map(|(name, span)| (name.as_ref(), *span));
    let places = &book.place_table;
    parties.extend(others.filter(|(name, _)| !book.table.contains_key(*name) && !places.contains_key(*name)));
    let channels: Vec<&str> = book.channels.iter().map(|channel| channel.named.name.as_str()).collect();
    tell_pairs(sources, "name", &parties, defined, &channels, found);
    let written = book.batches.iter().filter(|batch| batch.written);
    let batches: Vec<(&str, Span)> = written.map(|batch| (batch.name.as_str(), batch.span)).collect();
    tell_pairs(sources, "batch", &batches, 0, &[], found);
}

/// Warns of each pair, at the one that stands later; a defined name is never the one to be mended.
fn tell_pairs(
    sources: &SourceSet,
    what: &str,
    names: &[(&str, Span)],
    defined: usize,
    channels: &[&str],
    found: &mut Diagnostics,
) {
    let texts: Vec<&str> = names.iter().map(|(name, _)| *name).collect();
    for (one, other) in near_pairs(&texts) {
        let (Some(a), Some(b)) = (names.get(one), names.get(other)) else { continue };
        if other < defined {
            continue;
        }
        let (first, later) = if one < defined || a.1 <= b.1 { (a, b) } else { (b, a) };
        // No quotes around what is a name of the book.
        let is_defined = one < defined;
        let place = if is_defined { unquoted(sources, later.1) } else { later.1 };
        let told = batches::nearly_another(what, later.0, (later.1, place), first.0, first.1);
        let is_channel = is_defined && channels.contains(&first.0);
        found.push(if is_channel { batches::or_a_payee(told, first.0) } else { told });
    }
}

/// Pairs of nearly the same names, by their positions in the list, each pair once and in order. Of many names that are all near
/// to each other each is paired with the first.
pub(crate) fn near_pairs(names: &[&str]) -> Vec<(usize, usize)> {
    let mut pairs = Vec::new();
    let mut by_core: BTreeMap<String, usize> = BTreeMap::new();
    for (at, name) in names.iter().enumerate() {
        let core = core_of_name(name);
        if core.is_empty() {
            continue;
        }
        let first = *by_core.entry(core).or_insert(at);
        if first != at {
            pairs.push((first, at));
        }
    }
    // A letter taken out of both leaves the same where one letter differs or is too many. Hashes only, to hold no second copy of
    // a great many names; what meets in one is compared letter by letter.
    let mut gaps: Vec<(u64, usize)> = Vec::new();
    for (at, name) in names.iter().enumerate() {
        shortened(name, |hash| gaps.push((hash, at)));
    }
    gaps.sort_unstable();
    gaps.dedup();
    for same in gaps.chunk_by(|a, b| a.0 == b.0) {
        let Some(((_, first), others)) = same.split_first() else { continue };
        for (_, other) in others {
            if let (Some(a), Some(b)) = (names.get(*first), names.get(*other))
                && differ_by_one(a, b)
            {
                pairs.push((*first, *other));
            }
        }
    }
    pairs.sort_unstable();
    pairs.dedup();
    pairs
}

/// Letters and digits alone, in lower case, without the zeros before a number.
pub(crate) fn core_of_name(name: &str) -> String {
    let mut core = String::with_capacity(name.len());
    let mut in_number = false;
    for one in name.chars().filter(|one| one.is_alphanumeric()).flat_map(char::to_lowercase) {
        if one == '0' && !in_number {
            continue;
        }
        in_number = one.is_ascii_digit();
        core.push(one);
    }
    core
}

/// Gives a hash of the name itself and of the name with each letter of a long word taken out.
fn shortened(name: &str, mut take: impl FnMut(u64)) {
    let letters: Vec<char> = name.chars().flat_map(char::to_lowercase).collect();
    let mut hash = |gap: usize| {
        let mut hasher = FxHasher::default();
        for (_, one) in letters.iter().enumerate().filter(|(at, _)| *at != gap) {
            one.hash(&mut hasher);
        }
        take(hasher.finish());
    };
    let mut any = false;
    let mut start = 0;
    while start < letters.len() {
        let length = letters.iter().skip(start).take_while(|one| one.is_alphanumeric()).count();
        let mut word = letters.iter().skip(start).take(length);
        // One letter short of the least, since the other may have the letter that is missing here.
        if length + 1 >= FEWEST_LETTERS && word.all(|one| one.is_alphabetic()) {
            (start..start + length).for_each(&mut hash);
            any = true;
        }
        start += length.max(1);
    }
    if any {
        hash(usize::MAX);
    }
}

/// Whether two words have the same letters in any order.
fn same_letters(one: &str, other: &str) -> bool {
    let sorted = |word: &str| {
        let mut letters: Vec<char> = word.chars().collect();
        letters.sort_unstable();
        letters
    };
    sorted(one) == sorted(other)
}

/// Whether two names have the same words save for one, long and without digits, that is one slip away.
fn differ_by_one(a: &str, b: &str) -> bool {
    let words = |name: &str| -> Vec<String> {
        name.to_lowercase().split(|one: char| !one.is_alphanumeric()).map(str::to_owned).collect()
    };
    let (a, b) = (words(a), words(b));
    if a.len() != b.len() {
        return false;
    }
    let mut differing = a.iter().zip(&b).filter(|(a, b)| a != b);
    let Some((one, other)) = differing.next() else { return false };
    let long = one.chars().count().max(other.chars().count()) >= FEWEST_LETTERS;
    let letters = one.chars().chain(other.chars()).all(char::is_alphabetic);
    let swapped = one.chars().count() >= FEWEST_SWAPPED && same_letters(one, other);
    (long || swapped) && letters && differing.next().is_none() && edits(one, other) == 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_of_the_hand_are_near() {
        for (a, b) in [
            ("ridgeline-lumber", "ridgline-lumber"),
            ("ridgeline-lumber", "ridgeline-lumbar"),
            ("Ridgeline Lumber", "ridgeline-lumber"),
            ("wheel-shop", "whele-shop"),
            ("PC-014", "PC-14"),
            ("PC-014", "pc014"),
            ("maple boxes", "maple boxess"),
            ("yard", "yrad"),
            ("hill-yard", "hill-yadr"),
        ] {
            assert_eq!(near_pairs(&[a, b]), [(0, 1)], "{a} {b}");
        }
    }

    #[test]
    fn names_that_are_meant_to_differ_are_not() {
        for (a, b) in [
            ("J. in Dover", "E. in Dover"),
            ("VB-003", "VS-003"),
            ("PC-014", "PC-015"),
            ("W-0031", "W-0032"),
            ("sam", "pam"),
            ("amy", "may"),
            ("dale", "gale"),
            ("spring-a", "spring-b"),
            ("shop-1", "shop-2"),
            ("", "a"),
            ("PC-10", "PC-1"),
        ] {
            assert_eq!(near_pairs(&[a, b]), [], "{a} {b}");
        }
    }
}

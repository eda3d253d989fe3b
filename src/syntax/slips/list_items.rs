//! Slips of one item in a list: a part of a thing in words, a comma that is missing, an item that can't be read among others.

use std::ops::Range;

use super::paying::is_line_word;
use super::slip::{Slip, SlipRule};
use super::typed::Typed;
use crate::syntax::corrected_line::reads;
use crate::syntax::slip_errors::{DETAIL_FORM, NUMBER_SPELLING, OWN_LINE, SMALL_WORD};

pub(super) const RULES: &[SlipRule] = &[part_in_words, lines_in_one, comma_missing, one_of_several];

/// Parts in words, as makers say them of a sheet or a board.
const PARTS: [(&str, &str); 4] = [("half", "0.5"), ("quarter", "0.25"), ("eighth", "0.125"), ("three-quarters", "0.75")];
/// The longest item that is looked at for a missing comma, in words, and how many items are.
const MOST_WORDS: usize = 16;
const MOST_ITEMS: usize = 40;
/// The words that begin a list of goods.
const LISTS: [&str; 7] = ["needs", "used", "made", "lost", "kept", "gave", "got"];

/// Where the items of a list begin; `None` where a line is none.
fn first_item(typed: &Typed<'_>) -> Option<usize> {
    let listed = typed.word(0).is_one_of(&LISTS);
    let bare = typed.word(0).text.starts_with(|letter: char| letter.is_ascii_digit());
    (typed.is_detail() && (listed || bare)).then_some(usize::from(listed))
}

/// The items of a list, by their words.
fn items(typed: &Typed<'_>) -> Option<Vec<Range<usize>>> {
    let first = first_item(typed)?;
    let mut start = first;
    let mut items = Vec::new();
    for at in first..typed.words.len() {
        if typed.word(at).comma || at + 1 == typed.words.len() {
            items.push(start..at + 1);
            start = at + 1;
        }
    }
    Some(items)
}

/// Whether some words read as an item of the line's list.
fn item_reads(typed: &Typed<'_>, words: Range<usize>) -> bool {
    let list = if first_item(typed) == Some(1) { typed.word(0).text } else { "" };
    reads(&format!("{list} {}", typed.slice(words)), false, typed.context.block)
}

/// `quarter sheet of plywood`, `half a sheet plywood`, `a half sheet plywood`
fn part_in_words(typed: &Typed<'_>) -> Option<Slip> {
    let begins = if typed.word(0).is_one_of(&LISTS) { 1 } else { 0 };
    let begins_item = |at: usize| at == begins || at > begins && typed.word(at - 1).comma;
    let (words, figure) = (begins..typed.words.len()).filter(|at| begins_item(*at)).find_map(|start| {
        let at = start + usize::from(typed.word(start).is_one_of(&["a", "one"]));
        let (_, figure) = PARTS.iter().find(|(part, _)| typed.word(at).is(part))?;
        let article = usize::from(typed.word(at + 1).is_one_of(&["a", "of", "an"]));
        Some((start..at + 1 + article, *figure))
    })?;
    if !typed.is_detail() {
        return None;
    }
    let unit = typed.word(words.end).text;
    let slip =
        Slip::new(NUMBER_SPELLING, typed.range(words.clone()), format!("a part is written as a number: `{figure} {unit}`"));
    // `of` between the unit and the thing goes too.
    let of = words.end + 1;
    let line = if typed.word(of).is("of") {
        let rest = typed.with_range(typed.word(words.end).end()..typed.word(of).end(), "");
        format!("{}{figure}{}", rest.get(..typed.word(words.start).start)?, rest.get(typed.word(words.end - 1).end()..)?)
    } else {
        typed.with(words, figure)
    };
    Some(slip.fix("write the number", line))
}

/// `shipping 8.00, sales-tax 3.31`, `fee 2.29 and postage 7.80`: several lines in one
fn lines_in_one(typed: &Typed<'_>) -> Option<Slip> {
    if !typed.is_detail() || typed.words.iter().any(|word| word.quoted) {
        return None;
    }
    let joins = |at: usize| typed.word(at).is_one_of(&["and", "plus", "&", "+"]);
    let (mut parts, mut start) = (Vec::new(), 0);
    for at in 0..typed.words.len() {
        let last = at + 1 == typed.words.len();
        if typed.word(at).comma || last || joins(at + 1) {
            parts.push(start..at + 1);
            start = at + 1;
        }
        if joins(start) {
            start += 1;
        }
    }
    let begins = |part: &Range<usize>| is_line_word(typed.word(part.start).text) || is_line_word(typed.word(part.end - 1).text);
    let fits = parts.len() > 1 && parts.len() <= MOST_ITEMS && parts.iter().all(|part| part.len() > 1 && begins(part));
    let lines: Vec<&str> = parts.iter().map(|part| typed.slice(part.clone())).filter(|_| fits).collect();
    let reads_all = lines.len() > 1 && lines.iter().all(|line| reads(line, false, typed.context.block));
    reads_all.then(|| {
        let slip = Slip::new(OWN_LINE, 0..typed.text.len(), "each of these is a line of its own");
        slip.fix("write it so", lines.join("\n"))
    })
}

/// `used 11 bf cherry 2 fl oz oil`
fn comma_missing(typed: &Typed<'_>) -> Option<Slip> {
    let short = |item: &Range<usize>| item.len() <= MOST_WORDS && !item_reads(typed, item.clone());
    let at = items(typed)?.into_iter().take(MOST_ITEMS).filter(short).find_map(|item| {
        let parted = |at: &usize| {
            let figure = typed.word(*at).text.starts_with(|letter: char| letter.is_ascii_digit());
            figure && item.end > at + 1 && item_reads(typed, item.start..*at) && item_reads(typed, *at..item.end)
        };
        (item.start + 2..item.end).find(parted)
    })?;
    let gap = typed.word(at - 1).end()..typed.word(at).start;
    let next = typed.word(at);
    let slip = Slip::new(SMALL_WORD, next.start..next.end(), "a comma parts an item from the next");
    Some(slip.fix("write the comma", typed.with_range(gap, ", ")))
}

/// One item that can't be read among others that can
fn one_of_several(typed: &Typed<'_>) -> Option<Slip> {
    // Of a line without a list's word what stands behind a comma may be said of the item before it.
    let first = first_item(typed).filter(|first| *first == 1)?;
    let items = items(typed).filter(|items| items.len() > 1)?;
    let bad = items.into_iter().take(MOST_ITEMS).find(|item| !item_reads(typed, item.clone()))?;
    // What is said of an item stands behind a comma too; where that can't be told apart, the whole line is shown.
    if bad.start > first && !item_reads(typed, first..bad.start) {
        return None;
    }
    let begins = typed.word(bad.start).text.starts_with(|letter: char| letter.is_ascii_digit());
    let message = format!("`{}` does not read as an item", typed.slice(bad.clone()));
    let slip = Slip::new(DETAIL_FORM, typed.range(bad), message);
    let why = if begins { "an item is a quantity, its unit and one name" } else { "an item begins with its quantity, a number" };
    Some(slip.note(format!("{why}: `0.80 bf red-oak`, `24 wheel-40`")))
}

//! Whether each line, each part of a head, and each thing said of an item stands where it may.
//!
//! In: the syntax tree of a book. Out: findings that say where a misplaced line belongs; and the tree without it, so that the
//! stages after this one meet only what may be there, and say nothing of a line that was told here. The rules are the one
//! table of `placement_table.rs`, `placement_heads.rs` and `placement_said.rs`. Must not: ask what a name stands for, save whether it
//! is one of the places or channels of the book, by which a head is read that has the wrong word, and whether money is a thing of it.

mod heads;
mod job;
mod misplaced;
mod once;
mod spoiled;

use std::collections::BTreeSet;

use rayon::prelude::*;

use self::heads::check_head;
pub(crate) use self::job::what_a_job_took;
use self::misplaced::misplaced;
use self::once::Once;
use self::spoiled::spoiled_in_batch;
use crate::diagnostics::{Diagnostic, Diagnostics};
use crate::sources::{SourceSet, Span};
use crate::syntax::line_context::BlockWord;
use crate::syntax::placement_errors as told;
use crate::syntax::placement_heads::{HeadKind, head_kind, head_words};
use crate::syntax::placement_kinds::line_kind;
use crate::syntax::placement_lost_heads::lines_without_their_head;
use crate::syntax::placement_said::{SaidKind, list_words, said_kind, said_row};
use crate::syntax::placement_table::{definition_word, line_row, verb_word};
use crate::syntax::slips::{
    MONEY, explain_misplaced_below, explain_misplaced_line, explain_misread_item, is_gone_word, is_remark_word, is_spoiled_word,
};
use crate::syntax::{
    AmountKind, Definition, DefinitionWord, Detail, DetailKind, Entry, HeadPart, Item, ListWord, Said, SaidWhat, SyntaxFile, Verb,
};

/// How many blocks one thread takes at a time.
const AT_A_TIME: usize = 2048;
/// As many channels as are offered one by one.
const MOST_CHANNELS: usize = 4;

/// Checks every block of a book against the placement table. A line that may not stand where it does is told, taken out of its
/// block, and kept there among the unread ones; a head that lacks a part counts as damaged.
pub(crate) fn check_placement(file: &mut SyntaxFile, sources: &SourceSet, found: &mut Diagnostics) {
    for definition in &mut file.definitions {
        check_definition(definition, sources, found);
    }
    let places = file.definitions.iter().filter(|definition| definition.word == DefinitionWord::Place);
    let places: Vec<&str> = places.map(|place| sources.text(place.name)).collect();
    let channels = file.definitions.iter().filter(|definition| definition.word == DefinitionWord::Channel);
    let channels: Vec<&str> = channels.map(|channel| sources.text(channel.name)).collect();
    let for_orders = channels_for_orders(file, sources);
    let money = file.definitions.iter().any(|definition| MONEY.contains(&sources.text(definition.name)));
    let gone = file.definitions.iter().any(|definition| {
        let name = sources.text(definition.name);
        is_gone_word(name)
            || is_spoiled_word(name)
            || name == "short"
            || matches!(name, "gift-card" | "gift-certificate" | "gift-voucher")
    });
    let named = Named { places: &places, channels: &channels, for_orders: &for_orders, money, gone };
    let chunks = file.entries.par_chunks_mut(AT_A_TIME);
    let told: Vec<Diagnostics> = chunks.map(|entries| check_entries(entries, sources, named)).collect();
    for some in told {
        found.append(some);
    }
}

/// The names of the book that a head is corrected with.
#[derive(Clone, Copy)]
struct Named<'n> {
    places: &'n [&'n str],
    channels: &'n [&'n str],
    /// Those by which orders go.
    for_orders: &'n [&'n str],
    /// Whether something of the book has a name of money.
    money: bool,
    /// Whether something of the book has a name that says that a thing is gone.
    gone: bool,
}

/// The channels by which the book's named orders were sold; where none was, those that sell no consigned goods. Looked for where some sale
/// lacks its channel.
fn channels_for_orders<'s>(file: &SyntaxFile, sources: &'s SourceSet) -> Vec<&'s str> {
    let has_channel = |entry: &Entry| entry.parts.iter().any(|(part, _)| matches!(part, HeadPart::Via(_)));
    if file.entries.iter().all(|entry| entry.verb != Verb::Sold || has_channel(entry)) {
        return Vec::new();
    }
    let with_order = file.entries.iter().filter(|entry| entry.verb == Verb::Sold).filter_map(|entry| {
        let has_order = entry.parts.iter().any(|(part, _)| matches!(part, HeadPart::Order(_)));
        entry.parts.iter().find_map(|(part, _)| match part {
            HeadPart::Via(channel) if has_order => Some(sources.text(*channel)),
            _ => None,
        })
    });
    let used: BTreeSet<&str> = with_order.collect();
    let is_consigned =
        |definition: &Definition| definition.details.iter().any(|one| matches!(one.kind, DetailKind::Consignment(_)));
    let channels = file.definitions.iter().filter(|definition| definition.word == DefinitionWord::Channel);
    let orderly = channels.filter(|channel| match used.is_empty() {
        true => !is_consigned(channel),
        false => used.contains(sources.text(channel.name)),
    });
    orderly.map(|channel| sources.text(channel.name)).collect()
}

fn check_entries(entries: &mut [Entry], sources: &SourceSet, named: Named<'_>) -> Diagnostics {
    let mut found = Diagnostics::default();
    for entry in entries {
        if let Some((part, told)) = no_place_after_at(entry, sources, named.places) {
            found.push(told);
            entry.parts.remove(part);
            entry.damaged = true;
            // The name is no place; that is told once.
            entry.parts.retain(|(part, _)| !matches!(part, HeadPart::At(_)));
        }
        check_entry(entry, sources, named, &mut found);
    }
    found
}

/// Whether a line has a place in the block of this head at all.
pub(crate) fn has_a_place(block: BlockWord, detail: &DetailKind) -> bool {
    let blocks = &line_row(line_kind(detail)).blocks;
    match block {
        BlockWord::Definition(word) => blocks.has_definition(word),
        BlockWord::Entry(Verb::Changed) => blocks.has_verb(Verb::Changed) || blocks.has_some_definition(),
        BlockWord::Entry(verb) => blocks.has_verb(verb),
    }
}

/// Whether a line may stand in the block of this head, with all that is said on it. How often it stands there is not asked.
pub(crate) fn may_stand(block: BlockWord, detail: &DetailKind) -> bool {
    let (verb, word) = match block {
        BlockWord::Entry(verb) => (Some(verb), verb_word(verb)),
        BlockWord::Definition(word) => (None, definition_word(word)),
    };
    has_a_place(block, detail) && wrong_said(detail, verb, word).is_none()
}

/// Whether a line may stand in a definition of this kind.
#[must_use]
pub(crate) fn may_stand_in_definition(word: DefinitionWord, detail: &DetailKind) -> bool {
    line_row(line_kind(detail)).blocks.has_definition(word)
}

fn check_definition(definition: &mut Definition, sources: &SourceSet, found: &mut Diagnostics) {
    let word = definition.word;
    let block = definition_word(word);
    let mut once = Once::default();
    let unread = &mut definition.unread;
    definition.details.retain_mut(|detail| {
        let row = line_row(line_kind(&detail.kind));
        let misread = match &detail.kind {
            DetailKind::Items(list, items) if items.iter().any(|item| may_lack_per(*list, item, sources)) => {
                explain_misread_item(sources, detail.span, BlockWord::Definition(word))
            }
            _ => None,
        };
        let wrong = if misread.is_some() {
            misread
        } else if row.blocks.has_definition(word) {
            once.again(row, detail, row.repeats.has_definition(word), block).or_else(|| wrong_said(&detail.kind, None, block))
        } else {
            let told = misplaced(row, detail, block, None, sources);
            Some(explain_misplaced_below(sources, detail.span, word, told))
        };
        keep(wrong, detail.span, unread, found)
    });
}

fn check_entry(entry: &mut Entry, sources: &SourceSet, named: Named<'_>, found: &mut Diagnostics) {
    let verb = entry.verb;
    if !entry.damaged {
        check_head(entry, sources, named, found);
    }
    let block = verb_word(verb);
    let in_batch = verb.is_of_a_batch();
    let receipt = entry.parts.iter().find(|(part, _)| matches!(part, HeadPart::Receipt(_))).map(|(_, span)| *span);
    let mut once = Once::default();
    let wrong_with = |detail: &Detail| {
        let row = line_row(line_kind(&detail.kind));
        let changes = verb == Verb::Changed && row.blocks.has_some_definition();
        let here = row.blocks.has_verb(verb) || changes;
        let misread = match &detail.kind {
            DetailKind::Items(list, items)
                if items.iter().any(|item| may_be_misread(item, verb, named, sources) || may_lack_per(*list, item, sources)) =>
            {
                explain_misread_item(sources, detail.span, BlockWord::Entry(verb))
            }
            DetailKind::Items(ListWord::Bare, items) => match items.as_slice() {
                [item] if is_own_money(verb, sources.text(item.name), named) || is_text_at_home(verb, item, sources) => {
                    explain_misplaced_line(sources, detail.span, verb)
                }
                _ => None,
            },
            _ => None,
        };
        match (&detail.kind, receipt) {
            _ if misread.is_some() => misread,
            (DetailKind::Receipt(_), Some(head)) => Some(told::receipt_in_head(detail.span, head)),
            (DetailKind::Items(ListWord::Bare, items), _) if in_batch => {
                let is_time = items.iter().all(|item| item.amount.kind == AmountKind::Time);
                let column_one = sources.lines_of(detail.span).start == detail.span.start;
                let indent = if column_one { "    " } else { "" };
                let spoiled = spoiled_in_batch(sources, entry, detail, indent);
                Some(spoiled.unwrap_or_else(|| told::bare_item_in_batch(detail.span, is_time, verb, indent)))
            }
            _ if !here => Some(misplaced(row, detail, block, Some(verb), sources)),
            _ => {
                let repeats = row.repeats.has_verb(verb) || changes;
                once.again(row, detail, repeats, block).or_else(|| wrong_said(&detail.kind, Some(verb), block))
            }
        }
        .map(|told| {
            let elsewhere = [told::MISPLACED_LINE, told::MISPLACED_SAID, told::BARE_ITEM_IN_BATCH].contains(&told.code);
            if elsewhere && let Some(meant) = explain_misplaced_line(sources, detail.span, verb) {
                return meant;
            }
            let words = told.primary.span;
            match sources.text(words) {
                _ if told.code != told::MISPLACED_SAID => told,
                said if told::is_on_account(said) => told::on_account(words, told.code),
                said => told::with_said_meant(told, said, verb),
            }
        })
    };
    let wrongs: Vec<_> = entry.details.iter().map(wrong_with).enumerate().filter(|(_, wrong)| wrong.is_some()).collect();
    if wrongs.is_empty() {
        return;
    }
    let mut wrong: Vec<Option<Diagnostic>> = vec![None; entry.details.len()];
    for (at, told) in wrongs {
        if let Some(slot) = wrong.get_mut(at) {
            *slot = told;
        }
    }
    let lost = lines_without_their_head(entry, sources, &mut wrong);
    entry.holds_others |= lost.any;
    let mut wrong = wrong.into_iter();
    let unread = &mut entry.unread;
    // Of lines that are told together the first alone has a finding, which counts for all.
    let mut together = 0_u32;
    entry.details.retain_mut(|detail| {
        let wrong = wrong.next().flatten();
        if let Some(told) = &wrong {
            together = told.primary.span.end.max(together);
        }
        if wrong.is_none() && (detail.span.end <= together || lost.cut_off.contains(&detail.span)) {
            unread.push(detail.span);
            return false;
        }
        let wrong = wrong.map(|told| in_one_line(told, detail.span));
        keep(wrong, detail.span, unread, found)
    });
}

/// A finding whose place is cut to the line at which it is told.
fn in_one_line(mut told: Diagnostic, line: Span) -> Diagnostic {
    told.primary.span.end = told.primary.span.end.min(line.end.max(told.primary.span.start));
    told
}

/// Whether an item has a word of the language or a time for its unit, or a small word and a figure for its name.
fn may_be_misread(item: &Item, verb: Verb, named: Named<'_>, sources: &SourceSet) -> bool {
    let in_batch = verb.is_of_a_batch();
    let name = sources.text(item.name);
    let joined = name.strip_prefix("at").or_else(|| name.strip_prefix("for"));
    if joined.is_some_and(|figure| figure.starts_with(|letter: char| letter.is_ascii_digit())) {
        return true;
    }
    let spoiled = matches!(item.amount.kind, AmountKind::Count { .. }) && is_spoiled_word(name) && !named.gone;
    if in_batch && (spoiled || matches!(name, "made" | "used" | "took" | "lost" | "kept")) {
        return true;
    }
    match item.amount.kind {
        AmountKind::Measured { .. } if is_remark_word(name) => true,
        AmountKind::Measured { .. } if verb == Verb::Counted && !named.gone && (is_gone_word(name) || name == "short") => true,
        AmountKind::Count { .. } if verb == Verb::Bought && !named.gone && is_spoiled_word(name) => true,
        AmountKind::Measured { .. } if verb == Verb::Sold && !named.gone && is_gone_word(name) => true,
        AmountKind::Measured { unit } if verb == Verb::Counted && !named.gone && is_gone_word(sources.text(unit)) => true,
        AmountKind::Measured { unit } if verb == Verb::Sold && !named.gone && sources.text(unit) == "gift" => {
            matches!(name, "card" | "cards" | "certificate" | "certificates" | "voucher" | "vouchers")
        }
        AmountKind::Measured { unit } => match sources.text(unit) {
            "made" | "used" | "took" | "lost" | "kept" | "hour" | "hours" | "hr" | "hrs" | "minute" | "minutes" | "mins" => {
                in_batch
            }
            other => other == "sales",
        },
        AmountKind::Count { .. } if verb == Verb::Swapped => matches!(name, "cash" | "money" | "dollars"),
        AmountKind::Count { .. } => verb == Verb::Returned && sources.text(item.amount.span).contains('.'),
        AmountKind::Time => false,
    }
}

/// Whether a text stands where an item of one's own has its name: a figure beside it is money.
fn is_text_at_home(verb: Verb, item: &Item, sources: &SourceSet) -> bool {
    let before = Span::new(item.name.start.saturating_sub(1), item.name.start);
    matches!(verb, Verb::Contributed | Verb::TookHome)
        && matches!(item.amount.kind, AmountKind::Count { .. })
        && item.said.is_empty()
        && sources.text(before) == "\""
}

/// Whether an item is money of one's own, where the book defines nothing of the kind.
fn is_own_money(verb: Verb, name: &str, named: Named<'_>) -> bool {
    matches!(verb, Verb::Contributed | Verb::TookHome) && !named.money && MONEY.contains(&name)
}

/// Whether an item of a recipe or a step has another word, or none, where `per` belongs: `wears 1 blade every 40 min`.
fn may_lack_per(list: ListWord, item: &Item, sources: &SourceSet) -> bool {
    let by_the_time = item.said.iter().any(|said| matches!(said.what, SaidWhat::Hours(_)));
    matches!(list, ListWord::Needs | ListWord::Takes | ListWord::Wears)
        && (by_the_time || matches!(sources.text(item.name), "every" | "each"))
}

/// `bought … at ridgeline-lumber`, `sold … at craft-fair`: a supplier or channel where a place of the shop stands. Gives
/// which part of the head it is.
fn no_place_after_at(entry: &Entry, sources: &SourceSet, places: &[&str]) -> Option<(usize, Diagnostic)> {
    let (meant, what) = match entry.verb {
        Verb::Bought => (HeadKind::From, "a supplier stands after `from`"),
        Verb::Sold => (HeadKind::Via, "a channel stands after `via`"),
        _ => return None,
    };
    if entry.damaged || entry.parts.iter().any(|(part, _)| head_kind(part) == meant) {
        return None;
    }
    entry.parts.iter().enumerate().find_map(|(at, (part, span))| match part {
        HeadPart::At(name) => {
            let name = sources.text(*name);
            let is_place = name == "home" || places.contains(&name);
            (!is_place).then(|| (at, told::no_place_after_at(*span, name, what, head_words(meant).0)))
        }
        _ => None,
    })
}

/// Tells what is wrong, and says whether the line stays in its block.
fn keep(wrong: Option<Diagnostic>, line: Span, unread: &mut Vec<Span>, found: &mut Diagnostics) -> bool {
    let Some(wrong) = wrong else { return true };
    found.push(wrong);
    unread.push(line);
    false
}

/// The first thing said on a line that may not be said there.
fn wrong_said(detail: &DetailKind, verb: Option<Verb>, block: &str) -> Option<Diagnostic> {
    match detail {
        DetailKind::Items(list, items) => {
            let list_block = match list {
                ListWord::Bare => block,
                // Their words begin entries too.
                ListWord::Gave | ListWord::Got => verb_word(Verb::Swapped),
                list => list_words(*list),
            };
            let verb = if verb == Some(Verb::Changed) { None } else { verb };
            items.iter().find_map(|item| wrong_said_of_item(item, *list, verb, list_block))
        }
        DetailKind::Money { said, .. } => said.iter().find_map(|one| wrong_said_of_sum(one, verb, block)),
        _ => None,
    }
}

fn wrong_said_of_item(item: &Item, list: ListWord, verb: Option<Verb>, block: &str) -> Option<Diagnostic> {
    let wrong = |kind: SaidKind, span: Span| {
        let row = said_row(kind);
        // The same word is right in another entry.
        let block = verb.filter(|_| kind == SaidKind::TheRest).map_or(block, |verb| verb_word(verb));
        (!row.allows(list, verb)).then(|| told::misplaced_said(span, row.words, block, &row.places()))
    };
    let said = item.said.iter().find_map(|one| wrong(said_kind(&one.what), one.span));
    let sizes = || item.sizes.as_ref().and_then(|sizes| wrong(SaidKind::Sizes, sizes.span));
    let licence = || if item.licence { wrong(SaidKind::Licence, item.span) } else { None };
    said.or_else(sizes).or_else(licence)
}

fn wrong_said_of_sum(said: &Said, verb: Option<Verb>, block: &str) -> Option<Diagnostic> {
    let row = said_row(said_kind(&said.what));
    let allowed = verb.is_some_and(|verb| row.sums.contains(&verb));
    (!allowed).then(|| told::misplaced_said(said.span, row.words, block, &row.places()))
}

#[cfg(test)]
mod tests;

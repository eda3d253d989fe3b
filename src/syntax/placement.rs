//! Whether each line, each part of a head, and each thing said of an item stands where it may.
//!
//! In: the syntax tree of a book. Out: findings that say where a misplaced line belongs; and the tree without it, so that the
//! stages after this one meet only what may be there, and say nothing of a line that was told here. The rules are the one
//! table of `placement_table.rs`, `placement_heads.rs` and `placement_said.rs`. Must not: ask what a name stands for, save whether it
//! is one of the places or channels of the book, by which a head is read that has the wrong word.

use rayon::prelude::*;

use crate::diagnostics::{Diagnostic, Diagnostics};
use crate::sources::{SourceSet, Span};
use crate::syntax::line_context::BlockWord;
use crate::syntax::placement_errors as told;
use crate::syntax::placement_heads::{HEAD_ROWS, HeadKind, Need, head_kind, head_row, head_words};
use crate::syntax::placement_kinds::line_kind;
use crate::syntax::placement_lost_heads::lines_without_their_head;
use crate::syntax::placement_said::{SaidKind, list_words, said_kind, said_row};
use crate::syntax::placement_table::{LineKind, LineRow, definition_word, line_row, verb_word};
use crate::syntax::slip_errors::FREIGHT_BACK;
use crate::syntax::slips::{explain_misplaced_below, explain_misread_item, is_remark_word};
use crate::syntax::{
    AmountKind, Definition, DefinitionWord, Detail, DetailKind, Entry, HeadPart, Item, ListWord, Said, SaidWhat, SyntaxFile, Verb,
};
use crate::units::Unit;

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
    let named = Named { places: &places, channels: &channels };
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
                if items.iter().any(|item| may_be_misread(item, in_batch, sources) || may_lack_per(*list, item, sources)) =>
            {
                explain_misread_item(sources, detail.span, BlockWord::Entry(verb))
            }
            _ => None,
        };
        match (&detail.kind, receipt) {
            _ if misread.is_some() => misread,
            (DetailKind::Receipt(_), Some(head)) => Some(told::receipt_in_head(detail.span, head)),
            (DetailKind::Items(ListWord::Bare, items), _) if in_batch => {
                let is_time = items.iter().all(|item| item.amount.kind == AmountKind::Time);
                let column_one = sources.lines_of(detail.span).start == detail.span.start;
                Some(told::bare_item_in_batch(detail.span, is_time, if column_one { "    " } else { "" }))
            }
            _ if !here => Some(misplaced(row, detail, block, Some(verb), sources)),
            _ => {
                let repeats = row.repeats.has_verb(verb) || changes;
                once.again(row, detail, repeats, block).or_else(|| wrong_said(&detail.kind, Some(verb), block))
            }
        }
        .map(|told| {
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
fn may_be_misread(item: &Item, in_batch: bool, sources: &SourceSet) -> bool {
    let name = sources.text(item.name);
    let joined = name.strip_prefix("at").or_else(|| name.strip_prefix("for"));
    if joined.is_some_and(|figure| figure.starts_with(|letter: char| letter.is_ascii_digit())) {
        return true;
    }
    if in_batch && matches!(name, "made" | "used" | "took" | "lost" | "kept") {
        return true;
    }
    match item.amount.kind {
        AmountKind::Measured { .. } if is_remark_word(name) => true,
        AmountKind::Measured { unit } => match sources.text(unit) {
            "made" | "used" | "took" | "lost" | "kept" | "hour" | "hours" | "hr" | "hrs" | "minute" | "minutes" | "mins" => {
                in_batch
            }
            other => other == "sales",
        },
        AmountKind::Count { .. } | AmountKind::Time => false,
    }
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

/// Lines that say what a sum is for.
const SUMS: [LineKind; 6] = [
    LineKind::MoneyFor,
    LineKind::MoneyForHome,
    LineKind::ForReceipt,
    LineKind::ForBought,
    LineKind::ForOrder,
    LineKind::ForSold,
];

/// A line that belongs elsewhere, with the nearest right line where there is one.
fn misplaced(row: &LineRow, detail: &Detail, block: &str, verb: Option<Verb>, sources: &SourceSet) -> Diagnostic {
    let belongs: Vec<_> = row.blocks.words().collect();
    let is_time = |item: &Item| item.amount.kind == AmountKind::Time;
    let told = match &detail.kind {
        DetailKind::Items(ListWord::Bare, items) if items.iter().all(is_time) => {
            let told = told::misplaced_line(detail.span, "a time", block, &[verb_word(Verb::Worked)]);
            let in_product = block == definition_word(DefinitionWord::Product);
            if in_product {
                told.fix("the time that it takes", Span::new(detail.span.start, detail.span.start), "takes ")
            } else {
                told
            }
        }
        _ => told::misplaced_line(detail.span, row.words, block, &belongs),
    };
    let column_one = sources.lines_of(Span::new(detail.span.start, detail.span.start)).start == detail.span.start;
    let told = if column_one { told.note(told::AT_COLUMN_ONE) } else { told };
    let first_word = |length: usize| {
        let end = detail.span.start.saturating_add(u32::try_from(length).unwrap_or(0));
        Span::new(detail.span.start, end.min(detail.span.end))
    };
    match (row.kind, verb) {
        (LineKind::Freight, Some(Verb::Sold | Verb::Returned)) => {
            told.fix("what the buyer paid for it", first_word("freight".len()), "shipping")
        }
        (LineKind::Item, Some(Verb::Paid | Verb::Received)) => match &detail.kind {
            DetailKind::Items(_, items) => match items.as_slice() {
                [item] if verb == Some(Verb::Received) && sources.text(item.name) == "deposit" => {
                    told.fix("if that is money for an order", item.name, "for order \"NAME\"")
                }
                [item] if verb == Some(Verb::Received) && sources.text(item.name) == "down" => {
                    told.fix("if that is money for an order", item.name, "for order \"NAME\"")
                }
                [item] => match item.amount.kind {
                    AmountKind::Count { .. } => told.fix("if that is money", Span::new(item.name.start, item.name.start), "for "),
                    // `60 booth fee`
                    AmountKind::Measured { unit } if Unit::parse(sources.text(unit)).is_none() => {
                        let words = unit.to(item.name);
                        let name = sources.text(words).split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
                        told.fix("if that is money", words, format!("for {name}"))
                    }
                    _ => told,
                },
                _ => told,
            },
            _ => told,
        },
        (LineKind::Postage, Some(Verb::Bought)) => {
            told.fix("what the supplier charged for it", first_word("postage".len()), "freight")
        }
        (LineKind::SalesTaxTo, Some(Verb::Sold | Verb::Returned)) => {
            told.note("in a sale the sum of the tax stands between: `sales-tax 8.40 to NAME`")
        }
        (LineKind::ForOrder, Some(Verb::Paid)) => {
            told.note("what a buyer paid is `received`; money back to a buyer is `returned`")
        }
        (LineKind::ForSold, Some(Verb::Paid)) => {
            told.note("what a buyer paid is `received`; a purchase of a day is settled by `for bought DATE`")
        }
        (LineKind::ForBought, Some(Verb::Received)) => {
            told.note("a supplier's bill is settled in `paid`; a sale of a day by `for sold DATE`")
        }
        (LineKind::ForReceipt, Some(Verb::Received)) => told
            .note("money that a supplier gives back for goods is `credited 2026-02-15 by NAME`")
            .note("a supplier's bill is settled in `paid`"),
        (LineKind::TaxIncluded, _) => told.note("where the sum of the tax is known, write it: `sales-tax 8.40`"),
        (LineKind::Freight, Some(Verb::Credited)) => told.note(FREIGHT_BACK),
        (kind, Some(Verb::Credited)) if SUMS.contains(&kind) => {
            told.note("a credit says off what it is taken: `8.00 off red-oak`").note(FREIGHT_BACK)
        }
        (LineKind::MoneyOff, Some(Verb::Bought)) => told.note("money off the whole bill is `discount 5.00`"),
        _ => told,
    }
}

/// The lines that were seen in a block, by the question that they answer.
#[derive(Default)]
struct Once {
    seen: u128,
    first: Vec<Seen>,
}

/// A line that was seen.
struct Seen {
    slot: LineKind,
    kind: LineKind,
    span: Span,
    /// Whether it is a part of a cost under section 179, beside which the rest may be recovered over years.
    in_part: bool,
}

impl Once {
    /// Says whether a line answers a question for the second time.
    fn again(&mut self, row: &LineRow, detail: &Detail, repeats: bool, block: &str) -> Option<Diagnostic> {
        let bit = 1_u128 << (row.slot as u32);
        let in_part = matches!(detail.kind, DetailKind::Section179(Some(_)));
        let seen = Seen { slot: row.slot, kind: row.kind, span: detail.span, in_part };
        if self.seen & bit == 0 {
            self.seen |= bit;
            self.first.push(seen);
            return None;
        }
        let Some(first) = self.first.iter().find(|first| first.slot == row.slot && !first.stands_beside(&seen)) else {
            self.first.push(seen);
            return None;
        };
        let mistake = || {
            let told = told::repeated(detail.span, first.span, row.words, line_row(first.kind).words, block);
            if first.is_beside_in_kind(&seen) { told.note(told::A_PART_BESIDE) } else { told }
        };
        (first.kind != row.kind || !repeats).then(mistake)
    }
}

impl Seen {
    /// Whether both may stand in one block although they answer the same question.
    fn stands_beside(&self, other: &Self) -> bool {
        self.is_beside_in_kind(other) && (self.in_part || other.in_part)
    }

    fn is_beside_in_kind(&self, other: &Self) -> bool {
        matches!(
            (self.kind, other.kind),
            (LineKind::RecoveredOver, LineKind::Section179) | (LineKind::Section179, LineKind::RecoveredOver)
        )
    }
}

/// The first thing said on a line that may not be said there.
fn wrong_said(detail: &DetailKind, verb: Option<Verb>, block: &str) -> Option<Diagnostic> {
    match detail {
        DetailKind::Items(list, items) => {
            let list_block = if *list == ListWord::Bare { block } else { list_words(*list) };
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

/// Checks the parts of a head: those that may not be there are told and taken out, those that lack are told.
fn check_head(entry: &mut Entry, sources: &SourceSet, named: Named<'_>, found: &mut Diagnostics) {
    let verb = entry.verb;
    let row = head_row(verb);
    let mut seen: Vec<(HeadKind, Span)> = Vec::new();
    let mut misread = false;
    if let Some(told) = buyer_in_head(entry, sources, named) {
        found.push(told);
        entry.parts.retain(|(part, _)| head_kind(part) != HeadKind::To);
        entry.damaged |= !entry.parts.iter().any(|(part, _)| head_kind(part) == HeadKind::Via);
        misread = true;
    }
    let head = Span::new(entry.head.start, entry.date_span.start);
    entry.parts.retain(|(part, span)| {
        let kind = head_kind(part);
        let need = row.parts.iter().find(|(known, _)| *known == kind).map(|(_, need)| *need);
        let times = match need {
            Some(Need::Times(times)) => times,
            _ => 1,
        };
        let before = seen.iter().filter(|(known, _)| *known == kind).count();
        let wrong = match (need, seen.iter().find(|(known, _)| *known == kind)) {
            (None, _) => {
                misread = true;
                Some(misplaced_part(verb, head, part, *span, sources))
            }
            (Some(_), Some((_, first))) if before >= times => {
                Some(told::repeated_part(*span, *first, head_words(kind).0, verb_word(verb)))
            }
            _ => None,
        };
        seen.push((kind, *span));
        match wrong {
            Some(wrong) => {
                found.push(wrong);
                false
            }
            None => true,
        }
    });
    // A part that was meant for one that lacks is one mistake, told above.
    let lacks = missing_parts(verb, &seen);
    if !lacks.is_empty() {
        if !misread {
            let told = told::head_part_missing(entry.head, verb_word(verb), &lacks, row.form);
            found.push(with_missing_part(told, entry, named, sources));
        }
        entry.damaged = true;
    }
}

/// A sale that lacks its channel, with those of the book where they are few; goods given away to nobody, as taken home.
fn with_missing_part(told: Diagnostic, entry: &Entry, named: Named<'_>, sources: &SourceSet) -> Diagnostic {
    // `at gift-shop` where the shelf is a channel too.
    let at = entry.parts.iter().find_map(|(part, span)| match part {
        HeadPart::At(name) => Some((sources.text(*name), *span)),
        _ => None,
    });
    if let Some((name, span)) = at.filter(|(name, _)| entry.verb == Verb::Sold && named.channels.contains(name)) {
        return told.fix("write `via`", span, format!("via {name}"));
    }
    let behind_day = Span::new(entry.date_span.end, entry.date_span.end);
    match entry.verb {
        Verb::Sold if named.channels.len() <= MOST_CHANNELS => {
            let via =
                |told: Diagnostic, channel: &&str| told.fix(format!("by `{channel}`"), behind_day, format!(" via {channel}"));
            named.channels.iter().fold(told.note(told::CHANNEL_OF_ITS_OWN), via)
        }
        Verb::Sold => told.note(told::CHANNEL_OF_ITS_OWN),
        Verb::Gave if entry.parts.is_empty() => {
            told.fix("for house, family or friends", Span::new(entry.head.start, entry.date_span.start), "took-home ")
        }
        _ => told,
    }
}

/// The words of the parts that a head needs and does not have.
fn missing_parts(verb: Verb, seen: &[(HeadKind, Span)]) -> Vec<&'static str> {
    let has = |kind: HeadKind| seen.iter().any(|(known, _)| *known == kind);
    let parts = head_row(verb).parts;
    let either: Vec<_> = parts.iter().filter(|(_, need)| *need == Need::Either).collect();
    if !either.is_empty() && !either.iter().any(|(kind, _)| has(*kind)) {
        return either.iter().map(|(kind, _)| head_words(*kind).0).collect();
    }
    // Without a reason `gave` is told later, with what it probably was.
    let must = parts.iter().filter(|(kind, need)| *need == Need::Must && *kind != HeadKind::As && !has(*kind));
    must.map(|(kind, _)| head_words(*kind).0).take(1).collect()
}

/// `sold 2026-03-01 to "Mrs. Dell" order "D-1"`: a sale whose head has its buyer, with the whole sale as it is written.
fn buyer_in_head(entry: &Entry, sources: &SourceSet, named: Named<'_>) -> Option<Diagnostic> {
    let (_, buyer) = entry.parts.iter().find(|(part, _)| entry.verb == Verb::Sold && head_kind(part) == HeadKind::To)?;
    let end = entry.parts.iter().map(|(_, span)| span.end).max()?;
    let rest = Span::new(entry.date_span.end, end.max(entry.date_span.end));
    let others: Vec<&str> =
        entry.parts.iter().filter(|(part, _)| head_kind(part) != HeadKind::To).map(|(_, span)| sources.text(*span)).collect();
    let has_channel = entry.parts.iter().any(|(part, _)| head_kind(part) == HeadKind::Via);
    let buyer_line = sources.text(*buyer);
    let message = format!("the buyer stands on a line of its own: `{buyer_line}`");
    let told = Diagnostic::new(told::MISPLACED_PART, *buyer, message);
    let written = |via: Option<&str>| {
        let via = via.map(|channel| format!("via {channel}"));
        let words: Vec<&str> = via.iter().map(String::as_str).chain(others.iter().copied()).collect();
        format!(" {}\n    {buyer_line}", words.join(" "))
    };
    if has_channel {
        return Some(told.fix("write it below", rest, written(None)));
    }
    let told = told.note(told::CHANNEL_OF_ITS_OWN);
    if named.channels.is_empty() || named.channels.len() > MOST_CHANNELS {
        return Some(told.fix("write it below, and the channel in the head", rest, written(Some("NAME"))));
    }
    let via = |told: Diagnostic, channel: &&str| told.fix(format!("by `{channel}`"), rest, written(Some(channel)));
    Some(named.channels.iter().fold(told, via))
}

/// A part of another head, with the right word where it was probably meant. `verb_place` is where the entry's verb stands.
fn misplaced_part(verb: Verb, verb_place: Span, part: &HeadPart, span: Span, sources: &SourceSet) -> Diagnostic {
    if told::is_on_account(sources.text(span)) {
        return told::on_account(span, told::MISPLACED_PART);
    }
    let kind = head_kind(part);
    let (words, _) = head_words(kind);
    if kind == HeadKind::On && sources.text(span).ends_with(" consignment") {
        let with_blank = Span::new(span.start.saturating_sub(1), span.end);
        return Diagnostic::new(
            told::MISPLACED_PART,
            span,
            "what a place keeps of its sales is said once, where its channel is defined: `consignment 40%`",
        )
        .fix("leave it out here", with_blank, "");
    }
    let belongs: Vec<_> =
        HEAD_ROWS.iter().filter(|row| row.parts.iter().any(|(known, _)| *known == kind)).map(|row| verb_word(row.verb)).collect();
    let told = told::misplaced_part(span, words, verb_word(verb), &belongs);
    let text = sources.text(span);
    let rest = text.split_once(char::is_whitespace).map_or("", |(_, rest)| rest);
    let meant = match (verb, kind) {
        // What comes back unsold undoes no sale.
        (Verb::Returned, HeadKind::From) if !rest.starts_with('"') => {
            return told
                .note("`brought-back` is what was not sold, `returned` what a buyer gives back")
                .fix("goods that were not sold", verb_place, "brought-back ")
                .fix("what a buyer gives back", span, format!("via {rest}"));
        }
        (Verb::Sold, HeadKind::On | HeadKind::From | HeadKind::With | HeadKind::By) => "via",
        (Verb::Bought | Verb::Received, HeadKind::By | HeadKind::With | HeadKind::Via | HeadKind::To) => "from",
        (Verb::Paid | Verb::SentBack | Verb::Gave, HeadKind::From | HeadKind::By | HeadKind::With | HeadKind::On) => "to",
        (Verb::Credited, HeadKind::From | HeadKind::To | HeadKind::With) => "by",
        (Verb::Swapped, HeadKind::From | HeadKind::To | HeadKind::By) => "with",
        (Verb::Sent, HeadKind::Via | HeadKind::At | HeadKind::On) => "to",
        (Verb::BroughtBack, HeadKind::Via | HeadKind::On | HeadKind::To) => "from",
        (verb, HeadKind::On | HeadKind::For) if verb.is_of_a_batch() => "batch",
        (Verb::TookHome | Verb::Scrapped | Verb::UsedUp, HeadKind::To | HeadKind::From | HeadKind::By) => {
            let with_blank = Span::new(span.start.saturating_sub(1), span.end);
            return told.note("who it was may stand in a `note \"…\"`").fix("leave it out", with_blank, "");
        }
        _ => return told,
    };
    told.fix(format!("write `{meant}`"), span, format!("{meant} {rest}"))
}

#[cfg(test)]
mod tests;

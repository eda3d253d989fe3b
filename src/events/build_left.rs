//! `took-home`, `gave`, `scrapped`, `used-up` and `counted`: goods that left without a sale, and what is still there.

use rustc_hash::FxHashMap;

use crate::events::entry_goods::GoodsRule;
use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::events::{Counted, EventKind, Left, LeftHow, LeftLine, StockLine};
use crate::names::{LabelId, ThingId};
use crate::sources::Span;
use crate::syntax::{DetailKind, HeadPart, ListWord, Plain, SaidWhat, Verb};

/// Reads a `took-home`, `gave`, `scrapped` or `used-up` entry.
pub(crate) fn build_left(reader: &mut EntryReader<'_>) {
    if reader.entry.verb == Verb::Scrapped
        && let Some(name) = reader.head_batch()
    {
        return give_up(reader, name);
    }
    let Some(how) = how(reader) else { return };
    let place = reader.place_or_home();
    let to = reader.head_to().map(|party| reader.party(party));
    let on = reader.head_on().map(|name| reader.target(name));
    let mut lines = Vec::new();
    reader.each_line(|reader, detail| {
        if let DetailKind::Items(ListWord::Bare, items) = &detail.kind {
            for item in items {
                let Some(goods) = reader.stock_line(item, GoodsRule::Any, detail.memo) else { continue };
                let Some(worth) = reader.worth_said(item) else { continue };
                lines.push(LeftLine { goods, worth });
            }
        }
    });
    // A name that could not be read has been told: the line `to` or `on` is then missing, and the entry moves nothing.
    let (Some(place), None | Some(Some(_)), None | Some(Some(_))) = (place, to, on) else { return };
    reader.happened(EventKind::Left(Box::new(Left { how, place, to: to.flatten(), on: on.flatten(), lines })));
}

/// `scrapped DATE batch X`.
fn give_up(reader: &mut EntryReader<'_>, name: Span) {
    if let Some(batch) = reader.batch(name) {
        reader.happened(EventKind::GaveUp(batch));
    }
}

fn how(reader: &mut EntryReader<'_>) -> Option<LeftHow> {
    match reader.entry.verb {
        Verb::Scrapped => Some(LeftHow::Scrapped),
        Verb::UsedUp => Some(LeftHow::UsedUp),
        Verb::Gave => match reader.head_as() {
            Some(reason) => Some(LeftHow::Gave(reason)),
            None => {
                if !reader.entry.damaged {
                    let home = as_taken_home(reader);
                    let told = errors::entries::gave_without_reason(reader.entry.head, reader.text(reader.entry.head), home);
                    reader.refuse(told);
                }
                None
            }
        },
        _ => Some(LeftHow::TookHome),
    }
}

/// The head of a `gave` entry as `took-home`; `None` where a line says `worth`, which nothing taken home has.
fn as_taken_home(reader: &EntryReader<'_>) -> Option<String> {
    let items = reader.entry.details.iter().filter_map(|detail| match &detail.kind {
        DetailKind::Items(_, items) => Some(items),
        _ => None,
    });
    let says_worth = items.flatten().flat_map(|item| &item.said).any(|said| matches!(said.what, SaidWhat::Worth(_)));
    let at = reader.entry.parts.iter().find(|(part, _)| matches!(part, HeadPart::At(_)));
    let at = at.map(|(_, span)| format!(" {}", reader.text(*span))).unwrap_or_default();
    (!says_worth).then(|| format!("took-home {}{at}", reader.date))
}

/// Reads a `counted` entry.
pub(crate) fn build_counted(reader: &mut EntryReader<'_>) {
    let place = reader.place_or_home();
    let mut lines: Vec<StockLine> = Vec::new();
    let mut seen: FxHashMap<(ThingId, Option<LabelId>), Span> = FxHashMap::default();
    // Whether a thing is counted by its lots, and where that was said first.
    let mut by_lots: FxHashMap<ThingId, (bool, Span)> = FxHashMap::default();
    let mut nothing_else = false;
    reader.each_line(|reader, detail| match &detail.kind {
        DetailKind::Items(ListWord::Bare, items) => {
            for item in items {
                let Some(line) = reader.stock_line(item, GoodsRule::MayBeNone, detail.memo) else { continue };
                if let Some(first) = seen.insert((line.thing, line.lot), line.span) {
                    let told = errors::goods::counted_twice(line.span, first, reader.text(item.name));
                    reader.refuse(told);
                    continue;
                }
                let (lots, first) = *by_lots.entry(line.thing).or_insert((line.lot.is_some(), line.span));
                if lots != line.lot.is_some() {
                    let told = errors::goods::counted_whole_and_by_lots(line.span, first, reader.text(item.name));
                    reader.refuse(told);
                    continue;
                }
                lines.push(line);
            }
        }
        DetailKind::Plain(Plain::NothingElse) => nothing_else = true,
        _ => {}
    });
    let Some(place) = place else { return };
    if nothing_else && reader.failed {
        // What could not be read may be there after all.
        nothing_else = false;
    }
    reader.happened(EventKind::Counted(Box::new(Counted { place, lines, nothing_else })));
}

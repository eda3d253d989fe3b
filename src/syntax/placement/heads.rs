//! The parts of a head: those that may not stand in it, and those that it lacks.

use super::{MOST_CHANNELS, Named};
use crate::diagnostics::{Diagnostic, Diagnostics};
use crate::sources::{SourceSet, Span};
use crate::syntax::placement_errors as told;
use crate::syntax::placement_heads::{HEAD_ROWS, HeadKind, Need, head_kind, head_row, head_words};
use crate::syntax::placement_table::verb_word;
use crate::syntax::slips::{BUYER_AS_NOTE, HOW_IT_WAS_PAID, NO_BUYER_IN_RETURNED, is_how_paid};
use crate::syntax::{Entry, HeadPart, Verb};

/// What begins a text.
const QUOTES: [char; 4] = ['"', '\u{201C}', '\u{201D}', '\u{201E}'];

/// Checks the parts of a head: those that may not be there are told and taken out, those that lack are told.
pub(super) fn check_head(entry: &mut Entry, sources: &SourceSet, named: Named<'_>, found: &mut Diagnostics) {
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
    if let Some(told) = errand_of_a_drive(entry, sources) {
        found.push(told);
        entry.parts.retain(|(part, _)| matches!(part, HeadPart::Amount(_)));
        entry.damaged = true;
        return;
    }
    let head = Span::new(entry.head.start, entry.date_span.start);
    let has_sale = entry.parts.iter().any(|(part, _)| matches!(head_kind(part), HeadKind::Via | HeadKind::Order));
    let of_money = matches!(verb, Verb::Paid | Verb::Received);
    let has_party = of_money && entry.parts.iter().any(|(part, _)| matches!(head_kind(part), HeadKind::From | HeadKind::To));
    entry.parts.retain(|(part, span)| {
        let kind = head_kind(part);
        let need = row.parts.iter().find(|(known, _)| *known == kind).map(|(_, need)| *need);
        let times = match need {
            Some(Need::Times(times)) => times,
            _ => 1,
        };
        let before = seen.iter().filter(|(known, _)| *known == kind).count();
        let wrong = match (need, seen.iter().find(|(known, _)| *known == kind)) {
            // `received … from "Dale" by phone`
            (None, _) if has_party && kind == HeadKind::By => {
                let told = Diagnostic::new(told::MISPLACED_PART, *span, HOW_IT_WAS_PAID);
                Some(told.fix("leave it out", Span::new(span.start.saturating_sub(1), span.end), ""))
            }
            (None, _) => {
                misread = true;
                Some(misplaced_part(verb, head, part, *span, sources, has_sale))
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
            let is_order = entry.parts.iter().any(|(part, _)| matches!(part, HeadPart::Order(_)));
            let channels = if is_order { named.for_orders } else { named.channels };
            let via =
                |told: Diagnostic, channel: &&str| told.fix(format!("by `{channel}`"), behind_day, format!(" via {channel}"));
            channels.iter().fold(told.note(told::CHANNEL_OF_ITS_OWN), via)
        }
        Verb::Sold => told.note(told::CHANNEL_OF_ITS_OWN),
        Verb::Continued | Verb::Finished => match begun_above(sources, entry.head) {
            Some(batch) => told.fix(format!("if it is `{batch}`, begun above"), behind_day, format!(" batch {batch}")),
            None => told,
        },
        Verb::Gave if entry.parts.is_empty() => {
            told.fix("for house, family or friends", Span::new(entry.head.start, entry.date_span.start), "took-home ")
        }
        _ => told,
    }
}

/// The batch of the nearest `started` or `continued` above in the file.
fn begun_above(sources: &SourceSet, head: Span) -> Option<&str> {
    let file = sources.file_at(head.start)?.span;
    let above = sources.text(Span::new(file.start, head.start));
    let of_batch = |line: &&str| line.starts_with("started ") || line.starts_with("continued ");
    let line = above.lines().rev().find(of_batch)?;
    let mut words = line.split_whitespace();
    // `started 2026-01-24 warp W1`, which is told by itself.
    match words.find(|word| *word == "batch") {
        Some(_) => words.next(),
        None => line.split_whitespace().nth(3).filter(|_| line.split_whitespace().count() == 4),
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
    // A channel of the book: `sold 2026-03-01 to green-grocer`.
    let party = sources.text(*buyer).strip_prefix("to ").map_or("", |party| party.trim().trim_matches('"'));
    let has_via = entry.parts.iter().any(|(part, _)| head_kind(part) == HeadKind::Via);
    if !has_via && named.channels.contains(&party) {
        let told = Diagnostic::new(told::MISPLACED_PART, *buyer, format!("`{party}` is a channel, which stands behind `via`"));
        return Some(told.fix(format!("by `{party}`"), *buyer, format!("via {party}")));
    }
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

/// `drove 2026-08-01 64 miles to market`: what the drive was for, without its quotes.
fn errand_of_a_drive(entry: &Entry, sources: &SourceSet) -> Option<Diagnostic> {
    let is_word = |kind: HeadKind| !matches!(kind, HeadKind::Amount | HeadKind::On | HeadKind::Text);
    let words = entry.parts.iter().filter(|(part, _)| entry.verb == Verb::Drove && is_word(head_kind(part)));
    let (start, end) = (words.clone().map(|(_, span)| span.start).min()?, words.map(|(_, span)| span.end).max()?);
    let distance = entry.parts.iter().find_map(|(part, span)| match part {
        HeadPart::Amount(_) => Some(*span),
        _ => None,
    });
    let said = Span::new(start, end);
    // Anything else that is said there stands before it, save the distance where that is last.
    let others = |(part, span): &(HeadPart, Span)| !is_word(head_kind(part)) && span.start > start;
    let behind: Vec<_> = entry.parts.iter().filter(|part| others(part)).collect();
    let last = match behind.as_slice() {
        [] => None,
        [(HeadPart::Amount(_), span)] if span.start >= end => Some(*span),
        _ => return None,
    };
    let text = sources.text(said);
    let bare: String = text.chars().filter(|letter| *letter != '"').collect();
    let bare = bare.split_whitespace().collect::<Vec<_>>().join(" ");
    let quoted = format!("\"{bare}\"");
    let told = Diagnostic::new(told::MISPLACED_PART, said, format!("what the drive was for stands in quotes: `{quoted}`"));
    if let Some(last) = last {
        return Some(told.fix("write it last, in quotes", said.to(last), format!("{} {quoted}", sources.text(last))));
    }
    let distance = distance.filter(|distance| distance.end <= start);
    let (place, figure) = distance.map_or((said, String::new()), |distance| {
        let text = sources.text(distance);
        let short = [("miles", "mi"), ("mile", "mi"), ("kilometres", "km"), ("kilometers", "km")];
        let short = short.iter().find_map(|(long, unit)| text.strip_suffix(long).map(|figure| format!("{}{unit}", figure)));
        let between = sources.text(Span::new(distance.end, start));
        (distance.to(said), format!("{}{between}", short.unwrap_or_else(|| text.to_owned())))
    });
    Some(told.fix("write quotes", place, format!("{figure}{quoted}")))
}

/// A part of another head, with the right word where it was probably meant. `verb_place` is where the entry's verb stands.
fn misplaced_part(verb: Verb, verb_place: Span, part: &HeadPart, span: Span, sources: &SourceSet, has_sale: bool) -> Diagnostic {
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
    let rest = text.split_once(char::is_whitespace).map_or("", |(_, rest)| rest.trim());
    if matches!(kind, HeadKind::By | HeadKind::On) && is_how_paid(rest) && !matches!(verb, Verb::Credited) {
        let with_blank = Span::new(span.start.saturating_sub(1), span.end);
        let told = Diagnostic::new(told::MISPLACED_PART, span, HOW_IT_WAS_PAID).fix("leave it out", with_blank, "");
        return match verb {
            Verb::Sold => told.note("in a sale a line says how much came so: `card 32.00`, `cash 20.00`, `check 50.00`"),
            _ => told,
        };
    }
    let meant = match (verb, kind) {
        // A buyer in quotes is no supplier and no place.
        (Verb::Returned, HeadKind::From | HeadKind::To) if rest.starts_with(QUOTES) && has_sale => {
            let with_blank = Span::new(span.start.saturating_sub(1), span.end);
            return Diagnostic::new(told::MISPLACED_PART, span, NO_BUYER_IN_RETURNED).note(BUYER_AS_NOTE).fix(
                "leave it out",
                with_blank,
                "",
            );
        }
        (Verb::Returned, HeadKind::From | HeadKind::To) if rest.starts_with(QUOTES) => {
            let told = Diagnostic::new(told::MISPLACED_PART, span, NO_BUYER_IN_RETURNED)
                .note(BUYER_AS_NOTE)
                .fix("by the order", span, "order \"NAME\"")
                .fix("by the channel, where it had no order", span, "via NAME");
            return match kind {
                HeadKind::To => told.fix("or, to a supplier", verb_place, "sent-back "),
                _ => told,
            };
        }
        // What comes back unsold undoes no sale.
        (Verb::Returned, HeadKind::From) if !rest.starts_with(QUOTES) => {
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
        // What goes back to a supplier is no return of a buyer.
        (Verb::Returned, HeadKind::To) => return told.fix("to a supplier", verb_place, "sent-back "),
        _ => return told,
    };
    told.fix(format!("write `{meant}`"), span, format!("{meant} {rest}"))
}

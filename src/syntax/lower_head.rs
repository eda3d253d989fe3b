//! Heads of entries: `bought 2026-03-02 from ridgeline-lumber receipt "A-1182"`.
//!
//! The grammar takes the parts of a head in any order; which verb may have which is the placement table's matter, save for what
//! tells a verb's own form: `statement` and `closed` have a year, only `changed` and `retired` a bare name, only `drove` and
//! `odometer` a figure, only `noted`, `drove` and `answered` a text.

use crate::sources::Span;
use crate::syntax::errors::Unread;
use crate::syntax::grammar::Rule;
use crate::syntax::line_context::BlockWord;
use crate::syntax::lower_amount::amount;
use crate::syntax::lower_leaf::{Leaves, inner_text};
use crate::syntax::nodes::{Branch, Siblings};
use crate::syntax::placement_heads::{head_row, head_words};
use crate::syntax::words::{first_word, head_word, is_word_of_language};
use crate::syntax::{Entry, GaveAs, HeadPart, Party, Verb};
use crate::units::SpacedM;

/// A head that could be read only in part, and why.
pub(crate) struct DamagedHead {
    /// What was read of it.
    pub(crate) entry: Entry,
    /// Why not all.
    pub(crate) why: Unread,
}

/// Lowers a head; the entry has no details yet.
pub(crate) fn lower_head(leaves: Leaves<'_>, head: Branch<'_>) -> Result<Entry, Box<DamagedHead>> {
    let mut inner = head.inner;
    let verb_span = inner.next().map_or(head.node.span, |verb| verb.node.span);
    let verb = match head_word(first_word(leaves.text(verb_span))) {
        Some(BlockWord::Entry(verb)) => verb,
        _ => Verb::Noted,
    };
    let mut entry = empty_entry(verb, head.node.span, verb_span);
    match fill_head(leaves, &mut entry, inner) {
        Ok(()) => Ok(entry),
        Err(why) => {
            entry.damaged = true;
            Err(Box::new(DamagedHead { entry, why }))
        }
    }
}

/// An entry of which only the verb is known.
pub(crate) fn empty_entry(verb: Verb, head: Span, date_span: Span) -> Entry {
    Entry {
        verb,
        span: head,
        head,
        date: None,
        date_span,
        year: None,
        parts: Vec::new(),
        details: Vec::new(),
        damaged: false,
        unread: Vec::new(),
        holds_others: false,
    }
}

/// Reads date and parts; what was read before a mistake stays.
fn fill_head(leaves: Leaves<'_>, entry: &mut Entry, mut inner: Siblings<'_>) -> Result<(), Unread> {
    let day = inner.next().ok_or(Unread::Slip)?;
    let has_year = matches!(entry.verb, Verb::Statement | Verb::Closed);
    match day.node.rule {
        Rule::year if has_year => entry.year = Some(leaves.year(day.node.span)?),
        Rule::date if !has_year => {
            entry.date_span = day.node.span;
            entry.date = Some(leaves.date(day.node.span)?);
        }
        _ => return Err(Unread::Slip),
    }
    entry.date_span = day.node.span;
    entry.parts.reserve_exact(inner.count());
    for part in inner {
        let head_part = lower_part(leaves, part, entry.verb)?;
        entry.parts.push((head_part, part.node.span));
    }
    Ok(())
}

/// Lowers one part of a head.
fn lower_part(leaves: Leaves<'_>, part: Branch<'_>, verb: Verb) -> Result<HeadPart, Unread> {
    let mut inner = part.inner;
    Ok(match part.node.rule {
        Rule::named => lower_named(leaves, part.node.span, &mut inner, verb)?,
        Rule::coded => match leaves.first_word(part.node.span) {
            "receipt" => HeadPart::Receipt(leaves.text_or_code(&mut inner)?),
            "order" => HeadPart::Order(leaves.text_or_code(&mut inner)?),
            "batch" => HeadPart::Batch(leaves.only_code(inner)?),
            _ => HeadPart::On(leaves.only_code(inner)?),
        },
        Rule::gave_as => HeadPart::As(match leaves.text(leaves.only_name(inner)?) {
            "sample" => GaveAs::Sample,
            "gift" => GaveAs::Gift,
            "thanks" => GaveAs::Thanks,
            "donation" => GaveAs::Donation,
            _ => return Err(Unread::Slip),
        }),
        Rule::for_money => {
            let span = inner.next().ok_or(Unread::Slip)?.node.span;
            HeadPart::For(leaves.decimal(span)?, span)
        }
        Rule::text if matches!(verb, Verb::Noted | Verb::Drove | Verb::Answered) => HeadPart::Text(inner_text(inner)?),
        Rule::head_amount if matches!(verb, Verb::Drove | Verb::Odometer) => {
            let figure = inner.when(Rule::figure).ok_or(Unread::Slip)?.node.span;
            let unit = inner.when(Rule::unit).map(|unit| unit.node.span);
            HeadPart::Amount(amount(leaves, figure, unit, SpacedM::Metres)?)
        }
        Rule::subject if verb == Verb::Changed && leaves.text(part.node.span) == "shop" => HeadPart::Shop,
        Rule::subject if matches!(verb, Verb::Changed | Verb::Retired) => HeadPart::Subject(leaves.only_name(inner)?),
        _ => return Err(Unread::Slip),
    })
}

/// Lowers a part whose word is followed by a name or a text.
fn lower_named(leaves: Leaves<'_>, part: Span, inner: &mut Siblings<'_>, verb: Verb) -> Result<HeadPart, Unread> {
    // A part that this verb never has is a slip of another kind.
    let word = leaves.first_word(part);
    if !head_row(verb).parts.iter().any(|(kind, _)| head_words(*kind).0 == word) && inner.peek() != Some(Rule::text) {
        let name = inner.peek_span().map_or("", |span| leaves.text(span));
        if is_word_of_language(name) && name != "home" {
            return Err(Unread::Slip);
        }
    }
    // Goods are moved between places, of which one may be called `home`; everywhere else these are people.
    let moves = matches!(verb, Verb::Sent | Verb::BroughtBack);
    let party = |inner: &mut Siblings<'_>| match inner.peek() {
        Some(rule) if moves && rule != Rule::text => Ok(Party { span: leaves.place_or_channel(inner)?, quoted: false }),
        _ => leaves.party(inner),
    };
    Ok(match leaves.first_word(part) {
        "from" => HeadPart::From(party(inner)?),
        "to" => HeadPart::To(party(inner)?),
        "by" => HeadPart::By(party(inner)?),
        "with" => HeadPart::With(party(inner)?),
        "via" if inner.peek() != Some(Rule::text) => HeadPart::Via(leaves.place_or_channel(inner)?),
        "at" if inner.peek() != Some(Rule::text) => HeadPart::At(leaves.place_or_channel(inner)?),
        _ => return Err(Unread::Slip),
    })
}

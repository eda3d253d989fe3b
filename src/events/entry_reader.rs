//! Reads one entry: holds what it has found so far, and keeps one mistake from being told twice.
//!
//! A line that could not be read moves nothing, and what it names has uncertain stock from that day. `refuse` is for a line
//! that can't be read, `tell` for a line that is read but doesn't agree with something.

use chrono::NaiveDate;
use rust_decimal::Decimal;
use smallvec::SmallVec;

use crate::diagnostics::{Diagnostic, Diagnostics, Severity, near_names};
use crate::events::after_deposits::LeftOfSale;
use crate::events::desk::Desk;
use crate::events::entry_money::Coin;
use crate::events::names_meant::{thing_named, thing_of_two};
use crate::events::total_explained::TotalPart;
use crate::events::{Event, EventKind};
use crate::names::{LabelId, PlaceId, ThingId};
use crate::sources::Span;
use crate::syntax::{Amount, Detail, DetailKind, Entry, GaveAs, HeadPart, Item, Party, head_behind_its_day};
use crate::units::read_decimal;

/// What an entry became.
pub(crate) struct BuiltEntry {
    /// Its events: one, two for `swapped`, none where nothing could be read.
    pub(crate) events: SmallVec<[Event; 1]>,
    /// What was found.
    pub(crate) found: Diagnostics,
    /// Things of lines that could not be read.
    pub(crate) uncertain: Vec<ThingId>,
    /// Whether something of it could not be read.
    pub(crate) failed: bool,
    /// Whether its lines come to less than its total: something may have been bought that no line says.
    pub(crate) lacks_goods: bool,
    /// What a sale's cash, card and check leave of its total.
    pub(crate) left_of_sale: Option<LeftOfSale>,
}

/// Reads one entry.
pub(crate) struct EntryReader<'a> {
    /// What every entry may look at.
    pub(crate) desk: &'a Desk<'a>,
    /// The entry.
    pub(crate) entry: &'a Entry,
    /// Its day; where none could be read, the book's first, so that the rest can be checked.
    pub(crate) date: NaiveDate,
    /// Its money.
    pub(crate) coin: Coin,
    /// What was found.
    pub(crate) found: Diagnostics,
    /// Whether something of it could not be read.
    pub(crate) failed: bool,
    /// Whether what could not be read has a part in its sums: then they are not checked. A name that the book doesn't know has none
    /// where the line says its sum.
    pub(crate) unsummed: bool,
    /// Whether its lines come to less than its total.
    pub(crate) lacks_goods: bool,
    /// What a sale's cash, card and check leave of its total.
    pub(crate) left_of_sale: Option<LeftOfSale>,
    /// What its total is made of, so far.
    pub(crate) parts: Vec<TotalPart>,
    line: Option<&'a Detail>,
    refused: bool,
    uncertain: Vec<ThingId>,
    events: SmallVec<[Event; 1]>,
}

impl<'a> EntryReader<'a> {
    /// Begins an entry.
    pub(crate) fn begin(desk: &'a Desk<'a>, entry: &'a Entry, date: NaiveDate) -> Self {
        let coin = Coin { book: desk.book.shop.currency, foreign: None };
        let mut reader = Self {
            desk,
            entry,
            date,
            coin,
            found: Diagnostics::default(),
            failed: entry.damaged || !entry.unread.is_empty(),
            unsummed: entry.damaged || !entry.unread.is_empty(),
            lacks_goods: false,
            left_of_sale: None,
            parts: Vec::new(),
            line: None,
            refused: false,
            uncertain: Vec::new(),
            events: SmallVec::new(),
        };
        reader.read_exchange_rate();
        reader
    }

    /// Ends it. An entry whose head could not be read, or whose day doesn't count, moves nothing.
    pub(crate) fn end(mut self, dated: bool) -> BuiltEntry {
        if self.entry.damaged || self.refused || !dated || (self.events.is_empty() && self.failed) {
            self.events.clear();
            for detail in &self.entry.details {
                self.doubt(detail);
            }
        }
        for span in &self.entry.unread {
            self.doubt_words(*span);
        }
        self.uncertain.sort_unstable();
        self.uncertain.dedup();
        BuiltEntry {
            events: self.events,
            found: self.found,
            uncertain: self.uncertain,
            failed: self.failed,
            lacks_goods: self.lacks_goods,
            left_of_sale: self.left_of_sale,
        }
    }

    /// Says what happened.
    pub(crate) fn happened(&mut self, kind: EventKind) {
        self.events.push(Event { date: self.date, verb: self.entry.verb, head: self.entry.head, span: self.entry.span, kind });
    }

    /// The text of a span.
    pub(crate) fn text(&self, span: Span) -> &'a str {
        self.desk.sources.text(span)
    }

    /// Goes through the entry's lines one by one.
    pub(crate) fn each_line(&mut self, mut read: impl FnMut(&mut Self, &'a Detail)) {
        for detail in &self.entry.details {
            self.line = Some(detail);
            read(self, detail);
        }
        self.line = None;
    }

    /// Tells something about a line that was read.
    pub(crate) fn tell(&mut self, diagnostic: Diagnostic) {
        self.found.push(diagnostic);
    }

    /// Tells why a line, or the entry, can't be read.
    pub(crate) fn refuse(&mut self, diagnostic: Diagnostic) {
        if diagnostic.severity == Severity::Error {
            self.fail();
        }
        self.found.push(diagnostic);
    }

    /// Tells why the whole entry moves nothing.
    pub(crate) fn refuse_entry(&mut self, diagnostic: Diagnostic) {
        self.refused = true;
        self.refuse(diagnostic);
    }

    /// Leaves the whole entry out, since what it lacks has been told.
    pub(crate) fn leave_out(&mut self) {
        self.refused = true;
        self.failed = true;
        self.unsummed = true;
    }

    /// Notes that a line could not be read, which has been told elsewhere.
    pub(crate) fn fail(&mut self) {
        self.failed = true;
        self.unsummed = true;
        if let Some(detail) = self.line {
            self.doubt(detail);
        }
    }

    /// Notes that the head has no part in the entry's sums, whatever of it could not be read: who, where, and on which paper.
    pub(crate) fn sums_stand_without_head(&mut self) {
        self.unsummed = !self.entry.unread.is_empty() || self.entry.damaged && self.head_has_a_number();
    }

    /// Whether a number stands in the head, its texts aside: goods or a sum may have been meant to stand below it.
    fn head_has_a_number(&self) -> bool {
        // What stands before the verb is its day.
        let head = self.text(self.entry.head);
        let head = head_behind_its_day(head).and_then(|(_, at)| head.get(at..)).unwrap_or(head);
        let outside_texts = head.split(['"', '“', '”', '„']).step_by(2);
        let mut words = outside_texts.flat_map(str::split_whitespace).map(|word| word.trim_matches(['$', '€', '£', ',', '%']));
        words.any(|word| read_decimal(word).is_ok())
    }

    /// Makes a thing uncertain.
    pub(crate) fn doubt_thing(&mut self, thing: ThingId) {
        self.uncertain.push(thing);
    }

    /// Makes the things of a line uncertain.
    fn doubt(&mut self, detail: &Detail) {
        match &detail.kind {
            DetailKind::Items(_, items) => {
                for item in items {
                    self.doubt_item(item);
                }
            }
            DetailKind::Money { .. } => self.doubt_words(detail.span),
            _ => {}
        }
    }

    /// A name that is not known was probably meant for one that is near.
    fn doubt_item(&mut self, item: &Item) {
        let name = self.text(item.name);
        if let Some(thing) = thing_named(self.desk.book, name) {
            self.uncertain.push(thing);
        } else if !self.desk.book.table.contains_key(name) && !name.is_empty() {
            let known = self.desk.book.things.iter().map(|thing| thing.named.name.as_str());
            for near in near_names(name, known) {
                self.uncertain.extend(thing_named(self.desk.book, near));
            }
            // `20 pair` of a thing that is counted so.
            self.doubt_words(item.amount.span.to(item.name));
        }
    }

    fn doubt_words(&mut self, span: Span) {
        let words = self.text(span).split(|c: char| !(c.is_alphanumeric() || "-./".contains(c)));
        let mut before = "";
        for word in words.map(|word| word.trim_matches(['-', '.', '/'])).filter(|word| !word.is_empty()) {
            self.uncertain.extend(thing_of_two(self.desk.book, before, word).filter(|_| !before.is_empty()));
            match thing_named(self.desk.book, word) {
                Some(thing) => self.uncertain.push(thing),
                None => self.uncertain.extend(self.desk.parts.with_part(self.desk.book, word)),
            }
            before = word;
        }
    }

    // -- the head

    fn part<T>(&self, pick: impl Fn(&HeadPart) -> Option<T>) -> Option<(T, Span)> {
        self.entry.parts.iter().find_map(|(part, span)| pick(part).map(|found| (found, *span)))
    }

    pub(crate) fn head_from(&self) -> Option<Party> {
        self.part(|part| if let HeadPart::From(party) = part { Some(*party) } else { None }).map(|(party, _)| party)
    }

    pub(crate) fn head_to(&self) -> Option<Party> {
        self.part(|part| if let HeadPart::To(party) = part { Some(*party) } else { None }).map(|(party, _)| party)
    }

    pub(crate) fn head_by(&self) -> Option<Party> {
        self.part(|part| if let HeadPart::By(party) = part { Some(*party) } else { None }).map(|(party, _)| party)
    }

    pub(crate) fn head_with(&self) -> Option<Party> {
        self.part(|part| if let HeadPart::With(party) = part { Some(*party) } else { None }).map(|(party, _)| party)
    }

    pub(crate) fn head_via(&self) -> Option<Span> {
        self.part(|part| if let HeadPart::Via(span) = part { Some(*span) } else { None }).map(|(span, _)| span)
    }

    fn head_at(&self) -> Option<Span> {
        self.part(|part| if let HeadPart::At(span) = part { Some(*span) } else { None }).map(|(span, _)| span)
    }

    pub(crate) fn head_batch(&self) -> Option<Span> {
        self.part(|part| if let HeadPart::Batch(span) = part { Some(*span) } else { None }).map(|(span, _)| span)
    }

    pub(crate) fn head_on(&self) -> Option<Span> {
        self.part(|part| if let HeadPart::On(span) = part { Some(*span) } else { None }).map(|(span, _)| span)
    }

    pub(crate) fn head_order(&self) -> Option<Span> {
        self.part(|part| if let HeadPart::Order(span) = part { Some(*span) } else { None }).map(|(span, _)| span)
    }

    pub(crate) fn head_subject(&self) -> Option<Span> {
        self.part(|part| if let HeadPart::Subject(span) = part { Some(*span) } else { None }).map(|(span, _)| span)
    }

    pub(crate) fn head_as(&self) -> Option<GaveAs> {
        self.part(|part| if let HeadPart::As(reason) = part { Some(*reason) } else { None }).map(|(reason, _)| reason)
    }

    pub(crate) fn head_amount(&self) -> Option<Amount> {
        self.part(|part| if let HeadPart::Amount(amount) = part { Some(*amount) } else { None }).map(|(amount, _)| amount)
    }

    pub(crate) fn head_for(&self) -> Option<(Decimal, Span)> {
        self.part(|part| if let HeadPart::For(money, span) = part { Some((*money, *span)) } else { None }).map(|(money, _)| money)
    }

    /// The texts of the head, in their order.
    pub(crate) fn head_texts(&self) -> impl Iterator<Item = Span> + '_ {
        self.entry.parts.iter().filter_map(|(part, _)| if let HeadPart::Text(span) = part { Some(*span) } else { None })
    }

    /// The receipt: in the head, else in a line of its own.
    pub(crate) fn receipt(&mut self) -> Option<LabelId> {
        let in_head = self.part(|part| if let HeadPart::Receipt(span) = part { Some(*span) } else { None });
        let in_line = || {
            let lines = &self.entry.details;
            lines.iter().find_map(|detail| if let DetailKind::Receipt(span) = detail.kind { Some(span) } else { None })
        };
        self.label(in_head.map(|(span, _)| span).or_else(in_line)?)
    }

    /// The place of the entry: `at PLACE`, else home.
    pub(crate) fn place_or_home(&mut self) -> Option<PlaceId> {
        match self.head_at() {
            Some(span) => self.place(span),
            None => self.home(),
        }
    }

    /// The place that the head says with `at`.
    pub(crate) fn place_said(&mut self) -> Option<Option<PlaceId>> {
        match self.head_at() {
            Some(span) => self.place(span).map(Some),
            None => Some(None),
        }
    }

    /// The shop's home. Where there is none, that has been told once.
    pub(crate) fn home(&mut self) -> Option<PlaceId> {
        let home = self.desk.book.shop.home;
        if home.is_none() {
            self.fail();
        }
        home
    }

    fn read_exchange_rate(&mut self) {
        for detail in &self.entry.details {
            if let DetailKind::ExchangeRate { currency, rate } = detail.kind {
                self.take_exchange_rate(detail.span, currency, rate);
            }
        }
    }
}

//! What is not known because something could not be read: so that one mistake is told once, and not again wherever it is felt.
//!
//! A thing's stock is uncertain from a day ([`EventLog::uncertain`]); orders, receipts, batches, people, channels and tools of an entry
//! that was read only in part are in doubt as a whole: what is owed, made or left of them may stand in what was not read.

use chrono::NaiveDate;
use rustc_hash::FxHashSet;

use crate::events::{Event, EventKind, EventLog, PaidFor, ReceivedFor};
use crate::names::{BatchId, ChannelId, LabelId, ResolvedBook, Target, ThingId, ToolId};

/// What entries that were read only in part are about.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Doubts {
    /// The entries themselves: where their heads begin.
    pub heads: FxHashSet<u32>,
    /// Orders and receipts.
    pub papers: FxHashSet<LabelId>,
    /// Suppliers, buyers, payees and helpers.
    pub parties: FxHashSet<LabelId>,
    /// Batches.
    pub batches: FxHashSet<BatchId>,
    /// Channels.
    pub channels: FxHashSet<ChannelId>,
    /// Tools.
    pub tools: FxHashSet<ToolId>,
    /// Channels of whose definition a line could not be read: what of a sale they keep, and when they pay, is not known.
    pub terms: FxHashSet<ChannelId>,
}

impl Doubts {
    /// Whether nothing is in doubt.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.heads.is_empty()
            && self.papers.is_empty()
            && self.parties.is_empty()
            && self.batches.is_empty()
            && self.channels.is_empty()
            && self.tools.is_empty()
            && self.terms.is_empty()
    }

    /// Notes the channels whose terms are not all known.
    pub(crate) fn of_terms(&mut self, book: &ResolvedBook) {
        let incomplete = (0..).map(ChannelId).zip(&book.channels).filter(|(_, channel)| channel.named.incomplete);
        self.terms.extend(incomplete.map(|(channel, _)| channel));
    }

    /// Takes another's in.
    pub(crate) fn extend(&mut self, other: Self) {
        self.heads.extend(other.heads);
        self.papers.extend(other.papers);
        self.parties.extend(other.parties);
        self.batches.extend(other.batches);
        self.channels.extend(other.channels);
        self.tools.extend(other.tools);
        self.terms.extend(other.terms);
    }

    fn has_paper(&self, label: Option<LabelId>) -> bool {
        label.is_some_and(|label| self.papers.contains(&label))
    }

    fn has_party(&self, label: Option<LabelId>) -> bool {
        label.is_some_and(|label| self.parties.contains(&label))
    }

    fn has_batch(&self, target: Option<Target>) -> bool {
        matches!(target, Some(Target::Batch(batch)) if self.batches.contains(&batch))
    }

    fn has_channel(&self, channel: Option<ChannelId>) -> bool {
        channel.is_some_and(|channel| self.channels.contains(&channel) || self.terms.contains(&channel))
    }

    /// Whether the terms of a channel are not all known.
    pub(crate) fn has_terms(&self, channel: Option<ChannelId>) -> bool {
        channel.is_some_and(|channel| self.terms.contains(&channel))
    }
}

impl EventLog {
    /// Whether an event is about something that is in doubt: then a mistake in what is owed, made or left of it is not told, since it
    /// may follow from one that was.
    #[must_use]
    pub fn is_in_doubt(&self, event: &Event) -> bool {
        let doubts = &self.doubts;
        if doubts.is_empty() && self.uncertain.is_empty() {
            return false;
        }
        if doubts.heads.contains(&event.head.start) {
            return true;
        }
        match &event.kind {
            EventKind::Bought(bought) => doubts.has_party(bought.supplier) || doubts.has_paper(bought.receipt),
            EventKind::Paid(paid) => {
                let settles = |what: &PaidFor| match what {
                    PaidFor::Receipt(label) => doubts.has_paper(Some(*label)),
                    PaidFor::Helper { name, .. } => doubts.has_party(Some(*name)),
                    _ => false,
                };
                doubts.has_party(Some(paid.to)) || paid.lines.iter().any(|line| settles(&line.what))
            }
            EventKind::Batch(work) => doubts.batches.contains(&work.batch),
            EventKind::GaveUp(batch) => doubts.batches.contains(batch),
            EventKind::Worked(lines) => lines.iter().any(|line| doubts.has_batch(line.on)),
            EventKind::Sold(sold) => {
                doubts.has_paper(sold.order) || doubts.has_party(sold.buyer) || doubts.has_terms(sold.channel)
            }
            EventKind::Received(received) => {
                let orders = |what: &ReceivedFor| match what {
                    // Through which channel it was sold, and what is owed of it, is known there.
                    ReceivedFor::Orders(orders) => {
                        !doubts.terms.is_empty() || orders.iter().any(|(order, _)| doubts.has_paper(Some(*order)))
                    }
                    // Which sale of that day it is, the channel and the buyer say; one that was read in part may be it.
                    ReceivedFor::SoldOn(_) => !doubts.channels.is_empty() || !doubts.terms.is_empty(),
                    ReceivedFor::Income(_) => false,
                };
                doubts.has_party(Some(received.from)) || received.lines.iter().any(|line| orders(&line.what))
            }
            EventKind::Returned(returned) => {
                doubts.has_paper(returned.order)
                    || doubts.has_channel(returned.channel)
                    || returned.lines.iter().any(|line| self.is_uncertain(line.thing, event.date))
            }
            EventKind::SentBack(back) => doubts.has_party(Some(back.supplier)) || doubts.has_paper(back.receipt),
            EventKind::Credited(credited) => doubts.has_party(Some(credited.supplier)) || doubts.has_paper(credited.receipt),
            EventKind::Retired { tool, .. } => doubts.tools.contains(tool),
            _ => false,
        }
    }

    /// Whether a thing's stock is uncertain on a day.
    #[must_use]
    pub fn is_uncertain(&self, thing: ThingId, day: NaiveDate) -> bool {
        self.uncertain.get(&thing).is_some_and(|since| *since <= day)
    }
}

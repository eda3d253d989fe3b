//! Names in an entry. What is not found has been told where it was looked for; the line then moves nothing.

use crate::events::entry_reader::EntryReader;
use crate::names::{BatchId, ChannelId, Known, LabelId, PlaceId, Target, ThingId, left_to_the_reader};
use crate::sources::Span;
use crate::syntax::{DefinitionWord, Party};

impl EntryReader<'_> {
    /// Keeps what was found, and notes that the line can't be read where nothing was.
    fn found_or_failed<T>(&mut self, found: Option<T>) -> Option<T> {
        if found.is_none() {
            self.fail();
        }
        found
    }

    /// A place.
    pub(crate) fn place(&mut self, name: Span) -> Option<PlaceId> {
        let found = self.look().place(name, &mut self.found);
        self.found_or_failed(found)
    }

    /// A channel.
    pub(crate) fn channel(&mut self, name: Span) -> Option<ChannelId> {
        let found = self.look().channel(name, &mut self.found);
        self.found_or_failed(found)
    }

    /// A material or product.
    pub(crate) fn thing(&mut self, name: Span) -> Option<ThingId> {
        let found = self.look().thing(name, None, &mut self.found);
        self.found_or_failed(found)
    }

    /// A batch.
    pub(crate) fn batch(&mut self, code: Span) -> Option<BatchId> {
        let found = self.look().batch(code, self.entry.date, &mut self.found);
        self.found_or_failed(found)
    }

    /// A name of one of the kinds that may stand there.
    pub(crate) fn one_of(&mut self, name: Span, wanted: &[DefinitionWord]) -> Option<Known> {
        let found = self.look().find(name, wanted, None, &mut self.found);
        self.found_or_failed(found)
    }

    /// What a name stands for, told or not.
    pub(crate) fn quiet_kind(&self, name: Span) -> Option<Known> {
        let look = self.look();
        look.book.table.get(look.text(name).as_ref()).copied()
    }

    /// Adds a note to what was told of a name.
    pub(crate) fn note_at(&mut self, name: Span, note: &str) {
        self.found.revise(|told| {
            if told.primary.span == name {
                told.notes.push(note.to_owned());
            }
        });
    }

    /// What was paid, driven or used for: a batch, line, channel or product.
    pub(crate) fn target(&mut self, name: Span) -> Option<Target> {
        let found = self.look().target(name, self.entry.date, &mut self.found);
        self.found_or_failed(found)
    }

    /// What was worked on. A product stands for its one open batch of the day, where there is one.
    pub(crate) fn worked_on(&mut self, name: Span) -> Option<Target> {
        match self.target(name)? {
            Target::Product(product) => match self.desk.bench.one_open(product, self.date) {
                Some(batch) => Some(Target::Batch(batch)),
                None => Some(Target::Product(product)),
            },
            other => Some(other),
        }
    }

    /// The label of a code, an order, a receipt or a tax account.
    pub(crate) fn label(&mut self, text: Span) -> Option<LabelId> {
        if self.text(text).trim_matches('"') == "NAME" {
            self.refuse(left_to_the_reader(text));
            return None;
        }
        let found = self.look().label(text);
        self.found_or_failed(found)
    }

    /// The label of a supplier, buyer or payee.
    pub(crate) fn party(&mut self, party: Party) -> Option<LabelId> {
        self.label(party.span)
    }

    /// The account of the shop's own sales tax of the day; `None` where it has no name.
    pub(crate) fn shop_tax_account(&self) -> Option<LabelId> {
        let name = self.desk.book.shop.sales_tax_to.on(self.date).as_deref()?;
        self.desk.book.label_id(name)
    }
}

//! Finding what a name stands for, where only some kinds of names may stand.
//!
//! In: a name's place in the text and the kinds that may stand there. Out: its id, or `None` after the reason was told; a name
//! that stands in an unread line gives `None` and stays silent. The exact name comes first; after a count other than one an
//! English plural of a material, product or tool is understood.

use std::borrow::Cow;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::diagnostics::Diagnostics;
use crate::names::errors::looking_up;
use crate::names::kinds::kind_of;
use crate::names::plural::singulars_of;
use crate::names::spelling::normalised;
use crate::names::{
    BatchId, ChannelId, ExpenseId, HelperId, IncomeId, Known, LabelId, LineId, PatternId, PlaceId, ResolvedBook, StepId, Target,
    ThingId, ThingKind, ToolId,
};
use crate::sources::{SourceSet, Span};
use crate::syntax::{DefinitionWord, Party};

/// The kinds of goods that are counted.
pub const GOODS: &[DefinitionWord] = &[DefinitionWord::Material, DefinitionWord::Product];

/// Goods, and tools.
pub const GOODS_AND_TOOLS: &[DefinitionWord] = &[DefinitionWord::Material, DefinitionWord::Product, DefinitionWord::Tool];

/// Finds names of one book.
#[derive(Clone, Copy, Debug)]
pub struct Lookup<'b> {
    /// The book.
    pub book: &'b ResolvedBook,
    /// Its text.
    pub sources: &'b SourceSet,
}

impl<'b> Lookup<'b> {
    /// Begins to look up names of a book.
    #[must_use]
    pub const fn new(book: &'b ResolvedBook, sources: &'b SourceSet) -> Self {
        Self { book, sources }
    }

    /// The text of a place, in the form in which names are compared.
    #[must_use]
    pub fn text(&self, span: Span) -> Cow<'b, str> {
        normalised(self.sources.text(span))
    }

    /// What a name stands for, if it is of one of the kinds that may stand there; else the reason is told. `counted` is the count
    /// before the name, where there is one.
    pub fn find(
        &self,
        name: Span,
        wanted: &[DefinitionWord],
        counted: Option<Decimal>,
        found: &mut Diagnostics,
    ) -> Option<Known> {
        match self.quiet_find(name, wanted, counted) {
            Ok(known) => Some(known),
            Err(Some(Known::Poisoned)) => None,
            Err(other) => {
                found.push(looking_up::not_found(self, name, wanted, other));
                None
            }
        }
    }

    /// What a name stands for. Errors: `None` for an unknown name, what it is where that is of another kind or could not be read.
    pub(crate) fn quiet_find(
        &self,
        name: Span,
        wanted: &[DefinitionWord],
        counted: Option<Decimal>,
    ) -> Result<Known, Option<Known>> {
        let text = self.text(name);
        let exact = self.exact(&text, wanted);
        match exact {
            Some(known) if self.is_one_of(known, wanted) => return Ok(known),
            Some(Known::Poisoned) => return Err(exact),
            _ => {}
        }
        if counted.is_some_and(|count| count != Decimal::ONE) {
            for singular in singulars_of(&text) {
                match self.book.table.get(&singular) {
                    Some(Known::Poisoned) => return Err(Some(Known::Poisoned)),
                    Some(known @ (Known::Thing(_) | Known::Tool(_))) if self.is_one_of(*known, wanted) => return Ok(*known),
                    _ => {}
                }
            }
        }
        Err(exact)
    }

    fn exact(&self, text: &str, wanted: &[DefinitionWord]) -> Option<Known> {
        // A place and a channel may share a name.
        if wanted.contains(&DefinitionWord::Place)
            && !wanted.contains(&DefinitionWord::Channel)
            && let Some(place) = self.book.place_table.get(text)
        {
            return Some(Known::Place(*place));
        }
        self.book.table.get(text).copied()
    }

    fn is_one_of(&self, known: Known, wanted: &[DefinitionWord]) -> bool {
        kind_of(self.book, known).is_some_and(|kind| wanted.contains(&kind))
    }

    /// A material or product.
    pub fn thing(&self, name: Span, counted: Option<Decimal>, found: &mut Diagnostics) -> Option<ThingId> {
        match self.find(name, GOODS, counted, found)? {
            Known::Thing(id) => Some(id),
            _ => None,
        }
    }

    /// What an entry says `on NAME` of, on a day: a batch, line, channel or product. Names of batches that begin later are not
    /// offered as near.
    pub fn target(&self, name: Span, day: Option<NaiveDate>, found: &mut Diagnostics) -> Option<Target> {
        let text = self.text(name);
        if let Some(batch) = self.book.batch_id(&text) {
            return Some(Target::Batch(batch));
        }
        let known = self.book.table.get(text.as_ref()).copied();
        match known {
            Some(Known::Line(id)) => Some(Target::Line(id)),
            Some(Known::Channel(id)) => Some(Target::Channel(id)),
            Some(Known::Thing(id)) if self.book.thing(id).kind == ThingKind::Product => Some(Target::Product(id)),
            Some(Known::Poisoned) => None,
            other => {
                found.push(looking_up::no_target(self, name, day, other));
                None
            }
        }
    }

    /// A batch by its code.
    pub fn batch(&self, code: Span, day: Option<NaiveDate>, found: &mut Diagnostics) -> Option<BatchId> {
        let text = self.text(code);
        let batch = self.book.batch_id(&text);
        if batch.is_none() {
            let known = self.book.table.get(text.as_ref()).copied();
            if known != Some(Known::Poisoned) {
                found.push(looking_up::no_batch(self, code, day, known));
            }
        }
        batch
    }

    /// The label of a lot's code, an order, a receipt or a tax account. `None` only for a text that the book doesn't hold.
    #[must_use]
    pub fn label(&self, text: Span) -> Option<LabelId> {
        self.book.label_id(&self.text(text))
    }

    /// The label of a supplier, buyer or payee.
    #[must_use]
    pub fn party(&self, party: Party) -> Option<LabelId> {
        self.label(party.span)
    }

    /// The helper of this name, if one is defined; a helper needn't be.
    #[must_use]
    pub fn helper_named(&self, party: Party) -> Option<HelperId> {
        match self.book.table.get(self.text(party.span).as_ref()) {
            Some(Known::Helper(id)) => Some(*id),
            _ => None,
        }
    }

    /// The channel of this name, if one is defined: a payer may be one.
    #[must_use]
    pub fn channel_named(&self, party: Party) -> Option<ChannelId> {
        match self.book.table.get(self.text(party.span).as_ref()) {
            Some(Known::Channel(id)) => Some(*id),
            _ => None,
        }
    }
}

macro_rules! find_one {
    ($($(#[$doc:meta])* $method:ident, $word:ident, $known:ident, $id:ty;)*) => {
        impl Lookup<'_> {$(
            $(#[$doc])*
            pub fn $method(&self, name: Span, found: &mut Diagnostics) -> Option<$id> {
                match self.find(name, &[DefinitionWord::$word], None, found)? {
                    Known::$known(id) => Some(id),
                    _ => None,
                }
            }
        )*}
    };
}

find_one! {
    /// A place.
    place, Place, Place, PlaceId;
    /// A step.
    step, Step, Step, StepId;
    /// A product line.
    line, Line, Line, LineId;
    /// A pattern.
    pattern, Pattern, Pattern, PatternId;
    /// A defined helper.
    helper, Helper, Helper, HelperId;
    /// A channel.
    channel, Channel, Channel, ChannelId;
    /// An expense.
    expense, Expense, Expense, ExpenseId;
    /// An income without goods.
    income, Income, Income, IncomeId;
    /// A tool.
    tool, Tool, Tool, ToolId;
}

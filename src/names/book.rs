//! Everything that is defined, by id, and the table that finds it by name.
//!
//! Lists are sorted by name, so an id says nothing of files and their order.

use std::collections::BTreeMap;

use rustc_hash::FxHashMap;

use crate::names::definitions::{BatchName, Category, Channel, Choices, Helper, Pattern, Place, Shop, Step, Thing, Tool};
use crate::names::text_index::TextIndex;
use crate::names::{
    BatchId, ChannelId, ExpenseId, HelperId, IncomeId, Known, LabelId, LineId, Named, PatternId, PlaceId, StepId, ThingId, ToolId,
};
use crate::sources::Span;

/// The definitions of a book, resolved.
#[derive(Clone, Debug)]
pub struct ResolvedBook {
    /// The shop.
    pub shop: Shop,
    /// Choices by tax year.
    pub choices: BTreeMap<i32, Choices>,
    /// Places.
    pub places: Vec<Place>,
    /// Steps.
    pub steps: Vec<Step>,
    /// Materials and products.
    pub things: Vec<Thing>,
    /// Product lines.
    pub lines: Vec<Named>,
    /// Patterns.
    pub patterns: Vec<Pattern>,
    /// Helpers.
    pub helpers: Vec<Helper>,
    /// Channels.
    pub channels: Vec<Channel>,
    /// Expenses.
    pub expenses: Vec<Category>,
    /// Incomes without goods.
    pub incomes: Vec<Category>,
    /// Tools.
    pub tools: Vec<Tool>,
    /// Batches, sorted by name.
    pub batches: Vec<BatchName>,
    /// Labels (lots, orders, receipts, parties), sorted by text.
    pub labels: Vec<String>,
    /// Name to what it stands for. A place and a channel may share a name: then the channel is here and its `place` is set.
    pub table: FxHashMap<String, Known>,
    /// Place names, which may be channel names too.
    pub place_table: FxHashMap<String, PlaceId>,
    /// Finds a batch by its name.
    pub batch_index: TextIndex,
    /// Finds a label by its text.
    pub label_index: TextIndex,
    /// Head lines, sorted, of `built` entries without a usable batch name: that has been told, and they move nothing.
    pub refused_builds: Vec<Span>,
}

macro_rules! by_id {
    ($($method:ident, $list:ident, $id:ty, $out:ty;)*) => {
        impl ResolvedBook {$(
            /// The definition of an id of this book.
            #[must_use]
            pub fn $method(&self, id: $id) -> &$out {
                &self.$list[id.index()]
            }
        )*}
    };
}

by_id! {
    place, places, PlaceId, Place;
    step, steps, StepId, Step;
    thing, things, ThingId, Thing;
    line, lines, LineId, Named;
    pattern, patterns, PatternId, Pattern;
    helper, helpers, HelperId, Helper;
    channel, channels, ChannelId, Channel;
    expense, expenses, ExpenseId, Category;
    income, incomes, IncomeId, Category;
    tool, tools, ToolId, Tool;
    batch, batches, BatchId, BatchName;
}

impl ResolvedBook {
    /// A book of which nothing is known but its shop.
    #[must_use]
    pub fn of_shop(shop: Shop) -> Self {
        Self {
            shop,
            choices: BTreeMap::new(),
            places: Vec::new(),
            steps: Vec::new(),
            things: Vec::new(),
            lines: Vec::new(),
            patterns: Vec::new(),
            helpers: Vec::new(),
            channels: Vec::new(),
            expenses: Vec::new(),
            incomes: Vec::new(),
            tools: Vec::new(),
            batches: Vec::new(),
            labels: Vec::new(),
            table: FxHashMap::default(),
            place_table: FxHashMap::default(),
            batch_index: TextIndex::default(),
            label_index: TextIndex::default(),
            refused_builds: Vec::new(),
        }
    }

    /// The batch of a name (as written, or `PRODUCT/DATE`), which is taken as normalised.
    #[must_use]
    pub fn batch_id(&self, name: &str) -> Option<BatchId> {
        self.batch_index.find(name, self.batches.len(), |at| self.batches.get(at).map(|batch| batch.name.as_str())).map(BatchId)
    }

    /// The label of a text, which is taken as normalised. Every lot, order, receipt, party, tax account, batch, helper and
    /// channel of the book has one.
    #[must_use]
    pub fn label_id(&self, text: &str) -> Option<LabelId> {
        self.label_index.find(text, self.labels.len(), |at| self.labels.get(at).map(String::as_str)).map(LabelId)
    }

    /// The text of a label.
    #[must_use]
    pub fn label(&self, id: LabelId) -> &str {
        &self.labels[id.index()]
    }
}

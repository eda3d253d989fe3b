//! Everything that is defined, by id, and the table that finds it by name.
//!
//! Lists are sorted by name, so an id says nothing of files and their order.

use std::collections::BTreeMap;

use rustc_hash::FxHashMap;

use crate::names::definitions::{
    BatchName, Category, Channel, Choices, Helper, Pattern, Place, Shop, Step, Thing, Tool,
};
use crate::names::{BatchId, ChannelId, ExpenseId, HelperId, IncomeId, Known, LabelId, LineId, Named, PatternId, PlaceId, StepId, ThingId, ToolId};

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
    /// The text of a label.
    #[must_use]
    pub fn label(&self, id: LabelId) -> &str {
        &self.labels[id.index()]
    }
}

//! Stage 5: from names as written to what they stand for.
//!
//! In: a [`SyntaxFile`](crate::syntax::SyntaxFile). Out: a [`ResolvedBook`]: every definition, with ids for names, dated
//! changes, quantities in the thing's own unit. Must not: look at what a day holds, save for `changed` entries and the names of
//! batches and labels. After this stage an unknown name can't be expressed, except as [`Known::Poisoned`].

mod batches;
mod book;
mod changes;
mod counting;
mod dated;
mod declare;
mod definition_lines;
mod definitions;
mod errors;
mod home;
mod ids;
mod joined_names;
mod joiner;
mod kinds;
mod labels;
mod lookup;
mod money_signs;
mod near_misses;
mod packs;
mod plural;
mod quantity;
mod readings;
mod recipe;
mod resolve;
mod resolve_people;
mod resolve_shop;
mod resolve_thing;
mod resolve_tool;
mod resolve_trade;
mod rings;
mod sizes;
mod spelling;
mod text_index;
mod wanted_at;

pub use book::ResolvedBook;
pub use counting::{CountRule, Countable, Counting};
pub use dated::Dated;
pub use definitions::{
    Basis, BatchName, Category, Channel, ChannelShare, Choices, CostingMethod, CountsAs, FeeRule, Helper, HomeWorkshop, Named,
    Need, OverheadRule, Pack, Pattern, Place, Recovery, Shop, Step, StockKept, Take, Tallied, Thing, ThingKind, Tool, Wear,
};
pub(crate) use errors::{NEARLY_ANOTHER, left_to_the_reader, offer_one_measure};
pub use ids::{
    BatchId, ChannelId, ExpenseId, HelperId, IncomeId, Known, LabelId, LineId, PatternId, PlaceId, StepId, Target, ThingId,
    ToolId,
};
pub use lookup::{GOODS, GOODS_AND_TOOLS, Lookup};
pub(crate) use near_misses::core_of_name;
pub(crate) use plural::{plurals_of, singular_of, singulars_of};
pub use resolve::resolve_book;
pub use text_index::TextIndex;

#[cfg(test)]
mod tests;

//! Stage 5: from names as written to what they stand for.
//!
//! In: a [`SyntaxFile`](crate::syntax::SyntaxFile). Out: a [`ResolvedBook`]: every definition, with ids for names, dated
//! changes, quantities in the thing's own unit. Must not: look at what a day holds, save for `changed` entries and the names of
//! batches and labels. After this stage an unknown name can't be expressed, except as [`Known::Poisoned`].

mod book;
mod dated;
mod definitions;
mod ids;
mod text_index;

pub use book::ResolvedBook;
pub use dated::Dated;
pub use definitions::{
    Basis, BatchName, Category, Channel, ChannelShare, Choices, CostingMethod, CountsAs, FeeRule, Helper, HomeWorkshop,
    Named, Need, OverheadRule, Pack, Pattern, Place, Recovery, Shop, Step, StockKept, Take, Tallied, Thing, ThingKind,
    Tool, Wear,
};
pub use ids::{
    BatchId, ChannelId, ExpenseId, HelperId, IncomeId, Known, LabelId, LineId, PatternId, PlaceId, StepId, Target,
    ThingId, ToolId,
};
pub use text_index::TextIndex;

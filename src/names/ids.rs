//! Small numbers that stand for names once they are known.
//!
//! An id is an index into one list of the [`ResolvedBook`](crate::names::ResolvedBook). Ids are given in the order of the
//! names' own text, never in the order of files, so that a book cut into other files gets the same ids.

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub struct $name(pub u32);

        impl $name {
            /// The id as an index.
            #[must_use]
            pub const fn index(self) -> usize {
                self.0 as usize
            }
        }
    )*};
}

ids! {
    /// A place of the shop.
    PlaceId;
    /// A step of the work.
    StepId;
    /// A countable thing: a material or a product.
    ThingId;
    /// A product line.
    LineId;
    /// A pattern and its licence.
    PatternId;
    /// A helper.
    HelperId;
    /// A selling channel.
    ChannelId;
    /// An expense.
    ExpenseId;
    /// An income without goods.
    IncomeId;
    /// A tool.
    ToolId;
    /// A batch.
    BatchId;
    /// A label: a lot's code, an order's or receipt's name, a supplier, buyer or payee. Never defined, only equal or not.
    LabelId;
}

/// What a defined name stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the ids")]
pub enum Known {
    Place(PlaceId),
    Step(StepId),
    Thing(ThingId),
    Line(LineId),
    Pattern(PatternId),
    Helper(HelperId),
    Channel(ChannelId),
    Expense(ExpenseId),
    Income(IncomeId),
    Tool(ToolId),
    /// A name that stands in a line that could not be read: known, and silent.
    Poisoned,
}

/// For whom or what something was done, where an entry says `on NAME`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the ids")]
pub enum Target {
    Batch(BatchId),
    Line(LineId),
    Channel(ChannelId),
    /// A product: counted with its line.
    Product(ThingId),
}

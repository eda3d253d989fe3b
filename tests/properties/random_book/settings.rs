//! How the shop of a random book keeps its book.

use proptest::prelude::*;

/// The choices of a random shop.
#[derive(Clone, Debug)]
pub(crate) struct Settings {
    /// Pools by average; else the oldest first.
    pub(crate) average: bool,
    /// Changes to the other way on this many years' first January.
    pub(crate) costing_changes_after: Option<i32>,
    /// Cents an hour of the owner; none where it says nothing.
    pub(crate) owner_cents: Option<i128>,
    /// Cents of overhead an hour.
    pub(crate) overhead_cents: Option<i128>,
    /// `overhead from expenses`, in place of a rate.
    pub(crate) overhead_from_expenses: bool,
    /// `cash basis`.
    pub(crate) cash: bool,
    /// `stock kept as supplies`.
    pub(crate) supplies: bool,
    /// `short stock is a warning`, and entries that run short.
    pub(crate) short_is_a_warning: bool,
    /// The month in which the book begins.
    pub(crate) first_month: u32,
}

/// Any shop that never runs short.
pub(crate) fn any_settings() -> impl Strategy<Value = Settings> {
    (
        any::<bool>(),
        prop::option::weighted(0.5, prop_oneof![4 => Just(1), 1 => Just(2)]),
        prop::option::weighted(0.8, 700..4000i128),
        prop::option::weighted(0.6, 100..900i128),
        any::<bool>(),
        any::<bool>(),
        prop_oneof![1 => 1..=7u32, 2 => 8..=12u32],
    )
        .prop_map(|(average, costing_changes_after, owner_cents, overhead_cents, cash, supplies, first_month)| Settings {
            average,
            costing_changes_after,
            owner_cents,
            overhead_cents,
            overhead_from_expenses: false,
            cash,
            supplies,
            short_is_a_warning: false,
            first_month,
        })
}

//! A batch in exact fractions: what is on its bench, and what its recipe would have had by now.

use std::collections::{BTreeMap, BTreeSet};

use kerfbook::events::Output;
use kerfbook::names::{StepId, ThingId};

use super::exact_number::Exact;
use super::exact_vector::ExactVector;

/// A batch.
#[derive(Clone, Debug, Default)]
pub(crate) struct TwinBatch {
    /// All that it collected.
    pub(crate) collected: ExactVector,
    /// What is still on the bench.
    pub(crate) bench: ExactVector,
    /// What it aims at.
    pub(crate) aims: BTreeMap<Output, Exact>,
    /// Good and lost so far.
    pub(crate) came: BTreeMap<Output, Exact>,
    /// Used so far, wear of steps aside.
    pub(crate) used: BTreeMap<ThingId, Exact>,
    /// Minutes so far.
    pub(crate) took: BTreeMap<StepId, Exact>,
    /// Wearing things that an entry of it has named.
    pub(crate) worn_as_written: BTreeSet<ThingId>,
}

impl TwinBatch {
    /// Puts cost on the bench.
    pub(crate) fn collect(&mut self, vector: &ExactVector) {
        self.collected.add(vector);
        self.bench.add(vector);
    }
}

//! The batches of the book: their accounts, and what the engine must remember of each while it works.
//!
//! Costing rules 3 and 6: a batch collects what it used, wear, time and overhead; on the bench at a date is what it collected
//! less what left.

use rust_decimal::Decimal;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::costing::fault::{Costed, OrFault};
use crate::costing::{BatchAccount, BatchState, CostVector};
use crate::events::{LostLine, Output};
use crate::names::{BatchId, StepId, ThingId};
use crate::units::{Fixed6, checked_add_exact};

/// What has been done of a batch so far, by quantities.
#[derive(Clone, Debug, Default)]
pub(crate) struct Progress {
    /// Good pieces by output.
    pub(crate) made: Vec<(Output, Decimal)>,
    /// Lost pieces by output, charged off or not.
    pub(crate) lost: Vec<(Output, Decimal)>,
    /// Pieces charged off before any was made, which wait for the others to say what a piece costs.
    pub(crate) charged_off: Vec<LostLine>,
    /// Used of each thing, by explicit lines and by plan.
    pub(crate) used: FxHashMap<ThingId, Decimal>,
    /// Whether money went straight to it, for what is in no list of goods.
    pub(crate) holds_money: bool,
    /// Minutes at each step.
    pub(crate) took: FxHashMap<StepId, Fixed6>,
    /// Wearing things of which the use was written: their steps wear them no more.
    pub(crate) wear_written: FxHashSet<ThingId>,
    /// Whether work on it after its end was told.
    pub(crate) finished_told: bool,
}

impl Progress {
    /// How many of an output stand in a list.
    pub(crate) fn count(list: &[(Output, Decimal)], what: Output) -> Decimal {
        list.iter().find(|(one, _)| *one == what).map_or(Decimal::ZERO, |(_, count)| *count)
    }

    /// Adds to the count of one of a list.
    pub(crate) fn add<T: PartialEq>(list: &mut Vec<(T, Decimal)>, what: T, more: Decimal) -> Costed<()> {
        match list.iter_mut().find(|(one, _)| *one == what) {
            Some((_, count)) => *count = checked_add_exact(*count, more)?,
            None => list.push((what, more)),
        }
        Ok(())
    }
}

/// All batches.
#[derive(Clone, Debug)]
pub(crate) struct BatchBook {
    accounts: Vec<BatchAccount>,
    /// Of the batches that are being worked at; most are done, and of those nothing is remembered.
    progress: Vec<Option<Box<Progress>>>,
    no_progress: Progress,
    /// Batches to which cost was put when they had none on the bench, since the last year's end; one may stand there twice.
    may_hold_cost: Vec<BatchId>,
    /// Whether all that a batch collected is summed up, for reports.
    keeps_sums: bool,
}

impl BatchBook {
    /// As many batches. `keeps_sums`: whether what each collected in all is wanted.
    pub(crate) fn new(batches: usize, keeps_sums: bool) -> Self {
        let accounts = (0..batches)
            .filter_map(|at| u32::try_from(at).ok())
            .map(|at| BatchAccount {
                batch: BatchId(at),
                state: BatchState::NotBegun,
                started: None,
                finished: None,
                aims: Vec::new(),
                collected: CostVector::default(),
                on_the_bench: CostVector::default(),
                last_made: None,
                last_lost: None,
                used: Vec::new(),
                time: Vec::new(),
                outputs: Vec::new(),
                losses: Vec::new(),
                kept: Vec::new(),
            })
            .collect();
        let (progress, no_progress) = (vec![None; batches], Progress::default());
        Self { accounts, progress, no_progress, may_hold_cost: Vec::new(), keeps_sums }
    }

    /// What is on the bench of all batches.
    pub(crate) fn on_the_bench(&mut self) -> Costed<CostVector> {
        let accounts = &self.accounts;
        self.may_hold_cost.sort_unstable();
        self.may_hold_cost.dedup();
        self.may_hold_cost.retain(|batch| !accounts[batch.index()].on_the_bench.is_zero());
        let mut sum = CostVector::default();
        for batch in &self.may_hold_cost {
            sum.add(&accounts[batch.index()].on_the_bench).or_fault()?;
        }
        Ok(sum)
    }

    /// The paid cost on the bench of each batch, as of the last [`on_the_bench`](Self::on_the_bench).
    pub(crate) fn paid_on_the_bench(&self) -> Costed<Vec<(BatchId, Fixed6)>> {
        let paid = |batch: &BatchId| Ok((*batch, self.account(*batch).on_the_bench.paid().or_fault()?));
        self.may_hold_cost.iter().map(paid).collect()
    }

    pub(crate) fn account(&self, batch: BatchId) -> &BatchAccount {
        &self.accounts[batch.index()]
    }

    pub(crate) fn account_mut(&mut self, batch: BatchId) -> &mut BatchAccount {
        &mut self.accounts[batch.index()]
    }

    pub(crate) fn progress(&self, batch: BatchId) -> &Progress {
        self.progress[batch.index()].as_deref().unwrap_or(&self.no_progress)
    }

    pub(crate) fn progress_mut(&mut self, batch: BatchId) -> &mut Progress {
        self.progress[batch.index()].get_or_insert_default()
    }

    /// Forgets what was done of a batch, which is over.
    pub(crate) fn forget_progress(&mut self, batch: BatchId) {
        self.progress[batch.index()] = None;
    }

    /// Puts cost to a batch.
    pub(crate) fn collect(&mut self, batch: BatchId, vector: &CostVector) -> Costed<()> {
        let account = &mut self.accounts[batch.index()];
        if self.keeps_sums {
            account.collected.add(vector).or_fault()?;
        }
        if account.on_the_bench.is_zero() {
            self.may_hold_cost.push(batch);
        }
        account.on_the_bench.add(vector).or_fault()
    }

    /// All that is on the bench was in the shop when a year began.
    pub(crate) fn carry_in(&mut self, year: i32, paid_only: bool) -> Costed<()> {
        for account in &mut self.accounts {
            account.on_the_bench.carry_in(year, paid_only).or_fault()?;
        }
        Ok(())
    }

    pub(crate) fn into_accounts(self) -> Vec<BatchAccount> {
        self.accounts
    }
}

//! Writing down what moved: movements, postings and the proof's flows, as the engine goes.
//!
//! Every flow is added to its year's proof when it happens; what is on hand is added up apart, at each year's end, from the
//! shelves, the bench and the unused licences.

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::costing::fault::{Costed, OrFault};
use crate::costing::sale_sums::{SaleSum, SaleSums};
use crate::costing::{Account, CostOptions, CostVector, Flow, Issue, LinkedTo, Links, Movement, Posting, Proof, StraightCost};
use crate::names::{BatchId, ChannelId, Target, ThingId};
use crate::sources::Span;
use crate::units::Fixed6;

/// The event that is being costed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Now {
    /// Its day.
    pub(crate) date: NaiveDate,
    /// Its index in the log.
    pub(crate) event: u32,
    /// Its head.
    pub(crate) head: Span,
}

/// What is said of a movement beside its flow and cost.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct About {
    pub(crate) line: Span,
    pub(crate) thing: Option<ThingId>,
    pub(crate) quantity: Decimal,
    pub(crate) batch: Option<BatchId>,
    pub(crate) order: Option<u32>,
    pub(crate) on: Option<Target>,
    pub(crate) bill: Option<u32>,
    pub(crate) issue: Issue,
    pub(crate) worth: Option<Fixed6>,
    pub(crate) wear_freight: Fixed6,
    pub(crate) by_employee: bool,
}

/// What is said of a posting beside its account and sum.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct PostedTo {
    pub(crate) line: Span,
    pub(crate) thing: Option<ThingId>,
    pub(crate) channel: Option<ChannelId>,
    pub(crate) on: Option<Target>,
    pub(crate) order: Option<u32>,
    pub(crate) bill: Option<u32>,
    pub(crate) meant_for: Option<NaiveDate>,
}

/// Everything that was written down.
#[derive(Debug, Default)]
pub(crate) struct Ledger {
    /// Whether movements, and what went into batches, are kept.
    pub(crate) keeps_journal: bool,
    /// Whether postings are kept.
    pub(crate) keeps_postings: bool,
    pub(crate) movements: Vec<Movement>,
    pub(crate) postings: Vec<Posting>,
    pub(crate) proof: Proof,
    /// What sales came to, and what went back.
    pub(crate) sales: SaleSums,
    /// The links, where they are asked for.
    pub(crate) links: Option<Links>,
}

impl Ledger {
    /// An empty one; `keeps_sales`: whether it is asked later what sales came to.
    pub(crate) fn new(options: &CostOptions, keeps_sales: bool) -> Self {
        Self {
            keeps_journal: options.keep_journal,
            keeps_postings: options.keep_journal,
            sales: SaleSums::new(keeps_sales),
            links: (options.keep_links && !options.keep_trace).then(Links::default),
            ..Self::default()
        }
    }

    /// Writes a movement down.
    pub(crate) fn flow(&mut self, now: Now, flow: Flow, vector: &CostVector, about: About) -> Costed<()> {
        let year = self.proof.years.entry(now.date.year()).or_default();
        year.flows.entry(flow).or_default().add(vector).or_fault()?;
        if let Some(links) = &mut self.links {
            let to = match (flow, about.order) {
                (Flow::Sold, Some(order)) => LinkedTo::Order(order),
                _ => LinkedTo::Flow(flow),
            };
            links.link(about.issue, to);
            if let (Some(batch), None, Flow::Bought | Flow::Opened) = (about.batch, about.thing, flow) {
                let (date, line, paid) = (now.date, about.line, vector.paid());
                links.straight.push(StraightCost { batch, flow, date, line, paid });
            }
        }
        if self.keeps_journal {
            self.movements.push(Movement {
                date: now.date,
                event: now.event,
                line: about.line,
                flow,
                thing: about.thing,
                quantity: about.quantity,
                vector: vector.clone(),
                batch: about.batch,
                order: about.order,
                on: about.on,
                bill: about.bill,
                issue: about.issue,
                worth: about.worth,
                wear_freight: about.wear_freight,
                by_employee: about.by_employee,
            });
        }
        Ok(())
    }

    /// Writes a posting down; nothing is written for a sum of zero.
    pub(crate) fn post(&mut self, now: Now, account: Account, money: Fixed6, to: PostedTo) -> Costed<()> {
        if let (Some(order), Some(sum)) = (to.order, SaleSum::of(account)) {
            self.sales.add(order, to.channel, sum, money)?;
        }
        if self.keeps_postings && !money.is_zero() {
            self.postings.push(Posting {
                date: now.date,
                event: now.event,
                line: to.line,
                account,
                money,
                thing: to.thing,
                channel: to.channel,
                on: to.on,
                order: to.order,
                bill: to.bill,
                meant_for: to.meant_for,
            });
        }
        Ok(())
    }
}

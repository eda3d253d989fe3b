//! Hours: in a batch they become cost, own and bought in, with wear and overhead; outside they are kept by what they were for.
//!
//! Costing rules 3, 7 and 8. Own time is minutes at the owner's rate of the day, to six digits, in full cost only. What is owed
//! for a hired hour was rounded to the currency's digits at the entry. Overhead is applied on direct minutes, own and bought in;
//! indirect steps never enter a lot.

use chrono::Datelike;

use crate::costing::arrivals::hourly;
use crate::costing::engine::Engine;
use crate::costing::fault::{Costed, OrFault};
use crate::costing::ledger::{About, PostedTo};
use crate::costing::{Account, Bill, BillKind, Component, CostVector, Flow, HourItem, TimeItem};
use crate::events::{TimeLine, Worker};
use crate::names::{BatchId, LabelId, OverheadRule, PlaceId, Target};
use crate::units::Fixed6;

impl Engine<'_> {
    pub(crate) fn cost_worked(&mut self, lines: &[TimeLine]) -> Costed<()> {
        for line in lines {
            let batch = match line.on {
                Some(Target::Batch(batch)) => {
                    self.begin_batch(batch, line.span)?;
                    Some(batch)
                }
                _ => None,
            };
            // The head names no place, so what its steps wear leaves home, whatever place the batch's own entries name.
            self.spend_time(batch, line, self.book.shop.home)?;
        }
        Ok(())
    }

    /// Spends time on a batch, or on none. `place` is where the wear of its step is taken from; a book without one has no steps that wear.
    pub(crate) fn spend_time(&mut self, batch: Option<BatchId>, line: &TimeLine, place: Option<PlaceId>) -> Costed<()> {
        let batch = batch.filter(|_| !*self.book.step(line.step).indirect.on(self.now.date));
        if let Some(place) = place {
            self.wear(batch, line, place)?;
        }
        let bill = self.hired_bill(line)?;
        match batch {
            Some(batch) => self.spend_on_batch(batch, line, bill),
            None => self.spend_outside(line, bill),
        }
    }

    fn spend_on_batch(&mut self, batch: BatchId, line: &TimeLine, bill: Option<u32>) -> Costed<()> {
        let took = self.batches.progress_mut(batch).took.entry(line.step).or_default();
        *took = took.checked_add(line.minutes).or_fault()?;
        let (own, component, cost) = match line.worker {
            Worker::Owner(rate) => (true, Component::OwnTime, rate.map_or(Ok(Fixed6::ZERO), |rate| hourly(rate, line.minutes))?),
            Worker::Hired { pay, .. } => (false, Component::BoughtInTime, pay),
        };
        let of_actual = self.part_of_actual_overhead(line.minutes)?;
        let overhead = match self.book.shop.overhead.on(self.now.date) {
            OverheadRule::PerHour(rate) => hourly(*rate, line.minutes)?,
            OverheadRule::None => Fixed6::ZERO,
            OverheadRule::FromExpenses => of_actual.or_fault()?,
        };
        let (own_minutes, hired_minutes) = if own { (line.minutes, Fixed6::ZERO) } else { (Fixed6::ZERO, line.minutes) };
        let mut time = CostVector::of_minutes(Some(line.step), own_minutes, hired_minutes);
        time.set(component, cost);
        self.mark_unpaid(&mut time);
        let by_employee = matches!(line.worker, Worker::Hired { employee: true, .. });
        let about = About { line: line.span, batch: Some(batch), bill, by_employee, ..About::default() };
        self.batches.collect(batch, &time)?;
        self.ledger.flow(self.now, Flow::Time, &time, about)?;
        if !overhead.is_zero() {
            let vector = CostVector::of(Component::Overhead, overhead);
            self.batches.collect(batch, &vector)?;
            self.ledger.flow(self.now, Flow::Overhead, &vector, about)?;
        }
        if self.ledger.keeps_journal {
            let item = TimeItem {
                date: self.now.date,
                event: self.now.event,
                step: line.step,
                minutes: line.minutes,
                own,
                cost,
                overhead,
                line: line.span,
            };
            self.batches.account_mut(batch).time.push(item);
        }
        Ok(())
    }

    /// The part of the year's actual overhead that falls on these minutes, whether or not overhead comes from expenses on the day; nothing in the
    /// walk that finds how much there is. `None` inside where it is not known.
    fn part_of_actual_overhead(&mut self, minutes: Fixed6) -> Costed<Option<Fixed6>> {
        let year = self.now.date.year();
        if let Some(by_year) = &mut self.direct_minutes {
            let direct = by_year.entry(year).or_default();
            *direct = direct.checked_add(minutes).or_fault()?;
            return Ok(Some(Fixed6::ZERO));
        }
        self.overhead_left.get_mut(&year).map(|left| left.take(minutes).or_fault()).transpose()
    }

    fn spend_outside(&mut self, line: &TimeLine, bill: Option<u32>) -> Costed<()> {
        let on = line.on;
        let own = matches!(line.worker, Worker::Owner(_));
        self.hours.push(HourItem {
            date: self.now.date,
            event: self.now.event,
            line: line.span,
            step: line.step,
            minutes: line.minutes,
            own,
            on,
        });
        if let Worker::Hired { helper, pay, employee, .. } = line.worker {
            let to = PostedTo { line: line.span, on, bill, ..PostedTo::default() };
            self.ledger.post(self.now, Account::HiredTime { helper, employee }, pay, to)?;
        }
        Ok(())
    }

    fn hired_bill(&mut self, line: &TimeLine) -> Costed<Option<u32>> {
        let Worker::Hired { name, pay, paid_later: true, .. } = line.worker else { return Ok(None) };
        Ok(Some(self.owe(name, pay, line.span)))
    }

    /// Owes a helper or a pattern's owner.
    pub(crate) fn owe(&mut self, name: LabelId, money: Fixed6, line: crate::sources::Span) -> u32 {
        let at = self.owed.add(Bill { party: Some(name), line, ..Bill::new(BillKind::OwedByUs, self.now, money) });
        self.owed.know_hired(name, at);
        at
    }
}

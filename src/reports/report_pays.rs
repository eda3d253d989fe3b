//! Fills the report of what pays.
//!
//! Groups are products, product lines and channels. Each column of a kind of group is apportioned to its own sum; the margins are exact figures
//! before that.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::costing::{Account, Component, CostedBook, Flow, Posting, actual_overhead};
use crate::events::EventLog;
use crate::names::{ChannelId, LineId, ResolvedBook, Target, ThingId};
use crate::reports::hours_by_step::hours_by_step;
use crate::reports::margin::{Margin, per_hour};
use crate::reports::other_income::other_income;
use crate::reports::period::{column, minutes_text, money_text, quantity_text};
use crate::reports::{PaysGroup, PaysMonth, PaysReport, PaysTotals, Period, Unassigned};
use crate::units::{Fixed6, Unit, checked_mul_exact, line_total};

/// What a group is of; the order is that of the report.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Group {
    Line(LineId),
    Channel(ChannelId),
    Product(ThingId),
}

/// All margins of a period.
#[derive(Default)]
struct Margins {
    groups: BTreeMap<Group, Margin>,
    /// Sums on no piece, line or channel that has a group: shipments' postage and the like go to their channel instead.
    total: Margin,
    months: BTreeMap<(i32, u32), (Fixed6, Fixed6)>,
    indirect_minutes: Fixed6,
    all_own_minutes: Fixed6,
}

/// Makes the report. `mile_rate` gives the money for a mile driven on a day; `net_profit` is the form's, where there is one. `None` where a figure is
/// too large to be carried.
#[must_use]
pub fn report_pays(
    book: &ResolvedBook,
    log: &EventLog,
    costed: &CostedBook,
    period: Period,
    mile_rate: &dyn Fn(NaiveDate) -> Option<Decimal>,
    net_profit: Option<Fixed6>,
) -> Option<PaysReport> {
    let mut margins = Margins::default();
    margins.add_sales(book, costed, period)?;
    margins.add_direct(book, costed, period, mile_rate)?;
    margins.add_hours(book, costed, period)?;
    let year_per_hour = net_profit.and_then(|net| per_hour(net, margins.all_own_minutes));
    let mut groups = Vec::new();
    for wanted in ["line", "channel", "product"] {
        groups.extend(written(book, wanted, &margins.groups)?);
    }
    let rows = rows_of(&[&margins.total])?;
    let shown = columns(book, &rows)?;
    let total = shown.first()?;
    Some(PaysReport {
        head: period.head("pays", book, log.first_day, costed.until),
        groups,
        totals: PaysTotals {
            units: quantity_text(margins.total.units),
            revenue: total.money[0].clone(),
            fees: total.money[1].clone(),
            postage: total.money[2].clone(),
            packing: total.money[3].clone(),
            direct_expenses: total.money[4].clone(),
            paid_cost: total.money[5].clone(),
            paid_margin: total.money[6].clone(),
            own_time: total.money[7].clone(),
            overhead: total.money[8].clone(),
            full_margin: total.money[9].clone(),
            own_minutes: total.minutes.clone(),
            earned_per_hour: total.per_hour.clone(),
        },
        unassigned: Unassigned {
            indirect_minutes: minutes_text(margins.indirect_minutes),
            overhead_under_applied: money_text(book, under_applied(book, costed, period)?),
        },
        year_per_hour: year_per_hour.map(|money| money_text(book, money)),
        owner_rate: owner_rate(book, costed, period).map(|rate| money_text(book, rate)),
        hours: hours_by_step(book, costed, period)?,
        months: months(book, &margins.months),
        notes: other_income(book, log, costed, period)?,
    })
}

impl Margins {
    fn groups_of(book: &ResolvedBook, day: NaiveDate, thing: Option<ThingId>, channel: Option<ChannelId>) -> Vec<Group> {
        let line = thing.and_then(|thing| *book.thing(thing).line.on(day));
        let parts = [thing.map(Group::Product), line.map(Group::Line), channel.map(Group::Channel)];
        parts.into_iter().flatten().collect()
    }

    fn month(&mut self, day: NaiveDate) -> &mut (Fixed6, Fixed6) {
        self.months.entry((day.year(), day.month())).or_default()
    }

    fn add_sales(&mut self, book: &ResolvedBook, costed: &CostedBook, period: Period) -> Option<()> {
        for posting in costed.postings.iter().filter(|posting| period.covers(posting.date)) {
            let of_shipment = posting.order.is_none() && matches!(posting.account, Account::Postage | Account::Packing);
            if posting.thing.is_none() && !of_shipment {
                continue;
            }
            for group in Self::groups_of(book, posting.date, posting.thing, posting.channel) {
                self.groups.entry(group).or_default().post(posting)?;
            }
            self.total.post(posting)?;
            self.add_to_month(posting)?;
        }
        for movement in costed.movements.iter().filter(|one| one.flow == Flow::Sold && period.covers(one.date)) {
            let channel = movement.order.and_then(|order| costed.orders.get(order as usize)).and_then(|order| order.channel);
            // Pieces can be added to pieces, board feet to none of them.
            let in_pieces = movement.thing.is_some_and(|thing| book.thing(thing).unit == Unit::Each);
            let pieces = if in_pieces { movement.quantity } else { Decimal::ZERO };
            for group in Self::groups_of(book, movement.date, movement.thing, channel) {
                let units = if matches!(group, Group::Product(_)) { movement.quantity } else { pieces };
                self.groups.entry(group).or_default().sell(units, &movement.vector)?;
            }
            self.total.sell(pieces, &movement.vector)?;
            let paid = movement.vector.paid()?;
            let month = self.month(movement.date);
            month.1 = month.1.checked_add(paid)?;
        }
        Some(())
    }

    fn add_to_month(&mut self, posting: &Posting) -> Option<()> {
        let mut one = Margin::default();
        one.post(posting)?;
        let cost = one.fees.checked_add(one.postage)?.checked_add(one.packing)?;
        let month = self.month(posting.date);
        month.0 = month.0.checked_add(one.revenue)?;
        month.1 = month.1.checked_add(cost)?;
        Some(())
    }

    /// What an `on` means for a margin: a product counts with its line.
    fn target(book: &ResolvedBook, day: NaiveDate, on: Option<Target>) -> Option<Group> {
        match on? {
            Target::Line(line) => Some(Group::Line(line)),
            Target::Product(product) => book.thing(product).line.on(day).map(Group::Line),
            Target::Channel(channel) => Some(Group::Channel(channel)),
            Target::Batch(_) => None,
        }
    }

    fn add_direct(
        &mut self,
        book: &ResolvedBook,
        costed: &CostedBook,
        period: Period,
        mile_rate: &dyn Fn(NaiveDate) -> Option<Decimal>,
    ) -> Option<()> {
        for posting in costed.postings.iter().filter(|posting| period.covers(posting.belongs_to())) {
            let Some(group) = Self::target(book, posting.date, posting.on) else { continue };
            let money = match posting.account {
                Account::Expense(expense) => business_part(*book.expense(expense).business_use.on(posting.date), posting.money)?,
                Account::HiredTime { .. } => posting.money,
                _ => continue,
            };
            self.add_direct_sum(group, posting.belongs_to(), money)?;
        }
        for movement in costed.movements.iter().filter(|one| one.flow == Flow::UsedInShop && period.covers(one.date)) {
            if let Some(group) = Self::target(book, movement.date, movement.on) {
                self.add_direct_sum(group, movement.date, movement.vector.paid()?)?;
            }
        }
        for drive in costed.miles.iter().filter(|drive| period.covers(drive.date)) {
            if let (Some(group), Some(rate)) = (Self::target(book, drive.date, drive.on), mile_rate(drive.date)) {
                let money = line_total(rate, drive.miles, book.shop.currency).ok()?;
                self.add_direct_sum(group, drive.date, money)?;
            }
        }
        Some(())
    }

    fn add_direct_sum(&mut self, group: Group, day: NaiveDate, money: Fixed6) -> Option<()> {
        let margin = self.groups.entry(group).or_default();
        margin.direct = margin.direct.checked_add(money)?;
        self.total.direct = self.total.direct.checked_add(money)?;
        let month = self.month(day);
        month.1 = month.1.checked_add(money)?;
        Some(())
    }

    fn add_hours(&mut self, book: &ResolvedBook, costed: &CostedBook, period: Period) -> Option<()> {
        for hour in costed.hours.iter().filter(|hour| hour.own && period.covers(hour.date)) {
            self.all_own_minutes = self.all_own_minutes.checked_add(hour.minutes)?;
            match Self::target(book, hour.date, hour.on) {
                Some(group) => {
                    let margin = self.groups.entry(group).or_default();
                    margin.minutes_on = margin.minutes_on.checked_add(hour.minutes)?;
                    self.total.minutes_on = self.total.minutes_on.checked_add(hour.minutes)?;
                }
                None => self.indirect_minutes = self.indirect_minutes.checked_add(hour.minutes)?,
            }
        }
        for movement in costed.movements.iter().filter(|one| one.flow == Flow::Time && period.covers(one.date)) {
            self.all_own_minutes = self.all_own_minutes.checked_add(movement.vector.own_minutes()?)?;
        }
        Some(())
    }
}

/// Actual overhead of a period less what was applied in it; plus is under.
fn under_applied(book: &ResolvedBook, costed: &CostedBook, period: Period) -> Option<Fixed6> {
    let mut sum = actual_overhead(book, costed, period.from, period.to)?;
    for movement in costed.movements.iter().filter(|one| one.flow == Flow::Overhead && period.covers(one.date)) {
        sum = sum.checked_sub(movement.vector.get(Component::Overhead))?;
    }
    Some(sum)
}

/// The rate of the owner's hour on the last day covered.
fn owner_rate(book: &ResolvedBook, costed: &CostedBook, period: Period) -> Option<Fixed6> {
    let last = [period.to, costed.until].into_iter().flatten().min()?;
    Fixed6::round_from_decimal((*book.shop.owner_time.on(last))?)
}

/// The business part of an expense, exact to six digits.
fn business_part(percent: Decimal, money: Fixed6) -> Option<Fixed6> {
    if percent == Decimal::ONE_HUNDRED {
        return Some(money);
    }
    let share = checked_mul_exact(money.to_decimal()?, percent).ok()?;
    Fixed6::round_from_decimal(checked_mul_exact(share, Decimal::new(1, 2)).ok()?)
}

/// A group's sums in the order of the columns.
struct Row {
    money: [Fixed6; 10],
    minutes: Option<Fixed6>,
    per_hour: Option<Fixed6>,
}

/// The same as text.
struct Written {
    money: Vec<String>,
    minutes: Option<String>,
    per_hour: Option<String>,
}

fn rows_of(margins: &[&Margin]) -> Option<Vec<Row>> {
    let mut rows = Vec::with_capacity(margins.len());
    for margin in margins {
        let paid_margin = margin.paid_margin()?;
        let own_time = margin.sold.get(Component::OwnTime);
        let overhead = margin.sold.get(Component::Overhead);
        let full_margin = paid_margin.checked_sub(own_time)?.checked_sub(overhead)?;
        let minutes = margin.own_minutes()?;
        let earned = paid_margin.checked_sub(overhead)?;
        rows.push(Row {
            money: [
                margin.revenue,
                margin.fees,
                margin.postage,
                margin.packing,
                margin.direct,
                margin.sold.paid()?,
                paid_margin,
                own_time,
                overhead,
                full_margin,
            ],
            minutes,
            per_hour: minutes.and_then(|minutes| per_hour(earned, minutes)),
        });
    }
    Some(rows)
}

fn columns(book: &ResolvedBook, rows: &[Row]) -> Option<Vec<Written>> {
    let mut written: Vec<Written> = rows
        .iter()
        .map(|row| Written {
            money: Vec::with_capacity(row.money.len()),
            minutes: row.minutes.map(minutes_text),
            per_hour: row.per_hour.map(|money| money_text(book, money)),
        })
        .collect();
    for at in 0..rows.first().map_or(0, |row| row.money.len()) {
        let sums: Vec<Fixed6> = rows.iter().map(|row| row.money[at]).collect();
        for (row, sum) in written.iter_mut().zip(column(book, &sums)) {
            row.money.push(money_text(book, sum));
        }
    }
    Some(written)
}

fn written(book: &ResolvedBook, wanted: &str, groups: &BTreeMap<Group, Margin>) -> Option<Vec<PaysGroup>> {
    let mut chosen: Vec<(&str, &str, &Margin)> = Vec::new();
    for (group, margin) in groups {
        let (by, named) = match group {
            Group::Line(line) => ("line", book.line(*line)),
            Group::Channel(channel) => ("channel", &book.channel(*channel).named),
            Group::Product(thing) => ("product", &book.thing(*thing).named),
        };
        if by == wanted {
            chosen.push((&named.name, &named.title, margin));
        }
    }
    chosen.sort_by_key(|(name, ..)| *name);
    let margins: Vec<&Margin> = chosen.iter().map(|(_, _, margin)| *margin).collect();
    let rows = columns(book, &rows_of(&margins)?)?;
    let mut out = Vec::with_capacity(rows.len());
    for ((name, title, margin), row) in chosen.into_iter().zip(rows) {
        let mut money = row.money.into_iter();
        let mut next = || money.next().unwrap_or_default();
        out.push(PaysGroup {
            by: wanted.to_owned(),
            name: name.to_owned(),
            title: title.to_owned(),
            units: quantity_text(margin.units),
            revenue: next(),
            fees: next(),
            postage: next(),
            packing: next(),
            direct_expenses: next(),
            paid_cost: next(),
            paid_margin: next(),
            own_time: next(),
            overhead: next(),
            full_margin: next(),
            own_minutes: row.minutes,
            earned_per_hour: row.per_hour,
        });
    }
    Some(out)
}

fn months(book: &ResolvedBook, months: &BTreeMap<(i32, u32), (Fixed6, Fixed6)>) -> Vec<PaysMonth> {
    months
        .iter()
        .map(|((year, month), (revenue, cost))| PaysMonth {
            month: format!("{year:04}-{month:02}"),
            revenue: money_text(book, *revenue),
            cost: money_text(book, *cost),
        })
        .collect()
}

//! Fills the report of what pays.
//!
//! Groups are products, product lines and channels. Each column of a kind of group is apportioned to its own sum; the margins are exact figures
//! before that.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::costing::{Component, CostedBook, Flow, Posting, actual_overhead};
use crate::events::EventLog;
use crate::names::{ChannelId, ResolvedBook, Target, ThingId};
use crate::reports::fair_rest::{FairRows, FairSums};
use crate::reports::hours_by_step::hours_by_step;
use crate::reports::margin::{Margin, per_hour};
use crate::reports::other_income::{other_income, tell_at_verdicts};
use crate::reports::owner_rate::no_rate;
use crate::reports::pays_part::{PaysOf, PaysPart, PaysWhat, each_part};
use crate::reports::pays_rest::{KINDS, PaysRest};
use crate::reports::pays_sums::MONEY_COLUMNS;
use crate::reports::pays_trend::trend;
use crate::reports::period::{column_beside, minutes_text, money_text, quantity_text, said_money};
use crate::reports::report_slow_stock::report_slow_stock;
use crate::reports::report_verdicts::{Judged, report_verdicts};
use crate::reports::report_year::bridge_lines;
use crate::reports::without_hours::WithoutHours;
use crate::reports::{PaysBridge, PaysGroup, PaysMonth, PaysReport, PaysRestRow, PaysSums, PaysTotals, Period, Unassigned};
use crate::units::{Fixed6, Unit};
use crate::year::TaxYear;

/// How many products of unknown hours are named; the others are counted.
const MOST_NAMED: usize = 5;

/// All margins of a period.
#[derive(Debug, Default)]
pub(crate) struct Margins {
    groups: BTreeMap<PaysOf, Margin>,
    /// What stands in no group of a kind.
    rests: BTreeMap<(&'static str, PaysRest), Margin>,
    total: Margin,
    months: BTreeMap<(i32, u32), (Fixed6, Fixed6)>,
    indirect_minutes: Fixed6,
    all_own_minutes: Fixed6,
}

/// The rows of the report, as text.
#[derive(Debug)]
pub(crate) struct PaysRows {
    /// Lines, channels and products.
    pub(crate) groups: Vec<(PaysOf, PaysGroup)>,
    /// What stands in no group of a kind.
    pub(crate) rest: Vec<PaysRestRow>,
    /// Sums.
    pub(crate) totals: PaysTotals,
    /// Months.
    pub(crate) months: Vec<PaysMonth>,
}

/// Makes the report. `mile_rate` gives the money for a mile driven on a day; `years` are the book's tax years. `None` where a figure is
/// too large to be carried.
#[must_use]
pub fn report_pays(
    book: &ResolvedBook,
    log: &EventLog,
    costed: &CostedBook,
    period: Period,
    mile_rate: &dyn Fn(NaiveDate) -> Option<Decimal>,
    years: &[TaxYear],
) -> Option<PaysReport> {
    let mut margins = Margins::default();
    // Fairs are told whole, and every year of a group beside the others, whatever days are asked about.
    let mut ever = Margins::default();
    let mut by_year: BTreeMap<i32, Margins> = BTreeMap::new();
    let mut ahead = Fixed6::ZERO;
    let mut no_fair: BTreeMap<ChannelId, Fixed6> = BTreeMap::new();
    let mut of_fairs = FairSums::of(book, costed, period);
    each_part(book, costed, Period::default(), mile_rate, &mut |part| {
        by_year.entry(part.day.year()).or_default().add(book, &part)?;
        ever.add(book, &part)?;
        of_fairs.add(book, &part)?;
        if !period.covers(part.day) {
            return Some(());
        }
        if let PaysWhat::Expense(_, money) = part.what
            && costed.until.is_some_and(|last| part.day > last)
        {
            ahead = ahead.checked_add(money)?;
        }
        if let (Some(channel), Some(money)) = (of_no_fair(&part), spent(&part.what)) {
            let sum = no_fair.entry(channel).or_default();
            *sum = sum.checked_add(money)?;
        }
        margins.add(book, &part)
    })?;
    let mut notes = other_income(book, log, costed, period)?;
    if let Some(last) = costed.until.filter(|_| !ahead.is_zero()) {
        notes.push(format!(
            "{} of expenses paid ahead are among these figures: they are meant for days after {last}",
            said_money(book, ahead)
        ));
    }
    let has_fairs = |channel: ChannelId| ever.groups.keys().any(|of| matches!(of, PaysOf::Fair(one, _) if *one == channel));
    for (channel, money) in no_fair.into_iter().filter(|(channel, money)| !money.is_zero() && has_fairs(*channel)) {
        notes.push(format!(
            "{} spent on `{}` are in a row of their own beside its fairs: they came more than three days after one, with none after them, or are meant for one to come; `meant for` a day says for which fair an expense is",
            said_money(book, money),
            book.channel(channel).named.name
        ));
    }
    notes.extend(of_fairs.notes_of_unsold(book));
    if owner_rate(book, costed, period).is_none() && ever.all_own_minutes.is_positive() {
        notes.push(no_rate());
    }
    notes.extend(of_unknown_hours(book, &margins)?);
    notes.extend(miles_without_a_rate(book, costed, period, mile_rate));
    let net_profit = years.iter().find(|year| Period::year(year.year) == period).map(TaxYear::net_cents);
    let year_per_hour = net_profit.and_then(|net| per_hour(net, margins.all_own_minutes));
    let rows = margins.rows(book)?;
    let groups: Vec<(PaysOf, PaysGroup)> = rows.groups.into_iter().filter(|(of, _)| !matches!(of, PaysOf::Fair(..))).collect();
    let mut told = Vec::new();
    let ever_groups = ever.rows(book)?.groups;
    let trend = trend(book, costed, &ever_groups, &by_year)?;
    for (of, group) in ever_groups {
        if matches!(of, PaysOf::Fair(_, day) if period.covers(day)) {
            told.push((of, group, ever.margin(Some(of))?));
        }
    }
    let FairRows { fairs, rest: beside_fairs, total: fairs_total } = of_fairs.rows(book, told, &groups)?;
    let rate = owner_rate(book, costed, period);
    let of_groups = groups.iter().map(|group| (group, &margins)).chain(fairs.iter().map(|fair| (fair, &ever)));
    let judged: Option<Vec<Judged<'_>>> =
        of_groups.map(|((of, row), sums)| Some(Judged { of: *of, row, margin: sums.margin(Some(*of))? })).collect();
    let keeps_hours = ever.all_own_minutes.is_positive();
    let without_hours = WithoutHours::of(book, costed, period);
    let mut verdicts = report_verdicts(book, (rate, keeps_hours), &judged?, &without_hours)?;
    let of = groups.iter().chain(&fairs).map(|(of, _)| *of);
    tell_at_verdicts(book, costed, period, of, &mut verdicts)?;
    let bridged = years.iter().filter(|one| {
        let Period { from, to } = Period::year(one.year);
        from.is_some_and(|day| period.covers(day)) && to.is_some_and(|day| period.covers(day))
    });
    Some(PaysReport {
        head: period.head("pays", book, log.first_day, costed.until),
        trend,
        groups: groups.into_iter().map(|(_, group)| group).collect(),
        fairs: fairs.into_iter().map(|(_, fair)| fair).collect(),
        verdicts,
        rest: rows.rest.into_iter().chain(beside_fairs).collect(),
        fairs_total,
        totals: rows.totals,
        unassigned: Unassigned {
            indirect_minutes: minutes_text(margins.indirect_minutes),
            overhead_under_applied: money_text(book, under_applied(book, costed, period)?),
        },
        year_per_hour: year_per_hour.map(|money| money_text(book, money)),
        owner_rate: rate.map(|rate| money_text(book, rate)),
        hours: hours_by_step(book, costed, period)?,
        months: rows.months,
        stock_ages: report_slow_stock(book, (costed, log.first_day), period)?,
        bridges: bridged.map(|year| PaysBridge { year: year.year, lines: bridge_lines(book, year) }).collect(),
        notes,
    })
}

/// The channel on which something stands, where it is of none of its fairs.
fn of_no_fair(part: &PaysPart<'_>) -> Option<ChannelId> {
    let is_of_fair = part.groups.iter().any(|of| matches!(of, PaysOf::Fair(..)));
    part.groups
        .iter()
        .find_map(|of| if let PaysOf::Channel(channel) = of { Some(*channel) } else { None })
        .filter(|_| !is_of_fair)
}

/// What was spent on a line or channel itself.
fn spent(what: &PaysWhat<'_>) -> Option<Fixed6> {
    match what {
        PaysWhat::Expense(_, money) | PaysWhat::UsedInShop(_, money) | PaysWhat::Drive(_, money) => Some(*money),
        PaysWhat::Posting(_) | PaysWhat::Sold(_) | PaysWhat::Worked(_) | PaysWhat::Hours(_) => None,
    }
}

/// Products of which not all hours are known, whose own time and full margin are therefore bounds. The outer `None` is overflow.
fn of_unknown_hours(book: &ResolvedBook, margins: &Margins) -> Option<Option<String>> {
    let mut titles = Vec::new();
    for (of, margin) in &margins.groups {
        if matches!(of, PaysOf::Product(_)) && margin.own_minutes()?.is_none() {
            titles.push(of.name_and_title(book).1);
        }
    }
    let more = titles.len().saturating_sub(MOST_NAMED);
    titles.truncate(MOST_NAMED);
    if more > 0 {
        titles.push(format!("{more} more"));
    }
    let Some(last) = titles.pop() else { return Some(None) };
    let named = if titles.is_empty() { last } else { format!("{} and {last}", titles.join(", ")) };
    Some(Some(format!(
        "not all hours of {named} are known: in each row that holds some of it own time is at least what is printed, and the full margin at most"
    )))
}

/// Drives on lines and channels that cost them nothing, as no rate is known for their day: on which they were.
fn miles_without_a_rate(
    book: &ResolvedBook,
    costed: &CostedBook,
    period: Period,
    mile_rate: &dyn Fn(NaiveDate) -> Option<Decimal>,
) -> Option<String> {
    let drives = costed.miles.iter().filter(|drive| period.covers(drive.date) && mile_rate(drive.date).is_none());
    let on: BTreeSet<String> = drives
        .filter_map(|drive| match drive.on? {
            Target::Line(line) => Some(format!("`{}`", book.line(line).name)),
            Target::Product(product) => Some(format!("`{}`", book.thing(product).named.name)),
            Target::Channel(channel) => Some(format!("`{}`", book.channel(channel).named.name)),
            Target::Batch(_) => None,
        })
        .collect();
    if on.is_empty() {
        return None;
    }
    let on = on.into_iter().collect::<Vec<_>>().join(", ");
    let why = if book.shop.tax_form.is_some() {
        "the shop's tax form gives no rate for their days"
    } else {
        "a rate comes with a tax form, and the shop names none"
    };
    Some(format!("what was driven on {on} costs nothing in these figures: {why}"))
}

impl Margins {
    /// Adds a part. `None` on overflow.
    pub(crate) fn add(&mut self, book: &ResolvedBook, part: &PaysPart<'_>) -> Option<()> {
        match part.what {
            PaysWhat::Posting(posting) => {
                self.each_of(part, &mut |_, margin| margin.post(posting))?;
                self.add_to_month(posting)
            }
            PaysWhat::Sold(movement) => {
                // Pieces can be added to pieces, board feet to none of them.
                let pieces = if in_pieces(book, movement.thing) { movement.quantity } else { Decimal::ZERO };
                self.each_of(part, &mut |group, margin| {
                    let units = if matches!(group, Some(PaysOf::Product(_))) { movement.quantity } else { pieces };
                    margin.went_out |= movement.quantity > Decimal::ZERO;
                    margin.came_back |= movement.quantity < Decimal::ZERO;
                    margin.sell(units, &movement.vector)
                })?;
                let month = self.month(part.day);
                month.1 = month.1.checked_add(movement.vector.paid()?)?;
                Some(())
            }
            PaysWhat::Expense(_, money) | PaysWhat::UsedInShop(_, money) | PaysWhat::Drive(_, money) => {
                self.each_of(part, &mut |_, margin| {
                    margin.direct = margin.direct.checked_add(money)?;
                    Some(())
                })?;
                let month = self.month(part.day);
                month.1 = month.1.checked_add(money)?;
                Some(())
            }
            PaysWhat::Hours(hour) => {
                self.all_own_minutes = self.all_own_minutes.checked_add(hour.minutes)?;
                if part.is_indirect() {
                    self.indirect_minutes = self.indirect_minutes.checked_add(hour.minutes)?;
                    return Some(());
                }
                self.each_of(part, &mut |_, margin| {
                    margin.minutes_on = margin.minutes_on.checked_add(hour.minutes)?;
                    Some(())
                })
            }
            PaysWhat::Worked(movement) => {
                self.all_own_minutes = self.all_own_minutes.checked_add(movement.vector.own_minutes()?)?;
                Some(())
            }
        }
    }

    /// Adds to all sums in which a part stands: its groups, what is in no group of a kind, and the whole.
    fn each_of(&mut self, part: &PaysPart<'_>, add: &mut dyn FnMut(Option<PaysOf>, &mut Margin) -> Option<()>) -> Option<()> {
        for group in &part.groups {
            add(Some(*group), self.groups.entry(*group).or_default())?;
        }
        for kind in KINDS {
            if let Some(rest) = PaysRest::of(part, kind) {
                add(None, self.rests.entry((kind, rest)).or_default())?;
            }
        }
        add(None, &mut self.total)
    }

    /// The sums of a group, or of all; `None` where it has none.
    pub(crate) fn margin(&self, of: Option<PaysOf>) -> Option<&Margin> {
        of.map_or(Some(&self.total), |of| self.groups.get(&of))
    }

    /// The sums of what stands in no group of a kind; `None` where there is none.
    pub(crate) fn rest(&self, kind: &'static str, rest: PaysRest) -> Option<&Margin> {
        self.rests.get(&(kind, rest))
    }

    /// What a month brought in, and what it cost.
    pub(crate) fn of_month(&self, year: i32, month: u32) -> Option<(Fixed6, Fixed6)> {
        self.months.get(&(year, month)).copied()
    }

    /// Own minutes on nothing in particular, and all own minutes that were worked.
    pub(crate) fn minutes(&self) -> (Fixed6, Fixed6) {
        (self.indirect_minutes, self.all_own_minutes)
    }

    fn month(&mut self, day: NaiveDate) -> &mut (Fixed6, Fixed6) {
        self.months.entry((day.year(), day.month())).or_default()
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

    /// The rows, each column rounded so that it adds up. `None` on overflow.
    pub(crate) fn rows(&self, book: &ResolvedBook) -> Option<PaysRows> {
        let (mut groups, mut rest) = (Vec::new(), Vec::new());
        for wanted in KINDS.into_iter().chain(["fair"]) {
            let (of_kind, beside) = written(book, wanted, self)?;
            groups.extend(of_kind);
            rest.extend(beside);
        }
        let total = columns(book, &rows_of(&[&self.total])?)?.into_iter().next()?;
        let totals = PaysTotals { units: quantity_text(self.total.units), sums: total.sums, earned_per_hour: total.per_hour };
        Some(PaysRows { groups, rest, totals, months: months(book, &self.months) })
    }
}

/// Whether a thing is counted in pieces.
pub(crate) fn in_pieces(book: &ResolvedBook, thing: Option<ThingId>) -> bool {
    thing.is_some_and(|thing| book.thing(thing).unit == Unit::Each)
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
pub(crate) fn owner_rate(book: &ResolvedBook, costed: &CostedBook, period: Period) -> Option<Fixed6> {
    let last = [period.to, costed.until].into_iter().flatten().min()?;
    Fixed6::round_from_decimal((*book.shop.owner_time.on(last))?)
}

/// A group's sums in the order of the columns.
pub(crate) struct Row {
    money: [Fixed6; MONEY_COLUMNS],
    minutes: Option<Fixed6>,
    per_hour: Option<Fixed6>,
}

impl Row {
    /// The same below zero. `None` on overflow.
    pub(crate) fn negated(self) -> Option<Self> {
        let mut money = self.money;
        for sum in &mut money {
            *sum = sum.checked_neg()?;
        }
        let minutes = match self.minutes {
            Some(minutes) => Some(minutes.checked_neg()?),
            None => None,
        };
        Some(Self { money, minutes, per_hour: None })
    }
}

/// The same as text.
pub(crate) struct Written {
    pub(crate) sums: PaysSums,
    per_hour: Option<String>,
}

/// A group's money in the order of the columns: revenue, fees, postage, packing, own expenses, paid cost, paid margin, own time, overhead, full margin.
/// `None` on overflow.
pub(crate) fn money_of(margin: &Margin) -> Option<[Fixed6; MONEY_COLUMNS]> {
    let paid_margin = margin.paid_margin()?;
    let own_time = margin.sold.get(Component::OwnTime);
    let overhead = margin.sold.get(Component::Overhead);
    let full_margin = paid_margin.checked_sub(own_time)?.checked_sub(overhead)?;
    Some([
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
    ])
}

/// The exact figures of each row.
pub(crate) fn rows_of(margins: &[&Margin]) -> Option<Vec<Row>> {
    let mut rows = Vec::with_capacity(margins.len());
    for margin in margins {
        let minutes = margin.own_minutes()?;
        let earned = margin.paid_margin()?.checked_sub(margin.sold.get(Component::Overhead))?;
        rows.push(Row { money: money_of(margin)?, minutes, per_hour: minutes.and_then(|minutes| per_hour(earned, minutes)) });
    }
    Some(rows)
}

/// Rows as text, each column rounded so that it adds up.
pub(crate) fn columns(book: &ResolvedBook, rows: &[Row]) -> Option<Vec<Written>> {
    columns_under(book, rows, None)
}

/// The same under sums that are printed elsewhere already, where some are given.
pub(crate) fn columns_under(book: &ResolvedBook, rows: &[Row], totals: Option<[Fixed6; MONEY_COLUMNS]>) -> Option<Vec<Written>> {
    let mut shown: Vec<Vec<Fixed6>> = vec![Vec::with_capacity(MONEY_COLUMNS); rows.len()];
    for at in 0..MONEY_COLUMNS {
        let sums: Vec<Fixed6> = rows.iter().map(|row| row.money[at]).collect();
        // A margin from which nothing is taken any more is the same figure in both columns.
        let beside: Vec<Option<Fixed6>> = rows.iter().zip(&shown).map(|(row, shown)| same_before(row, at, shown)).collect();
        for (shown, sum) in shown.iter_mut().zip(column_beside(book, &sums, &beside, totals.map(|totals| totals[at]))) {
            shown.push(sum);
        }
    }
    let written = rows.iter().zip(shown).map(|(row, shown)| {
        let money = <[Fixed6; MONEY_COLUMNS]>::try_from(shown).ok()?.map(|sum| money_text(book, sum));
        let sums = PaysSums::new(money, row.minutes.map(minutes_text));
        Some(Written { sums, per_hour: row.per_hour.map(|money| money_text(book, money)) })
    });
    written.collect()
}

/// How an earlier column of a row shows the sum of a column; below zero where that is taken off.
fn same_before(row: &Row, at: usize, shown: &[Fixed6]) -> Option<Fixed6> {
    let sum = row.money[at];
    let mut before = row.money.iter().zip(shown).filter(|_| !sum.is_zero());
    before.find_map(|(one, shown)| match (*one == sum, one.checked_neg() == Some(sum)) {
        (true, _) => Some(*shown),
        (_, true) => shown.checked_neg(),
        _ => None,
    })
}

/// The rows of a kind of group, and of what stands in none of that kind.
type RowsOfKind = (Vec<(PaysOf, PaysGroup)>, Vec<PaysRestRow>);

/// The rows of a kind of group, and those of what stands in none; together they add up to all sales. No rows where there is no such group.
fn written(book: &ResolvedBook, wanted: &'static str, of: &Margins) -> Option<RowsOfKind> {
    let mut chosen: Vec<(PaysOf, (String, String), &Margin)> = Vec::new();
    for (group, margin) in &of.groups {
        if group.named(book).0 == wanted {
            chosen.push((*group, group.name_and_title(book), margin));
        }
    }
    if chosen.is_empty() {
        return Some((Vec::new(), Vec::new()));
    }
    chosen.sort_by(|(_, (one, _), _), (_, (other, _), _)| one.cmp(other));
    let rests: Vec<(PaysRest, &Margin)> =
        of.rests.iter().filter(|((by, _), _)| *by == wanted).map(|((_, rest), margin)| (*rest, margin)).collect();
    let margins = chosen.iter().map(|(_, _, margin)| *margin).chain(rests.iter().map(|(_, margin)| *margin));
    let mut rows = columns(book, &rows_of(&margins.collect::<Vec<_>>())?)?.into_iter();
    let mut out = Vec::with_capacity(chosen.len());
    for ((group, (name, title), margin), row) in chosen.into_iter().zip(rows.by_ref()) {
        let unit = match group {
            PaysOf::Product(thing) => book.thing(thing).unit,
            PaysOf::Line(_) | PaysOf::Channel(_) | PaysOf::Fair(..) => Unit::Each,
        };
        let row = PaysGroup {
            by: wanted.to_owned(),
            name,
            title,
            units: quantity_text(margin.units),
            unit: unit.as_str().to_owned(),
            sums: row.sums,
            earned_per_hour: row.per_hour,
        };
        out.push((group, row));
    }
    let mut beside = Vec::with_capacity(rests.len());
    for ((rest, margin), row) in rests.into_iter().zip(rows) {
        beside.push(PaysRestRow {
            by: wanted.to_owned(),
            name: None,
            why: rest.key().to_owned(),
            title: rest.title().to_owned(),
            units: quantity_text(margin.units),
            sums: row.sums,
        });
    }
    Some((out, beside))
}

/// The months from the first to the last in which something counts, those between in which nothing does among them.
fn months(book: &ResolvedBook, months: &BTreeMap<(i32, u32), (Fixed6, Fixed6)>) -> Vec<PaysMonth> {
    let Some(mut next) = months.keys().next().copied() else { return Vec::new() };
    let mut written = Vec::new();
    while months.range(next..).next().is_some() {
        let (revenue, cost) = months.get(&next).copied().unwrap_or_default();
        let (year, month) = next;
        written.push(PaysMonth {
            month: format!("{year:04}-{month:02}"),
            revenue: money_text(book, revenue),
            cost: money_text(book, cost),
        });
        next = if month < 12 { (year, month.saturating_add(1)) } else { (year.saturating_add(1), 1) };
    }
    written
}

//! What pays: a column of a line, channel or product down to its orders, the margins as what they are figured from.
//!
//! A column of the whole book is the sum of its years, one of the totals the sum of the products and of what stands on none. A column that has many
//! parts is told by months first.

use super::amount::Shown;
use super::pays_index::PaysIndex;
use super::step::taken_off;
use super::{Step, Sum, Telling};
use crate::costing::Component;
use crate::names::ResolvedBook;
use crate::reports::margin::{Margin, per_hour};
use crate::reports::pays_part::{PaysOf, PaysWhat};
use crate::reports::period::{minutes_text, money_text};
use crate::reports::report_pays::in_pieces;
use crate::reports::report_verdicts::{own_costs, read_printed};
use crate::reports::{CostPart, FigureName, PaysColumn, PaysFigure, PaysGroup, PaysSums, PaysTotals, WhyRule};
use crate::units::Fixed6;

impl Telling<'_> {
    /// A figure of what pays.
    pub(super) fn pays(&mut self, figure: PaysFigure) -> Option<(String, Vec<Step>)> {
        let index = self.of.pays()?;
        match figure {
            PaysFigure::Column { of, year, column } => {
                let answer = self.answer_of_column(index, of, year, column)?;
                let has_some = index.margin(of, year).is_some();
                if !has_some {
                    return Some((answer, Vec::new()));
                }
                let step = match sum_of_column(index.margin(of, year)?, column)? {
                    Some(_) => self.column((of, year), column, 0)?,
                    // Nothing is earned in no time, nor in a time that is not known.
                    None => self.column((of, year), PaysColumn::OwnMinutes, 0)?,
                };
                Some((answer, vec![step]))
            }
            PaysFigure::Beside { of, year, column } => self.beside((of, year), column),
            PaysFigure::OwnCosts { of, year } => self.own_costs((Some(of), year)),
            PaysFigure::OverRate { of, year } => self.over_rate(of, year),
            PaysFigure::Hours { step, year, own } => self.hours_at(step, year, own),
            PaysFigure::Month { year, month, is_cost } => self.month((year, month), is_cost),
            PaysFigure::IndirectMinutes { year } => self.indirect_minutes(year),
            PaysFigure::YearPerHour { year } => self.year_per_hour(year),
            PaysFigure::UnderApplied { year } => self.under_applied(year),
        }
    }

    fn answer_of_column(
        &self,
        index: &PaysIndex<'_>,
        of: Option<PaysOf>,
        year: Option<i32>,
        column: PaysColumn,
    ) -> Option<String> {
        let whose = whose(of, year, self.of.books.book);
        let says = format!("{} of {whose}", column.says());
        let Some(margin) = index.margin(of, year) else {
            return Some(format!("Nothing counts for {whose}."));
        };
        let is = match column {
            PaysColumn::Fees | PaysColumn::DirectExpenses | PaysColumn::OwnMinutes | PaysColumn::EarnedPerHour => "are",
            _ => "is",
        };
        let Some(printed) = printed(index, (of, year), column)? else {
            let why = match margin.own_minutes()? {
                None => "not known: pieces without hours are among what was sold",
                Some(_) => "no figure: no own minutes are in what was sold",
            };
            return Some(format!("The {says} {is} {why}."));
        };
        let shown = shown_of(column);
        let exactly = match (column, sum_of_column(margin, column)?) {
            (PaysColumn::Units, _) | (_, None) => String::new(),
            (_, Some(sum)) => match shown.text(shown.amounts(sum)[0]) {
                exact if exact == printed => String::new(),
                exact => format!(", which is {exact} before its column is rounded"),
            },
        };
        let unit = match (column, self.unit_of_group(of)) {
            (PaysColumn::Units, "ea") | (PaysColumn::Revenue, _) => String::new(),
            (PaysColumn::Units, unit) => format!(" {unit}"),
            _ => String::new(),
        };
        Some(format!("The {says} {is} {printed}{unit}{exactly}."))
    }

    /// A column of a group, or of the totals, in a year or ever.
    pub(super) fn column(&mut self, (of, year): (Option<PaysOf>, Option<i32>), column: PaysColumn, level: usize) -> Option<Step> {
        let book = self.of.books.book;
        let index = self.of.pays()?;
        let margin = index.margin(of, year)?;
        let says = format!("{} of {}", column.says(), whose(of, year, book));
        let shown = shown_of(column);
        let below = level.saturating_add(1);
        let sum = sum_of_column(margin, column)??;
        let known =
            if column == PaysColumn::OwnMinutes && margin.own_minutes()?.is_none() { ", as far as they are known" } else { "" };
        let mut step = Step::nowhere(format!("{says}{known}"), sum, WhyRule::SumOf).showing(shown);
        if column == PaysColumn::Units {
            step = step.counted(margin.units, self.unit_of_group(of));
        }
        if !self.enters(&mut step, FigureName::Pays(PaysFigure::Column { of, year, column }), level) {
            return Some(step);
        }
        step.steps = match (column, of, year) {
            (PaysColumn::PaidMargin, ..) => self.plus_and_minus(
                (of, year),
                &[PaysColumn::Revenue],
                &[PaysColumn::Fees, PaysColumn::Postage, PaysColumn::Packing, PaysColumn::DirectExpenses, PaysColumn::PaidCost],
                below,
            )?,
            (PaysColumn::FullMargin, ..) => {
                self.plus_and_minus((of, year), &[PaysColumn::PaidMargin], &[PaysColumn::OwnTime, PaysColumn::Overhead], below)?
            }
            (PaysColumn::EarnedPerHour, ..) => {
                step.rule = WhyRule::Figured;
                step.says.push_str(": paid margin less overhead, over own minutes, times 60");
                let earned = margin.paid_margin()?.checked_sub(margin.sold.get(Component::Overhead))?;
                let mut left = Step::nowhere("paid margin less overhead", Sum::both(earned), WhyRule::SumOf);
                left.steps = self.plus_and_minus((of, year), &[PaysColumn::PaidMargin], &[PaysColumn::Overhead], below)?;
                vec![left, self.column((of, year), PaysColumn::OwnMinutes, below)?]
            }
            (_, Some(fair @ PaysOf::Fair(..)), None) => {
                // A fair is an event: what is paid for it a year before counts for it all the same.
                let years: Vec<i32> = index.years().collect();
                let parts: Vec<_> = years.into_iter().flat_map(|year| index.of_group(fair, year)).collect();
                self.parts(&parts, Some(fair), column, below)?
            }
            (_, _, None) => {
                let mut steps = Vec::new();
                for year in index.years() {
                    if index.margin(of, Some(year)).is_some() {
                        steps.push(self.column((of, Some(year)), column, below)?);
                    }
                }
                not_nothing(steps)
            }
            (_, None, Some(year)) => self.of_all(year, column, below)?,
            (_, Some(of), Some(year)) => {
                let parts: Vec<_> = index.of_group(of, year).collect();
                self.parts(&parts, Some(of), column, below)?
            }
        };
        Some(step)
    }

    /// Costs that are a group's own.
    fn own_costs(&mut self, (of, year): (Option<PaysOf>, Option<i32>)) -> Option<(String, Vec<Step>)> {
        let index = self.of.pays()?;
        let whose = whose(of, year, self.of.books.book);
        let Some(margin) = index.margin(of, year) else {
            return Some((format!("Nothing counts for {whose}."), Vec::new()));
        };
        let sum = own_costs(margin)?;
        let mut step = Step::nowhere(format!("own costs of {whose}"), Sum::both(sum), WhyRule::SumOf);
        let mut columns = vec![PaysColumn::Fees, PaysColumn::Postage, PaysColumn::Packing, PaysColumn::DirectExpenses];
        columns.push(PaysColumn::PaidCost);
        step.steps = self.plus_and_minus((of, year), &columns, &[], 1)?;
        let exact = money_text(self.of.books.book, sum);
        // As its row says it, whose columns are rounded so that they add up.
        let of_row = |column| printed(index, (of, year), column)?.and_then(read_printed);
        let printed = match (of_row(PaysColumn::Revenue), of_row(PaysColumn::PaidMargin)) {
            (Some(revenue), Some(left)) => money_text(self.of.books.book, revenue.checked_sub(left)?),
            _ => exact.clone(),
        };
        let exactly =
            if printed == exact { String::new() } else { format!(" (which is {exact} before its columns are rounded)") };
        let answer = format!(
            "Without {whose} {printed}{exactly} of its own costs would not arise: fees, postage, packing, expenses on it and the paid cost of what it \
             sold. Overhead and hours on nothing in particular would stay."
        );
        Some((answer, vec![step]))
    }

    /// Columns that add up and others that are taken off.
    fn plus_and_minus(
        &mut self,
        of: (Option<PaysOf>, Option<i32>),
        plus: &[PaysColumn],
        minus: &[PaysColumn],
        level: usize,
    ) -> Option<Vec<Step>> {
        let mut steps = Vec::new();
        for column in plus {
            steps.push(self.column(of, *column, level)?);
        }
        for column in minus {
            // What was told of the paid cost shows nothing of own time.
            let told = self.forget_told();
            let step = self.column(of, *column, level)?;
            self.remember_told(told);
            let says = format!("less {}", column.says());
            steps.push(taken_off(&says, step)?);
        }
        Some(not_nothing(steps))
    }

    /// A column of the totals in a year: its products, and what stands on none.
    fn of_all(&mut self, year: i32, column: PaysColumn, level: usize) -> Option<Vec<Step>> {
        let index = self.of.pays()?;
        let mut steps = Vec::new();
        for of in index.groups(year) {
            let counts = match of {
                PaysOf::Product(thing) => column != PaysColumn::Units || in_pieces(self.of.books.book, Some(thing)),
                // Of lines and channels only what stands on themselves.
                PaysOf::Line(_) | PaysOf::Channel(_) => column == PaysColumn::DirectExpenses,
                // A fair is of its channel.
                PaysOf::Fair(..) => false,
            };
            if counts {
                steps.push(self.column((Some(of), Some(year)), column, level)?);
            }
        }
        if column != PaysColumn::DirectExpenses {
            // Hours that stand on nothing are in no margin.
            let loose: Vec<_> = index.on_no_product(year).filter(|part| !part.is_indirect()).collect();
            steps.extend(self.parts(&loose, None, column, level)?);
        }
        Some(not_nothing(steps))
    }

    /// The unit in which a group is counted: a product's own, else pieces.
    fn unit_of_group(&self, of: Option<PaysOf>) -> &'static str {
        match of {
            Some(PaysOf::Product(thing)) => self.of.books.book.thing(thing).unit.as_str(),
            _ => "ea",
        }
    }

    /// What a month brought in or cost.
    fn month(&mut self, (year, month): (i32, u32), is_cost: bool) -> Option<(String, Vec<Step>)> {
        let index = self.of.pays()?;
        let (income, cost) = index.month(year, month);
        let parts: Vec<_> = index.of_month(year, month).collect();
        let mut steps = Vec::new();
        if is_cost {
            for column in
                [PaysColumn::PaidCost, PaysColumn::Fees, PaysColumn::Postage, PaysColumn::Packing, PaysColumn::DirectExpenses]
            {
                let of_column = self.parts(&parts, None, column, 2)?;
                if !of_column.is_empty() {
                    steps.push(Step::sum_of(column.says(), of_column)?);
                }
            }
        } else {
            steps = self.parts(&parts, None, PaysColumn::Revenue, 1)?;
        }
        let (what, sum) = if is_cost { ("cost", cost) } else { ("income", income) };
        let mut top = Step::nowhere(format!("{what} of {year:04}-{month:02}"), Sum::both(sum), WhyRule::SumOf);
        top.steps = steps;
        let printed = money_text(self.of.books.book, sum);
        let answer = if is_cost {
            format!(
                "What was sold in {year:04}-{month:02} cost {printed} to make and to sell, with what stands on lines and channels."
            )
        } else {
            format!("Sales brought in {printed} in {year:04}-{month:02}.")
        };
        Some((answer, vec![top]))
    }

    /// Own minutes on nothing in particular.
    fn indirect_minutes(&mut self, year: Option<i32>) -> Option<(String, Vec<Step>)> {
        let index = self.of.pays()?;
        let when = year.map_or_else(String::new, |year| format!(" in {year}"));
        let (indirect, _) = index.minutes(year);
        let says = format!("own minutes on no line or channel and in no batch{when}");
        let mut top = Step::nowhere(says, Sum::own_minutes(indirect), WhyRule::SumOf);
        let years: Vec<i32> = index.years().filter(|one| year.is_none_or(|year| year == *one)).collect();
        for year in years {
            let hours: Vec<_> = index.on_no_product(year).filter(|part| matches!(part.what, PaysWhat::Hours(_))).collect();
            let hours: Vec<_> = hours.into_iter().filter(|part| part.groups.is_empty()).collect();
            top.steps.extend(self.parts(&hours, None, PaysColumn::OwnMinutes, 1)?);
        }
        Some((format!("{} own minutes are on nothing in particular{when}.", minutes_text(indirect)), vec![top]))
    }

    /// The form's net profit over all own hours of its year.
    fn year_per_hour(&mut self, year: i32) -> Option<(String, Vec<Step>)> {
        let index = self.of.pays()?;
        let Some(tax_year) = self.of.years.iter().find(|one| one.year == year) else {
            return Some((format!("The book has no tax year {year}, and so no net profit per hour."), Vec::new()));
        };
        let (_, minutes) = index.minutes(Some(year));
        let net = tax_year.net_cents();
        let profit = self.line_once(tax_year, tax_year.net_profit, 1)?;
        let Some(each) = per_hour(net, minutes) else {
            let answer = format!("There is no net profit per hour in {year}: no own hours were worked.");
            return Some((answer, vec![profit]));
        };
        let hours = index.on_no_product(year).filter(|part| matches!(part.what, PaysWhat::Hours(_) | PaysWhat::Worked(_)));
        let hours: Vec<_> = hours.collect();
        let minutes = Sum::own_minutes(minutes);
        let mut worked = Step::nowhere(format!("own minutes worked in {year}"), minutes, WhyRule::SumOf)
            .showing(Shown::Part(CostPart::Minutes));
        worked.steps = self.parts(&hours, None, PaysColumn::OwnMinutes, 2)?;
        let says = format!("net profit of {year} per own hour: the profit over the minutes, times 60");
        let mut top = Step::nowhere(says, Sum::both(each), WhyRule::Figured);
        top.steps = vec![profit, worked];
        let each = money_text(self.of.books.book, each);
        Some((format!("The net profit of {year} comes to {each} for each own hour worked."), vec![top]))
    }
}

/// What is shown of the steps of a column.
pub(super) fn shown_of(column: PaysColumn) -> Shown {
    match column {
        PaysColumn::PaidCost => Shown::Part(CostPart::Paid),
        PaysColumn::OwnTime => Shown::Part(CostPart::OwnTime),
        PaysColumn::Overhead => Shown::Part(CostPart::Overhead),
        PaysColumn::OwnMinutes => Shown::Part(CostPart::Minutes),
        _ => Shown::Money,
    }
}

/// A figure of a row or of the totals as the report prints it; `None` inside where it has none there.
fn printed<'i>(
    index: &'i PaysIndex<'_>,
    (of, year): (Option<PaysOf>, Option<i32>),
    column: PaysColumn,
) -> Option<Option<&'i str>> {
    let rows = index.rows(year)?;
    Some(match of {
        None => of_totals(&rows.totals, column),
        Some(of @ PaysOf::Fair(..)) if year.is_none() => {
            index.fairs().fairs.iter().find(|(group, _)| *group == of).and_then(|(_, row)| of_group(row, column))
        }
        Some(of) => rows.groups.iter().find(|(group, _)| *group == of).and_then(|(_, row)| of_group(row, column)),
    })
}

/// Steps of which something is shown.
pub(super) fn not_nothing(steps: Vec<Step>) -> Vec<Step> {
    steps.into_iter().filter(|step| !step.shows_nothing()).collect()
}

/// Whose figure it is, and of when.
fn whose(of: Option<PaysOf>, year: Option<i32>, book: &ResolvedBook) -> String {
    let name = match of {
        None => "the whole shop".to_owned(),
        Some(PaysOf::Fair(channel, day)) => format!("{} on {day}", book.channel(channel).named.name),
        Some(of) => of.named(book).1.name.clone(),
    };
    year.map_or_else(|| name.clone(), |year| format!("{name} in {year}"))
}

/// A column of a group's sums; `None` inside where it has no figure.
pub(super) fn sum_of_column(margin: &Margin, column: PaysColumn) -> Option<Option<Sum>> {
    let paid_margin = margin.paid_margin()?;
    let (own_time, overhead) = (margin.sold.get(Component::OwnTime), margin.sold.get(Component::Overhead));
    let money = match column {
        PaysColumn::Units => Fixed6::ZERO,
        PaysColumn::PaidCost | PaysColumn::OwnTime | PaysColumn::Overhead => return Some(Some(Sum::of(&margin.sold)?)),
        PaysColumn::OwnMinutes => {
            return Some(Some(Sum::of(&margin.sold)?.plus(Sum::own_minutes(margin.minutes_on))?));
        }
        PaysColumn::EarnedPerHour => {
            let Some(minutes) = margin.own_minutes()? else { return Some(None) };
            return Some(per_hour(paid_margin.checked_sub(overhead)?, minutes).map(Sum::both));
        }
        PaysColumn::Revenue => margin.revenue,
        PaysColumn::Fees => margin.fees,
        PaysColumn::Postage => margin.postage,
        PaysColumn::Packing => margin.packing,
        PaysColumn::DirectExpenses => margin.direct,
        PaysColumn::PaidMargin => paid_margin,
        PaysColumn::FullMargin => paid_margin.checked_sub(own_time)?.checked_sub(overhead)?,
    };
    Some(Some(Sum::both(money)))
}

fn of_group(row: &PaysGroup, column: PaysColumn) -> Option<&str> {
    match column {
        PaysColumn::Units => Some(&row.units),
        PaysColumn::EarnedPerHour => row.earned_per_hour.as_deref(),
        _ => of_sums(&row.sums, column),
    }
}

fn of_totals(row: &PaysTotals, column: PaysColumn) -> Option<&str> {
    match column {
        PaysColumn::Units => Some(&row.units),
        PaysColumn::EarnedPerHour => row.earned_per_hour.as_deref(),
        _ => of_sums(&row.sums, column),
    }
}

pub(super) fn of_sums(sums: &PaysSums, column: PaysColumn) -> Option<&str> {
    Some(match column {
        PaysColumn::Revenue => &sums.revenue,
        PaysColumn::Fees => &sums.fees,
        PaysColumn::Postage => &sums.postage,
        PaysColumn::Packing => &sums.packing,
        PaysColumn::DirectExpenses => &sums.direct_expenses,
        PaysColumn::PaidCost => &sums.paid_cost,
        PaysColumn::PaidMargin => &sums.paid_margin,
        PaysColumn::OwnTime => &sums.own_time,
        PaysColumn::Overhead => &sums.overhead,
        PaysColumn::FullMargin => &sums.full_margin,
        PaysColumn::OwnMinutes => return sums.own_minutes.as_deref(),
        PaysColumn::Units | PaysColumn::EarnedPerHour => return None,
    })
}

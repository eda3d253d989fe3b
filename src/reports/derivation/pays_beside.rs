//! What stands in no group of what pays, and what stands on channels beside their fairs: a column part by part, the margins as what they are figured from.

use super::amount::Shown;
use super::pays_figure::{not_nothing, of_sums, shown_of, sum_of_column};
use super::pays_index::PaysIndex;
use super::step::taken_off;
use super::{Step, Sum, Telling};
use crate::costing::Component;
use crate::reports::pays_part::PaysPart;
use crate::reports::{FigureName, PaysBeside, PaysColumn, PaysFigure, WhyRule};

/// A row, and its year.
type Row = (PaysBeside, Option<i32>);

impl Telling<'_> {
    /// A figure of such a row.
    pub(super) fn beside(&mut self, row: Row, column: PaysColumn) -> Option<(String, Vec<Step>)> {
        let index = self.of.pays()?;
        let whose = self.whose_beside(row);
        let (Some(margin), Some(printed)) = (index.margin_beside(row), printed(index, row, column)) else {
            return Some((format!("Nothing counts for {whose}."), Vec::new()));
        };
        let says = format!("{} of {whose}", column.says());
        let Some(printed) = printed else {
            let why = match margin.own_minutes()? {
                None => "not known: pieces without hours are among what was sold",
                Some(_) => "no figure: no own minutes are in what was sold",
            };
            return Some((format!("The {says} is {why}."), vec![self.column_beside(row, PaysColumn::OwnMinutes, 0)?]));
        };
        let shown = shown_of(column);
        let exactly = match (column, sum_of_column(margin, column)?) {
            (PaysColumn::Units, _) | (_, None) => String::new(),
            (_, Some(sum)) => match shown.text(shown.amounts(sum)[0]) {
                exact if exact == printed => String::new(),
                exact => format!(", which is {exact} before its column is rounded"),
            },
        };
        let printed = printed.to_owned();
        Some((format!("The {says} is {printed}{exactly}."), vec![self.column_beside(row, column, 0)?]))
    }

    fn column_beside(&mut self, row: Row, column: PaysColumn, level: usize) -> Option<Step> {
        let index = self.of.pays()?;
        let margin = index.margin_beside(row)?;
        let sum = sum_of_column(margin, column)??;
        let known =
            if column == PaysColumn::OwnMinutes && margin.own_minutes()?.is_none() { ", as far as they are known" } else { "" };
        let says = format!("{} of {}{known}", column.says(), self.whose_beside(row));
        let mut step = Step::nowhere(says, sum, WhyRule::SumOf).showing(shown_of(column));
        if column == PaysColumn::Units {
            step = step.counted(margin.units, "ea");
        }
        let (of, year) = row;
        if !self.enters(&mut step, FigureName::Pays(PaysFigure::Beside { of, year, column }), level) {
            return Some(step);
        }
        let below = level.saturating_add(1);
        let selling =
            [PaysColumn::Fees, PaysColumn::Postage, PaysColumn::Packing, PaysColumn::DirectExpenses, PaysColumn::PaidCost];
        step.steps = match column {
            PaysColumn::PaidMargin => self.less_beside(row, PaysColumn::Revenue, &selling, below)?,
            PaysColumn::FullMargin => {
                self.less_beside(row, PaysColumn::PaidMargin, &[PaysColumn::OwnTime, PaysColumn::Overhead], below)?
            }
            PaysColumn::EarnedPerHour => {
                step.rule = WhyRule::Figured;
                let earned = margin.paid_margin()?.checked_sub(margin.sold.get(Component::Overhead))?;
                let mut left =
                    Step::nowhere("paid margin less overhead", Sum::both(earned), WhyRule::SumOf).showing(Shown::Money);
                left.steps = self.less_beside(row, PaysColumn::PaidMargin, &[PaysColumn::Overhead], below)?;
                vec![left, self.column_beside(row, PaysColumn::OwnMinutes, below)?]
            }
            _ => {
                let parts: Vec<&PaysPart<'_>> = index.of_beside(row).collect();
                self.parts(&parts, None, column, below)?
            }
        };
        Some(step)
    }

    /// A column less others.
    fn less_beside(&mut self, row: Row, from: PaysColumn, less: &[PaysColumn], level: usize) -> Option<Vec<Step>> {
        let mut steps = vec![self.column_beside(row, from, level)?];
        for column in less {
            // What was told of the paid cost shows nothing of own time.
            let told = self.forget_told();
            let step = self.column_beside(row, *column, level)?;
            self.remember_told(told);
            steps.push(taken_off(&format!("less {}", column.says()), step)?);
        }
        Some(not_nothing(steps))
    }

    /// What the row is of, and of when.
    fn whose_beside(&self, (of, year): Row) -> String {
        let book = self.of.books.book;
        let what = match of {
            PaysBeside::Kind(kind, why) => {
                let kind = if kind == "line" { "product line" } else { kind };
                format!("what stands in no {kind} ({})", why.title().to_lowercase())
            }
            PaysBeside::Fairs(channel, why) => format!("{}, {}", book.channel(channel).named.name, why.title()),
            PaysBeside::AllFairs => "the channels that have fairs".to_owned(),
        };
        year.map_or_else(|| what.clone(), |year| format!("{what} in {year}"))
    }
}

/// A figure of the row as the report prints it, nothing inside where it has none there; `None` where there is no such row.
fn printed<'i>(index: &'i PaysIndex<'_>, (of, year): Row, column: PaysColumn) -> Option<Option<&'i str>> {
    let row = match of {
        PaysBeside::AllFairs => {
            let all = index.fairs().total.as_ref()?;
            return Some(match column {
                PaysColumn::Units => Some(all.units.as_str()),
                PaysColumn::EarnedPerHour => all.earned_per_hour.as_deref(),
                _ => of_sums(&all.sums, column),
            });
        }
        PaysBeside::Kind(kind, why) => index.rows(year)?.rest.iter().find(|row| row.by == kind && row.why == why.key()),
        PaysBeside::Fairs(channel, why) => {
            let name = index.name_of(channel);
            index.fairs().rest.iter().find(|row| row.name.as_deref() == Some(name) && row.why == why.key())
        }
    }?;
    Some(match column {
        PaysColumn::Units => Some(row.units.as_str()),
        _ => of_sums(&row.sums, column),
    })
}

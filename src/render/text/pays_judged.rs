//! The rest of *What pays?* as text: whether each thing pays, fair by fair, year by year, what lies long, and the bridge to the form.

use super::pays::per_hour;
use super::sheet::Sheet;
use super::table::{Stand, Table};
use super::{number, time};
use crate::render::number_format::{Shown, money};
use crate::render::spoken::kind_heading;
use crate::reports::{PaysReport, PaysRestRow, PaysSums};

/// Whether each line, channel, product and fair pays, what dropping it would save, the fairs, and the years beside each other.
pub(super) fn judged(sheet: &mut Sheet, report: &PaysReport) {
    for by in ["line", "channel", "product", "fair"] {
        let mut list = report.verdicts.iter().filter(|one| one.by == by).peekable();
        if list.peek().is_some() {
            sheet.heading(&format!("Does it pay? {}", kind_heading(by)));
        }
        for one in list {
            sheet.item(&format!("{}: {}.", one.title, one.says));
        }
    }
    sheet.table("If you dropped it", if_dropped(report));
    sheet.table("Fair by fair", fairs(report));
    sheet.table("Year by year, each whole, whatever days are asked about", years(report));
}

fn if_dropped(report: &PaysReport) -> Table {
    let mut table = Table::new([
        ("Without", Stand::Left),
        ("Revenue lost", Stand::Point),
        ("Own costs saved", Stand::Point),
        ("Overhead that stays", Stand::Point),
        ("Hours free", Stand::Right),
    ]);
    for by in ["line", "channel", "product"] {
        let mut list = report.verdicts.iter().filter(|one| one.by == by).peekable();
        if list.peek().is_some() {
            table.heading(kind_heading(by));
        }
        for one in list {
            let without = &one.if_dropped;
            let mut row = vec![one.title.clone()];
            row.extend([&without.loses, &without.saves, &without.overhead_stays].map(|figure| number(figure)));
            row.push(time(without.frees_minutes.as_deref(), "unknown"));
            table.row(row);
        }
    }
    table
}

fn fairs(report: &PaysReport) -> Table {
    let mut table = Table::new([
        ("Fair", Stand::Left),
        ("Sold", Stand::Point),
        ("Revenue", Stand::Point),
        ("Fees", Stand::Point),
        ("Postage", Stand::Point),
        ("Packing", Stand::Point),
        ("Own expenses", Stand::Point),
        ("Paid cost", Stand::Point),
        ("Paid margin", Stand::Point),
        ("Full margin", Stand::Point),
        ("Your hours", Stand::Right),
        ("Earned per hour", Stand::Right),
    ]);
    for one in &report.fairs {
        let mut row = vec![one.title.clone()];
        let [revenue, fees, postage, packing, expenses, paid_cost, paid_margin, _, _, full_margin] = one.sums.money();
        let figures = [&one.units, revenue, fees, postage, packing, expenses, paid_cost, paid_margin, full_margin];
        row.extend(figures.map(number));
        row.push(time(one.sums.own_minutes.as_deref(), "unknown"));
        row.push(per_hour(one.earned_per_hour.as_deref(), one.sums.own_minutes.as_deref()));
        table.row(row);
    }
    let beside = |title: &str, units: &str, sums: &PaysSums| {
        let mut row = vec![title.to_owned()];
        let [revenue, fees, postage, packing, expenses, paid_cost, paid_margin, _, _, full_margin] = sums.money();
        let figures = [units, revenue, fees, postage, packing, expenses, paid_cost, paid_margin, full_margin];
        row.extend(figures.map(number));
        row.push(time(sums.own_minutes.as_deref(), "unknown"));
        row
    };
    let rests: Vec<&PaysRestRow> = report.rest.iter().filter(|rest| rest.by == "fair").collect();
    for rest in &rests {
        let mut row = beside(&rest.title, &rest.units, &rest.sums);
        row.push("-".to_owned());
        table.row(row);
    }
    if let Some(all) = report.fairs_total.as_ref().filter(|_| report.fairs.len() + rests.len() > 1) {
        let mut row = beside("All on these channels", &all.units, &all.sums);
        row.push(per_hour(all.earned_per_hour.as_deref(), all.sums.own_minutes.as_deref()));
        table.total(row);
    }
    table
}

fn years(report: &PaysReport) -> Table {
    let mut table = Table::new([
        ("Sales of", Stand::Left),
        ("Year", Stand::Left),
        ("Revenue", Stand::Point),
        ("Paid margin", Stand::Point),
        ("Full margin", Stand::Point),
        ("Earned per hour", Stand::Right),
    ]);
    if report.trend.iter().all(|one| one.years.len() < 2) {
        return table;
    }
    for by in ["line", "channel", "product"] {
        let mut list = report.trend.iter().filter(|one| one.by == by).peekable();
        if list.peek().is_some() {
            table.heading(kind_heading(by));
        }
        for one in list {
            for (at, year) in one.years.iter().enumerate() {
                let title = if at == 0 { one.title.clone() } else { String::new() };
                let so_far = if year.so_far { " so far" } else { "" };
                let mut row = vec![title, format!("{}{so_far}", year.year)];
                row.extend([&year.revenue, &year.paid_margin, &year.full_margin].map(|figure| number(figure)));
                row.push(per_hour(year.earned_per_hour.as_deref(), year.own_minutes.as_deref()));
                table.row(row);
            }
        }
    }
    table
}

/// Goods on hand by age, and what has lain over half a year.
pub(super) fn lies_long(sheet: &mut Sheet, report: &PaysReport) {
    let Some(on) = report.stock_ages.on.as_deref().filter(|_| !report.stock_ages.slow.is_empty()) else { return };
    let mut table = Table::new([("Goods on hand that came", Stand::Left), ("Paid cost", Stand::Point)]);
    let all = &report.stock_ages.all;
    let ages = [
        ("up to 90 days before", &all.to_90_days),
        ("91 to 180 days before", &all.to_180_days),
        ("181 to 365 days before", &all.to_365_days),
        ("earlier", &all.older),
    ];
    for (said, paid) in ages {
        table.row(vec![said.to_owned(), number(paid)]);
    }
    sheet.table(&format!("What lies long, on {on}"), table);
    for one in &report.stock_ages.slow {
        let paid = money(&one.slow_paid, &report.head.currency, Shown::Terminal);
        sheet.item(&format!("{}, {paid} of paid cost: {}.", one.title, one.says));
    }
}

/// From the margins to the form, a table a year.
pub(super) fn bridges(sheet: &mut Sheet, report: &PaysReport) {
    for bridge in &report.bridges {
        let mut table = Table::new([("Step", Stand::Left), ("Amount", Stand::Point)]);
        if let Some((last, steps)) = bridge.lines.split_last() {
            for step in steps {
                table.row(vec![step.name.clone(), number(&step.amount)]);
            }
            table.total(vec![last.name.clone(), number(&last.amount)]);
        }
        sheet.table(&format!("From the margins to the net profit of {}", bridge.year), table);
    }
}

//! *What pays?* as text: what was left after paying, then what an hour earned.

use super::bar::{Bars, bar_heading};
use super::pays_judged::{bridges, judged, lies_long};
use super::sheet::{Look, Sheet};
use super::table::{Stand, Table};
use super::{number, time};
use crate::render::answer::{answer_pays, answer_unassigned};
use crate::render::html::Question;
use crate::render::number_format::{Shown, money};
use crate::render::spoken::kind_heading;
use crate::reports::{PaysGroup, PaysReport, PaysRestRow, PaysSums};

/// Renders the margins.
#[must_use]
pub fn text_pays(report: &PaysReport, look: Look) -> String {
    let answer = answer_pays(report, Shown::Terminal);
    let mut sheet = Sheet::open(look, Question::Pays.asked(), &report.head, &answer);
    sheet.table("What was left after paying", paid(report));
    sheet.table("What an hour earned", by_hour(report));
    if let Some(rate) = &report.owner_rate {
        let rate = money(rate, &report.head.currency, Shown::Terminal);
        sheet.paragraph(&format!("Your own rate is {rate} an hour; what earns less does not bring it in."));
    }
    sheet.paragraph(&answer_unassigned(report, Shown::Terminal).words());
    judged(&mut sheet, report);
    sheet.table("Where the hours went", steps(report));
    sheet.table("Month by month", months(report));
    lies_long(&mut sheet, report);
    bridges(&mut sheet, report);
    sheet.notes(&report.notes);
    sheet.close()
}

/// Adds the groups under their headings, with what is in none of a kind; the caller adds the sum.
fn grouped_rows(
    table: &mut Table,
    report: &PaysReport,
    row: impl Fn(&PaysGroup) -> Vec<String>,
    rest_row: impl Fn(&PaysRestRow) -> Vec<String>,
) {
    for by in ["line", "channel", "product"] {
        let mut list = report.groups.iter().filter(|group| group.by == by).peekable();
        if list.peek().is_some() {
            table.heading(kind_heading(by));
        }
        for group in list {
            table.row(row(group));
        }
        for rest in report.rest.iter().filter(|rest| rest.by == by) {
            table.row(rest_row(rest));
        }
    }
}

/// How many of a product were sold, with the unit of what is measured otherwise than in pieces.
fn sold(one: &PaysGroup) -> String {
    match one.unit.as_str() {
        "ea" => number(&one.units),
        unit => format!("{} {unit}", number(&one.units)),
    }
}

/// From revenue to paid margin.
fn paid_columns(sums: &PaysSums) -> [String; 7] {
    let figures =
        [&sums.revenue, &sums.fees, &sums.postage, &sums.packing, &sums.direct_expenses, &sums.paid_cost, &sums.paid_margin];
    figures.map(|figure| number(figure))
}

fn paid(report: &PaysReport) -> Table {
    let mut table = Table::new([
        ("Sales of", Stand::Left),
        ("Sold", Stand::Point),
        ("Revenue", Stand::Point),
        ("Fees", Stand::Point),
        ("Postage", Stand::Point),
        ("Packing", Stand::Point),
        ("Own expenses", Stand::Point),
        ("Paid cost", Stand::Point),
        ("Paid margin", Stand::Point),
    ]);
    grouped_rows(
        &mut table,
        report,
        |one| [one.title.clone(), sold(one)].into_iter().chain(paid_columns(&one.sums)).collect(),
        |one| [one.title.clone(), number(&one.units)].into_iter().chain(paid_columns(&one.sums)).collect(),
    );
    let all = &report.totals;
    table.total(["All sales".to_owned(), number(&all.units)].into_iter().chain(paid_columns(&all.sums)).collect());
    table
}

/// What an hour earned; a dash where hours are known and there are none.
pub(super) fn per_hour(figure: Option<&str>, minutes: Option<&str>) -> String {
    match (figure, minutes) {
        (Some(figure), _) => number(figure),
        (None, Some(_)) => "-".to_owned(),
        (None, None) => "hours unknown".to_owned(),
    }
}

fn by_hour(report: &PaysReport) -> Table {
    let mut table = Table::new([
        ("Sales of", Stand::Left),
        ("Paid margin", Stand::Point),
        ("Overhead", Stand::Point),
        ("Own time", Stand::Point),
        ("Full margin", Stand::Point),
        ("Your hours", Stand::Right),
        ("Earned per hour", Stand::Right),
    ]);
    grouped_rows(
        &mut table,
        report,
        |one| {
            let mut row = vec![one.title.clone()];
            row.extend(
                [&one.sums.paid_margin, &one.sums.overhead, &one.sums.own_time, &one.sums.full_margin]
                    .map(|figure| number(figure)),
            );
            row.push(time(one.sums.own_minutes.as_deref(), "unknown"));
            row.push(per_hour(one.earned_per_hour.as_deref(), one.sums.own_minutes.as_deref()));
            row
        },
        |one| {
            let mut row = vec![one.title.clone()];
            row.extend(
                [&one.sums.paid_margin, &one.sums.overhead, &one.sums.own_time, &one.sums.full_margin]
                    .map(|figure| number(figure)),
            );
            row.push(time(one.sums.own_minutes.as_deref(), "unknown"));
            row.push("-".to_owned());
            row
        },
    );
    let all = &report.totals;
    let mut row = vec!["All sales".to_owned()];
    row.extend(
        [&all.sums.paid_margin, &all.sums.overhead, &all.sums.own_time, &all.sums.full_margin].map(|figure| number(figure)),
    );
    row.push(time(all.sums.own_minutes.as_deref(), "unknown"));
    row.push(per_hour(all.earned_per_hour.as_deref(), all.sums.own_minutes.as_deref()));
    table.total(row);
    table
}

fn steps(report: &PaysReport) -> Table {
    let mut table = Table::new([
        ("Step", Stand::Left),
        ("Yours", Stand::Right),
        ("Bought in", Stand::Right),
        (&bar_heading(["yours", "bought in"]), Stand::Bar),
    ]);
    let bars = Bars::over(report.hours.iter().map(|step| vec![step.own_minutes.as_str(), &step.bought_in_minutes]));
    for step in &report.hours {
        let [own, bought_in] = [&step.own_minutes, &step.bought_in_minutes];
        let bar = bars.draw(&[own, bought_in]);
        table.row(vec![step.title.clone(), time(Some(own), ""), time(Some(bought_in), ""), bar]);
    }
    table
}

fn months(report: &PaysReport) -> Table {
    let mut table = Table::new([
        ("Month", Stand::Left),
        ("Income", Stand::Point),
        ("Cost", Stand::Point),
        (&bar_heading(["income"]), Stand::Bar),
    ]);
    let bars = Bars::over(report.months.iter().map(|month| vec![month.revenue.as_str()]));
    for month in &report.months {
        table.row(vec![month.month.clone(), number(&month.revenue), number(&month.cost), bars.draw(&[&month.revenue])]);
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    #[test]
    fn the_paid_view_and_the_full_view_are_two_tables() {
        let text = text_pays(&made_up::pays(), Look::default());
        let (before, after) = text.split_once("What an hour earned").expect("two tables");
        assert!(!before.contains("Overhead") && !before.contains("Own time"), "{before}");
        assert!(after.contains("hours unknown"), "{after}");
    }

    #[test]
    fn a_loss_has_its_sign() {
        let text = text_pays(&made_up::pays(), Look::default());
        assert!(text.lines().any(|line| line.starts_with("  Own web page") && line.contains("-114.05")), "{text}");
    }
}

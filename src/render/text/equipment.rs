//! The tools of a tax year as text: a row each, the steps by which each year came about, the years of their lives, and those that left.
//!
//! Of a tool that counts at once its row says all, so it has no steps
//! here; the JSON and the page have all ten of each.

use super::number;
use super::sheet::Sheet;
use super::table::{Stand, Table};
use crate::reports::{EquipmentRow, Schedules};

/// Writes them to the sheet. Steps that do not apply are left out here.
pub(super) fn equipment(sheet: &mut Sheet, schedules: &Schedules) {
    let mut tools = Table::new([
        ("Tool", Stand::Left),
        ("In use from", Stand::Left),
        ("Cost", Stand::Point),
        ("Business part, %", Stand::Point),
        ("How", Stand::Left),
        ("This year", Stand::Point),
        ("Left", Stand::Point),
        ("Line", Stand::Left),
    ]);
    for tool in &schedules.equipment {
        tools.row(vec![
            titled(tool),
            tool.in_use_from.clone(),
            number(&tool.cost),
            number(&tool.business_use),
            tool.method.clone(),
            number(&tool.this_year),
            number(&tool.left),
            tool.line.clone(),
        ]);
    }
    sheet.table("Equipment", tools);
    let mut steps = Table::new([("Step", Stand::Left), ("Amount", Stand::Point), ("How", Stand::Left)]);
    let mut lives = Table::new([
        ("Year", Stand::Left),
        ("At once", Stand::Point),
        ("Bonus", Stand::Point),
        ("By the table", Stand::Point),
        ("Left", Stand::Point),
    ]);
    for tool in &schedules.equipment {
        // Of a tool that is charged off at once its row says all.
        let told: Vec<_> = tool.steps.iter().filter(|step| !step.how.is_empty()).collect();
        if told.iter().any(|step| step.step > 4) {
            steps.heading(&titled(tool));
            for step in told {
                let amount = step.amount.as_deref().map_or_else(String::new, number);
                steps.row(vec![format!("{} {}", step.step, step.name), amount, step.how.clone()]);
            }
        }
        if tool.life.len() > 1 {
            lives.heading(&titled(tool));
            for year in &tool.life {
                let figures = [&year.at_once, &year.bonus, &year.table, &year.left].map(|figure| number(figure));
                lives.row([year.year.to_string()].into_iter().chain(figures).collect());
            }
        }
    }
    sheet.table("How each tool's year came about", steps);
    sheet.table("What each tool recovers over its life, if nothing changes", lives);
    let mut gone = Table::new([
        ("Tool", Stand::Left),
        ("In use from", Stand::Left),
        ("Left on", Stand::Left),
        ("Fetched", Stand::Point),
        ("Business part", Stand::Point),
        ("Cost", Stand::Point),
        ("Recovered", Stand::Point),
        ("Gain or loss", Stand::Point),
    ]);
    for tool in &schedules.tools_gone {
        let figures =
            [&tool.proceeds, &tool.business_proceeds, &tool.business_cost, &tool.recovered].map(|figure| number(figure));
        let gain = tool.gain.as_deref().map_or_else(|| "asked".to_owned(), number);
        let head = [tool.title.clone(), tool.in_use_from.clone(), tool.date.clone()];
        gone.row(head.into_iter().chain(figures).chain([gain]).collect());
    }
    sheet.table("Tools that left, on no line here", gone);
}

/// A tool's title, with how many the row tells of, or which of several it is.
fn titled(tool: &EquipmentRow) -> String {
    match (tool.count.as_str(), tool.of_line.as_str()) {
        ("1", "") => tool.title.clone(),
        ("1", of_line) => format!("{}, {of_line}", tool.title),
        (count, _) => format!("{}, {count} of them", tool.title),
    }
}

//! *What goes on the form?* as text. The caution stands before everything else.

use super::equipment::equipment;
use super::number;
use super::sheet::{Look, Sheet};
use super::table::{Stand, Table};
use crate::render::answer::{answer_year, how_to_answer};
use crate::render::html::Question;
use crate::render::number_format::{Shown, is_zero};
use crate::reports::{FormLine, YearReport};

/// Renders the tax year.
#[must_use]
pub fn text_year(report: &YearReport, look: Look) -> String {
    let answer = answer_year(report, Shown::Terminal);
    let mut sheet = Sheet::open(look, Question::Year.asked(), &report.head, &answer);
    sheet.paragraph(&report.caution);
    let heading = format!("The form's lines, {} basis, stock kept as {}", report.basis, report.stock);
    sheet.table(&heading, form_lines("On the form", report.lines.iter().filter(|line| !line.working)));
    if report.lines.iter().any(|line| line.working) {
        sheet.table(
            "Workings behind the lines, not on the form",
            form_lines("Printed", report.lines.iter().filter(|line| line.working)),
        );
    }
    for line in report.lines.iter().filter(|line| line.itemized && !line.parts.is_empty()) {
        let parts = named_sums(line.parts.iter().map(|part| (part.name.as_str(), part.amount.as_str())));
        sheet.table(&format!("Line {}, {}", line.line, line.label), parts);
    }
    let mut boxes = Table::new([("Box", Stand::Left), ("What it asks", Stand::Left), ("The book says", Stand::Left)]);
    for one in &report.boxes {
        boxes.row(vec![one.line.clone(), one.label.clone(), one.answer.clone()]);
    }
    sheet.table("Boxes that want words", boxes);
    sheet.notes(&report.notes);
    questions(&mut sheet, report);
    sheet.table("Where the cost of goods sold went", went_to(report));
    sheet.table("Goods that left in other ways, at paid cost", {
        let sums = &report.cost_of_goods.other_ways_out;
        named_sums(sums.iter().map(|sum| (sum.name.as_str(), sum.amount.as_str())))
    });
    schedules(&mut sheet, report);
    sheet.table("From the margins to the form", {
        let mut table = Table::new([("", Stand::Left), ("Amount", Stand::Point)]);
        if let Some((last, steps)) = report.bridge.split_last() {
            for step in steps {
                table.row(vec![step.name.clone(), number(&step.amount)]);
            }
            table.total(vec![last.name.clone(), number(&last.amount)]);
        }
        table
    });
    sheet.heading("Around the turn of the year");
    for part in &report.cut_off {
        match part.rows.as_slice() {
            [] => sheet.item(&format!("{}: empty, {}", part.name, part.empty)),
            rows => {
                sheet.item(&format!("{}:", part.name));
                for row in rows {
                    sheet.item(&format!("  {row}"));
                }
            }
        }
    }
    if !report.sources.is_empty() {
        sheet.heading("Where the form's figures come from");
        for source in &report.sources {
            sheet.item(source);
        }
    }
    sheet.close()
}

fn form_lines<'r>(printed: &'static str, lines: impl Iterator<Item = &'r FormLine>) -> Table {
    let mut table = Table::new([
        ("Line", Stand::Left),
        ("What stands there", Stand::Left),
        ("To the cent", Stand::Point),
        (printed, Stand::Point),
    ]);
    let mut part = "";
    for line in lines {
        if line.part != part && !line.working {
            part = &line.part;
            table.heading(part);
        }
        table.row(vec![line.line.clone(), line.label.clone(), number(&line.cents), number(&line.printed)]);
    }
    table
}

fn named_sums<'r>(sums: impl Iterator<Item = (&'r str, &'r str)>) -> Table {
    let mut table = Table::new([("", Stand::Left), ("Amount", Stand::Point)]);
    for (name, amount) in sums {
        table.row(vec![name.to_owned(), number(amount)]);
    }
    table
}

fn went_to(report: &YearReport) -> Table {
    let rows = &report.cost_of_goods.rows;
    named_sums(rows.iter().map(|row| (row.name.as_str(), row.amount.as_str())))
}

fn schedules(sheet: &mut Sheet, report: &YearReport) {
    let schedules = &report.schedules;
    equipment(sheet, schedules);
    let mut miles = Table::new([("", Stand::Left), ("", Stand::Point)]);
    miles.row(vec!["Miles of the year".to_owned(), number(&schedules.mileage.miles)]);
    for rate in &schedules.mileage.rates {
        miles.row(vec![format!("Rate {}", rate.name), number(&rate.amount)]);
    }
    if !schedules.mileage.rates.is_empty() || is_zero(&schedules.mileage.miles) {
        miles.row(vec!["Miles times rate".to_owned(), number(&schedules.mileage.amount)]);
    }
    sheet.table("Miles driven", miles);
    if let Some(home) = &schedules.home_workshop {
        let sums = [("Before the limit", home.before_limit.as_str()), ("What counts", home.amount.as_str())];
        sheet.table(&format!("Home workshop, {}", home.method), named_sums(sums.into_iter()));
    }
    let mut taxes = Table::new([
        ("To", Stand::Left),
        ("Period", Stand::Left),
        ("Owed at start", Stand::Point),
        ("Collected", Stand::Point),
        ("Given back", Stand::Point),
        ("Paid over", Stand::Point),
        ("Allowance kept", Stand::Point),
        ("Owed", Stand::Point),
        ("By channels", Stand::Point),
    ]);
    for row in &schedules.sales_tax {
        let mut cells = vec![if row.to.is_empty() { "own account".to_owned() } else { row.to.clone() }, row.period.clone()];
        cells.extend(
            [
                &row.owed_before,
                &row.collected,
                &row.refunded,
                &row.paid_over,
                &row.allowed,
                &row.owed,
                &row.collected_by_channels,
            ]
            .map(|figure| number(figure)),
        );
        taxes.row(cells);
    }
    sheet.table("Sales tax", taxes);
    if !schedules.self_employment.lines.is_empty() {
        sheet.table("Self-employment tax", form_lines("On the form", schedules.self_employment.lines.iter()));
    }
}

fn questions(sheet: &mut Sheet, report: &YearReport) {
    let (open, answered): (Vec<_>, Vec<_>) = report.open_questions.iter().partition(|question| question.answer.is_none());
    sheet.heading("Open questions");
    if open.is_empty() {
        sheet.item("none");
    } else {
        sheet.item(&how_to_answer(report.year));
    }
    for question in open {
        sheet.item(&question.question);
        sheet.item(&format!("  {} ({})", question.rule, question.source));
        sheet.item(&format!("  to answer: {}", question.answer_with));
        if !question.answer_with.contains(&question.name) {
            sheet.item(&format!("  its name: {}", question.name));
        }
        if !question.entries.is_empty() {
            sheet.item(&format!("  {}", question.entries.join(", ")));
        }
    }
    if answered.is_empty() {
        return;
    }
    sheet.heading("Questions that the book answers");
    for question in answered {
        sheet.item(&question.question);
        sheet.item(&format!("  answered: {}", question.answer.as_deref().unwrap_or_default()));
        sheet.item(&format!("  its name: {}", question.name));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    #[test]
    fn the_caution_and_the_form_s_year_come_before_any_line() {
        let text = text_year(&made_up::year(), Look::default());
        let caution = text
            .find("A worksheet, not advice: its lines and rates are data for Schedule C (Form 1040), tax year 2026")
            .expect("the caution");
        let preparer = text.find("licensed preparer").expect("where to turn");
        let lines = text.find("The form's lines").expect("the lines");
        assert!(caution < preparer && preparer < lines);
    }

    #[test]
    fn an_empty_part_is_said_to_be_empty() {
        assert!(text_year(&made_up::year(), Look::default()).contains("  Deposits: empty, no deposit was open\n"));
    }
}

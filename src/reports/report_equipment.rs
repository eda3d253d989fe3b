//! Fills the tools of the tax year's report: each with its ten steps and its whole life, and those that left.
//!
//! In: a tax year's tools, to the cent. Out: rows of text; of several tools on one line each has its own, but for those that count at once
//! together. Rounds nothing.

use crate::reports::period::{money_text, quantity_text};
use crate::reports::{EquipmentLifeYear, EquipmentRow, EquipmentStep, ToolGoneRow};
use crate::year::{Books, SumOf, TaxLine, TaxYear, ToolYear};

/// A tool's row. `None` where a figure is too large.
pub(crate) fn equipment_row(books: Books<'_>, year: &TaxYear, tool: &ToolYear) -> Option<EquipmentRow> {
    let named = &books.book.tool(tool.tool).named;
    let line = tool.feed.and_then(|feed| {
        let has = |line: &&TaxLine| line.sums.iter().any(|sum| sum.of == SumOf::Feed(feed));
        year.lines.iter().find(has)
    });
    let this_year = tool.amount.checked_add(tool.section_179)?;
    Some(EquipmentRow {
        name: named.name.clone(),
        title: named.title.clone(),
        in_use_from: tool.in_use_from.to_string(),
        count: quantity_text(tool.count),
        of_line: match tool.of_line {
            (_, 1) => String::new(),
            (nth, of) => format!("{nth} of {of}"),
        },
        cost: money_text(books.book, tool.cost),
        business_use: quantity_text(tool.business_use),
        method: tool.method.clone(),
        this_year: money_text(books.book, this_year),
        left: money_text(books.book, tool.left),
        line: line.map_or_else(String::new, |line| line.number.clone()),
        steps: (1..)
            .zip(&tool.steps)
            .map(|(nth, one)| EquipmentStep {
                step: nth,
                name: one.step.name().to_owned(),
                how: one.how.clone(),
                amount: one.amount.map(|amount| money_text(books.book, amount)),
            })
            .collect(),
        life: (tool.life.iter())
            .map(|one| EquipmentLifeYear {
                year: one.year,
                at_once: money_text(books.book, one.at_once),
                bonus: money_text(books.book, one.bonus),
                table: money_text(books.book, one.table),
                left: money_text(books.book, one.left),
            })
            .collect(),
    })
}

/// The row of a tool that left in the year; `None` of one that did not, and of one for which the form asks: its gain is not known.
pub(crate) fn tool_gone(books: Books<'_>, tool: &ToolYear) -> Option<ToolGoneRow> {
    let gone = tool.disposed.filter(|_| !tool.asked)?;
    let named = &books.book.tool(tool.tool).named;
    Some(ToolGoneRow {
        name: named.name.clone(),
        title: named.title.clone(),
        in_use_from: tool.in_use_from.to_string(),
        date: gone.date.to_string(),
        proceeds: money_text(books.book, gone.proceeds),
        business_proceeds: money_text(books.book, gone.business_proceeds),
        business_cost: money_text(books.book, gone.business_cost),
        recovered: money_text(books.book, gone.recovered),
        gain: gone.gain.map(|gain| money_text(books.book, gain)),
    })
}

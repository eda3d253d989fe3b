//! Slips of the lines below `expense`, `income` and `tool`: the form's line, the part that is business, how a tool's cost becomes an expense.

use super::super::slip::Slip;
use super::super::typed::{Typed, is_digits};
use super::said::Said;
use crate::syntax::DefinitionWord;

/// `schedule c line 22`, `60% business`, `overhead`, `150 per month`
pub(super) fn line_of_expense(typed: &Typed<'_>) -> Option<Slip> {
    let expense = Said::of(typed, DefinitionWord::Expense);
    let said = expense.or_else(|| Said::of(typed, DefinitionWord::Income))?;
    let last = said.last();
    let is_line = last.strip_suffix(|letter: char| letter.is_ascii_lowercase()).is_some_and(is_digits) || is_digits(last);
    if said.begins(&["line", "schedule", "form", "tax", "box", "category"]) && (is_line || last == "other") {
        return said.meant("on which line of the form it goes is said with `form line`", format!("form line {last}"));
    }
    if typed.definition() == Some(DefinitionWord::Income) {
        return None;
    }
    if let Some(percent) = said.percent() {
        let used = said.has(&["business", "use", "work", "shop", "deductible", "used", "part"]);
        return used
            .then(|| said.meant("the part that is business is said with `business use`", format!("business use {percent}")))?;
    }
    if said.figure().is_some() || said.has(&["monthly", "yearly", "annual", "weekly"]) {
        return Some(said.said_elsewhere(
            "what is paid, and when, is no part of the definition: each bill is an entry",
            "as in `bought 2026-03-02 from \"Barn Lane Lettings\"`, and below it `150.00 for rent`",
        ));
    }
    if said.has(&["overhead"]) {
        return said.meant("that it is a part of the overhead is `counts as overhead`", "counts as overhead");
    }
    let of_house = said.has(&["house", "home"]) && said.begins(&["house", "home", "counts", "household"]);
    of_house.then(|| said.meant("that it is a cost of the whole house is `counts as house cost`", "counts as house cost"))?
}

/// `in use 2026-03-02`, `life 7 years`, `used 90% for business`, `section 179`, `cost 900`
pub(super) fn line_of_tool(typed: &Typed<'_>) -> Option<Slip> {
    let said = Said::of(typed, DefinitionWord::Tool)?;
    if let Some(date) = typed.words.iter().find(|word| word.is_date()) {
        return said.meant("since when it is used is said with `in use from`", format!("in use from {}", date.text));
    }
    if let Some(percent) = said.percent() {
        return said.meant("the part that is business is said with `business use`", format!("business use {percent}"));
    }
    if said.has(&["179"]) {
        let amount = said.last();
        let line = match amount != "179" && said.figure().is_some() && amount.contains('.') {
            true => format!("expensed under section 179 {amount}"),
            false => "expensed under section 179".to_owned(),
        };
        return said.meant("this is written `expensed under section 179`", line);
    }
    if said.begins(&["expensed", "expense", "write-off", "written", "deducted", "deduct"]) && said.figure().is_none() {
        return said.meant("all of it in its first year is `expensed at once`", "expensed at once");
    }
    let figure = said.figure()?;
    if said.has(&["years", "year", "yr", "yrs"]) || said.begins(&["lasts", "life", "lifetime"]) {
        let recovered = format!("recovered over {figure} years");
        let lasts = format!("lasts {figure} years");
        let by_rule = ["depreciated", "depreciation", "depreciate", "recovered", "recover", "recovery", "macrs", "written"];
        return match () {
            () if said.begins(&by_rule) => said.meant("over how many years its cost is recovered for the tax", recovered),
            () if said.begins(&["lasts", "life", "lifetime", "good"]) => {
                said.meant("how long it lasts, for what things really cost", lasts)
            }
            () => {
                let told = said.told("years of what?");
                Some(
                    told.fix("over which the tax form recovers its cost", recovered)
                        .fix("that it lasts, for what things really cost", lasts),
                )
            }
        };
    }
    said.begins(&["cost", "costs", "price", "paid", "value", "worth"]).then(|| {
        said.said_elsewhere(
            "what a tool cost is no part of its definition: it is bought",
            "as in `bought 2026-03-28 from \"Hall Machinery\"`, and below it `1 NAME for 900.00`",
        )
    })
}

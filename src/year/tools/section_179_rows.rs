//! Section 179 as the limits allow it, in the rows of the tools: what was elected, what of it counts this year, and what is carried.
//!
//! Takes the rows as they are before the limits that all tools share, and what each tool has of what these allow. What is carried of
//! a tool that leaves goes back to its cost, which is asked about.

use chrono::Datelike;

use crate::units::Fixed6;
use crate::year::Rule;
use crate::year::books::BooksOfYear;
use crate::year::questions::Questions;
use crate::year::tax_year::ToolYear;
use crate::year::tools::equipment::OneTool;
use crate::year::tools::section_179::{Allowed, Taken};
use crate::year::tools::tool_steps::Step;

/// Puts into the rows what the limits allow. `None` on overflow.
pub(crate) fn put_into_rows(
    of: &BooksOfYear<'_>,
    allowed: &Allowed,
    rows: &mut [ToolYear],
    questions: &mut Questions,
) -> Option<()> {
    for row in rows.iter_mut() {
        let Some(taken) = allowed.tools.get(&row.account) else { continue };
        let is_first = row.in_use_from.year() == of.year;
        if !is_first {
            row.before = row.before.checked_sub(taken.elected)?.checked_add(taken.before)?;
        }
        row.section_179 = taken.now;
        row.carried = taken.carried;
        let not_yet = taken.elected.checked_sub(taken.before)?.checked_sub(taken.now)?;
        row.left = row.left.checked_add(not_yet)?;
        if let Some(step) = row.steps.iter_mut().find(|one| one.step == Step::Section179) {
            if is_first && !not_yet.is_zero() {
                step.how = format!("{}{}", step.how, allowed_in_words(of, taken));
            } else if !is_first && taken.before != taken.elected {
                step.how = carried_in_words(of, row.in_use_from.year(), taken);
            }
            step.amount = Some(taken.now).filter(|now| is_first || now.is_positive());
        }
        if row.disposed.is_some() {
            dispose_again(of, row, taken, questions)?;
        }
    }
    Some(())
}

/// What of an election of this year counts.
fn allowed_in_words(of: &BooksOfYear<'_>, taken: &Taken) -> String {
    let mut words = format!(", {} elected; this year's limits allow {}", of.money(taken.elected), of.money(taken.now));
    if taken.carried.is_positive() {
        words.push_str(&format!(", {} is carried", of.money(taken.carried)));
    }
    if taken.beyond.is_positive() {
        words.push_str(&format!(", {} is beyond the limit of the year and not carried", of.money(taken.beyond)));
    }
    words
}

/// What of an earlier year's election counts.
fn carried_in_words(of: &BooksOfYear<'_>, first: i32, taken: &Taken) -> String {
    let mut words =
        format!("{} elected in {first}, {} of it deducted before this year", of.money(taken.elected), of.money(taken.before));
    if taken.given_back.is_positive() {
        words.push_str(&format!("; {} was carried and goes back to its cost, as it left", of.money(taken.given_back)));
    } else if taken.now.is_positive() || taken.carried.is_positive() {
        words.push_str(&format!("; {} counts this year, {} is carried", of.money(taken.now), of.money(taken.carried)));
    }
    words
}

/// The sale by what was really deducted, and the question of what was still carried.
fn dispose_again(of: &BooksOfYear<'_>, row: &mut ToolYear, taken: &Taken, questions: &mut Questions) -> Option<()> {
    let Some(one) = OneTool::at(of, row.account) else { return Some(()) };
    row.steps.retain(|step| step.step != Step::Gain);
    one.dispose(row, questions)?;
    row.close_steps();
    row.left = Fixed6::ZERO;
    if !taken.given_back.is_positive() {
        return Some(());
    }
    let (name, title) = (&one.tool.named.name, &one.tool.named.title);
    let question = format!(
        "{} of section 179 of `{title}` was still carried when it left: it went back to its cost and is carried no more; is that right?",
        of.money(taken.given_back)
    );
    questions.ask(
        &format!("{name}/sold-with-carry"),
        question,
        Rule::Section179Sold,
        "answered …, by a preparer",
        vec![row.line],
    );
    Some(())
}

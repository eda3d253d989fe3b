//! A derivation as text: paid and full cost at the left, the steps indented below each other, and the line of the book that says them.

use super::figures::typed;
use super::sheet::{Look, Sheet};
use crate::render::answer::answer_why;
use crate::render::number_format::Shown;
use crate::reports::{WhyMeasure, WhyReport, WhyRule, WhyStep};

/// Renders a derivation.
#[must_use]
pub fn text_why(report: &WhyReport, look: Look) -> String {
    let mut sheet = Sheet::open(look, &format!("Why {}?", report.figure), &report.head, &answer_why(report, Shown::Terminal));
    let mut rows = Vec::new();
    for step in &report.steps {
        gather(step, 0, &mut rows);
    }
    if rows.is_empty() {
        return sheet.close();
    }
    let paid = Column::of(&rows, |step| &step.paid);
    if report.measure != WhyMeasure::PaidAndFull {
        sheet.heading(&paid.heading(match report.measure {
            WhyMeasure::Minutes => "minutes",
            WhyMeasure::Units => "number",
            WhyMeasure::Money | WhyMeasure::PaidAndFull => "amount",
        }));
        for (level, step) in rows {
            let lead = format!("{}  {}", paid.cell(&step.paid), "  ".repeat(level));
            sheet.hung(&lead, &words(step), &place(step));
        }
        return sheet.close();
    }
    let full = Column::of(&rows, |step| &step.full);
    sheet.heading(&format!("{}  {}", paid.heading("paid"), full.heading("full")));
    for (level, step) in rows {
        let lead = format!("{}  {}  {}", paid.cell(&step.paid), full.cell(&step.full), "  ".repeat(level));
        sheet.hung(&lead, &words(step), &place(step));
    }
    sheet.close()
}

/// How wide a column of figures is, before and after the point.
#[derive(Clone, Copy)]
struct Column {
    before: usize,
    after: usize,
}

impl Column {
    fn of(rows: &[(usize, &WhyStep)], figure: fn(&WhyStep) -> &str) -> Self {
        let parts = rows.iter().map(|(_, step)| figure(step).split_once('.').unwrap_or((figure(step), "")));
        let (mut before, mut after) = (2, 2);
        for (whole, rest) in parts {
            before = before.max(whole.len());
            after = after.max(rest.len());
        }
        Self { before, after }
    }

    fn heading(self, words: &str) -> String {
        format!("{words:>0$}", self.before.saturating_add(self.after).saturating_add(1))
    }

    /// A figure with its point in line.
    fn cell(self, figure: &str) -> String {
        let (whole, rest) = figure.split_once('.').unwrap_or((figure, ""));
        let point = if rest.is_empty() { ' ' } else { '.' };
        format!("{whole:>0$}{point}{rest:<1$}", self.before, self.after)
    }
}

fn gather<'r>(step: &'r WhyStep, level: usize, rows: &mut Vec<(usize, &'r WhyStep)>) {
    rows.push((level, step));
    for below in &step.steps {
        gather(below, level.saturating_add(1), rows);
    }
}

/// A step in words: what it is, and how the steps below belong to it.
fn words(step: &WhyStep) -> String {
    let unit = match (step.measure, step.unit.as_deref()) {
        (Some(WhyMeasure::Minutes), _) => "min, ",
        (Some(WhyMeasure::Units), Some(unit)) => &format!("{unit}, "),
        _ => "",
    };
    let how = match step.rule {
        WhyRule::SumOf => ", the sum of",
        WhyRule::PartOf => ", a part of",
        WhyRule::PerUnit => ", the whole over the units",
        WhyRule::Figured => ", from",
        WhyRule::Said => "",
        WhyRule::Above => ", as above",
        WhyRule::Deeper if step.figure.is_none() => ", and so on: `--deep` tells it",
        WhyRule::Deeper => "",
    };
    let is_of_steps = matches!(step.rule, WhyRule::SumOf | WhyRule::PartOf | WhyRule::PerUnit | WhyRule::Figured);
    let how = if step.steps.is_empty() && is_of_steps { "" } else { how };
    format!("{unit}{}{how}", step.says)
}

/// Where the book says it, and what to ask to go on.
fn place(step: &WhyStep) -> String {
    let at = step.at.as_ref().map(|at| format!("[{}:{}] {}", at.file, at.line, narrowed(&at.text)));
    let on =
        step.figure.as_ref().filter(|_| step.rule == WhyRule::Deeper).map(|figure| format!("> kerfbook why {}", typed(figure)));
    [at, on].into_iter().flatten().collect::<Vec<_>>().join("  ")
}

/// A line of the book without the wide gap before its comment.
fn narrowed(line: &str) -> String {
    match line.split_once("   ") {
        Some((said, rest)) if rest.trim_start().starts_with('#') => format!("{said}  {}", rest.trim_start()),
        _ => line.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use unicode_width::UnicodeWidthStr;

    use super::*;
    use crate::render::made_up;

    #[test]
    fn a_derivation_is_no_wider_than_its_terminal_save_for_its_figures() {
        for width in [60, 80, 120] {
            let look = Look { width, table_width: Some(width), ..Look::default() };
            let text = text_why(&made_up::why(), look);
            let widest = text.lines().filter(|line| line.contains(' ')).map(UnicodeWidthStr::width).max();
            assert!(widest <= Some(width), "{width}: {text}");
        }
    }

    #[test]
    fn without_a_width_each_step_is_one_line() {
        let text = text_why(&made_up::why(), Look::default());
        assert!(text.lines().any(|line| line.contains("[") && line.contains("] ")), "{text}");
    }
}

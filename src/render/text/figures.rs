//! What can be asked of a book as text: by the questions of the reports, each kind with how its names are formed and with examples of this book.

use super::number;
use super::sheet::{Look, Sheet};
use crate::render::answer::answer_figures;
use crate::render::number_format::Shown;
use crate::reports::{FigureRow, FiguresReport};

/// The question with which the list opens.
pub(crate) const FIGURES_ASKED: &str = "What can be asked?";

/// Renders the list.
#[must_use]
pub fn text_figures(report: &FiguresReport, look: Look) -> String {
    let mut sheet = Sheet::open(look, FIGURES_ASKED, &report.head, &answer_figures(report, Shown::Terminal));
    let mut question = "";
    for group in &report.groups {
        if group.question != question {
            sheet.heading(&group.question);
            question = &group.question;
        }
        sheet.item(&format!("{}: {}", group.form, group.tells));
        for row in &group.rows {
            sheet.line(&format!("    kerfbook why {}", words(row)));
        }
        if report.begins.is_none() && group.count > group.rows.len() {
            sheet.line(&format!("    {} in all: `kerfbook why {}` lists them", number(&group.count.to_string()), group.kind));
        }
        if group.more > 0 {
            sheet.line(&format!(
                "    and {} more: say how the name goes on, as in `kerfbook why {}`",
                number(&group.more.to_string()),
                group.rows.last().map_or(group.kind.as_str(), |row| row.figure.as_str()),
            ));
        }
    }
    sheet.close()
}

/// A name, with how many begin so.
fn words(row: &FigureRow) -> String {
    match (row.is_figure, row.count) {
        (true, 1) => row.figure.clone(),
        (true, count) => format!("{}  and {} that begin so", row.figure, number(&count.saturating_sub(1).to_string())),
        (false, count) => format!("{}/  {} that begin so", row.figure, number(&count.to_string())),
    }
}

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
    }
    sheet.close()
}

/// A figure's name as it is typed after `kerfbook why`: in quotes where a shell would take it apart or take a sign of it for its own.
pub(crate) fn typed(figure: &str) -> String {
    let is_plain = |sign: char| sign.is_ascii_alphanumeric() || "/-_.,:+@%".contains(sign) || sign.is_alphabetic();
    match figure.chars().all(is_plain) && !figure.is_empty() {
        true => figure.to_owned(),
        false => format!("'{}'", figure.replace('\'', "'\\''")),
    }
}

/// A name, with how many begin so.
fn words(row: &FigureRow) -> String {
    match (row.is_figure, row.count) {
        (true, 1) => typed(&row.figure),
        (true, count) => format!("{}  and {} that begin so", typed(&row.figure), number(&count.saturating_sub(1).to_string())),
        (false, count) => format!("{}  {} that begin so", typed(&format!("{}/", row.figure)), number(&count.to_string())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_that_a_shell_would_take_apart_stands_in_quotes() {
        assert_eq!(typed("cost/pull-cart/2026"), "cost/pull-cart/2026");
        assert_eq!(typed("stock/crème"), "stock/crème");
        assert_eq!(typed("order/Big fair"), "'order/Big fair'");
        assert_eq!(typed("order/Ann's $5"), "'order/Ann'\\''s $5'");
    }
}

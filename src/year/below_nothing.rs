//! Lines of the cost of goods that come to less than nothing: what made them so.
//!
//! What leaves for the owner, the shop or as a gift is taken off the purchases also where it was in the opening stock, so a year in which
//! little was bought may have such a line. It is right, and a preparer will ask.

use crate::units::Fixed6;
use crate::year::books::BooksOfYear;
use crate::year::tax_year::TaxLine;

/// A note for each such line of the part in which the cost of goods stands. `None` on overflow.
pub(crate) fn notes_on_lines_below_nothing(of: &BooksOfYear<'_>, lines: &[TaxLine]) -> Option<Vec<String>> {
    let part = of.form.cost_of_goods.and_then(|at| of.form.lines.get(at)).map(|line| line.part.as_str());
    let mut notes = Vec::new();
    for (line, _) in lines.iter().zip(&of.form.lines).filter(|(_, of_form)| Some(of_form.part.as_str()) == part) {
        if line.cents.is_negative() {
            let why = if line.adds.is_empty() { of_sums(of, line)? } else { of_lines(of, line, lines) };
            notes.push(format!("line {} comes to {}, less than nothing: {why}", line.number, of.money(line.cents)));
        }
    }
    Some(notes)
}

/// What is taken off a line against what was added to it.
fn of_sums(of: &BooksOfYear<'_>, line: &TaxLine) -> Option<String> {
    let (off, on): (Vec<_>, Vec<_>) = line.sums.iter().partition(|sum| sum.amount.is_negative());
    let off: Vec<String> = off.iter().map(|sum| format!("{} ({})", sum.name, of.money(sum.amount))).collect();
    let on = Fixed6::checked_sum(on.iter().map(|sum| sum.amount))?;
    Some(format!("{} is more than the {} that was added", off.join(", "), of.money(on)))
}

/// The lines that it adds and takes off, where they are not zero.
fn of_lines(of: &BooksOfYear<'_>, line: &TaxLine, lines: &[TaxLine]) -> String {
    let parts = line.adds.iter().filter_map(|(plus, at)| Some((plus, lines.get(*at)?)));
    let parts = parts.filter(|(_, part)| !part.cents.is_zero());
    let word = |plus: bool| if plus { "plus" } else { "less" };
    let parts: Vec<String> =
        parts.map(|(plus, part)| format!("{} line {} of {}", word(*plus), part.number, of.money(part.cents))).collect();
    format!("it is {}", parts.join(", "))
}

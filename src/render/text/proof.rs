//! The proof as text: a column a component, a row a source or way out.

use std::collections::BTreeMap;

use super::number;
use super::sheet::{Look, Sheet};
use super::table::{Stand, Table};
use crate::render::answer::answer_proof;
use crate::render::html::Question;
use crate::render::number_format::Shown;
use crate::render::spoken::spoken;
use crate::reports::{ProofComponent, ProofReport};

/// Renders the proof.
#[must_use]
pub fn text_proof(report: &ProofReport, look: Look) -> String {
    let answer = answer_proof(report, Shown::Terminal);
    let mut sheet = Sheet::open(look, Question::Proof.asked(), &report.head, &answer);
    sheet.paragraph(&report.line);
    sheet.table("The whole book", period(&report.components));
    if report.years.len() > 1 {
        for (year, components) in &report.years {
            sheet.table(year, period(components));
        }
    }
    sheet.close()
}

fn period(components: &[ProofComponent]) -> Table {
    let mut columns = vec![("Flow".to_owned(), Stand::Left)];
    columns.extend(components.iter().map(|one| (spoken(&one.name), Stand::Point)));
    let mut table = Table::with_columns(columns);
    for (heading, sums) in
        [("Came in", (|one| &one.came_from) as fn(&ProofComponent) -> &BTreeMap<String, String>), ("Went to", |one| &one.went_to)]
    {
        let mut names: Vec<&str> = components.iter().flat_map(|one| sums(one).keys().map(String::as_str)).collect();
        names.sort_unstable();
        names.dedup();
        table.heading(heading);
        for name in names {
            let amounts = components.iter().map(|one| sums(one).get(name).map_or_else(String::new, |sum| number(sum)));
            table.row(std::iter::once(spoken(name)).chain(amounts).collect());
        }
    }
    let differences = components.iter().map(|one| number(&one.difference));
    table.total(std::iter::once("Difference".to_owned()).chain(differences).collect());
    table
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    #[test]
    fn each_component_has_a_column_that_ends_in_its_difference() {
        let text = text_proof(&made_up::proof(), Look::default());
        let last = text.lines().last().expect("a line");
        assert_eq!(last.split_whitespace().collect::<Vec<_>>(), ["Difference", "0.000000", "0.000000", "0.000000"]);
    }
}

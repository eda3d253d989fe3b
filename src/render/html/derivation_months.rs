//! The months of a long derivation, each told on a page of its own, so that no page grows with all of the book.

use std::collections::BTreeMap;

use minijinja::context;

use super::addresses::table_page;
use super::derivation_rows::{ShownExcerpts, derivation_rows};
use super::page_links::link_value;
use super::sheet_page::MadePage;
use super::{PageError, Pages};
use crate::reports::{Excerpts, ReportHead, WhyReport, WhyStep};

/// Steps that a derivation has where it stands among others; of a longer one the months stand on pages of their own.
const MOST_STEPS: usize = 400;

/// A month of a derivation, on a page of its own.
struct OfMonth {
    file: String,
    /// `2026-03`; with a number where the derivation has it several times.
    month: String,
    told: WhyReport,
}

/// The months of a page's derivations that stand apart.
pub(super) struct Apart {
    /// Of each derivation the pages of its months.
    pub(super) files: Vec<BTreeMap<String, String>>,
    months: Vec<OfMonth>,
}

impl Apart {
    /// Takes the months out of the long ones of a page's derivations, which lead nowhere yet.
    pub(super) fn of(told: &mut [WhyReport], page: &str) -> Self {
        let mut months = Vec::new();
        let files = (1_usize..).zip(told).map(|(number, one)| months_apart(one, page, number, &mut months)).collect();
        Self { files, months }
    }
}

impl Pages {
    /// The months of a page's derivations, each a page, which leads back to where the whole is told.
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub(super) fn render_months(
        &self,
        apart: &Apart,
        title: &str,
        page: &str,
        head: &ReportHead,
        excerpts: &Excerpts<'_>,
    ) -> Result<Vec<MadePage>, PageError> {
        let mut made = Vec::with_capacity(apart.months.len());
        for OfMonth { file, month, told } in &apart.months {
            let links = self.links_of(file);
            let shown = ShownExcerpts::of(&excerpts.of_steps(&told.steps, []));
            let rows = vec![derivation_rows(told, None, &links, &shown, &BTreeMap::new())];
            let whole = links.figure(&told.figure).or_else(|| links.file(page));
            let words = |text: &str| context! { text, is_figure => false, link => "" };
            let whole = context! { link => link_value(whole), ..words(&told.figure) };
            let answer = vec![words(&format!("{month}, one month of ")), whole, words(".")];
            let own = context! { answer, derivations => rows, excerpts => shown.values() };
            made.push((file.clone(), self.site_page("why.html", file, head, &format!("{title}, {month}"), own)?));
        }
        Ok(made)
    }
}

/// Takes the months out of a long derivation, that of a number on its page, and puts them to the others. Gives the page of each.
fn months_apart(told: &mut WhyReport, page: &str, number: usize, others: &mut Vec<OfMonth>) -> BTreeMap<String, String> {
    let mut files = BTreeMap::new();
    if told.steps.iter().map(count).sum::<usize>() <= MOST_STEPS {
        return files;
    }
    let (head, figure, measure) = (told.head.clone(), told.figure.clone(), told.measure);
    let mut waiting: Vec<&mut WhyStep> = told.steps.iter_mut().rev().collect();
    while let Some(step) = waiting.pop() {
        let Some(month) = step.month.clone().filter(|_| !step.steps.is_empty()) else {
            waiting.extend(step.steps.iter_mut().rev());
            continue;
        };
        let (mut name, mut again) = (month.clone(), 2_usize);
        while files.contains_key(&name) {
            name = format!("{month}-{again}");
            again = again.saturating_add(1);
        }
        let file = table_page(page, &format!("months-{number}"), &name);
        files.insert(name.clone(), file.clone());
        step.month = Some(name.clone());
        let whole = WhyStep { month: None, ..step.clone() };
        step.steps.clear();
        let told = WhyReport { head: head.clone(), figure: figure.clone(), answer: name.clone(), measure, steps: vec![whole] };
        others.push(OfMonth { file, month: name, told });
    }
    files
}

/// How many steps stand in a step, with itself.
fn count(step: &WhyStep) -> usize {
    step.steps.iter().map(count).sum::<usize>().saturating_add(1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    fn told_by_months(steps_of_each: usize) -> WhyReport {
        let mut told = made_up::why();
        let entry = WhyStep { steps: Vec::new(), ..told.steps[0].clone() };
        let month = |month: &str| {
            let steps = vec![entry.clone(); steps_of_each];
            WhyStep { month: Some(month.to_owned()), figure: None, steps, ..entry.clone() }
        };
        told.steps = vec![month("2026-01"), month("2026-02"), month("2026-02")];
        told
    }

    #[test]
    fn a_long_derivation_has_each_of_its_months_on_a_page_of_its_own() {
        let mut told = [told_by_months(MOST_STEPS), told_by_months(1)];
        let apart = Apart::of(&mut told, "thing/oak.html");
        let files: Vec<&str> = apart.months.iter().map(|one| one.file.as_str()).collect();
        assert_eq!(
            files,
            ["thing/oak.months-1-2026-01.html", "thing/oak.months-1-2026-02.html", "thing/oak.months-1-2026-02-2.html"]
        );
        assert!(
            told[0]
                .steps
                .iter()
                .all(|month| month.steps.is_empty() && apart.files[0].contains_key(month.month.as_ref().expect("one")))
        );
        assert!(apart.months.iter().all(|one| one.told.steps[0].steps.len() == MOST_STEPS));
        assert!(apart.files[1].is_empty() && told[1].steps.iter().all(|month| month.steps.len() == 1));
    }
}

//! Excerpts: the lines of the book at which derivations end, each with the head of its entry.
//!
//! Only text that was read as the book's is shown, and a line once, however many leaves name it.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::sheet::SheetPlace;
use crate::reports::WhyStep;
use crate::sources::SourceSet;

/// A line of an excerpt.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ExcerptLine {
    /// Its number in its file, from 1.
    pub number: usize,
    /// Its text, as it stands there.
    pub text: String,
    /// Whether a leaf names it; else it is the head of such a line's entry.
    pub is_named: bool,
    /// Whether lines between it and the one above are left out.
    pub after_gap: bool,
}

/// An entry, or what of it is named.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Excerpt {
    /// The file, below the book's folder.
    pub file: String,
    /// Its lines.
    pub lines: Vec<ExcerptLine>,
}

/// The book's text by file and line.
#[derive(Debug)]
pub struct Excerpts<'s> {
    files: BTreeMap<&'s str, Vec<&'s str>>,
}

impl<'s> Excerpts<'s> {
    /// Finds the lines of all files.
    #[must_use]
    pub fn of(sources: &'s SourceSet) -> Self {
        let lines = |file: &crate::sources::SourceFile| sources.text(file.span).lines().collect();
        Self { files: sources.files().iter().map(|file| (file.path.as_str(), lines(file))).collect() }
    }

    /// The excerpts that hold the lines at which derivations end, and those that cells are said by, in the order of the files.
    #[must_use]
    pub fn of_steps<'w>(
        &self,
        steps: impl IntoIterator<Item = &'w WhyStep>,
        cells: impl IntoIterator<Item = &'w SheetPlace>,
    ) -> Vec<Excerpt> {
        let mut named: BTreeSet<(&str, usize)> = BTreeSet::new();
        named.extend(cells.into_iter().map(|place| (place.file.as_str(), place.line)));
        let mut waiting: Vec<&WhyStep> = steps.into_iter().collect();
        while let Some(step) = waiting.pop() {
            if let Some(place) = &step.at {
                named.insert((place.file.as_str(), place.line));
            }
            waiting.extend(&step.steps);
        }
        let mut excerpts: Vec<(usize, Excerpt)> = Vec::new();
        for (file, line) in named {
            let Some(head) = self.head_of(file, line) else { continue };
            if excerpts.last().is_none_or(|(last, one)| one.file != file || *last != head) {
                excerpts.push((head, Excerpt { file: file.to_owned(), lines: Vec::new() }));
            }
            let Some((_, excerpt)) = excerpts.last_mut() else { continue };
            if excerpt.lines.is_empty() && head != line {
                excerpt.lines.push(self.line(file, head, 0, false));
            }
            let last = excerpt.lines.last().map_or(0, |one| one.number);
            excerpt.lines.push(self.line(file, line, last, true));
        }
        excerpts.into_iter().map(|(_, excerpt)| excerpt).collect()
    }

    fn line(&self, file: &str, number: usize, last: usize, is_named: bool) -> ExcerptLine {
        let text = self.files.get(file).and_then(|lines| lines.get(number.checked_sub(1)?)).copied().unwrap_or("");
        ExcerptLine {
            number,
            text: text.trim_end().to_owned(),
            is_named,
            after_gap: last != 0 && last.saturating_add(1) != number,
        }
    }

    /// The line at which the entry of a line begins: the last that is not set in. A line of no file has none.
    fn head_of(&self, file: &str, line: usize) -> Option<usize> {
        let lines = self.files.get(file)?;
        let above = lines.get(..line)?;
        let is_head = |text: &&str| !text.starts_with([' ', '\t', '#']) && !text.is_empty();
        Some(above.iter().rposition(is_head).map_or(line, |before| before.saturating_add(1)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reports::{WhyPlace, WhyRule};

    fn leaf(line: usize) -> WhyStep {
        let at = Some(WhyPlace { file: "a.kerf".to_owned(), line, text: String::new() });
        WhyStep {
            says: String::new(),
            paid: "0.00".to_owned(),
            full: "0.00".to_owned(),
            measure: None,
            unit: None,
            rule: WhyRule::Said,
            figure: None,
            month: None,
            at,
            steps: Vec::new(),
        }
    }

    #[test]
    fn a_line_is_shown_once_below_the_head_of_its_entry() {
        let mut sources = SourceSet::default();
        let text =
            "# March\nbought 2026-03-02 from yard\n    1 bf oak for 2.00\n    freight 1.00\n    total 3.00\n\nnoted 2026-03-03\n";
        sources.add("a.kerf", text).expect("short");
        let excerpts = Excerpts::of(&sources);
        let steps = [leaf(5), leaf(3), leaf(5), leaf(7), leaf(99)];
        let shown: Vec<Vec<(usize, bool, bool)>> = excerpts
            .of_steps(&steps, [])
            .iter()
            .map(|one| one.lines.iter().map(|line| (line.number, line.is_named, line.after_gap)).collect())
            .collect();
        assert_eq!(shown, [vec![(2, false, false), (3, true, false), (5, true, true)], vec![(7, true, false)]]);
    }
}

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
    /// Whether a leaf names it; else it is the head of such a line's entry, or stands in it.
    pub is_named: bool,
    /// Whether it is the head of its entry, which no leaf names.
    pub is_head: bool,
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

/// An entry of more lines is not shown whole.
const MOST_LINES: usize = 40;

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
        self.found(steps, cells).into_iter().map(|(_, excerpt)| excerpt).collect()
    }

    /// The same, with each entry whole that is not longer than forty lines.
    #[must_use]
    pub fn entries_of_steps<'w>(
        &self,
        steps: impl IntoIterator<Item = &'w WhyStep>,
        cells: impl IntoIterator<Item = &'w SheetPlace>,
    ) -> Vec<Excerpt> {
        let mut excerpts = self.found(steps, cells);
        for (head, excerpt) in &mut excerpts {
            self.complete(*head, excerpt);
        }
        excerpts.into_iter().map(|(_, excerpt)| excerpt).collect()
    }

    /// What is named, with the line of each entry's head.
    fn found<'w>(
        &self,
        steps: impl IntoIterator<Item = &'w WhyStep>,
        cells: impl IntoIterator<Item = &'w SheetPlace>,
    ) -> Vec<(usize, Excerpt)> {
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
        excerpts
    }

    /// Adds the lines of an entry that are not named, where it is not too long.
    fn complete(&self, head: usize, excerpt: &mut Excerpt) {
        let end = self.end_of(&excerpt.file, head);
        if end.saturating_sub(head) >= MOST_LINES {
            return;
        }
        let named: BTreeSet<usize> = excerpt.lines.iter().filter(|line| line.is_named).map(|line| line.number).collect();
        let line = |number| ExcerptLine {
            is_head: number == head && !named.contains(&number),
            ..self.line(&excerpt.file, number, 0, named.contains(&number))
        };
        excerpt.lines = (head..=end).map(line).collect();
    }

    /// The last line of the entry that begins at a line: the last that is set in below it and is no comment.
    fn end_of(&self, file: &str, head: usize) -> usize {
        let below = self.files.get(file).and_then(|lines| lines.get(head..)).unwrap_or(&[]);
        let mut end = head;
        for (number, text) in (head.saturating_add(1)..).zip(below) {
            match text.trim_start() {
                "" => {}
                comment if comment.starts_with('#') => {}
                _ if text.starts_with([' ', '\t']) => end = number,
                _ => break,
            }
        }
        end
    }

    fn line(&self, file: &str, number: usize, last: usize, is_named: bool) -> ExcerptLine {
        let text = self.files.get(file).and_then(|lines| lines.get(number.checked_sub(1)?)).copied().unwrap_or("");
        ExcerptLine {
            number,
            text: text.trim_end().to_owned(),
            is_named,
            is_head: !is_named,
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

    #[test]
    fn an_entry_is_shown_whole_where_it_is_not_long() {
        let mut sources = SourceSet::default();
        let long: String = (0..40).map(|_| "    1 cart\n").collect();
        let text = format!(
            "sold 2026-03-02 via web\n    1 cart\n\n    # by mail\n    postage 4.00\n# April\n\nsold 2026-04-01 via web\n{long}"
        );
        sources.add("a.kerf", text.as_str()).expect("short");
        let excerpts = Excerpts::of(&sources);
        let shown: Vec<Vec<(usize, bool, bool)>> = excerpts
            .entries_of_steps(&[leaf(2), leaf(10)], [])
            .iter()
            .map(|one| one.lines.iter().map(|line| (line.number, line.is_named, line.is_head)).collect())
            .collect();
        let first = vec![(1, false, true), (2, true, false), (3, false, false), (4, false, false), (5, false, false)];
        // The second has a head and forty lines.
        assert_eq!(shown, [first, vec![(8, false, true), (10, true, false)]]);
    }
}

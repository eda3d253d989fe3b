//! A file's text in which some lines were written over: what it reads now, and what is different.
//!
//! Every other line stays to the byte, its line break too. A line that becomes several, or none, is told with the line that it was.

use crate::editor::line_ends::{RawLine, line_break, raw_lines};

/// A line as it was, and what stands in its place now.
#[derive(Clone, Debug)]
struct Slot<'t> {
    was: RawLine<'t>,
    now: Option<Vec<String>>,
}

impl Slot<'_> {
    fn count(&self) -> usize {
        self.now.as_ref().map_or(1, Vec::len)
    }
}

/// A file's text with lines that were written over.
#[derive(Clone, Debug)]
pub struct MendedText<'t> {
    mark: &'t str,
    own_break: &'static str,
    slots: Vec<Slot<'t>>,
}

/// Lines next to one another that are different.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hunk {
    /// The first of the lines that were, from 1.
    pub line: usize,
    /// The first of those that stand there now.
    pub line_now: usize,
    /// The lines that were.
    pub was: Vec<String>,
    /// The lines that stand there now.
    pub now: Vec<String>,
}

impl<'t> MendedText<'t> {
    /// A text as it is.
    #[must_use]
    pub fn of(text: &'t str) -> Self {
        let bare = text.strip_prefix('\u{FEFF}').unwrap_or(text);
        let lines = raw_lines(bare);
        let own_break = line_break(&lines);
        let slots = lines.into_iter().map(|was| Slot { was, now: None }).collect();
        Self { mark: text.get(..text.len() - bare.len()).unwrap_or(""), own_break, slots }
    }

    /// Writes over the lines from `first` to `last`, as they are numbered now from 1. `false`, and nothing is done, where there
    /// are no such lines.
    pub fn write_over(&mut self, first: usize, last: usize, lines: &[&str]) -> bool {
        let places: Vec<(usize, usize)> = (first..=last).filter_map(|line| self.place(line)).collect();
        if places.is_empty() || places.len() != last + 1 - first {
            return false;
        }
        let one_for_one = places.len() == lines.len();
        // From the last on, so that what is taken out moves no place that is still to come.
        for (at, (slot, within)) in places.iter().enumerate().rev() {
            let Some(slot) = self.slots.get_mut(*slot) else { continue };
            let now = slot.now.get_or_insert_with(|| vec![slot.was.text.to_owned()]);
            let new: Vec<String> = match (one_for_one, at) {
                (true, at) => lines.get(at).map(|line| (*line).to_owned()).into_iter().collect(),
                (false, 0) => lines.iter().map(|line| (*line).to_owned()).collect(),
                (false, _) => Vec::new(),
            };
            now.splice(*within..=*within, new);
        }
        true
    }

    /// The slot of a line as it is numbered now, and which of its lines it is.
    fn place(&self, line: usize) -> Option<(usize, usize)> {
        let mut left = line.checked_sub(1)?;
        for (at, slot) in self.slots.iter().enumerate() {
            let count = slot.count();
            if left < count {
                return Some((at, left));
            }
            left -= count;
        }
        None
    }

    /// What number a line had before anything was written over.
    #[must_use]
    pub fn line_was(&self, line: usize) -> usize {
        self.place(line).map_or(line, |(slot, _)| slot + 1)
    }

    /// The text as it reads now.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = self.mark.to_owned();
        for slot in &self.slots {
            let end = if slot.was.end.is_empty() && slot.count() > 1 { self.own_break } else { slot.was.end };
            match &slot.now {
                None => text.extend([slot.was.text, slot.was.end]),
                Some(now) => now.iter().for_each(|line| text.extend([line.as_str(), end])),
            }
        }
        text
    }

    /// What is different.
    #[must_use]
    pub fn hunks(&self) -> Vec<Hunk> {
        let mut hunks: Vec<Hunk> = Vec::new();
        let (mut line_now, mut open) = (1, false);
        for (line, slot) in (1..).zip(&self.slots) {
            let changed = slot.now.as_ref().filter(|now| now.as_slice() != [slot.was.text]);
            if let Some(now) = changed {
                if !open {
                    hunks.push(Hunk { line, line_now, was: Vec::new(), now: Vec::new() });
                }
                if let Some(hunk) = hunks.last_mut() {
                    hunk.was.push(slot.was.text.to_owned());
                    hunk.now.extend(now.iter().cloned());
                }
            }
            open = changed.is_some();
            line_now += slot.count();
        }
        hunks
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn other_lines_stay_to_the_byte() {
        let mut text = MendedText::of("\u{FEFF}one\r\ntwo \r\n\r\nthree");
        assert_eq!(text.text(), "\u{FEFF}one\r\ntwo \r\n\r\nthree");
        assert!(text.write_over(4, 4, &["3"]) && text.write_over(2, 2, &["2"]));
        assert_eq!(text.text(), "\u{FEFF}one\r\n2\r\n\r\n3");
        assert!(!text.write_over(5, 5, &["x"]) && !text.write_over(0, 0, &["x"]) && !text.write_over(4, 5, &["x"]));
        let lines: Vec<_> = text.hunks().into_iter().map(|hunk| (hunk.line, hunk.line_now, hunk.was, hunk.now)).collect();
        let own = |line: &str| vec![line.to_owned()];
        assert_eq!(lines, [(2, 2, own("two "), own("2")), (4, 4, own("three"), own("3"))]);
    }

    #[test]
    fn a_line_may_become_several_or_none_and_be_written_over_again() {
        let mut text = MendedText::of("a\nb\nc\nd");
        assert!(text.write_over(2, 2, &["b1", "b2"]));
        assert!(text.write_over(3, 3, &["B2"]));
        assert!(text.write_over(5, 5, &["d1", "d2"]));
        assert_eq!(text.text(), "a\nb1\nB2\nc\nd1\nd2\n");
        assert!(text.write_over(4, 4, &[]));
        assert_eq!(text.text(), "a\nb1\nB2\nd1\nd2\n");
        let hunks = text.hunks();
        assert_eq!((hunks.len(), hunks[0].line, hunks[0].line_now), (1, 2, 2));
        assert_eq!((hunks[0].was.join("|"), hunks[0].now.join("|")), ("b|c|d".to_owned(), "b1|B2|d1|d2".to_owned()));
        let mut back = MendedText::of("a\nb\n");
        assert!(back.write_over(1, 2, &["x", "b"]));
        assert_eq!(back.hunks().len(), 1);
        assert_eq!(back.hunks()[0].was, ["a"]);
    }
}

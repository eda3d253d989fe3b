//! A text as the grammar reads it: squeezed lines, and a map back to the text as written.
//!
//! Blank lines and comments are dropped; an indented line begins with one blank; between words stands one blank, whether blanks,
//! tabs or no-break spaces stood there; a comma of a list is followed by one; curly quotes are straight. Texts within quotes
//! stay. So the grammar matches each form with its words as they are, and every position still finds its place.

/// The longest line that is read, in bytes; a longer one is one [`TOO_LONG`] mark, so that no line can fill the memory.
pub(crate) const LONGEST_LINE: usize = 64 * 1024;

/// What stands for a line that is too long to read.
const TOO_LONG: char = '\u{1}';

/// From a position of the squeezed text on, where that is in the text as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Step {
    squeezed: usize,
    written: usize,
}

/// A squeezed text.
#[derive(Debug, Default)]
pub(crate) struct Squeezed {
    /// The text that is parsed.
    pub(crate) text: String,
    steps: Vec<Step>,
}

/// Squeezes whole lines.
pub(crate) fn squeeze(written: &str) -> Squeezed {
    let mut squeezed = Squeezed { text: String::with_capacity(written.len()), steps: Vec::with_capacity(written.len() / 24) };
    let mut start = 0;
    while start < written.len() {
        let end = written.get(start..).and_then(|rest| rest.find('\n')).map_or(written.len(), |step| start + step);
        squeezed.line(written, start, end);
        start = end + 1;
    }
    squeezed
}

/// Whether a byte may begin something that is squeezed.
fn is_special(byte: u8) -> bool {
    matches!(byte, b' ' | b'\t' | b',' | b'"' | b'#' | 0xC2 | 0xE2)
}

/// How many bytes the blank at a position has; 0 where none stands there.
fn blank_at(bytes: &[u8], at: usize) -> usize {
    match bytes.get(at) {
        Some(b' ' | b'\t') => 1,
        Some(0xC2) if bytes.get(at + 1) == Some(&0xA0) => 2,
        Some(0xE2) if bytes.get(at + 1) == Some(&0x80) && bytes.get(at + 2) == Some(&0xAF) => 3,
        _ => 0,
    }
}

/// How many bytes the quote at a position has; 0 where none stands there.
fn quote_at(bytes: &[u8], at: usize) -> usize {
    match bytes.get(at) {
        Some(b'"') => 1,
        Some(0xE2) if bytes.get(at + 1) == Some(&0x80) && matches!(bytes.get(at + 2), Some(0x9C..=0x9E)) => 3,
        _ => 0,
    }
}

/// The first position from `at` on that is no blank.
fn after_blanks(bytes: &[u8], mut at: usize, end: usize) -> usize {
    while at < end {
        match blank_at(bytes, at) {
            0 => break,
            width => at += width,
        }
    }
    at
}

/// Where a line's comment begins, by the same rules; `None` where it has none. `line` is without line break.
pub(crate) fn comment_in(line: &str) -> Option<usize> {
    let bytes = line.as_bytes();
    let mut at = 0;
    while at < bytes.len() {
        if bytes.get(at) == Some(&b'#') {
            return Some(at);
        }
        let quote = quote_at(bytes, at);
        if quote == 0 {
            at += 1;
            continue;
        }
        let close = (at + quote..bytes.len()).find(|at| quote_at(bytes, *at) > 0)?;
        at = close + quote_at(bytes, close);
    }
    None
}

/// How many bytes of blanks a line begins with.
pub(crate) fn blanks_before(line: &str) -> usize {
    after_blanks(line.as_bytes(), 0, line.len())
}

/// A text without the blanks at its end.
pub(crate) fn without_blanks_behind(text: &str) -> &str {
    text.trim_end_matches([' ', '\t', '\u{a0}', '\u{202f}'])
}

impl Squeezed {
    /// Says that what is squeezed next was written at `written`.
    fn step(&mut self, written: usize) {
        self.steps.push(Step { squeezed: self.text.len(), written });
    }

    /// Squeezes the line from `start` to `end`, its line break aside.
    fn line(&mut self, written: &str, start: usize, end: usize) {
        let bytes = written.as_bytes();
        let mut at = after_blanks(bytes, start, end);
        if at >= end || bytes.get(at) == Some(&b'#') {
            return;
        }
        if at > start {
            self.step(at - 1);
            self.text.push(' ');
        }
        self.step(at);
        if end - start > LONGEST_LINE {
            self.text.push(TOO_LONG);
            self.text.push('\n');
            return;
        }
        let mut copied = at;
        let mut in_number = bytes.get(at).is_some_and(u8::is_ascii_digit);
        while at < end {
            let (Some(byte), after) = (bytes.get(at), bytes.get(at + 1)) else { break };
            if !is_special(*byte) {
                at += 1;
                continue;
            }
            if *byte == b' ' && after.is_some_and(|after| !is_special(*after) && *after != b'\n') {
                in_number = after.is_some_and(u8::is_ascii_digit);
                at += 1;
                continue;
            }
            match bytes.get(at) {
                Some(b' ' | b'\t' | 0xC2 | 0xE2) if blank_at(bytes, at) > 0 => {
                    let next = after_blanks(bytes, at, end);
                    let first = bytes.get(next).copied().filter(|_| next < end);
                    if matches!(first, None | Some(b'#')) {
                        break;
                    }
                    if first == Some(b',') {
                        self.copy(written, copied, at);
                        copied = next;
                        self.step(next);
                    } else if next - at > 1 || bytes.get(at) != Some(&b' ') {
                        self.copy(written, copied, at);
                        copied = next;
                        self.text.push(' ');
                        self.step(next);
                    }
                    in_number = first.is_some_and(|first| first.is_ascii_digit());
                    at = next;
                }
                Some(b',') => {
                    at += 1;
                    let next = bytes.get(at).copied().filter(|_| at < end && blank_at(bytes, at) == 0);
                    let ends_word = next.is_some_and(|next| next != b'#' && !(in_number && next.is_ascii_digit()));
                    if ends_word {
                        self.copy(written, copied, at);
                        copied = at;
                        self.text.push(' ');
                        self.step(at);
                        in_number = next.is_some_and(|next| next.is_ascii_digit());
                    }
                }
                Some(b'"' | 0xE2) if quote_at(bytes, at) > 0 => {
                    (at, copied) = self.quoted(written, at, end, copied);
                }
                Some(b'#') => break,
                _ => at += 1,
            }
        }
        self.copy(written, copied, at);
        self.text.push('\n');
    }

    /// Takes the text in quotes that begins at `at` as it is; gives where it ends and up to where all is copied.
    fn quoted(&mut self, written: &str, at: usize, end: usize, mut copied: usize) -> (usize, usize) {
        let bytes = written.as_bytes();
        let inner = at + quote_at(bytes, at);
        if inner - at > 1 {
            self.copy(written, copied, at);
            self.text.push('"');
            self.step(inner);
            copied = inner;
        }
        let Some(close) = (inner..end).find(|at| quote_at(bytes, *at) > 0) else { return (end, copied) };
        let after = close + quote_at(bytes, close);
        if after - close > 1 {
            self.copy(written, copied, close);
            self.text.push('"');
            self.step(after);
            copied = after;
        }
        (after, copied)
    }

    fn copy(&mut self, written: &str, from: usize, to: usize) {
        self.text.push_str(written.get(from..to).unwrap_or(""));
    }

    /// A way back for positions that only grow.
    pub(crate) fn way_back<'s>(&'s self, written: &'s str) -> WayBack<'s> {
        WayBack { steps: &self.steps, written, at: 0 }
    }
}

/// Finds where positions of a squeezed text are in the text as written; each must not be before the last one.
#[derive(Clone, Debug)]
pub(crate) struct WayBack<'s> {
    steps: &'s [Step],
    written: &'s str,
    at: usize,
}

impl WayBack<'_> {
    /// Where the character at a position was written.
    pub(crate) fn of(&mut self, squeezed: usize) -> usize {
        while self.steps.get(self.at + 1).is_some_and(|next| next.squeezed <= squeezed) {
            self.at += 1;
        }
        let mut found = self.steps.get(self.at).map_or(squeezed, |step| squeezed.saturating_sub(step.squeezed) + step.written);
        while !self.written.is_char_boundary(found) {
            found -= 1;
        }
        found.min(self.written.len())
    }

    /// Where the character before a position ended.
    pub(crate) fn end_of(&mut self, squeezed: usize) -> usize {
        let Some(before) = squeezed.checked_sub(1) else { return 0 };
        let mut found = self.of(before) + 1;
        while found < self.written.len() && !self.written.is_char_boundary(found) {
            found += 1;
        }
        found.min(self.written.len())
    }
}

#[cfg(test)]
mod tests {
    use super::{LONGEST_LINE, comment_in, squeeze};

    #[test]
    fn a_comment_begins_where_squeezing_ends() {
        for line in [
            "2 cart # a \"b\"",
            "note \"a # b\" # c",
            "note “a # b„# c",
            "home#here",
            "note \"open # end",
            "note \"a\" \"b # c",
            "é×“# x",
            "# all",
            "no comment, at \"all\"",
            "  \u{202f}# x",
        ] {
            let (words, comment) = line.split_at(comment_in(line).unwrap_or(line.len()));
            assert_eq!(squeeze(&format!("{line}\n")).text, squeeze(&format!("{words}\n")).text, "{line}");
            assert!(comment.is_empty() || comment.starts_with('#'), "{line}");
            let is_whole = words.chars().filter(|c| "\"“”„".contains(*c)).count() % 2 == 0;
            assert_eq!(is_whole && words.contains('#'), words.contains("# b"), "{line}");
        }
    }

    #[test]
    fn lines_are_squeezed_to_words_and_single_blanks() {
        for (written, squeezed) in [
            ("\t2\u{a0}cart  at\u{202f} 5 \n", " 2 cart at 5\n"),
            ("note “a\t b # c” # d\n", "note \"a\t b # c\"\n"),
            ("note „a\" x\t\n", "note \"a\" x\n"),
            ("home#here\nhome # there\n\n  \n# all\n\t# all\n", "home\nhome\n"),
            ("1 a,2 b ,3 c , 4 d\n", "1 a, 2 b, 3 c, 4 d\n"),
            ("1,250.00 for a-1,2 b\n", "1,250.00 for a-1, 2 b\n"),
            ("orders \"A\",\"B\",\n", "orders \"A\", \"B\",\n"),
            ("note \"open # end\n", "note \"open # end\n"),
            ("a,#c\né – €\n", "a,\né – €\n"),
        ] {
            assert_eq!(squeeze(written).text, squeezed, "{written:?}");
        }
    }

    #[test]
    fn every_word_finds_its_way_back() {
        let written = "\t2\u{a0}cart ,3  é-box “a  b”\u{a0}„c” # d\n\n   zz\n";
        let squeezed = squeeze(written);
        assert_eq!(squeezed.text, " 2 cart, 3 é-box \"a  b\" \"c\"\n zz\n");
        let (mut starts, mut ends) = (squeezed.way_back(written), squeezed.way_back(written));
        for word in ["2", "cart", "3", "é-box", "\"a  b\"", "\"c\"", "zz"] {
            let at = squeezed.text.find(word).expect("a word of it");
            let back = written.get(starts.of(at)..ends.end_of(at + word.len())).expect("whole characters");
            assert_eq!(back.replace(['“', '”', '„'], "\""), word);
        }
    }

    #[test]
    fn a_line_over_the_longest_is_a_mark() {
        let text = format!("a\n  {}\nb\n", "é".repeat(LONGEST_LINE));
        assert_eq!(squeeze(&text).text, "a\n \u{1}\nb\n");
    }
}

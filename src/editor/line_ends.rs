//! A file's text cut into lines, each with the line break that it is written with.
//!
//! Line breaks are `LF`, `CR LF` and a lone `CR`, as the loader reads them. A file of which every line ends with `CR LF` keeps
//! that; any other is written with `LF`.

/// A line and its line break; the last may have none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct RawLine<'t> {
    pub(super) text: &'t str,
    pub(super) end: &'t str,
}

/// Cuts a text into its lines.
pub(super) fn raw_lines(text: &str) -> Vec<RawLine<'_>> {
    let (mut lines, mut rest) = (Vec::new(), text);
    while !rest.is_empty() {
        let length = rest.find(['\n', '\r']).unwrap_or(rest.len());
        let (line, behind) = rest.split_at(length);
        let width = if behind.starts_with("\r\n") { 2 } else { behind.len().min(1) };
        let (end, further) = behind.split_at(width);
        lines.push(RawLine { text: line, end });
        rest = further;
    }
    lines
}

/// The line break with which a file is written.
pub(super) fn line_break(lines: &[RawLine<'_>]) -> &'static str {
    let mut ends = lines.iter().map(|line| line.end).filter(|end| !end.is_empty()).peekable();
    if ends.peek().is_some() && ends.all(|end| end == "\r\n") { "\r\n" } else { "\n" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_cut_at_every_kind_of_line_break() {
        let lines: Vec<_> = raw_lines("a\r\nb\rc\n\r\r\nd").into_iter().map(|line| (line.text, line.end)).collect();
        assert_eq!(lines, [("a", "\r\n"), ("b", "\r"), ("c", "\n"), ("", "\r"), ("", "\r\n"), ("d", "")]);
        assert_eq!(raw_lines(""), []);
    }

    #[test]
    fn only_a_file_that_has_no_other_keeps_carriage_returns() {
        for (text, end) in
            [("a\r\nb\r\n", "\r\n"), ("a\r\nb", "\r\n"), ("a\r\nb\n", "\n"), ("a\rb\r", "\n"), ("a", "\n"), ("", "\n")]
        {
            assert_eq!(line_break(&raw_lines(text)), end, "{text:?}");
        }
    }
}

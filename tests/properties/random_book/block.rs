//! A block of a book: its head line and its details, as text.

/// A definition or an entry.
#[derive(Clone, Debug)]
pub(crate) struct Block {
    /// The day of an entry, as written.
    pub(crate) day: Option<String>,
    /// The head line.
    pub(crate) head: String,
    /// The details, without indentation.
    pub(crate) lines: Vec<String>,
}

impl Block {
    /// A definition.
    pub(crate) fn definition(head: impl Into<String>, lines: &[&str]) -> Self {
        Self { day: None, head: head.into(), lines: lines.iter().map(|line| (*line).to_owned()).collect() }
    }

    /// The block as text.
    pub(crate) fn text(&self) -> String {
        let mut out = format!("{}\n", self.head);
        for line in &self.lines {
            out.push_str("    ");
            out.push_str(line);
            out.push('\n');
        }
        out
    }
}

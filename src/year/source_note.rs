//! Where a figure or a wording comes from, and the list of those that a year used.
//!
//! A note is its text and its mark (`VERIFIED`, `FROM MEMORY`, …), as the form's data has them. The list names each once, in the order in which the
//! year used it.

/// Where a figure or a wording comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceNote {
    /// The publication or page.
    pub text: String,
    /// How it was read: `VERIFIED`, `VERIFIED (3rd-party)`, `FROM MEMORY`.
    pub mark: String,
}

/// The sources that a year used, each once, in the order of their use.
#[derive(Clone, Debug, Default)]
pub(crate) struct SourceNotes {
    used: Vec<SourceNote>,
}

impl SourceNotes {
    /// Notes a source.
    pub(crate) fn note(&mut self, note: &SourceNote) {
        if !self.used.contains(note) {
            self.used.push(note.clone());
        }
    }

    /// All of them.
    pub(crate) fn into_list(self) -> Vec<SourceNote> {
        self.used
    }
}

//! The questions that pages answer, and the pages that stand beside each other.

/// The pages of a site: its four questions and the proof.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Question {
    /// *What does it cost?*
    Cost,
    /// *What have I?*
    Stock,
    /// *What pays?*
    Pays,
    /// *What goes on the form?*
    Year,
    /// The proof.
    Proof,
}

impl Question {
    /// All, in the order in which they are asked.
    pub const ALL: [Self; 5] = [Self::Cost, Self::Stock, Self::Pays, Self::Year, Self::Proof];

    /// As it is asked.
    #[must_use]
    pub const fn asked(self) -> &'static str {
        match self {
            Self::Cost => "What does it cost?",
            Self::Stock => "What have I?",
            Self::Pays => "What pays?",
            Self::Year => "What goes on the form?",
            Self::Proof => "Is anything lost?",
        }
    }
}

/// A page that others point to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PageLink {
    /// The question that it answers.
    pub question: Question,
    /// Its file beside the others.
    pub file: String,
}

/// The pages that stand beside each other; empty for a page that stands alone.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Neighbours {
    /// One for each question, in order.
    pub pages: Vec<PageLink>,
    /// One for each tax year, where there are several: the year and its file.
    pub years: Vec<(i32, String)>,
}

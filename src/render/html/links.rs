//! The questions that pages answer, and the pages that stand beside each other.

/// The pages of a site: its four questions and the proof.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Question {
    /// *What does it cost?*
    Cost,
    /// *What have I?*
    Stock,
    /// *What lies where?*
    Places,
    /// *What pays?*
    Pays,
    /// *What must it fetch?*
    Price,
    /// *What would it take?*
    Plan,
    /// *Where did it come from, where did it go?*
    Trace,
    /// *What goes on the form?*
    Year,
    /// The proof.
    Proof,
}

impl Question {
    /// All, in the order in which they are asked.
    pub const ALL: [Self; 9] =
        [Self::Cost, Self::Stock, Self::Places, Self::Pays, Self::Price, Self::Plan, Self::Trace, Self::Year, Self::Proof];

    /// As it is asked.
    #[must_use]
    pub const fn asked(self) -> &'static str {
        match self {
            Self::Cost => "What does it cost?",
            Self::Stock => "What have I?",
            Self::Places => "What lies where?",
            Self::Pays => "What pays?",
            Self::Price => "What must it fetch?",
            Self::Plan => "What would it take?",
            Self::Trace => "Where did it come from, where did it go?",
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

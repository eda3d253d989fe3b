//! What a command has to print, and the status to exit with.

/// The status to exit with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Status {
    /// No mistakes; warnings and open questions don't count.
    Good,
    /// Mistakes in the book.
    Mistakes,
    /// Wrong use of the command, or it could not do its work.
    WrongUse,
}

impl Status {
    /// As the system knows it.
    pub(super) const fn number(self) -> u8 {
        match self {
            Self::Good => 0,
            Self::Mistakes => 1,
            Self::WrongUse => 2,
        }
    }
}

/// What a command has to print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Outcome {
    /// For standard output.
    pub(super) out: String,
    /// What follows on that, in parts: a long report is never put together.
    pub(super) more: Vec<String>,
    /// For standard error.
    pub(super) err: String,
    /// The status.
    pub(super) status: Status,
}

impl Outcome {
    /// All is well.
    pub(super) fn said(out: String) -> Self {
        Self { out, more: Vec::new(), err: String::new(), status: Status::Good }
    }

    /// All is well, in parts.
    pub(super) fn said_in_parts(more: Vec<String>) -> Self {
        Self { more, ..Self::said(String::new()) }
    }

    /// The command could not be carried out, for the reason given as a sentence without a full stop.
    pub(super) fn refused(why: impl std::fmt::Display) -> Self {
        Self { out: String::new(), more: Vec::new(), err: format!("kerfbook: {why}\n"), status: Status::WrongUse }
    }
}

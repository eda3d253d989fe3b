//! The stable codes: K1xx syntax, K2xx names and units, K3xx events, K4xx costing, K5xx year, K9xx warnings.
//!
//! A code is never reused. Each has a page in `explain/` (`kerfbook help K103`) and a case under `tests/diagnostics/`.

/// How grave a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Severity {
    /// A mistake: no report is made, exit status 1.
    Error,
    /// Reads well but is probably not what was meant.
    Warning,
    /// Something that the program can't decide.
    Question,
}

/// A stable code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Code(pub u16);

impl Code {
    /// How grave findings of this code are: K9xx are warnings, all others mistakes.
    #[must_use]
    pub const fn severity(self) -> Severity {
        if self.0 >= 900 { Severity::Warning } else { Severity::Error }
    }
}

impl std::fmt::Display for Code {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "K{:03}", self.0)
    }
}

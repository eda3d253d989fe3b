//! *Is it right?* What `kerfbook check` found.

use schemars::JsonSchema;
use serde::Serialize;

use crate::diagnostics::DiagnosticModel;
use crate::reports::ReportHead;

/// The report.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CheckReport {
    /// Its head. The shop's title is empty where the book doesn't say it.
    #[serde(flatten)]
    pub head: ReportHead,
    /// How many entries were read.
    pub entries: usize,
    /// How many files were read.
    pub files: usize,
    /// How many findings are mistakes.
    pub mistakes: usize,
    /// How many are warnings.
    pub warnings: usize,
    /// How many questions are open, those of its tax years included.
    pub questions: usize,
    /// The proof in one line; null for a book with mistakes.
    pub proof: Option<String>,
    /// What was found, in the order of the files.
    pub findings: Vec<DiagnosticModel>,
}

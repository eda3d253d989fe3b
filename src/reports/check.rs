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
    /// What was found, in the order of the files; after `--fix` what is left.
    pub findings: Vec<DiagnosticModel>,
    /// What `--fix` has mended, in the order of the files; else nothing.
    pub mended: Vec<MendedModel>,
}

/// A mistake that was mended.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct MendedModel {
    /// The mistake's code (`K203`).
    pub code: String,
    /// What was found and what belongs there.
    pub message: String,
    /// Path of the file below the book's folder.
    pub path: String,
    /// The first line that was written over, as it was numbered before.
    pub line: usize,
    /// The lines that stood there.
    pub was: String,
    /// The lines that stand there now.
    pub now: String,
}

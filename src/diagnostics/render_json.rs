//! Findings for other programs.
//!
//! A list of objects with fixed keys. Lines and columns are counted from 1, columns in characters; an end is one past the
//! last character. `check --as json` puts the same models into its report.

use schemars::JsonSchema;
use serde::Serialize;

use super::render_short::word;
use crate::diagnostics::{Diagnostic, corrected_lines};
use crate::sources::{LineIndex, SourceSet, Span};

/// A place in the book.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlaceModel {
    /// Path of the file below the book's folder.
    pub path: String,
    /// First line.
    pub line: usize,
    /// First column.
    pub column: usize,
    /// Last line.
    pub end_line: usize,
    /// One past the last column.
    pub end_column: usize,
}

/// A further place, with what is said beside it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LabelModel {
    /// What is said beside it.
    pub text: String,
    /// The place.
    #[serde(flatten)]
    pub place: PlaceModel,
}

/// A change that would mend a finding.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FixModel {
    /// What the change does.
    pub message: String,
    /// Path of the file below the book's folder.
    pub path: String,
    /// The first line that is replaced.
    pub line: usize,
    /// The last line that is replaced.
    pub end_line: usize,
    /// What stands there afterwards, without the last line break; several lines where the fix makes several of one.
    pub corrected_line: String,
    /// Whether nothing else can be meant: `check --fix` makes such a change where it is the only one.
    pub sure: bool,
}

/// A finding.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct DiagnosticModel {
    /// Its stable code (`K203`).
    pub code: String,
    /// `error`, `warning` or `question`.
    pub severity: &'static str,
    /// What was found and what belongs there.
    pub message: String,
    /// Where it stands.
    #[serde(flatten)]
    pub place: PlaceModel,
    /// What is said beside the place; may be empty.
    pub label: String,
    /// The other half of it.
    pub also: Vec<LabelModel>,
    /// Further sentences.
    pub notes: Vec<String>,
    /// Changes that would mend it, the likeliest first.
    pub fixes: Vec<FixModel>,
}

/// The findings as data, in the order given.
#[must_use]
pub fn model_diagnostics(sources: &SourceSet, diagnostics: &[Diagnostic]) -> Vec<DiagnosticModel> {
    let index = LineIndex::of(sources);
    diagnostics.iter().map(|one| model(sources, &index, one)).collect()
}

/// Writes the findings as a JSON list, in the order given, ended by a line break.
#[must_use]
pub fn render_json(sources: &SourceSet, diagnostics: &[Diagnostic]) -> String {
    let models = model_diagnostics(sources, diagnostics);
    // The models hold strings and counts only, which can always be written.
    let mut out = serde_json::to_string_pretty(&models).unwrap_or_default();
    out.push('\n');
    out
}

fn model(sources: &SourceSet, index: &LineIndex<'_>, one: &Diagnostic) -> DiagnosticModel {
    let fixes = one.fixes.iter().map(|fix| {
        let corrected = corrected_lines(sources, fix);
        let place = place(index, corrected.span);
        FixModel {
            message: fix.message.clone(),
            path: place.path,
            line: place.line,
            end_line: place.end_line,
            corrected_line: corrected.text,
            sure: fix.sure,
        }
    });
    DiagnosticModel {
        code: one.code.to_string(),
        severity: word(one.severity),
        message: one.message.clone(),
        place: place(index, one.primary.span),
        label: one.primary.text.clone(),
        also: one
            .secondary
            .iter()
            .map(|label| LabelModel { text: label.text.clone(), place: place(index, label.span) })
            .collect(),
        notes: one.notes.clone(),
        fixes: fixes.collect(),
    }
}

fn place(index: &LineIndex<'_>, span: Span) -> PlaceModel {
    let Some(start) = index.place(span.start) else {
        return PlaceModel { path: String::new(), line: 1, column: 1, end_line: 1, end_column: 1 };
    };
    let end = index.place(span.end).filter(|end| end.path == start.path && span.end > span.start);
    let (end_line, end_column) = end.map_or((start.line, start.column), |end| (end.line, end.column));
    PlaceModel { path: start.path.to_owned(), line: start.line, column: start.column, end_line, end_column }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostics::Code;

    #[test]
    fn a_finding_has_its_place_its_notes_and_the_corrected_line() {
        let mut sources = SourceSet::default();
        sources.add("a.kerf", "noted 2026-03-01 \"x\"\n").expect("added");
        sources.add("b.kerf", "bought 2026-03-02\n    31.5 red-oak at 5.90\n").expect("added");
        let found = Diagnostic::new(Code(203), Span::new(43, 55), "no unit")
            .label("of what?")
            .also(Span::new(0, 5), "here")
            .note("a note")
            .fix("write the unit", Span::new(48, 48), "bf ")
            .sure();
        let value: serde_json::Value = serde_json::from_str(&render_json(&sources, &[found])).expect("json");
        let expected = serde_json::json!([{
            "code": "K203", "severity": "error", "message": "no unit", "path": "b.kerf",
            "line": 2, "column": 5, "end_line": 2, "end_column": 17, "label": "of what?",
            "also": [{"text": "here", "path": "a.kerf", "line": 1, "column": 1, "end_line": 1, "end_column": 6}],
            "notes": ["a note"],
            "fixes": [{"message": "write the unit", "path": "b.kerf", "line": 2, "end_line": 2,
                "corrected_line": "    31.5 bf red-oak at 5.90", "sure": true}],
        }]);
        assert_eq!(value, expected);
    }

    #[test]
    fn a_place_in_no_file_is_told_without_one() {
        let found = Diagnostic::new(Code(100), Span::new(0, 0), "x");
        assert!(render_json(&SourceSet::default(), &[found]).contains("\"path\": \"\""));
    }
}

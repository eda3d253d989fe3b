//! One finding: where it is, what was found and expected, the other half of it, and the line that would mend it.

use crate::diagnostics::{Code, Severity};
use crate::sources::Span;

/// A place with a few words about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// The place.
    pub span: Span,
    /// What is said beside it; may be empty.
    pub text: String,
}

/// A change that would mend the finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// What the change does, in a few words.
    pub message: String,
    /// The text that is replaced.
    pub span: Span,
    /// What stands there afterwards; the corrected line is printed from it.
    pub replacement: String,
    /// Whether what was written can mean nothing else: only then is the change made without asking (`check --fix`).
    pub sure: bool,
}

/// One finding. Messages are lowercase sentences without a full stop, the user's own text between backticks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// Its stable code.
    pub code: Code,
    /// How grave it is.
    pub severity: Severity,
    /// What was found and what belongs there.
    pub message: String,
    /// Where it stands.
    pub primary: Label,
    /// The other half of it, where there is one.
    pub secondary: Vec<Label>,
    /// Further sentences: why, what follows, where the rule stands.
    pub notes: Vec<String>,
    /// Changes that would mend it, the likeliest first.
    pub fixes: Vec<Fix>,
    /// The name that its first change makes of several words, or of a text in quotes. Who knows the names of the book offers one
    /// that is defined in its place.
    pub joined: Option<String>,
}

impl Diagnostic {
    /// Begins a finding at a place.
    #[must_use]
    pub fn new(code: Code, span: Span, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: code.severity(),
            message: message.into(),
            primary: Label { span, text: String::new() },
            secondary: Vec::new(),
            notes: Vec::new(),
            fixes: Vec::new(),
            joined: None,
        }
    }

    /// Adds words beside the primary place.
    #[must_use]
    pub fn label(mut self, text: impl Into<String>) -> Self {
        self.primary.text = text.into();
        self
    }

    /// Adds the other half of the finding.
    #[must_use]
    pub fn also(mut self, span: Span, text: impl Into<String>) -> Self {
        self.secondary.push(Label { span, text: text.into() });
        self
    }

    /// Adds a further sentence.
    #[must_use]
    pub fn note(mut self, text: impl Into<String>) -> Self {
        self.notes.push(text.into());
        self
    }

    /// Adds a change that would mend it.
    #[must_use]
    pub fn fix(mut self, message: impl Into<String>, span: Span, replacement: impl Into<String>) -> Self {
        self.fixes.push(Fix { message: message.into(), span, replacement: replacement.into(), sure: false });
        self
    }

    /// Says that the change that was added last is the only thing that can be meant.
    #[must_use]
    pub fn sure(mut self) -> Self {
        if let Some(fix) = self.fixes.last_mut() {
            fix.sure = true;
        }
        self
    }

    /// The change that may be made without asking: the only one that is offered, and sure.
    #[must_use]
    pub fn sure_fix(&self) -> Option<&Fix> {
        match self.fixes.as_slice() {
            [only] if only.sure => Some(only),
            _ => None,
        }
    }
}

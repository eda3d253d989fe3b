//! What only the owner or a preparer can answer.

use crate::sources::Span;

/// What the program can't decide.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// Its stable name, by which `answered` names it.
    pub name: String,
    /// The question, in a sentence.
    pub question: String,
    /// The rule behind it.
    pub rule: String,
    /// Where the rule stands, with its mark.
    pub source: String,
    /// The detail or entry that answers it.
    pub answer_with: String,
    /// The entries concerned.
    pub entries: Vec<Span>,
    /// The answer, where one was given.
    pub answer: Option<String>,
}

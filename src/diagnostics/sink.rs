//! The list into which every stage puts its findings.

use crate::diagnostics::{Diagnostic, Severity};
use crate::sources::Span;

/// All findings of a run so far.
#[derive(Clone, Debug, Default)]
pub struct Diagnostics {
    found: Vec<Diagnostic>,
}

impl Diagnostics {
    /// Adds a finding.
    pub fn push(&mut self, diagnostic: Diagnostic) {
        self.found.push(diagnostic);
    }

    /// Adds all findings of another list.
    pub fn append(&mut self, other: Self) {
        self.found.extend(other.found);
    }

    /// Goes over every finding, which may be put in other words.
    pub(crate) fn revise(&mut self, revise: impl FnMut(&mut Diagnostic)) {
        self.found.iter_mut().for_each(revise);
    }

    /// Takes out the findings of which something is said; gives them.
    pub(crate) fn take_out(&mut self, is: impl Fn(&Diagnostic) -> bool) -> Vec<Diagnostic> {
        let (taken, left) = std::mem::take(&mut self.found).into_iter().partition(|one| is(one));
        self.found = left;
        taken
    }

    /// Takes out the warnings that stand within one of the places; gives those places within which there was none.
    pub(crate) fn take_warnings_in(&mut self, mut places: Vec<Span>) -> Vec<Span> {
        places.sort_unstable();
        let within = |one: &Diagnostic| {
            let at = places.partition_point(|place| place.start <= one.primary.span.start).checked_sub(1)?;
            let inside = places.get(at).is_some_and(|place| one.primary.span.start < place.end);
            (inside && one.severity == Severity::Warning).then_some(at)
        };
        let mut answered = vec![false; places.len()];
        for at in self.found.iter().filter_map(within) {
            if let Some(answered) = answered.get_mut(at) {
                *answered = true;
            }
        }
        let taken: Vec<bool> = self.found.iter().map(|one| within(one).is_some()).collect();
        let mut taken = taken.into_iter();
        self.found.retain(|_| !taken.next().unwrap_or(false));
        places.into_iter().zip(answered).filter(|(_, answered)| !answered).map(|(place, _)| place).collect()
    }

    /// Whether a mistake is among them (warnings and questions don't count).
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.found.iter().any(|one| one.severity == Severity::Error)
    }

    /// How many of a severity there are.
    #[must_use]
    pub fn count(&self, severity: Severity) -> usize {
        self.found.iter().filter(|one| one.severity == severity).count()
    }

    /// The findings in the order of their places, the same finding only once.
    #[must_use]
    pub fn into_sorted(mut self) -> Vec<Diagnostic> {
        self.found.sort_by(|a, b| (a.primary.span, a.code, &a.message).cmp(&(b.primary.span, b.code, &b.message)));
        self.found.dedup();
        self.found
    }

    /// The findings as they came.
    #[must_use]
    pub fn as_slice(&self) -> &[Diagnostic] {
        &self.found
    }
}

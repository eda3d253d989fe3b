//! Where a figure or a wording comes from, and the list of those that a year used.
//!
//! A note is its text and its mark (`VERIFIED`, `FROM MEMORY`, …), as the form's data has them. The list names each once, in the order in which the
//! year used it.

use crate::year::books::BooksOfYear;
use crate::year::tax_year::HomeYear;
use crate::year::{GrossReceiptsLimit, HelperPayments, HomeSimplified, SelfEmploymentRates};

/// Where a figure or a wording comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceNote {
    /// The publication or page.
    pub text: String,
    /// How it was read: `VERIFIED`, `VERIFIED (3rd-party)`, `FROM MEMORY`.
    pub mark: String,
}

impl SourceNote {
    /// As people read it: its text, and in words how sure it is.
    #[must_use]
    pub fn says(&self) -> String {
        format!("{} ({})", self.text, mark_in_words(&self.mark))
    }
}

/// What a mark means, in words; what nobody has looked up is to be looked up before anyone relies on it.
#[must_use]
pub(crate) fn mark_in_words(mark: &str) -> String {
    let words = [
        ("VERIFIED-2nd", "checked at second hand"),
        ("VERIFIED (3rd-party)", "checked at second hand"),
        ("VERIFIED", "checked"),
        ("JUDGEMENT", "our judgement"),
        ("FROM MEMORY", "from memory"),
    ];
    let mut says = mark.to_owned();
    for (word, plain) in words {
        says = says.replace(word, plain);
    }
    if mark.contains("FROM MEMORY") {
        says.push_str("; look it up before you rely on it");
    }
    says
}

/// The sources that a year used, each once, in the order of their use.
#[derive(Clone, Debug, Default)]
pub(crate) struct SourceNotes {
    used: Vec<SourceNote>,
}

impl SourceNotes {
    /// Notes a source.
    pub(crate) fn note(&mut self, note: &SourceNote) {
        if !self.used.contains(note) {
            self.used.push(note.clone());
        }
    }

    /// All of them.
    pub(crate) fn into_list(self) -> Vec<SourceNote> {
        self.used
    }
}

/// Notes where the figures come from that are used whatever the tools, miles and meals of the year are.
pub(crate) fn note_figures_used(of: &BooksOfYear<'_>, home: Option<&HomeYear>, receipts: bool, sources: &mut SourceNotes) {
    let figures = of.figures;
    let simplified = home.filter(|home| home.simplified).and_then(|_| figures.home_simplified(of.year));
    let rates = figures.self_employment(of.year).filter(|_| !of.form.schedule.is_empty());
    let notes = [
        simplified.map(HomeSimplified::note),
        rates.map(SelfEmploymentRates::note),
        figures.helper_payments(of.year).map(HelperPayments::note),
        figures.gross_receipts(of.year).filter(|_| receipts).map(GrossReceiptsLimit::note),
    ];
    let of_schedule = of.form.schedule.iter().filter_map(|line| of.form.sources.get(line.source));
    for note in notes.iter().flatten().chain(of_schedule) {
        sources.note(note);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_is_said_in_words_and_what_is_from_memory_is_to_be_looked_up() {
        assert_eq!(mark_in_words("VERIFIED"), "checked");
        assert_eq!(mark_in_words("VERIFIED (3rd-party) as to the rule"), "checked at second hand as to the rule");
        assert_eq!(mark_in_words("FROM MEMORY, provisional"), "from memory, provisional; look it up before you rely on it");
        let note = SourceNote { text: "26 CFR 1.471-2(d)".to_owned(), mark: "FROM MEMORY".to_owned() };
        assert_eq!(note.says(), "26 CFR 1.471-2(d) (from memory; look it up before you rely on it)");
    }
}

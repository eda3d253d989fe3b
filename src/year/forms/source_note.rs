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

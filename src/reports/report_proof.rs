//! Fills the proof report.
//!
//! Every figure in six digits, as the engine carries it; nothing is rounded.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::costing::{CostedBook, YearProof};
use crate::names::ResolvedBook;
use crate::reports::{Period, ProofComponent, ProofFlow, ProofOf, ProofReport};
use crate::units::Fixed6;

/// Makes the proof report.
#[must_use]
pub fn report_proof(book: &ResolvedBook, costed: &CostedBook, first_day: Option<NaiveDate>) -> ProofReport {
    let period = Period { from: first_day, to: costed.until };
    let all = costed.proof.over_all();
    let components = all.as_ref().map(components_of).unwrap_or_default();
    let years = costed.proof.years.iter().map(|(year, proof)| (year.to_string(), components_of(proof))).collect();
    ProofReport {
        head: period.head("proof", book, first_day, costed.until),
        components,
        years,
        line: proof_line(book, costed),
        holds: costed.proof.holds(),
    }
}

fn components_of(proof: &YearProof) -> Vec<ProofComponent> {
    ProofOf::ALL.into_iter().filter_map(|of| component_of(proof, of)).collect()
}

fn component_of(proof: &YearProof, of: ProofOf) -> Option<ProofComponent> {
    let text = |sum: Fixed6| sum.to_fixed_text(6, 6);
    let at_start = of.in_vector(&proof.at_start)?;
    let at_end = of.in_vector(&proof.at_end)?;
    let mut came_in = at_start;
    let mut went = at_end;
    let mut came_from = BTreeMap::from([(ProofFlow::AtStart.name().to_owned(), text(at_start))]);
    let mut went_to = BTreeMap::from([(ProofFlow::AtEnd.name().to_owned(), text(at_end))]);
    for (flow, vector) in &proof.flows {
        let sum = of.in_vector(vector)?;
        let side = if flow.comes_in() {
            came_in = came_in.checked_add(sum)?;
            &mut came_from
        } else {
            went = went.checked_add(sum)?;
            &mut went_to
        };
        side.insert(ProofFlow::Flow(*flow).name().to_owned(), text(sum));
    }
    Some(ProofComponent {
        name: of.name().to_owned(),
        came_in: text(came_in),
        came_from,
        went_to,
        difference: text(came_in.checked_sub(went)?),
    })
}

/// How the proof in one line begins, where there is nothing wrong with it.
pub const PROOF_BEGINS: &str = "the proof: ";
/// What stands in place of the proof where the book has mistakes.
pub const PROOF_WAITS: &str = "the proof waits until the mistakes are mended";

/// The proof in one line.
#[must_use]
pub fn proof_line(book: &ResolvedBook, costed: &CostedBook) -> String {
    let Some(all) = costed.proof.over_all() else {
        return "the proof can't be reckoned: a figure is too large".to_owned();
    };
    let difference = all.difference();
    let sums = |wanted: bool| {
        all.flows
            .iter()
            .filter(|(flow, _)| flow.comes_in() == wanted)
            .try_fold(Fixed6::ZERO, |sum, (_, vector)| sum.checked_add(vector.full()?))
    };
    let figures = (|| {
        let start = all.at_start.full()?;
        let came = start.checked_add(sums(true)?)?;
        let end = all.at_end.full()?;
        Some((came, sums(false)?, end, difference.as_ref()?.full()?))
    })();
    match figures {
        Some((came, went, end, rest)) if costed.proof.holds() => format!(
            "{PROOF_BEGINS}{} {} came in = {} went out + {} on hand, difference {} in each of nine figures",
            came.to_fixed_text(6, 6),
            book.shop.currency.code(),
            went.to_fixed_text(6, 6),
            end.to_fixed_text(6, 6),
            rest.to_fixed_text(6, 6)
        ),
        _ => "the proof does NOT come out at zero: this is a fault of the program, and no report is to be trusted".to_owned(),
    }
}

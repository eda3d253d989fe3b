//! What is wrong with sizes beside a thing.

use crate::diagnostics::Diagnostic;
use crate::names::Thing;
use crate::names::errors::{NUMBER_LIMIT, SIZES_DONT_FIT};
use crate::syntax::Sizes;
use crate::units::{Dimension, TallyError};

pub(crate) fn sizes_dont_fit(sizes: &Sizes, is_board: bool, of: &Thing) -> Diagnostic {
    let (name, unit) = (&of.named.name, of.unit);
    let what = if is_board { "three sides make a volume of wood" } else { "two sides make an area" };
    let told = Diagnostic::new(SIZES_DONT_FIT, sizes.span, format!("{what}, and `{name}` is measured in {unit}"))
        .also(of.named.span, format!("measured in {unit}"));
    match (of.unit.dimension(), is_board) {
        (Dimension::Area, true) => told.note("sizes of a sheet are width and length: `12 x 24 in`"),
        (Dimension::Volume, false) => told.note("sizes of a board are thickness, width and length: `4/4 x 6 1/2 x 48 in`"),
        _ => told.note(format!("say how much it is: `10 {unit} {name}`")),
    }
}

pub(crate) fn tallies_to_nothing(sizes: &Sizes, of: &Thing, by_surface: bool) -> Diagnostic {
    let (name, unit) = (&of.named.name, of.unit);
    let told = Diagnostic::new(SIZES_DONT_FIT, sizes.span, format!("boards of this size come to 0 {unit} of `{name}`"));
    if by_surface {
        return told
            .note(format!("by surface measure a board is rounded to whole feet; say how much it is: `0.5 {unit} {name}`"));
    }
    told.note(format!("say how much it is in {unit}"))
}

pub(crate) fn tally_failed(sizes: &Sizes, error: TallyError) -> Diagnostic {
    Diagnostic::new(NUMBER_LIMIT, sizes.span, format!("these can't be tallied: {error}"))
}

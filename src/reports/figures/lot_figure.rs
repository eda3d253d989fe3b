//! Figures of a lot: what it cost when it came.

use super::cost_figure::with_part;
use super::errors::FigureFault;
use super::{CostPart, FigureNames};

/// A lot as it came.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LotFigure {
    /// Its number in the order of arrival, from one.
    pub number: u32,
    /// A part of its cost; else paid and full cost.
    pub part: Option<CostPart>,
}

impl LotFigure {
    pub(super) fn read(thing: &str, which: &str, rest: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let part = rest.first().map(|part| CostPart::read(part)).transpose()?;
        Ok(Self { number: names.read_lot(thing, which)?, part })
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        with_part(format!("lot/{}", names.lot(self.number)), self.part)
    }
}

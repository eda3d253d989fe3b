//! Why an event could not be costed: told once at the event, then the engine goes on with the next.

use crate::units::{NumberError, SplitError};

/// A figure could not be carried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    /// Too large, or with more digits than can be kept.
    Figures,
    /// A split with nothing to share by.
    NoWeight,
    /// Already told; nothing more is to be said.
    Told,
}

impl From<NumberError> for Fault {
    fn from(_: NumberError) -> Self {
        Self::Figures
    }
}

impl From<SplitError> for Fault {
    fn from(error: SplitError) -> Self {
        match error {
            SplitError::NoWeight => Self::NoWeight,
            _ => Self::Figures,
        }
    }
}

/// The outcome of a step of the engine.
pub(crate) type Costed<T> = Result<T, Fault>;

/// Turns a checked figure into an outcome.
pub(crate) trait OrFault<T> {
    /// The figure, or [`Fault::Figures`] where it was too large.
    fn or_fault(self) -> Costed<T>;
}

impl<T> OrFault<T> for Option<T> {
    fn or_fault(self) -> Costed<T> {
        self.ok_or(Fault::Figures)
    }
}

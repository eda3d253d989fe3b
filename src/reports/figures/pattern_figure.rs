//! Figures of a pattern: `pattern/duck-pattern/left`, `pattern/cart-pattern/2026-Q1/royalty`.

use super::FigureNames;
use super::errors::{FigureFault, no_part, unknown};
use super::name_table::segment;
use crate::names::{PatternId, ResolvedBook};
use crate::reports::pattern_uses::{Quarter, pattern_uses, quarter_text, read_quarter};
use crate::year::Books;

/// What of a pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PatternPart {
    /// Good pieces made by it.
    Made,
    /// Pieces that its licences permit in all.
    Permitted,
    /// Pieces that may still be made.
    Left,
    /// Pieces of a usual batch.
    UsualBatch,
    /// Royalties that are due.
    Due,
}

impl PatternPart {
    /// All of them, in the order of the report.
    pub const ALL: [Self; 5] = [Self::Made, Self::Permitted, Self::Left, Self::UsualBatch, Self::Due];

    /// As it stands in a figure's name.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Made => "made",
            Self::Permitted => "permitted",
            Self::Left => "left",
            Self::UsualBatch => "usual-batch",
            Self::Due => DUE,
        }
    }
}

/// What of a pattern in a quarter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RoyaltyPart {
    /// Good pieces on which it is reckoned.
    Pieces,
    /// The royalty.
    Royalty,
    /// What of it is not paid.
    Due,
}

impl RoyaltyPart {
    /// All of them, in the order of the report.
    pub const ALL: [Self; 3] = [Self::Pieces, Self::Royalty, Self::Due];

    /// As it stands in a figure's name.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Pieces => "pieces",
            Self::Royalty => "royalty",
            Self::Due => DUE,
        }
    }
}

const DUE: &str = "due";

/// What of a pattern, in all or in a quarter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PatternOf {
    /// In all.
    All(PatternPart),
    /// In a quarter; none for what was owed when the book began.
    Quarter(Quarter, RoyaltyPart),
}

impl PatternOf {
    /// Whether it is a number of pieces, else money.
    #[must_use]
    pub fn counts_pieces(self) -> bool {
        match self {
            Self::All(part) => part != PatternPart::Due,
            Self::Quarter(_, part) => part == RoyaltyPart::Pieces,
        }
    }
}

/// A figure of a pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PatternFigure {
    /// The pattern.
    pub pattern: PatternId,
    /// What of it.
    pub of: PatternOf,
}

impl PatternFigure {
    /// Reads what stands after `pattern/`.
    pub(super) fn read(pattern: &str, rest: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let pattern = read_pattern(pattern, names.book())?;
        let of = match *rest {
            [part] => {
                let found = PatternPart::ALL.into_iter().find(|one| one.text() == part);
                PatternOf::All(found.ok_or_else(|| no_part(part, &PatternPart::ALL.map(PatternPart::text)))?)
            }
            [quarter, part] => {
                let told = || FigureFault(format!("`{quarter}` is no quarter; write `2026-Q1`, or `before-the-book`"));
                let of = read_quarter(quarter).ok_or_else(told)?;
                let found = RoyaltyPart::ALL.into_iter().find(|one| one.text() == part);
                PatternOf::Quarter(of, found.ok_or_else(|| no_part(part, &RoyaltyPart::ALL.map(RoyaltyPart::text)))?)
            }
            _ => {
                let forms = "figures of a pattern are `pattern/NAME/left` and `pattern/NAME/2026-Q1/royalty`";
                return Err(FigureFault(forms.to_owned()));
            }
        };
        Ok(Self { pattern, of })
    }

    /// All of a book: of each pattern of which there is something to say, in all and by quarter.
    pub(super) fn all(books: Books<'_>) -> Vec<Self> {
        let mut all = Vec::new();
        for (pattern, uses) in pattern_uses(books.book, books.log, books.costed, books.costed.until).unwrap_or_default() {
            all.extend(PatternPart::ALL.map(|part| Self { pattern, of: PatternOf::All(part) }));
            for quarter in uses.quarters() {
                all.extend(RoyaltyPart::ALL.map(|part| Self { pattern, of: PatternOf::Quarter(quarter, part) }));
            }
        }
        all
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        let name = segment(&names.book().pattern(self.pattern).named.name);
        match self.of {
            PatternOf::All(part) => format!("pattern/{name}/{}", part.text()),
            PatternOf::Quarter(quarter, part) => format!("pattern/{name}/{}/{}", quarter_text(quarter), part.text()),
        }
    }
}

/// The pattern of a name.
pub(super) fn read_pattern(typed: &str, book: &ResolvedBook) -> Result<PatternId, FigureFault> {
    let at = book.patterns.iter().position(|one| segment(&one.named.name) == typed).and_then(|at| u32::try_from(at).ok());
    at.map(PatternId).ok_or_else(|| unknown("pattern", typed))
}

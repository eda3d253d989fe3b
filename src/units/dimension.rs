//! What a unit measures, in the words of the trade.

use std::fmt;

/// What is measured: a thing of the book has one of these and, by its own conversions, perhaps others.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Dimension {
    /// Length: inches, feet, metres, miles.
    Length,
    /// Area: square inches and feet, square metres.
    Area,
    /// Volume of wood or liquid: board feet, cubic inches, millilitres, fluid ounces.
    Volume,
    /// Mass, which the trade calls weight: grams, ounces, pounds.
    Mass,
    /// Count: each, pair, dozen, gross.
    Count,
    /// Working time: minutes and hours.
    Time,
}

impl Dimension {
    /// Gives the word that a maker would say.
    pub const fn as_str(self) -> &'static str {
        match self {
            Dimension::Length => "length",
            Dimension::Area => "area",
            Dimension::Volume => "volume",
            Dimension::Mass => "weight",
            Dimension::Count => "count",
            Dimension::Time => "time",
        }
    }

    /// Gives the word with its article, for a sentence: `an area`, `a weight`; time has none.
    pub const fn with_article(self) -> &'static str {
        match self {
            Dimension::Length => "a length",
            Dimension::Area => "an area",
            Dimension::Volume => "a volume",
            Dimension::Mass => "a weight",
            Dimension::Count => "a count",
            Dimension::Time => "time",
        }
    }
}

impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dimension_is_written_as_its_word_and_keeps_its_column() {
        assert_eq!(format!("{}|{:>7}|", Dimension::Area, Dimension::Mass), "area| weight|");
    }
}

//! The measuring units of the language and their exact factors.
//!
//! Source: NIST Handbook 44, Appendix C, "General Tables of Units of Measurement" (1 in = 25.4 mm, 1 US gallon
//! = 231 cubic inches, 1 lb = 453.59237 g, all exact by definition). The board foot isn't taken from a table: it
//! is 144 cubic inches (Minnesota Statutes 239.33), hence 2359.737216 ml. Each factor is a ratio of integers.
//! `board` and `piece` are no units: they are counts that need sizes.

use std::fmt;

use crate::units::dimension::Dimension;

/// A measuring unit of the language.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Unit {
    /// `in`
    Inch,
    /// `ft`
    Foot,
    /// `yd`
    Yard,
    /// `mi`, the international mile
    Mile,
    /// `mm`
    Millimetre,
    /// `cm`
    Centimetre,
    /// `m`
    Metre,
    /// `km`
    Kilometre,
    /// `sq in`
    SquareInch,
    /// `sq ft`
    SquareFoot,
    /// `sq m`
    SquareMetre,
    /// `bf`, 144 cubic inches of wood
    BoardFoot,
    /// `cu in`
    CubicInch,
    /// `cu ft`
    CubicFoot,
    /// `ml`
    Millilitre,
    /// `l`
    Litre,
    /// `fl oz`, US
    FluidOunce,
    /// `pt`, US liquid
    Pint,
    /// `qt`, US liquid
    Quart,
    /// `gal`, US
    Gallon,
    /// `g`
    Gram,
    /// `kg`
    Kilogram,
    /// `oz`, a weight
    Ounce,
    /// `lb`
    Pound,
    /// `ea`
    Each,
    /// `pair`
    Pair,
    /// `dozen`
    Dozen,
    /// `gross`, twelve dozen
    Gross,
    /// `min`
    Minute,
    /// `h`
    Hour,
}

impl Unit {
    /// Every unit, by dimension.
    pub const ALL: [Unit; 30] = [
        Unit::Inch,
        Unit::Foot,
        Unit::Yard,
        Unit::Mile,
        Unit::Millimetre,
        Unit::Centimetre,
        Unit::Metre,
        Unit::Kilometre,
        Unit::SquareInch,
        Unit::SquareFoot,
        Unit::SquareMetre,
        Unit::BoardFoot,
        Unit::CubicInch,
        Unit::CubicFoot,
        Unit::Millilitre,
        Unit::Litre,
        Unit::FluidOunce,
        Unit::Pint,
        Unit::Quart,
        Unit::Gallon,
        Unit::Gram,
        Unit::Kilogram,
        Unit::Ounce,
        Unit::Pound,
        Unit::Each,
        Unit::Pair,
        Unit::Dozen,
        Unit::Gross,
        Unit::Minute,
        Unit::Hour,
    ];

    /// Reads a unit as the language writes it, `sq ft` with one blank; `m` is the metre. Anything else is `None`.
    pub fn parse(text: &str) -> Option<Unit> {
        Some(match text {
            "in" => Unit::Inch,
            "ft" => Unit::Foot,
            "yd" => Unit::Yard,
            "mi" => Unit::Mile,
            "mm" => Unit::Millimetre,
            "cm" => Unit::Centimetre,
            "m" => Unit::Metre,
            "km" => Unit::Kilometre,
            "sq in" => Unit::SquareInch,
            "sq ft" => Unit::SquareFoot,
            "sq m" => Unit::SquareMetre,
            "bf" => Unit::BoardFoot,
            "cu in" => Unit::CubicInch,
            "cu ft" => Unit::CubicFoot,
            "ml" => Unit::Millilitre,
            "l" => Unit::Litre,
            "fl oz" => Unit::FluidOunce,
            "pt" => Unit::Pint,
            "qt" => Unit::Quart,
            "gal" => Unit::Gallon,
            "g" => Unit::Gram,
            "kg" => Unit::Kilogram,
            "oz" => Unit::Ounce,
            "lb" => Unit::Pound,
            "ea" => Unit::Each,
            "pair" => Unit::Pair,
            "dozen" => Unit::Dozen,
            "gross" => Unit::Gross,
            "min" => Unit::Minute,
            "h" => Unit::Hour,
            _ => return None,
        })
    }

    /// Gives the unit as the language writes it.
    pub const fn as_str(self) -> &'static str {
        self.facts().0
    }

    /// Gives what the unit measures.
    pub const fn dimension(self) -> Dimension {
        self.facts().1
    }

    /// Gives how many of its dimension's base unit one of it is, exactly, as numerator and denominator.
    ///
    /// Base units: mm, square mm, ml, g, each, minute.
    pub const fn factor(self) -> (i128, i128) {
        let facts = self.facts();
        (facts.2, facts.3)
    }

    /// Spelling, dimension, numerator, denominator.
    #[rustfmt::skip]
    const fn facts(self) -> (&'static str, Dimension, i128, i128) {
        use Dimension::{Area, Count, Length, Mass, Time, Volume};
        match self {
            // The inch is 25.4 mm; foot, yard and mile are 12, 36 and 63,360 of it.
            Unit::Inch => ("in", Length, 254, 10),
            Unit::Foot => ("ft", Length, 3_048, 10),
            Unit::Yard => ("yd", Length, 9_144, 10),
            Unit::Mile => ("mi", Length, 1_609_344, 1),
            Unit::Millimetre => ("mm", Length, 1, 1),
            Unit::Centimetre => ("cm", Length, 10, 1),
            Unit::Metre => ("m", Length, 1_000, 1),
            Unit::Kilometre => ("km", Length, 1_000_000, 1),
            // 25.4 squared; the square foot is 144 of it.
            Unit::SquareInch => ("sq in", Area, 64_516, 100),
            Unit::SquareFoot => ("sq ft", Area, 9_290_304, 100),
            Unit::SquareMetre => ("sq m", Area, 1_000_000, 1),
            // 2.54 cm cubed is 16.387064 ml; the board foot is 144 of it and the cubic foot 1,728.
            Unit::BoardFoot => ("bf", Volume, 2_359_737_216, 1_000_000),
            Unit::CubicInch => ("cu in", Volume, 16_387_064, 1_000_000),
            Unit::CubicFoot => ("cu ft", Volume, 28_316_846_592, 1_000_000),
            Unit::Millilitre => ("ml", Volume, 1, 1),
            Unit::Litre => ("l", Volume, 1_000, 1),
            // The gallon is 231 cubic inches; 4 quarts, 8 pints, 128 fluid ounces.
            Unit::FluidOunce => ("fl oz", Volume, 295_735_295_625, 10_000_000_000),
            Unit::Pint => ("pt", Volume, 473_176_473, 1_000_000),
            Unit::Quart => ("qt", Volume, 946_352_946, 1_000_000),
            Unit::Gallon => ("gal", Volume, 3_785_411_784, 1_000_000),
            // The avoirdupois pound is 453.59237 g; the ounce a sixteenth of it.
            Unit::Gram => ("g", Mass, 1, 1),
            Unit::Kilogram => ("kg", Mass, 1_000, 1),
            Unit::Ounce => ("oz", Mass, 28_349_523_125, 1_000_000_000),
            Unit::Pound => ("lb", Mass, 45_359_237, 100_000),
            Unit::Each => ("ea", Count, 1, 1),
            Unit::Pair => ("pair", Count, 2, 1),
            Unit::Dozen => ("dozen", Count, 12, 1),
            Unit::Gross => ("gross", Count, 144, 1),
            Unit::Minute => ("min", Time, 1, 1),
            Unit::Hour => ("h", Time, 60, 1),
        }
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_unit_is_read_as_it_is_written() {
        for unit in Unit::ALL {
            assert_eq!(Unit::parse(unit.as_str()), Some(unit), "{unit}");
        }
        let spellings: std::collections::BTreeSet<_> = Unit::ALL.iter().map(|u| u.as_str()).collect();
        assert_eq!(spellings.len(), Unit::ALL.len());
    }

    #[test]
    fn other_spellings_are_no_units() {
        for text in ["", "IN", "sq  ft", "sqft", "lbs", "board", "piece", "bag", " ft", "h ", "hr"] {
            assert_eq!(Unit::parse(text), None, "{text:?}");
        }
    }

    #[test]
    fn an_ounce_is_a_weight_and_a_fluid_ounce_a_volume() {
        assert_eq!(Unit::Ounce.dimension(), Dimension::Mass);
        assert_eq!(Unit::Ounce.dimension().as_str(), "weight");
        assert_eq!(Unit::FluidOunce.dimension(), Dimension::Volume);
        assert_eq!(Unit::parse("m").map(Unit::dimension), Some(Dimension::Length));
    }
}

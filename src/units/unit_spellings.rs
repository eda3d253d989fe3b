//! How makers spell units, and how the language does: for the help of a message, never for reading.
//!
//! The table holds spellings that aren't units of the language. Case is ignored, blanks at the ends too.

use crate::units::unit::Unit;

/// Finds the unit that was meant by a spelling that the language doesn't know, `board feet` or `lbs`.
pub fn canonical_unit(spelling: &str) -> Option<Unit> {
    let wanted = spelling.trim().trim_end_matches('.').to_lowercase();
    if let Some(unit) = Unit::parse(&wanted) {
        // `BF`, `Lb`, `in.`: right but for case or a point.
        return (wanted != spelling).then_some(unit);
    }
    SPELLINGS.iter().find_map(|(unit, spellings)| spellings.contains(&wanted.as_str()).then_some(*unit))
}

const SPELLINGS: [(Unit, &[&str]); 30] = [
    (Unit::Inch, &["inch", "inches", "ins", "\"", "\u{201d}", "\u{2033}", "''"]),
    (Unit::Foot, &["foot", "feet", "fts", "lf", "lin ft", "lineal feet", "linear feet", "'", "\u{2019}", "\u{2032}"]),
    (Unit::Yard, &["yard", "yards", "yds"]),
    (Unit::Mile, &["mile", "miles", "mis"]),
    (Unit::Millimetre, &["millimetre", "millimetres", "millimeter", "millimeters", "mms"]),
    (Unit::Centimetre, &["centimetre", "centimetres", "centimeter", "centimeters", "cms"]),
    (Unit::Metre, &["metre", "metres", "meter", "meters", "mtr"]),
    (Unit::Kilometre, &["kilometre", "kilometres", "kilometer", "kilometers", "kms"]),
    (Unit::SquareInch, &["sqin", "sq. in", "square inch", "square inches", "in2", "in\u{b2}", "in^2", "sq inches"]),
    (Unit::SquareFoot, &["sqft", "sf", "sq. ft", "square foot", "square feet", "ft2", "ft\u{b2}", "ft^2", "sq feet"]),
    (Unit::SquareMetre, &["sqm", "sq. m", "square metre", "square metres", "square meters", "m2", "m\u{b2}", "m^2"]),
    (Unit::BoardFoot, &["board foot", "board feet", "bdft", "bd ft", "bd. ft", "board-feet", "board-foot", "fbm", "bfs"]),
    (Unit::CubicInch, &["cuin", "cu. in", "cubic inch", "cubic inches", "in3", "in\u{b3}", "in^3"]),
    (Unit::CubicFoot, &["cuft", "cu. ft", "cubic foot", "cubic feet", "ft3", "ft\u{b3}", "ft^3"]),
    (Unit::Millilitre, &["millilitre", "millilitres", "milliliter", "milliliters", "mls", "cc"]),
    (Unit::Litre, &["litre", "litres", "liter", "liters", "ltr", "\u{2113}"]),
    (Unit::FluidOunce, &["floz", "fl. oz", "fl.oz", "fluid ounce", "fluid ounces", "fl ounces", "fl-oz"]),
    (Unit::Pint, &["pint", "pints", "pts"]),
    (Unit::Quart, &["quart", "quarts", "qts"]),
    (Unit::Gallon, &["gallon", "gallons", "gals"]),
    (Unit::Gram, &["gram", "grams", "gramme", "grammes", "gr", "gm", "gs"]),
    (Unit::Kilogram, &["kilogram", "kilograms", "kilo", "kilos", "kgs"]),
    (Unit::Ounce, &["ounce", "ounces", "ozs"]),
    (Unit::Pound, &["pound", "pounds", "lbs", "#"]),
    (Unit::Each, &["each", "eas", "pc", "pcs", "pce", "count", "ct"]),
    (Unit::Pair, &["pairs", "pr", "prs"]),
    (Unit::Dozen, &["dozens", "doz", "dz"]),
    (Unit::Gross, &["grosses", "grs"]),
    (Unit::Minute, &["mins", "minute", "minutes"]),
    (Unit::Hour, &["hr", "hrs", "hour", "hours"]),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_makers_write_leads_to_the_unit() {
        let cases = [
            ("board feet", "bf"),
            ("Board Feet", "bf"),
            ("lbs", "lb"),
            ("lbs.", "lb"),
            ("pound", "lb"),
            ("feet", "ft"),
            ("gallons", "gal"),
            ("hr", "h"),
            ("sqft", "sq ft"),
            ("ft\u{b2}", "sq ft"),
            ("miles", "mi"),
            ("inch", "in"),
            ("in.", "in"),
            ("BF", "bf"),
            ("\"", "in"),
            ("floz", "fl oz"),
        ];
        for (spelling, unit) in cases {
            assert_eq!(canonical_unit(spelling), Unit::parse(unit), "{spelling:?}");
        }
    }

    #[test]
    fn a_right_spelling_and_an_unknown_word_have_no_other() {
        for text in ["bf", "sq ft", "h", "bag", "", "board", "."] {
            assert_eq!(canonical_unit(text), None, "{text:?}");
        }
    }

    #[test]
    fn no_spelling_is_a_unit_or_stands_for_two() {
        let all: Vec<&str> = SPELLINGS.iter().flat_map(|(_, spellings)| spellings.iter().copied()).collect();
        let distinct: std::collections::BTreeSet<_> = all.iter().collect();
        assert_eq!(distinct.len(), all.len());
        assert!(all.iter().all(|s| Unit::parse(s).is_none() && s.to_lowercase() == **s));
    }
}

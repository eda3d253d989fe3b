//! Numbers and units of the trade, exact.
//!
//! In: the text of a number, a time, a date, a size or a unit, or values already read.
//! Out: decimals, amounts to six digits below the unit ([`Fixed6`]), tallies, splits, conversions.
//! What cannot be carried exactly is an error or is rounded once, at a place that its docstring names.
//! It must not: use binary floating point, know a name of the book, print, or word a diagnostic.

pub mod conversion;
pub mod currency;
pub mod date;
pub mod dimension;
mod exact;
pub mod fixed;
mod grouped_digits;
pub mod money;
pub mod number;
pub mod percent;
pub mod quantity;
mod ratio;
pub mod size;
pub mod split;
pub mod tally;
pub mod time;
pub mod unit;
pub mod unit_spellings;

pub use conversion::{ConversionError, convert};
pub use currency::Currency;
pub use date::{DateFault, read_date};
pub use dimension::Dimension;
pub use exact::NumberError;
pub use fixed::Fixed6;
pub use grouped_digits::group_digits;
pub use money::{Cost, line_total};
pub use number::{Number, NumberFault, NumberForm, read_decimal, read_number};
pub use percent::{Percent, read_percent};
pub use quantity::{checked_add_exact, checked_mul_exact, checked_sub_exact, div_to_nine};
pub use size::{Side, Size, SizeError};
pub use split::{
    Share, SplitError, Weights, apportion_displayed, apportion_under, mul_div_floor, mul_div_round, part_of, split_at_digits,
    split_by_largest_remainder,
};
pub use tally::{SurfaceMeasureTally, TallyError};
pub use time::{SpacedM, TimeFault, read_time};
pub use unit::Unit;
pub use unit_spellings::canonical_unit;

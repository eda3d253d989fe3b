//! The miles and the home workshop of a tax year.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::units::Fixed6;
use crate::year::SourceNote;

/// Miles at one rate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MilesAtRate {
    /// First day of the rate.
    pub from: NaiveDate,
    /// Last day.
    pub to: NaiveDate,
    /// Money per mile.
    pub rate: Decimal,
    /// Miles.
    pub miles: Decimal,
    /// The rate's source.
    pub source: SourceNote,
}

/// Miles of the year.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Mileage {
    /// All miles.
    pub miles: Decimal,
    /// By rate.
    pub rates: Vec<MilesAtRate>,
    /// Miles times rates, summed exactly and rounded once to the cent.
    pub amount: Fixed6,
}

/// The home workshop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HomeYear {
    /// Whether by the simplified method.
    pub simplified: bool,
    /// How it was figured, in words.
    pub how: String,
    /// Before the limit, to the cent.
    pub before_limit: Fixed6,
    /// After it.
    pub amount: Fixed6,
    /// What the limit cut off; carried by nothing here.
    pub excess: Fixed6,
    /// Index of the form's line that limits it; `None` until it is put on its line.
    pub limit: Option<usize>,
    /// By the simplified method: money per square foot, and the square feet that count of each month, from January on.
    pub by_feet: Option<HomeFeet>,
}

/// The home workshop by the simplified method.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HomeFeet {
    /// Money per square foot of the average area.
    pub per_square_foot: Decimal,
    /// Square feet of each month, at most as many as count.
    pub months: Vec<Decimal>,
    /// Where the method stands.
    pub source: SourceNote,
}

//! *What lies where?* A list for each place away from home: to hand over with the goods, and to settle by.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::{DayText, MoneyText, QuantityText, UnitCostText};
use crate::reports::{CountedRow, PlaceShortage, PlaceSlip, ReportHead};

/// A thing at a place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlaceRow {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// Its unit.
    pub unit: String,
    /// What a customer is asked for one, as the goods are marked on the last day: the list price, or on consignment the price of the last sale there since
    /// the list price changed and since nothing lay there; null where there is none.
    #[schemars(with = "Option<UnitCostText>")]
    pub asked: Option<String>,
    /// The day of the sale that says so; null where it is the list price.
    #[schemars(with = "Option<DayText>")]
    pub asked_by_sale_of: Option<String>,
    /// The list price of the last day; null where there is none.
    #[schemars(with = "Option<UnitCostText>")]
    pub list_price: Option<String>,
    /// Brought there: sent, there when the book began, bought to there, or back from a buyer.
    #[schemars(with = "QuantityText")]
    pub brought: String,
    /// Sold from there.
    #[schemars(with = "QuantityText")]
    pub sold: String,
    /// Taken away again to another place.
    #[schemars(with = "QuantityText")]
    pub taken_away: String,
    /// Missing in counts, given, scrapped or used there; below zero: made, found or counted more there.
    #[schemars(with = "QuantityText")]
    pub otherwise: String,
    /// There now.
    #[schemars(with = "QuantityText")]
    pub left: String,
    /// At the asked price.
    #[schemars(with = "Option<MoneyText>")]
    pub left_at_price: Option<String>,
}

/// A sale that the place still owes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlaceOwes {
    /// The order, or the day.
    pub order: String,
    /// The day.
    #[schemars(with = "DayText")]
    pub date: String,
    /// What it came to after the channel's part.
    #[schemars(with = "MoneyText")]
    pub total: String,
    /// What is still to come.
    #[schemars(with = "MoneyText")]
    pub open: String,
    /// Days since the sale, or since the book began with it, up to `days_to`.
    pub days: i64,
    /// By how many days that is more than the place usually takes; null where it never paid a sale whole.
    pub days_late: Option<i64>,
}

/// A place away from home.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlaceList {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// Whether a channel sells from it.
    pub is_channel: bool,
    /// That channel's name; null where none does.
    pub channel: Option<String>,
    /// The day of the last count; null where none was made.
    #[schemars(with = "Option<DayText>")]
    pub last_count: Option<String>,
    /// Days from that to the last day of the book.
    pub days_since_count: Option<i64>,
    /// What was there and is there, by thing.
    pub rows: Vec<PlaceRow>,
    /// All that is there at the asked prices, as far as there are some.
    #[schemars(with = "MoneyText")]
    pub left_at_price: String,
    /// What else is to be known of these: what is marked at another price than the list's, and what was sold there and came back to another place.
    pub notes: Vec<String>,
    /// Sales that are not paid.
    pub owes: Vec<PlaceOwes>,
    /// After how many days it usually pays: the mean of the last five sales that are paid whole, rounded up; null where none is.
    pub usual_days: Option<i64>,
    /// The last count against what the books had before it; empty where none was made.
    pub count: Vec<CountedRow>,
    /// What that count found missing, with its worth; null where it found nothing missing.
    pub shortage: Option<PlaceShortage>,
    /// What was handed over last, or on the day that was asked for, to be signed for; null where nothing was.
    pub slip: Option<PlaceSlip>,
    /// What was handed over on other days, the newest first.
    pub other_slips: Vec<PlaceSlip>,
    /// What they come to.
    #[schemars(with = "MoneyText")]
    pub owed: String,
}

/// The lists.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlacesReport {
    /// Its head.
    #[serde(flatten)]
    pub head: ReportHead,
    /// The day to which open bills are counted: today, or the last day of the book where that is later; null where the book has no entry.
    #[schemars(with = "Option<DayText>")]
    pub days_to: Option<String>,
    /// Places, by name.
    pub places: Vec<PlaceList>,
}

/// After how many days a place usually pays, in words.
pub(crate) fn after_days(days: impl std::fmt::Display) -> String {
    match days.to_string().as_str() {
        "0" => "on the day of the sale".to_owned(),
        "1" => "after 1 day".to_owned(),
        days => format!("after {days} days"),
    }
}

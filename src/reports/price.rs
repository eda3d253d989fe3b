//! *What must it fetch?* A product's price in each channel: what covers its cost, what the present price earns, and when a fixed cost is met.
//!
//! Prices are those that the channel's customers pay (of a wholesale channel: the list price of which it pays its part), in the currency's digits, rounded up so that the cost is covered; what is left of them is
//! exact to six digits.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::{AmountText, MinutesText, MoneyText, PercentText, QuantityText, UnitCostText};
use crate::reports::{PerUnit, ReportHead};

/// From what is learnt of a channel that sold no piece.
pub(crate) const NOTHING_SOLD: &str = "nothing sold in these days";

/// What a piece must fetch in a channel, at least.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FloorPrices {
    /// To cover what was laid out; null where the channel keeps more of a price than it leaves.
    #[schemars(with = "Option<MoneyText>")]
    pub paid: Option<String>,
    /// To cover own time and overhead too; null where hours are unknown.
    #[schemars(with = "Option<MoneyText>")]
    pub full: Option<String>,
    /// To earn the wanted hour, with what it bears of the channel's own expenses and hours; null where none is wanted, hours are unknown, or the channel keeps more of
    /// a price than it leaves.
    #[schemars(with = "Option<MoneyText>")]
    pub earning: Option<String>,
    /// For the full margin to be the wanted part of what is charged; null where none is wanted, or no price can give it.
    #[schemars(with = "Option<MoneyText>")]
    pub margin: Option<String>,
}

/// What one price earns in a channel, for a piece.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PriceEarns {
    /// The price that the channel's customers pay; of a wholesale channel, the list price of which it pays its part.
    #[schemars(with = "UnitCostText")]
    pub price: String,
    /// What reaches you of it after share, fees, packing and postage.
    #[schemars(with = "AmountText")]
    pub receives: String,
    /// That less paid cost.
    #[schemars(with = "AmountText")]
    pub paid_margin: String,
    /// That less own time and overhead; null where hours are unknown.
    #[schemars(with = "Option<AmountText>")]
    pub full_margin: Option<String>,
    /// Paid margin less overhead and its part of the channel's own expenses, for an hour of the piece and of its part of selling; null where hours are unknown, or where there are none.
    #[schemars(with = "Option<MoneyText>")]
    pub per_hour: Option<String>,
}

/// What selling a piece costs in a channel, beside fees that are a part of its price.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SellingCosts {
    /// Fees for a piece, and for a sale over the pieces of a sale.
    #[schemars(with = "AmountText")]
    pub fixed_fees: String,
    /// Postage, that of the way to the channel's place among it, less the shipping that buyers were charged.
    #[schemars(with = "AmountText")]
    pub postage: String,
    /// Packing, that of the way to the channel's place among it.
    #[schemars(with = "AmountText")]
    pub packing: String,
    /// Booths, miles and other expenses of the channel in all, without those for days after the book's last.
    #[schemars(with = "AmountText")]
    pub channel_expenses: String,
    /// The owner's minutes on the channel in all.
    #[schemars(with = "MinutesText")]
    pub channel_minutes: String,
    /// What the channel brought in, of all products.
    #[schemars(with = "AmountText")]
    pub channel_revenue: String,
    /// What one of this product brings in there, shipping charged among it, without sales tax: its part of the channel's revenue is its part of what the channel took
    /// itself.
    #[schemars(with = "AmountText")]
    pub brings_in: String,
    /// From what that is known: `what was sold there`; where none was, `its list price`, `its last price`, `the least price that covers its cost`, or `no price`.
    pub brought_in_by: String,
    /// What one bears of the channel's own expenses, whatever is asked for it.
    #[schemars(with = "AmountText")]
    pub own_expenses: String,
    /// What one bears of the owner's minutes on the channel.
    #[schemars(with = "MinutesText")]
    pub own_minutes: String,
    /// Pieces from which postage and packing were learnt: `this product`, `the channel`, or `nothing sold in these days`.
    pub learnt_from: String,
    /// How many.
    #[schemars(with = "QuantityText")]
    pub pieces: String,
    /// Pieces sent to the channel's place, less those taken away, of which postage and packing of the way there were learnt; 0 where that cost nothing.
    #[schemars(with = "QuantityText")]
    pub sent_pieces: String,
}

impl SellingCosts {
    /// Whether a piece bears something of what the channel takes itself, as learnt from all that it sold.
    fn bears_own(&self) -> bool {
        self.own_expenses != "0.00" || self.own_minutes != "0"
    }

    /// From what it was learnt: `24 pieces of this product, 4 pieces sent there, all sales there`; the first are of postage and packing, the second of the way
    /// there, the last of what the channel takes itself. `number` groups digits.
    pub(crate) fn learnt_from_in_words(&self, number: &dyn Fn(&str) -> String) -> String {
        let many = |pieces: &str| format!("{} {}", number(pieces), if pieces == "1" { "piece" } else { "pieces" });
        let mut words = match self.pieces.as_str() {
            "0" => self.learnt_from.clone(),
            pieces => format!("{} of {}", many(pieces), self.learnt_from),
        };
        if self.sent_pieces != "0" {
            words.push_str(&format!(", {} sent there", many(&self.sent_pieces)));
        }
        if self.bears_own() {
            words.push_str(", all sales there");
        }
        words
    }
}

/// How many pieces meet a fixed cost.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BreakEven {
    /// What is to be met: money, as was asked about, or as the channel's last fair took it.
    #[schemars(with = "MoneyText")]
    pub money: String,
    /// And the owner's minutes.
    #[schemars(with = "MinutesText")]
    pub minutes: String,
    /// From which fair that was learnt; null where it was asked about.
    pub learnt_from: Option<String>,
    /// Pieces until the money is back; null where a piece leaves nothing.
    pub pieces: Option<String>,
    /// What their buyers pay.
    #[schemars(with = "Option<MoneyText>")]
    pub takings: Option<String>,
    /// Pieces until the hours are paid too, each piece bearing own time and overhead; null where hours are unknown or it never does.
    pub pieces_with_hours: Option<String>,
}

/// A product in a channel.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ChannelPrice {
    /// The channel's name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Its terms, in words: `it keeps 40 %`, `a piece costs it 50 % of the list price`, `3 % of total, 0.25 per sale`.
    pub terms: String,
    /// What of a price reaches you, in percent, before the sums for a piece.
    #[schemars(with = "PercentText")]
    pub leaves_percent: String,
    /// What selling a piece costs beside.
    pub selling: SellingCosts,
    /// The least prices.
    pub floors: FloorPrices,
    /// What the list price earns; null where there is none.
    pub at_list_price: Option<PriceEarns>,
    /// What the last price earns at which it was sold or sent there; null where there is none.
    pub at_last_price: Option<PriceEarns>,
    /// When the fixed cost that was asked about is met, else that of its last fair, at the list price or else the last.
    pub break_even: Option<BreakEven>,
    /// One sentence: what this channel does with the piece.
    pub says: String,
}

impl ChannelPrice {
    /// Whether nothing was sold there yet, so that its terms alone are known.
    pub(crate) fn is_untried(&self) -> bool {
        self.selling.learnt_from == NOTHING_SOLD
    }
}

/// The fixed cost that was asked about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FixedCost {
    /// Money: a booth, a drive, a machine.
    #[schemars(with = "MoneyText")]
    pub money: String,
    /// The owner's minutes.
    #[schemars(with = "MinutesText")]
    pub minutes: String,
}

/// The price report.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PriceReport {
    /// Its head.
    #[serde(flatten)]
    pub head: ReportHead,
    /// How the names of its figures begin, for `kerfbook why`: `price/pull-cart+earn_25`; null where days were asked about, of which names say nothing.
    pub figure: Option<String>,
    /// The product's name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Whence its cost is taken, in words.
    pub cost_from: String,
    /// Whether its cost is what a plan of one expects, by recipe and last prices, and not measured: none was finished yet.
    pub expected: bool,
    /// Pieces over which it is taken.
    #[schemars(with = "QuantityText")]
    pub pieces: String,
    /// What one costs.
    pub per_unit: PerUnit,
    /// The owner's minutes in one; null where hours are unknown.
    #[schemars(with = "Option<MinutesText>")]
    pub minutes_per_unit: Option<String>,
    /// The list price.
    #[schemars(with = "Option<UnitCostText>")]
    pub list_price: Option<String>,
    /// What an hour is to earn; null where nothing was asked and the shop states no rate.
    #[schemars(with = "Option<MoneyText>")]
    pub wanted_per_hour: Option<String>,
    /// The owner's hour at the rate of the last day covered; null where the shop states none.
    #[schemars(with = "Option<MoneyText>")]
    pub owner_rate: Option<String>,
    /// The wanted margin.
    #[schemars(with = "Option<PercentText>")]
    pub wanted_margin: Option<String>,
    /// A fixed cost to be met.
    pub fixed: Option<FixedCost>,
    /// Channels, by name.
    pub channels: Vec<ChannelPrice>,
    /// What a reader of the figures must know.
    pub notes: Vec<String>,
}

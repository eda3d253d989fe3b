//! What is known once, with names as ids, quantities in the thing's own unit, and changes by day.
//!
//! Money here is as many digits as written (prices, rates); percentages are parts of a hundred.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::names::{Dated, LineId, PatternId, PlaceId, StepId, ThingId};
use crate::sources::Span;
use crate::units::{Currency, Unit};

/// What every definition has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// The name.
    pub name: String,
    /// The title.
    pub title: String,
    /// The name in its definition.
    pub span: Span,
    /// Whether lines of its definition could not be read: what it lacks may stand there, so later stages stay silent about it.
    pub incomplete: bool,
}

/// How things of the same kind leave stock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum CostingMethod {
    Fifo,
    Average,
}

/// When an amount counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum Basis {
    Cash,
    Accrual,
}

/// What waits in the goods.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum StockKept {
    Inventory,
    Supplies,
}

/// How overhead is put on an hour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OverheadRule {
    /// None.
    None,
    /// Money per direct hour.
    PerHour(Decimal),
    /// The year's actual overhead over the year's direct minutes.
    FromExpenses,
}

/// The home workshop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HomeWorkshop {
    /// The simplified method: area in square feet, from a day.
    Simplified {
        /// Square feet.
        square_feet: Decimal,
        /// First day; `None` for 1 January of the book's first year.
        from: Option<NaiveDate>,
    },
    /// A part of the house costs.
    PartOfHouseCosts {
        /// Parts of a hundred.
        percent: Decimal,
        /// First day.
        from: Option<NaiveDate>,
    },
}

/// The shop.
#[derive(Clone, Debug, PartialEq)]
pub struct Shop {
    /// Its title.
    pub title: String,
    /// Its head line; empty where the book has no `shop`.
    pub span: Span,
    /// The currency.
    pub currency: Currency,
    /// How stock leaves.
    pub costing: Dated<CostingMethod>,
    /// Money per owner's hour; `None` where not said.
    pub owner_time: Dated<Option<Decimal>>,
    /// Overhead.
    pub overhead: Dated<OverheadRule>,
    /// The tax form's name, `us-schedule-c`.
    pub tax_form: Option<String>,
    /// When an amount counts.
    pub basis: Dated<Basis>,
    /// What waits in the goods.
    pub stock_kept: Dated<StockKept>,
    /// Whether the form is in whole units of the currency.
    pub whole_dollars: Dated<bool>,
    /// Whether an issue without stock is a warning.
    pub short_stock_is_a_warning: Dated<bool>,
    /// Whose sales tax the shop collects.
    pub sales_tax_to: Dated<Option<String>>,
    /// The home workshop.
    pub home_workshop: Dated<Option<HomeWorkshop>>,
    /// Hours a week for planning.
    pub hours_per_week: Dated<Option<Decimal>>,
    /// The home place, where one is known; a mistake has been told where it is needed and isn't.
    pub home: Option<PlaceId>,
}

/// What is chosen for one tax year.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Choices {
    /// The year.
    pub year: i32,
    /// Where it stands.
    pub span: Span,
    /// The de minimis election.
    pub de_minimis: bool,
    /// Wages from elsewhere.
    pub wages_elsewhere: Option<Decimal>,
}

/// A place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// Name, title, place.
    pub named: Named,
    /// Whether it says `home`.
    pub home: bool,
}

/// What a step uses up by the time worked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wear {
    /// The wearing thing.
    pub thing: ThingId,
    /// How much of it, in its own unit,
    pub quantity: Decimal,
    /// per this many minutes.
    pub per_minutes: Decimal,
    /// The line.
    pub span: Span,
}

/// A step of the work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Name, title, place.
    pub named: Named,
    /// What it wears.
    pub wears: Dated<Vec<Wear>>,
    /// Whether it never enters a lot.
    pub indirect: Dated<bool>,
}

/// What kind of stock a thing is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the words of the trade")]
pub enum ThingKind {
    Material,
    Wear,
    Packing,
    Product,
}

/// How boards of a material are measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum Tallied {
    Exactly,
    BySurfaceMeasure,
}

/// A pack or conversion: `1 bag = 50 ea`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pack {
    /// The unit's or pack's name.
    pub name: String,
    /// How much of the thing's own unit it holds. `None` where it is in another dimension (`1 bf = 3.6 lb`).
    pub holds: Option<Decimal>,
    /// The quantity as written.
    pub written: (Decimal, Unit),
    /// The line.
    pub span: Span,
}

/// Something a recipe needs: `quantity` per `per` pieces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    /// The thing.
    pub thing: ThingId,
    /// How much, in its own unit,
    pub quantity: Decimal,
    /// for this many pieces.
    pub per: Decimal,
    /// The item.
    pub span: Span,
}

/// Time a recipe takes, for `per` pieces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Take {
    /// The step.
    pub step: StepId,
    /// Minutes,
    pub minutes: Decimal,
    /// for this many pieces.
    pub per: Decimal,
    /// The item.
    pub span: Span,
}

/// A material or product.
#[derive(Clone, Debug, PartialEq)]
pub struct Thing {
    /// Name, title, place.
    pub named: Named,
    /// What kind of stock it is.
    pub kind: ThingKind,
    /// The unit it is measured in: `ea` for a product.
    pub unit: Unit,
    /// Packs and conversions.
    pub packs: Dated<Vec<Pack>>,
    /// How its boards are measured.
    pub tallied: Dated<Tallied>,
    /// When to reorder, in its own unit.
    pub reorder_at: Dated<Option<Decimal>>,
    /// The material it is an offcut of.
    pub from: Option<ThingId>,
    /// Its product line.
    pub line: Dated<Option<LineId>>,
    /// Its recipe; empty where it has none.
    pub needs: Dated<Vec<Need>>,
    /// The times of its recipe.
    pub takes: Dated<Vec<Take>>,
    /// Whether a line of its recipe, or of its definition, could not be read: it may need or take more than is known.
    pub recipe_incomplete: bool,
    /// Its list price.
    pub price: Dated<Option<Decimal>>,
    /// Its pattern.
    pub pattern: Dated<Option<PatternId>>,
    /// The youngest age in months, where it is for children.
    pub for_children_from_months: Dated<Option<u32>>,
}

/// A pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// Name, title, place.
    pub named: Named,
    /// How many pieces one licence permits; `None` for no limit.
    pub allows: Dated<Option<Decimal>>,
    /// Money for each good piece.
    pub royalty: Dated<Option<Decimal>>,
    /// Whether the royalty is owed until paid.
    pub paid_later: Dated<bool>,
}

/// A helper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Helper {
    /// Name, title, place.
    pub named: Named,
    /// Whether an employee (else a contractor).
    pub employee: Dated<bool>,
    /// Money per hour.
    pub costs: Dated<Option<Decimal>>,
    /// Whether owed until paid.
    pub paid_later: Dated<bool>,
}

/// A fee of a channel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FeeRule {
    /// Part of the order's total.
    OfTotal(Decimal),
    /// Part of the goods.
    OfGoods(Decimal),
    /// Part of what was paid by card.
    OfCard(Decimal),
    /// Money per order.
    PerSale(Decimal),
    /// Money per piece.
    PerItem(Decimal),
}

/// What a channel keeps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChannelShare {
    /// Nothing but fees.
    None,
    /// Percent of its customers' prices.
    Consignment(Decimal),
    /// Percent of the list price that it pays.
    Wholesale(Decimal),
}

/// A selling channel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Channel {
    /// Name, title, place.
    pub named: Named,
    /// The place of the same name.
    pub place: Option<PlaceId>,
    /// Its fees.
    pub fees: Dated<Vec<FeeRule>>,
    /// Consignment or wholesale.
    pub share: Dated<ChannelShare>,
    /// Whether sales are owed until paid (said, or by consignment or wholesale).
    pub pays_later: Dated<bool>,
    /// Whether the channel collects the sales tax.
    pub collects_sales_tax: Dated<bool>,
    /// Sales tax within the prices, in parts of a hundred.
    pub prices_include_tax: Dated<Option<Decimal>>,
}

/// To which part of the full view an expense belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum CountsAs {
    Unassigned,
    Overhead,
    HouseCost,
}

/// An expense or an income without goods.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Category {
    /// Name, title, place.
    pub named: Named,
    /// The form's line as written (`25`, `other`); `None` where the book names no form.
    pub form_line: Dated<Option<String>>,
    /// Business part in parts of a hundred; 100 where not said.
    pub business_use: Dated<Decimal>,
    /// Part of the full view.
    pub counts_as: Dated<CountsAs>,
}

/// How a tool's cost is recovered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Recovery {
    /// Over years.
    OverYears(Decimal),
    /// At once.
    AtOnce,
    /// Section 179.
    Section179 {
        /// The amount; `None` for all of the cost.
        stated: Option<Decimal>,
        /// The years over which the rest is recovered; `None` where not said.
        rest_over: Option<Decimal>,
    },
}

/// A tool.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tool {
    /// Name, title, place.
    pub named: Named,
    /// First day of use; `None` for the day it was bought.
    pub in_use_from: Option<NaiveDate>,
    /// How its cost is recovered; `None` where not said.
    pub recovery: Option<Recovery>,
    /// Whether bonus depreciation is declined.
    pub no_bonus: bool,
    /// Whether years before the book were mid-quarter.
    pub mid_quarter: bool,
    /// Business part in parts of a hundred.
    pub business_use: Dated<Decimal>,
    /// Years of life for the workshop view.
    pub lasts_years: Option<Decimal>,
}

/// A batch's name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BatchName {
    /// The name: as written, or `PRODUCT/DATE`.
    pub name: String,
    /// The first place at which it stands.
    pub span: Span,
    /// Whether the name was written.
    pub written: bool,
    /// The earliest day of an entry that names it.
    pub first_day: Option<NaiveDate>,
}

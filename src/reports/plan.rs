//! *What would it take?* A run of builds: what to build first, what to buy, how many hours, what it would cost and whether it fits.
//!
//! Everything here is an estimate from what was, and says from what. Quantities are exact to nine digits, money to six, both rounded half away
//! from zero; packs and pieces to begin are rounded up to whole ones.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::{DayText, MinutesText, MoneyText, PercentText, QuantityText, UnitCostText};
use crate::reports::{PerUnit, ReportHead};

/// A product or part to build; parts come before what needs them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlanBuild {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// Pieces that were asked for.
    #[schemars(with = "QuantityText")]
    pub asked: String,
    /// Pieces that other builds of the plan need, as many more or fewer than their recipes say as their last batches used.
    #[schemars(with = "QuantityText")]
    pub for_parts: String,
    /// On hand at home.
    #[schemars(with = "QuantityText")]
    pub on_hand: String,
    /// Good ones to expect of batches on the bench: what all that they aim at gives, as the last batches did, less what they gave so far.
    #[schemars(with = "QuantityText")]
    pub on_the_bench: String,
    /// Out at other places.
    #[schemars(with = "QuantityText")]
    pub elsewhere: String,
    /// Good pieces to build: what was asked for, and what is short of parts.
    #[schemars(with = "QuantityText")]
    pub to_build: String,
    /// Pieces to begin, so that so many come out good.
    #[schemars(with = "QuantityText")]
    pub to_begin: String,
    /// Good pieces that are expected of these: no fewer than `to_build`, and more where whole pieces to begin make more. Materials, hours and costs are of
    /// all that is begun; what a piece costs is that over these.
    #[schemars(with = "QuantityText")]
    pub expected_good: String,
    /// Pieces lost of a hundred begun, as learnt.
    #[schemars(with = "PercentText")]
    pub lost_percent: String,
    /// From how many of its last batches that was learnt.
    pub learnt_from_batches: u32,
}

/// A material that is needed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlanMaterial {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// Its unit.
    pub unit: String,
    /// By the recipes alone, for the pieces to begin, and for what finishing open batches still takes.
    #[schemars(with = "QuantityText")]
    pub by_recipe: String,
    /// The same, as much more or less as the last batches used for a piece begun.
    #[schemars(with = "QuantityText")]
    pub needed: String,
    /// On hand at home.
    #[schemars(with = "QuantityText")]
    pub on_hand: String,
    /// Out at other places.
    #[schemars(with = "QuantityText")]
    pub elsewhere: String,
    /// Needed beyond what is on hand at home.
    #[schemars(with = "QuantityText")]
    pub short: String,
    /// `the recipe`, `the last batches` where these say how much is used, or `not in the recipe; the last batches used it`.
    pub learnt_from: String,
}

/// Something to buy.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlanBuy {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// How much is short.
    #[schemars(with = "QuantityText")]
    pub short: String,
    /// Its unit.
    pub unit: String,
    /// How many packs, boards or units.
    #[schemars(with = "QuantityText")]
    pub packs: String,
    /// As it was bought last: `bag`, `board`, `sheet`, or the unit.
    pub pack: String,
    /// The size of the boards, sheets or sticks that were bought last, as the book has it: `4/4 x 6 x 96 in`.
    pub size: Option<String>,
    /// How the packs to buy are called, with their size: `boards 4/4 x 6 x 96 in`, `bags`, `bf`.
    pub pack_words: String,
    /// How much that is.
    #[schemars(with = "QuantityText")]
    pub buy: String,
    /// From whom it was bought last; of what was never bought, with whom it was swapped last.
    pub supplier: Option<String>,
    /// When.
    #[schemars(with = "Option<DayText>")]
    pub last_bought: Option<String>,
    /// Whether that was a swap, since it was never bought.
    pub swapped: bool,
    /// What a pack cost then, freight and tax included; null where it was never bought.
    #[schemars(with = "Option<UnitCostText>")]
    pub pack_cost: Option<String>,
    /// What all would cost.
    #[schemars(with = "Option<MoneyText>")]
    pub cost: Option<String>,
}

/// Pieces of an open batch that the plan takes when they are done; what finishing them still takes is counted among materials, parts and hours.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlanFinish {
    /// The batch.
    pub batch: String,
    /// Name of what it makes.
    pub name: String,
    /// Title.
    pub title: String,
    /// Pieces that the plan takes of the good ones still to come.
    #[schemars(with = "QuantityText")]
    pub pieces: String,
    /// What they still need: what all that the batch aims at needs, as the last batches used or else by the recipe, less what it used so far.
    pub materials: Vec<PlanRest>,
    /// Minutes that they still take: the same of its time.
    #[schemars(with = "MinutesText")]
    pub minutes: String,
    /// Helpers' minutes among them.
    #[schemars(with = "MinutesText")]
    pub by_helpers: String,
}

/// What pieces of an open batch still need of a thing.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlanRest {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// How much.
    #[schemars(with = "QuantityText")]
    pub quantity: String,
    /// Its unit.
    pub unit: String,
}

/// Something that is short, was made here and has no recipe: its materials and hours are not counted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlanMake {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// How much is short.
    #[schemars(with = "QuantityText")]
    pub short: String,
    /// Its unit.
    pub unit: String,
    /// The batch that made it last.
    pub batch: String,
    /// When.
    #[schemars(with = "DayText")]
    pub last_made: String,
    /// What one cost then in full.
    #[schemars(with = "UnitCostText")]
    pub unit_cost: String,
}

/// A pattern by which the plan makes pieces, and whose licences permit so many.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlanLicence {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// Good pieces that the plan makes by it.
    #[schemars(with = "QuantityText")]
    pub needed: String,
    /// Pieces that its licences still permit.
    #[schemars(with = "QuantityText")]
    pub left: String,
    /// Of these, what open batches will still take: their good pieces to come, without those that the plan takes.
    #[schemars(with = "QuantityText")]
    pub on_the_bench: String,
    /// Pieces for which there is no licence, of the plan's and of those of open batches.
    #[schemars(with = "QuantityText")]
    pub short: String,
    /// Pieces that one licence permits.
    #[schemars(with = "QuantityText")]
    pub allows: String,
    /// Licences to buy.
    #[schemars(with = "QuantityText")]
    pub buy: String,
    /// From whom one was bought last.
    pub supplier: Option<String>,
    /// When.
    #[schemars(with = "Option<DayText>")]
    pub last_bought: Option<String>,
    /// What one cost then; null where none was ever bought.
    #[schemars(with = "Option<UnitCostText>")]
    pub licence_cost: Option<String>,
    /// What those to buy cost; null where none is to be bought, or there is no price.
    #[schemars(with = "Option<MoneyText>")]
    pub cost: Option<String>,
}

/// The time of a step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlanStep {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// By the recipes, for the pieces to begin.
    #[schemars(with = "MinutesText")]
    pub planned: String,
    /// As the last batches took for a piece begun, where there are some; else as planned. Where the recipe said another time when they were made, what they took
    /// counts as much longer or shorter.
    #[schemars(with = "MinutesText")]
    pub expected: String,
    /// Helpers' minutes among those expected: as large a part as they had in the last batches.
    #[schemars(with = "MinutesText")]
    pub by_helpers: String,
    /// As the best of the last batches took, for as many pieces; none, where one of them was not worked at the step.
    #[schemars(with = "Option<MinutesText>")]
    pub best: Option<String>,
}

/// What a piece is expected to cost.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlanCost {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// Pieces.
    #[schemars(with = "QuantityText")]
    pub pieces: String,
    /// A piece, by component.
    pub per_unit: PerUnit,
    /// The owner's minutes in one.
    #[schemars(with = "MinutesText")]
    pub minutes_per_unit: String,
    /// Which of these figures are only what is known of it, since something has no price or no hours: `materials`, `wear`, `royalty`, `paid`, `own_time`,
    /// `overhead`, `full`, `minutes_per_unit`.
    pub at_least: Vec<String>,
}

/// Whether the hours fit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlanBy {
    /// The day.
    #[schemars(with = "DayText")]
    pub day: String,
    /// From which day on.
    #[schemars(with = "DayText")]
    pub from: String,
    /// Hours of the shop in a week, on the first of these days; where they change, the minutes follow.
    #[schemars(with = "QuantityText")]
    pub hours_per_week: String,
    /// Minutes that there are.
    #[schemars(with = "MinutesText")]
    pub there_are: String,
    /// Minutes of the owner's that are needed, general work included as it was in the last twelve months.
    #[schemars(with = "MinutesText")]
    pub needed: String,
    /// Whether they fit; null where they would as far as hours are known, and those of something to build are not.
    pub fits: Option<bool>,
}

/// An offcut that may serve.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlanOffcut {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// Of which material.
    pub of: String,
    /// How much is on hand beyond what the plan itself takes. Where something for children is built, without what is of unknown source.
    #[schemars(with = "QuantityText")]
    pub on_hand: String,
    /// Its unit.
    pub unit: String,
}

/// The plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlanReport {
    /// Its head.
    #[serde(flatten)]
    pub head: ReportHead,
    /// How the names of its figures begin, for `kerfbook why`: `plan/6_pull-cart+4_village-set`. Then `cash-needed`, `helper-pay`,
    /// `royalties`, `due-later`, `own-minutes`, `helper-minutes`,
    /// `build/NAME/to-build`, `material/NAME/needed`, `buy/NAME/cost`, `step/NAME/expected`, `cost/NAME/paid`, `offcut/NAME/on-hand`,
    /// `licence/PATTERN/short`, `by/DAY/needed`.
    pub figure: String,
    /// What to build, parts first.
    pub builds: Vec<PlanBuild>,
    /// What is taken from open batches.
    pub finishing: Vec<PlanFinish>,
    /// Materials.
    pub materials: Vec<PlanMaterial>,
    /// What to buy.
    pub buys: Vec<PlanBuy>,
    /// What is short, was made here and has no recipe.
    pub makes: Vec<PlanMake>,
    /// Patterns whose licences have a limit.
    pub licences: Vec<PlanLicence>,
    /// How many things and licences to buy have no price, so that the money needed is at least as much as is said.
    pub unpriced: usize,
    /// What helpers are paid on the day of their work, at what they cost in the last batches; those who are `paid later` are not in it.
    #[schemars(with = "MoneyText")]
    pub helper_pay: String,
    /// Royalties that are paid when the pieces are made; those that are `paid later` are not in it.
    #[schemars(with = "MoneyText")]
    pub royalties: String,
    /// What helpers and royalties take that are `paid later`. It is not in `cash_needed`.
    #[schemars(with = "MoneyText")]
    pub due_later: String,
    /// Money that the plan takes: what is to be bought, licences included, as far as prices are known, with `helper_pay` and `royalties`.
    #[schemars(with = "MoneyText")]
    pub cash_needed: String,
    /// Hours.
    pub steps: Vec<PlanStep>,
    /// The owner's minutes in all, as expected.
    #[schemars(with = "MinutesText")]
    pub own_minutes: String,
    /// Names of builds of which neither the recipe nor a batch says how long they take; where there are some, the minutes are at least as many as is said.
    pub without_hours: Vec<String>,
    /// Helpers' minutes in all, as expected; what they cost is bought-in time.
    #[schemars(with = "MinutesText")]
    pub helper_minutes: String,
    /// What a piece is expected to cost, of each thing that was asked for.
    pub costs: Vec<PlanCost>,
    /// Whether it fits, where a day was given.
    pub by: Option<PlanBy>,
    /// Offcuts that may serve.
    pub offcuts: Vec<PlanOffcut>,
    /// What a reader must know.
    pub notes: Vec<String>,
}

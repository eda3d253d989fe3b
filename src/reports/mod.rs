//! Stage 9: the reports, as plain data already rounded for display.
//!
//! In: a [`CostedBook`](crate::costing::CostedBook) and a tax year. Out: one model a report, which the renderers print without computing anything. Every figure
//! is text (`"12.40"`), never a binary float, so that a reader of the JSON loses nothing. Must not: change a figure, or know how
//! it is shown.

mod check;
mod cost;
mod derivation;
mod equipment;
mod fair;
mod fair_rest;
mod figure_text;
mod figures;
mod goods_trace;
mod head;
mod hours_by_step;
mod margin;
mod marked_price;
mod other_income;
mod overhead_so_far;
mod owner_rate;
mod pattern_use;
mod pattern_uses;
mod payment_line;
mod pays;
mod pays_part;
mod pays_rest;
mod pays_sums;
mod pays_trend;
mod period;
mod place_moves;
mod place_notes;
mod place_papers;
mod place_shortage;
mod places;
mod plan;
mod planning;
mod price;
mod pricing;
mod proof;
mod report_cost;
mod report_equipment;
mod report_patterns;
mod report_pays;
mod report_place_papers;
mod report_places;
mod report_proof;
mod report_slow_stock;
mod report_stock;
mod report_verdicts;
mod report_year;
mod sheets;
mod slow_stock;
mod stock;
mod tracing;
mod variance_words;
mod verdict;
mod why;
mod without_hours;
mod year;

pub use check::{CheckReport, MendedModel};
pub use cost::{BatchCost, CostReport, PerUnit, ProductCost, StepCost, UseCost, Variance};
pub use derivation::{CostParts, Derived, HowDeep, report_why, take_cost_parts, take_minutes, tell_by_parts};
pub use equipment::{EquipmentLifeYear, EquipmentRow, EquipmentStep, ToolGoneRow};
pub use figures::{
    AskFault, BatchFigure, CostFigure, CostPart, CostRow, CostRowFigure, FigureFault, FigureGroup, FigureName, FigureNames,
    FigureRow, FiguresReport, LotFigure, MissingPart, OrderFigure, OrderPart, OwedPart, PaperPart, PatternFigure, PatternOf,
    PatternPart, PaysBeside, PaysColumn, PaysFigure, PlaceFigure, PlaceOf, PlacePart, PlanFigure, PlanPart, PlanRow, PriceColumn,
    PriceFigure, PriceOf, ProofFigure, ProofFlow, ProofOf, RoyaltyPart, ScheduleFigure, ScheduleOf, SlowFigure, SlowPart,
    StockFigure, StockKind, StockOf, VarianceFigure, VarianceKind, list_figures,
};
pub(crate) use figures::{is_kind, pays_group, plan_name, price_name};
pub use goods_trace::{
    BatchRecord, BatchRecords, MadeOfBatch, ReachedBatch, ReachedGone, ReachedOrder, ReachedSource, ReachedStock, RecordMaterial,
    RecordPaper, TraceKind, TraceReport, TraceStep,
};
pub use head::ReportHead;
pub use pattern_use::{PatternUse, RoyaltyQuarter};
pub use pays::{PaysGroup, PaysMonth, PaysReport, PaysRestRow, PaysTotals, StepHours, Unassigned};
pub use pays_part::PaysOf;
pub use pays_sums::PaysSums;
pub use period::Period;
pub use place_papers::{CountedRow, PlaceSlip, SlipRow};
pub use place_shortage::{PlaceShortage, ShortRow};
pub(crate) use places::after_days;
pub use places::{PlaceList, PlaceOwes, PlaceRow, PlacesReport};
pub use plan::{
    PlanBuild, PlanBuy, PlanBy, PlanCost, PlanFinish, PlanLicence, PlanMake, PlanMaterial, PlanOffcut, PlanReport, PlanRest,
    PlanStep,
};
pub use planning::{MOST_PIECES, PlanAsked, PlanFault, report_plan};
pub use price::{BreakEven, ChannelPrice, FixedCost, FloorPrices, PriceEarns, PriceReport, SellingCosts};
pub use pricing::{PriceFault, PriceIndex, Unpriced, Wanted, report_price, report_price_by};
pub use proof::{ProofComponent, ProofReport};
pub use report_cost::report_cost;
pub use report_pays::report_pays;
pub use report_places::report_places;
pub use report_proof::{PROOF_BEGINS, PROOF_WAITS, proof_line, report_proof};
pub use report_stock::report_stock;
pub use report_year::report_year;
pub use sheets::{
    CellKind, Excerpt, ExcerptLine, Excerpts, Further, OwedByChannel, PlaceIndex, ReportsByName, SalesIndex, Sheet, SheetCell,
    SheetColumn, SheetIndex, SheetKind, SheetName, SheetPlace, SheetRow, SheetTable, cost_parts_table, lists_of_sheets,
    owed_by_channel, place_name, price_sheet_name, priced_products, sheet_of_batch, sheet_of_channel, sheet_of_hours,
    sheet_of_line, sheet_of_order, sheet_of_place, sheet_of_price, sheet_of_proof_figure, sheet_of_sales_figure, sheet_of_thing,
    sheets_of_proof, sheets_of_sales,
};
pub use slow_stock::{ByAge, SlowStock, StockAges};
pub use stock::{BenchItem, StockItem, StockLotLine, StockReport, StockTotals};
pub use tracing::{DirectRecords, TraceFault, report_trace};
pub use verdict::{IfDropped, OtherUse, PaysBridge, PaysTrend, PaysVerdict, TrendYear, Verdict};
pub use why::{WhyMeasure, WhyPlace, WhyReport, WhyRule, WhyStep};
pub use year::{
    BridgeLine, CostOfGoods, CutOffPart, FormBoxAnswer, FormLine, GoodsWentTo, HomeWorkshopRow, MileageSchedule, NamedSum,
    OpenQuestion, SalesTaxRow, Schedules, SelfEmployment, Timing, YearReport,
};

//! Figures of the schedules behind a tax year's form: `year/2026/self-employment/line-12`, `year/2026/equipment/band-saw`, `year/2026/home-workshop`,
//! `year/2026/mileage`, `year/2026/sales-tax/home-state/Q1`, `year/2026/bridge/home-workshop`, `year/2026/box-44a`.

use super::FigureNames;
use super::errors::{FigureFault, unknown};
use super::name_table::segment;
use crate::names::ToolId;
use crate::year::{Says, TaxPeriod, TaxYear};

/// What of a year's schedules.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ScheduleOf {
    /// A line of the self-employment tax, by its index.
    SelfEmployment(usize),
    /// A tool's year.
    Equipment(ToolId),
    /// The home workshop.
    HomeWorkshop,
    /// Miles at their rates.
    Mileage,
    /// A row of the sales tax, by its index.
    SalesTax(usize),
    /// A step of the bridge, by its index.
    Bridge(usize),
    /// A box that has a figure, by its index.
    Box(usize),
}

/// A figure of a tax year's schedules.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ScheduleFigure {
    /// The year.
    pub year: i32,
    /// Which.
    pub of: ScheduleOf,
}

/// How a sales tax account without a name is called.
const OWN_ACCOUNT: &str = "shop";

impl ScheduleFigure {
    /// Reads what stands after `year/2026/`; `None` where it is of another kind.
    pub(super) fn read(year: &TaxYear, rest: &[&str], names: &FigureNames<'_>) -> Option<Result<Self, FigureFault>> {
        let of = match *rest {
            ["self-employment", line] => {
                let number = line.strip_prefix("line-")?;
                let at = year.self_employment.iter().position(|one| one.number == number);
                at.map(ScheduleOf::SelfEmployment).ok_or_else(|| unknown("line of the self-employment tax", number))
            }
            ["equipment", tool] => names.read_tool(tool).map(ScheduleOf::Equipment),
            ["home-workshop"] => Ok(ScheduleOf::HomeWorkshop),
            ["mileage"] => Ok(ScheduleOf::Mileage),
            ["sales-tax", to, ref period @ ..] if period.len() <= 1 => {
                let wanted = period.first().map_or_else(
                    || year.year.to_string(),
                    |typed| if typed.contains('-') { (*typed).to_owned() } else { format!("{}-{typed}", year.year) },
                );
                let is_it = |row: &TaxPeriod| account(row) == to && row.period == wanted;
                let typed = rest.get(1..).unwrap_or_default().join("/");
                let at = year.sales_tax.iter().position(is_it);
                at.map(ScheduleOf::SalesTax).ok_or_else(|| unknown("sales tax account or period", &typed))
            }
            ["bridge", step] => {
                let at = year.bridge.iter().position(|one| slug(&one.name) == step);
                at.map(ScheduleOf::Bridge).ok_or_else(|| unknown("step of the bridge", step))
            }
            [one] => {
                let number = one.strip_prefix("box-")?;
                let at = year.boxes.iter().position(|one| one.number == number && has_figure(one.says));
                at.map(ScheduleOf::Box).ok_or_else(|| unknown("box with a figure", number))
            }
            _ => return None,
        };
        Some(of.map(|of| Self { year: year.year, of }))
    }

    /// All of a year.
    pub(super) fn all(year: &TaxYear) -> Vec<Self> {
        let mut all: Vec<ScheduleOf> = (0..year.self_employment.len()).map(ScheduleOf::SelfEmployment).collect();
        let mut tools: Vec<ToolId> = year.equipment.iter().map(|row| row.tool).collect();
        tools.sort_unstable();
        tools.dedup();
        all.extend(tools.into_iter().map(ScheduleOf::Equipment));
        all.extend(year.home.is_some().then_some(ScheduleOf::HomeWorkshop));
        all.push(ScheduleOf::Mileage);
        all.extend((0..year.sales_tax.len()).map(ScheduleOf::SalesTax));
        all.extend((0..year.bridge.len()).map(ScheduleOf::Bridge));
        let boxes = year.boxes.iter().enumerate().filter(|(_, one)| has_figure(one.says));
        all.extend(boxes.map(|(at, _)| ScheduleOf::Box(at)));
        all.into_iter().map(|of| Self { year: year.year, of }).collect()
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        let year = names.year(self.year);
        let rest = match self.of {
            ScheduleOf::SelfEmployment(at) => {
                let line = year.and_then(|year| year.self_employment.get(at));
                format!("self-employment/line-{}", line.map_or("", |line| line.number.as_str()))
            }
            ScheduleOf::Equipment(tool) => format!("equipment/{}", names.tool(tool)),
            ScheduleOf::HomeWorkshop => "home-workshop".to_owned(),
            ScheduleOf::Mileage => "mileage".to_owned(),
            ScheduleOf::SalesTax(at) => {
                let row = year.and_then(|year| year.sales_tax.get(at));
                format!("sales-tax/{}", row.map(tax_text).unwrap_or_default())
            }
            ScheduleOf::Bridge(at) => {
                let step = year.and_then(|year| year.bridge.get(at));
                format!("bridge/{}", step.map(|step| slug(&step.name)).unwrap_or_default())
            }
            ScheduleOf::Box(at) => {
                let one = year.and_then(|year| year.boxes.get(at));
                format!("box-{}", one.map_or("", |one| one.number.as_str()))
            }
        };
        format!("year/{:04}/{rest}", self.year)
    }
}

/// Whether a box says a figure of the book that is told nowhere else.
const fn has_figure(says: Says) -> bool {
    matches!(says, Says::BusinessMiles | Says::WorkshopArea)
}

fn account(row: &TaxPeriod) -> String {
    if row.to.is_empty() { OWN_ACCOUNT.to_owned() } else { segment(&row.to) }
}

fn tax_text(row: &TaxPeriod) -> String {
    match row.period.split_once('-') {
        Some((_, quarter)) => format!("{}/{quarter}", account(row)),
        None => account(row),
    }
}

/// A step's words as they stand in a figure's name: small letters and digits, with a `-` for all between.
fn slug(words: &str) -> String {
    let mut slug = String::with_capacity(words.len());
    for letter in words.chars() {
        if letter.is_alphanumeric() {
            slug.extend(letter.to_lowercase());
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    slug.trim_end_matches('-').to_owned()
}

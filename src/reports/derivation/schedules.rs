//! The schedules behind a tax year's form, and the boxes that have a figure.

use super::{Step, Sum, Telling};
use crate::names::HomeWorkshop;
use crate::reports::figures::{ScheduleFigure, ScheduleOf};
use crate::reports::{FigureName, WhyRule};
use crate::year::{Says, TaxYear};

impl Telling<'_> {
    /// A figure of a schedule.
    pub(super) fn schedule(&mut self, year: &TaxYear, of: ScheduleOf) -> Option<(String, Vec<Step>)> {
        match of {
            ScheduleOf::SelfEmployment(at) => self.self_employment(year, at),
            ScheduleOf::Equipment(tool) => self.equipment(year, tool),
            ScheduleOf::HomeWorkshop => self.home_workshop(year),
            ScheduleOf::Mileage => self.mileage(year),
            ScheduleOf::SalesTax(at) => self.sales_tax(year, at),
            ScheduleOf::Bridge(at) => self.bridge(year, at),
            ScheduleOf::Box(at) => self.form_box(year, at),
        }
    }

    /// What a box of the form says, with the miles or the square feet behind it.
    fn form_box(&mut self, year: &TaxYear, at: usize) -> Option<(String, Vec<Step>)> {
        let one = year.boxes.get(at)?;
        let answer = format!("Box {} of {}, {}: {}.", one.number, year.year, one.label, one.answer);
        let steps = match one.says {
            Says::BusinessMiles => {
                let figure = FigureName::Schedule(ScheduleFigure { year: year.year, of: ScheduleOf::Mileage });
                let says = format!("miles of {}, before they are rounded to whole ones", year.year);
                let step = Step::nowhere(says, Sum::default(), WhyRule::SumOf).counted(year.mileage.miles, "mi");
                let mut step = step.named(figure);
                if self.folds {
                    step.rule = WhyRule::Deeper;
                } else {
                    step.steps = self.drives(year);
                }
                vec![step]
            }
            Says::WorkshopArea => {
                let shop = &self.of.books.book.shop;
                let last = chrono::NaiveDate::from_ymd_opt(year.year, 12, 31)?;
                match *shop.home_workshop.on(last) {
                    Some(HomeWorkshop::Simplified { square_feet, .. }) => {
                        let says = format!("home workshop on {last}");
                        vec![Step::new(says, Sum::default(), WhyRule::Said, shop.span).counted(square_feet, "sq ft")]
                    }
                    _ => Vec::new(),
                }
            }
            _ => Vec::new(),
        };
        Some((answer, steps))
    }
}

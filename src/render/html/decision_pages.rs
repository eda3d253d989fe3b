//! The pages of what is to be decided or answered for: a price, a plan, a trace.

use minijinja::context;

use super::{PageError, Pages, Question};
use crate::render::answer_to_decide::{answer_places, answer_plan, answer_price, answer_trace};
use crate::render::number_format::Shown;
use crate::reports::{PlacesReport, PlanReport, PriceReport, TraceReport};

impl Pages {
    /// *What lies where?*
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_places(&self, report: &PlacesReport) -> Result<String, PageError> {
        self.page("places.html", Question::Places, report, &report.head, &answer_places(report, Shown::Page), context! {})
    }

    /// *What must it fetch?*
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_price(&self, report: &PriceReport) -> Result<String, PageError> {
        self.page("price.html", Question::Price, report, &report.head, &answer_price(report, Shown::Page), context! {})
    }

    /// *What would it take?*
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_plan(&self, report: &PlanReport) -> Result<String, PageError> {
        self.page("plan.html", Question::Plan, report, &report.head, &answer_plan(report, Shown::Page), context! {})
    }

    /// *Where did it come from, where did it go?*
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_trace(&self, report: &TraceReport) -> Result<String, PageError> {
        self.page("trace.html", Question::Trace, report, &report.head, &answer_trace(report, Shown::Page), context! {})
    }
}

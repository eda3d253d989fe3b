//! Made-up reports for the tests of the renderers: plausible, but of no book.

mod cost;
mod pays;
mod proof;
mod stock;
mod verdicts_of_pays;
mod why;
mod year;

pub(crate) use cost::cost;
pub(crate) use pays::pays;
pub(crate) use proof::proof;
pub(crate) use stock::stock;
pub(crate) use why::why;
pub(crate) use year::year;

use crate::reports::ReportHead;

fn head(report: &str) -> ReportHead {
    ReportHead {
        report: report.to_owned(),
        version: 1,
        shop: "Wren & Gable Woodshop".to_owned(),
        currency: "USD".to_owned(),
        from: Some("2026-01-01".to_owned()),
        to: Some("2026-12-31".to_owned()),
    }
}

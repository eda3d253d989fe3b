//! Reports as text for a terminal or a plain file.
//!
//! In: report models, and how much room there is. Out: the text. The answer comes first, then tables whose columns line up.

mod bar;
mod cost;
mod equipment;
mod figures;
mod pays;
mod pays_judged;
mod places;
mod plan;
mod price;
mod proof;
mod sheet;
mod stock;
mod table;
mod trace;
mod why;
mod year;

use crate::render::number_format::{Shown, grouped, hours};

pub use cost::text_cost;
pub use figures::text_figures;
pub(crate) use figures::{FIGURES_ASKED, typed};
pub use pays::text_pays;
pub use places::text_places;
pub use plan::text_plan;
pub use price::text_price;
pub use proof::text_proof;
pub use sheet::Look;
pub use stock::text_stock;
pub use trace::text_trace;
pub use why::text_why;
pub use year::text_year;

/// A figure with its digits grouped.
fn number(figure: &str) -> String {
    grouped(figure, Shown::Terminal)
}

/// Minutes as hours and minutes, or the word for what nobody knows.
fn time(minutes: Option<&str>, missing: &str) -> String {
    minutes.map_or_else(|| missing.to_owned(), |minutes| hours(minutes, Shown::Terminal))
}

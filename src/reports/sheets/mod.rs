//! Sheets: a page's worth of facts about one product or material, batch, order, channel or product line.
//!
//! In: a book that was costed with its trace, and the reports of the same time. Out: [`Sheet`]s, all alike in shape, whose numbers carry the names of
//! their figures. All of them together take as long as the book is.

mod batch_goods;
mod batch_sheet;
mod cost_parts_table;
mod definition_lines;
mod excerpt;
mod expected_table;
mod hours_sheet;
mod order_returns;
mod order_sheet;
mod pattern_sheet;
mod pays_sheets;
mod place_index;
mod place_sheet;
mod price_sheet;
mod proof_sheets;
mod reports_by_name;
mod sales_index;
mod sales_table;
mod sheet;
mod sheet_index;
mod sheet_lists;
mod slow_sheet;
mod thing_flows;
mod thing_sheet;
mod trade_sheet;

use crate::names::{ChannelId, ResolvedBook};
use crate::reports::period::{column, money_text};
use crate::units::Fixed6;

pub use batch_sheet::sheet_of_batch;
pub use cost_parts_table::cost_parts_table;
pub use excerpt::{Excerpt, ExcerptLine, Excerpts};
pub use hours_sheet::sheet_of_hours;
pub use order_sheet::{OwedByChannel, owed_by_channel, sheet_of_order};
pub use pays_sheets::{sheet_of_sales_figure, sheets_of_sales};
pub use place_index::PlaceIndex;
pub use place_sheet::{place_name, sheet_of_place};
pub use price_sheet::{price_sheet_name, priced_products, sheet_of_price};
pub use proof_sheets::{sheet_of_proof_figure, sheets_of_proof};
pub use reports_by_name::ReportsByName;
pub use sales_index::SalesIndex;
pub use sheet::{CellKind, Sheet, SheetCell, SheetColumn, SheetKind, SheetName, SheetPlace, SheetRow, SheetTable};
pub use sheet_index::SheetIndex;
pub use sheet_lists::{Further, lists_of_sheets};
pub use thing_sheet::sheet_of_thing;
pub use trade_sheet::{sheet_of_channel, sheet_of_line};

/// A name as figures and sheets have it: a `/` within it is written `_`.
fn plain_name(name: &str) -> String {
    name.replace('/', "_")
}

fn sheet_of_channel_name(book: &ResolvedBook, channel: ChannelId) -> SheetName {
    SheetName::new(SheetKind::Channel, plain_name(&book.channel(channel).named.name))
}

/// A column of sums as it is shown, so that it adds up to its sum, which is shown too. `None` where that is too large to be carried.
fn column_cells(book: &ResolvedBook, sums: &[Fixed6]) -> Option<(Vec<String>, String)> {
    let shown = column(book, sums);
    let all = Fixed6::checked_sum(shown.iter().copied())?;
    Some((shown.into_iter().map(|sum| money_text(book, sum)).collect(), money_text(book, all)))
}

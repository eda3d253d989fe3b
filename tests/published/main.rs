//! Figures from published sources, the source beside each check.
//!
//! A mark says how the source was read: VERIFIED (the text was read), VERIFIED-2nd (on somebody's page about it),
//! COMPUTED or DERIVED (our arithmetic from published inputs), FROM MEMORY.

mod board_tally;
mod compiled;
mod currency_digits;
mod depreciation_tables;
mod job_cost;
mod largest_remainder;
mod stock_flow;
mod tax_year;
mod unit_factors;
mod whole_dollars;

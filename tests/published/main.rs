//! Figures from published sources, the source beside each check.
//!
//! A mark says how the source was read: VERIFIED (the text was read), VERIFIED-2nd (on somebody's page about it),
//! COMPUTED or DERIVED (our arithmetic from published inputs), FROM MEMORY.

mod board_tally;
mod break_even;
mod compiled;
mod consignment;
mod currency_digits;
mod depreciation_tables;
mod further_work;
mod home_workshop;
mod job_cost;
mod joint_cost;
mod largest_remainder;
mod margins;
mod overhead;
mod process_cost;
mod spoiled_goods;
mod stock_flow;
mod tax_year;
mod unit_factors;
mod variances;
mod whole_dollars;
mod yearly_limits;

//! The cut-off list, and what it reads: the orders near the year's ends, and channels' statements.
//!
//! Rows in words, as of the year's last day; empty parts are said to be empty.

pub(in crate::year) mod cut_off_list;
pub(in crate::year) mod cut_off_stock;
pub(in crate::year) mod sales_of_year;
pub(in crate::year) mod statements;

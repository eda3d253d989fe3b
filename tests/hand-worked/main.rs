//! Tax years worked by hand: each figure is derived in prose beside its check.

mod bills;
mod compiled;
mod counts;
mod cut_off;
mod deposits;
mod donations;
mod edges_of_a_year;
mod equipment;
mod every_flow;
mod every_flow_book;
mod examples;
mod findings;
mod flow_rows;
mod home_and_miles;
mod hours;
mod method_changes;
mod mistakes;
mod other_income;
mod prepaid;
mod questions;
mod returns;
mod row_case;
mod settling;
mod simple_year;
mod two_years;
mod year;

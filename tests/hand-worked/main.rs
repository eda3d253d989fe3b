//! Tax years worked by hand: each figure is derived in prose beside its check.

mod bills;
mod compiled;
mod counts;
mod cut_off;
mod deposits;
mod donations;
mod equipment;
mod examples;
mod home_and_miles;
mod hours;
mod mistakes;
mod other_income;
mod prepaid;
mod questions;
mod settling;
mod simple_year;
mod year;

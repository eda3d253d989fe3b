//! Tax years worked by hand: each figure is derived in prose beside its check.

mod bills;
mod compiled;
mod equipment;
mod examples;
mod home_and_miles;
mod mistakes;
mod questions;
mod simple_year;
mod year;

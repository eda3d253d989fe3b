//! Kerfbook: a shop's day book in plain text, and the compiler that turns it into cost per unit, stock on hand,
//! product lines that pay, and the tax year.
//!
//! A book passes through the stages in this order; each is a function from its input and a list of diagnostics to its
//! output, and uses only the stages above it (a test reads the `use crate::` lines):
//!
//! [`sources`] → [`diagnostics`] → [`units`] → [`syntax`] → [`names`] → [`events`] → [`costing`] → [`year`] → [`reports`] → [`render`],
//! with [`editor`] beside the way, and [`cli`] in front, which alone reads arguments, prints, and writes files.

pub mod cli;
pub mod costing;
pub mod diagnostics;
pub mod editor;
pub mod events;
pub mod names;
pub mod render;
pub mod reports;
pub mod sources;
pub mod syntax;
pub mod units;
pub mod year;

//! What holds for every book, tried on generated ones.

mod any_text;
mod compiled;
mod hard_input;
mod names_mean_no_file;
mod random_shop;
mod tax_years;

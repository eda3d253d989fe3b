//! What holds for every book, tried on generated ones.

mod any_text;
mod compiled;
mod hard_input;
mod names_mean_no_file;
mod random_shop;
mod tax_years;
mod compiled_pages;
mod how_many;
mod order_means_nothing;
mod random_book;
mod until_a_day;
mod value_in_is_value_out;

//! What holds for every book, tried on generated ones.

mod any_text;
mod compiled;
mod compiled_pages;
mod derivations;
mod every_figure;
mod exact_twin;
mod found_by_random_books;
mod fuzzed;
mod hard_input;
mod how_many;
mod journal_says_where;
mod long_decimals;
mod margins_tie;
mod names_mean_no_file;
mod order_means_nothing;
mod random_book;
mod random_books_have_everything;
mod random_shop;
mod scale;
mod tax_years;
mod tax_years_of_any_book;
mod twins_agree;
mod until_a_day;
mod value_in_is_value_out;
mod variances_add_up;
mod year_boundary;

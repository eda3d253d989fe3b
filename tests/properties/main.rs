//! What holds for every book, tried on generated ones.

mod names_mean_no_file;
mod any_text;
mod hard_input;

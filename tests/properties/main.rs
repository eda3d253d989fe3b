//! What holds for every book, tried on generated ones.

mod any_text;

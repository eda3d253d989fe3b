//! Kerfbook.

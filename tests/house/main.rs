//! The rules of the house, kept by tests: which stage may use which, how large a room may grow, which words are never
//! written, and that every code has its page and its case.

mod codes;
mod law;
mod papers;
mod rooms;
mod source_file;
mod stages;
mod words;

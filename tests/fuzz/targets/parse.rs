//! Any bytes as a book's text: no panic, no line lost.

#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| kerfbook_fuzz::parse(bytes));

//! Any text through every stage to the reports.

#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| kerfbook_fuzz::compile(bytes));

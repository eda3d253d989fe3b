//! Any bytes as a number, date, time, percentage or size.

#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| kerfbook_fuzz::numbers(bytes));

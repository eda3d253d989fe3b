//! The users' reference, `grammar/README.md`, held to what the compiler does: every example compiles as its fence says, and every
//! table is the one in the code.

#[path = "../compiled/mod.rs"]
mod compiled;
mod examples;
mod fences;
mod tables;

/// The reference's text.
const REFERENCE: &str = include_str!("../../grammar/README.md");

//! The users' reference, `grammar/README.md`, held to what the compiler does: every example compiles as its fence says, and every
//! table is the one in the code.

#[path = "../compiled/mod.rs"]
mod compiled;
mod examples;
mod fences;
mod tables;

use kerfbook::sources::{Loaded, SourceSet};

use compiled::{Asked, Compiled, compile};

/// The reference's text.
const REFERENCE: &str = include_str!("../../grammar/README.md");

/// Compiles texts, each as a file of that path. Every file that a text names is taken to exist.
fn compile_texts(files: &[(&str, &str)]) -> Compiled {
    let mut sources = SourceSet::default();
    for (path, text) in files {
        sources.add(*path, text).expect("under four gigabytes");
    }
    let asked = Asked { today: None, file_exists: &|_| true, tax_year: None };
    compile(Loaded { sources, damaged: Vec::new() }, asked)
}

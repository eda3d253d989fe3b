//! The examples of the explain pages do what they say.

use chrono::NaiveDate;
use kerfbook::diagnostics::{Code, Example, Severity, all_codes, explain_examples, explain_preamble, render_short};
use kerfbook::sources::{Loaded, SourceSet};
use kerfbook::year::Forms;

use crate::compiled::{Asked, Compiled, compile};

/// Compiles a text, on the shop of the pages where it has none of its own. No file that it names exists. A tax year is figured where the
/// page speaks of one.
fn compile_text(text: &str, code: Option<Code>) -> Compiled {
    let mut sources = SourceSet::default();
    if !text.starts_with("shop ") {
        sources.add("preamble.kerf", explain_preamble()).expect("added");
    }
    sources.add("example.kerf", text).expect("added");
    let forms = Forms::built_in();
    let tax_year = code.filter(|code| (500..600).contains(&code.0)).map(|_| (2026, &forms));
    let asked = Asked { today: NaiveDate::from_ymd_opt(2030, 1, 1), file_exists: &|_| false, tax_year };
    compile(Loaded { sources, damaged: Vec::new() }, asked)
}

/// What is wrong with an example of a page; `None` where it does what it says.
fn broken(code: Code, example: Example) -> Option<String> {
    let compiled = compile_text(example.text, Some(code));
    // The code of the page must be there, and no mistake that the page doesn't speak of.
    let holds = match example.wrong {
        true => {
            let own = compiled.found.iter().any(|one| one.code == code);
            own && compiled.found.iter().all(|one| one.code == code || one.severity != Severity::Error)
        }
        false => compiled.is_sound() && compiled.found.iter().all(|one| one.code != code),
    };
    (!holds).then(|| {
        let kind = if example.wrong { "wrong" } else { "right" };
        format!("{code}, the {kind} example:\n{}{}", example.text, render_short(&compiled.sources, &compiled.found))
    })
}

#[test]
fn the_shop_of_the_pages_compiles() {
    let compiled = compile_text("", None);
    assert!(compiled.found.is_empty(), "{}", render_short(&compiled.sources, &compiled.found));
}

#[test]
fn every_wrong_example_brings_its_code_and_every_right_one_compiles() {
    let broken: Vec<_> =
        all_codes().flat_map(|code| explain_examples(code).into_iter().filter_map(move |one| broken(code, one))).collect();
    assert!(broken.is_empty(), "{} examples:\n{}", broken.len(), broken.join("\n"));
}

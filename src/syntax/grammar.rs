//! The parser that pest makes of `grammar/kerfbook.pest`.

use pest_derive::Parser;

/// The parser; its rule `piece` never fails on a text that ends with a line break.
#[derive(Parser)]
#[grammar = "../grammar/kerfbook.pest"]
pub(crate) struct BookGrammar;

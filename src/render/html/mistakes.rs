//! The page that stands in place of all others while a book has mistakes: each with its place and the words of `kerfbook check`.
//!
//! It is made of the program's own templates alone, since a reader's own may be what is wrong.

use std::collections::BTreeMap;

use minijinja::context;
use minijinja::value::{Serde, Value};
use serde::Serialize;

use super::templates::{PageError, load_templates};

const TEMPLATE: &str = include_str!("../../../report-templates/mistakes.html");

/// A mistake as the page tells it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Mistake {
    /// Where it is: `2026/03.kerf, line 12`.
    pub place: String,
    /// What is wrong, over several lines.
    pub text: String,
}

/// Makes the page: what stands in the way, as a sentence, and the mistakes.
///
/// # Errors
/// Where the program's own template can't be used.
pub fn render_mistakes(sentence: &str, mistakes: &[Mistake]) -> Result<String, PageError> {
    let mut templates = load_templates(&BTreeMap::new())?;
    templates.add_template("mistakes.html", TEMPLATE)?;
    let context = context! { sentence, mistakes => Value::from(Serde(mistakes)) };
    Ok(templates.get_template("mistakes.html")?.render(context)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_book_says_wrongly_is_not_read_as_markup() {
        let mistake = Mistake { place: "a<b>.kerf, line 2".to_owned(), text: "no `<script>alert(1)</script>`".to_owned() };
        let page = render_mistakes("1 mistake & no page", &[mistake]).expect("a page");
        assert!(page.contains("<h2>a&lt;b&gt;.kerf, line 2</h2>") && page.contains("1 mistake &amp; no page"), "{page}");
        assert!(!page.contains("<script") && !page.contains("<b>"), "{page}");
    }
}

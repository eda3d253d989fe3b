//! The page templates: those in `report-templates/`, carried in the program, and those by which a book replaces them.
//!
//! Every value that a template prints is escaped, whatever the template is called; a name that a template uses and nobody
//! gave is an error.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt;

use minijinja::syntax::SyntaxConfig;
use minijinja::value::{Value, ValueKind};
use minijinja::{AutoEscape, Environment, HtmlEscape, UndefinedBehavior};

use crate::render::number_format::{Shown, at_a_glance, grouped, hours, is_zero, money, to_three};

/// The templates that come with the program, by name.
pub const EMBEDDED: [(&str, &str); 25] = [
    ("base.html", include_str!("../../../report-templates/base.html")),
    ("macros.html", include_str!("../../../report-templates/macros.html")),
    ("page.css", include_str!("../../../report-templates/page.css")),
    ("index.html", include_str!("../../../report-templates/index.html")),
    ("cost.html", include_str!("../../../report-templates/cost.html")),
    ("phrases.html", include_str!("../../../report-templates/phrases.html")),
    ("sheet.html", include_str!("../../../report-templates/sheet.html")),
    ("why.html", include_str!("../../../report-templates/why.html")),
    ("stock.html", include_str!("../../../report-templates/stock.html")),
    ("pays.html", include_str!("../../../report-templates/pays.html")),
    ("pays_judged.html", include_str!("../../../report-templates/pays_judged.html")),
    ("pays_beside.html", include_str!("../../../report-templates/pays_beside.html")),
    ("places.html", include_str!("../../../report-templates/places.html")),
    ("price.html", include_str!("../../../report-templates/price.html")),
    ("plan.html", include_str!("../../../report-templates/plan.html")),
    ("trace.html", include_str!("../../../report-templates/trace.html")),
    ("year.html", include_str!("../../../report-templates/year.html")),
    ("proof.html", include_str!("../../../report-templates/proof.html")),
    ("charts/picture.html", include_str!("../../../report-templates/charts/picture.html")),
    ("charts/fills.svg.html", include_str!("../../../report-templates/charts/fills.svg.html")),
    ("charts/rule.svg.html", include_str!("../../../report-templates/charts/rule.svg.html")),
    ("charts/stacked_bars.svg.html", include_str!("../../../report-templates/charts/stacked_bars.svg.html")),
    ("charts/signed_bars.svg.html", include_str!("../../../report-templates/charts/signed_bars.svg.html")),
    ("charts/bridge.svg.html", include_str!("../../../report-templates/charts/bridge.svg.html")),
    ("charts/columns.svg.html", include_str!("../../../report-templates/charts/columns.svg.html")),
];

/// As many steps as a page may take: far more than the largest page needs.
const STEPS_OF_A_PAGE: u64 = 200_000_000;

/// As many as a page may take where templates of the reader's own are among them, which may come to no end. 64 bytes that a template makes count as a step,
/// so this is also a bound of the memory that it takes: 640 MB, of which less than 500 at once. A page of 20 MB takes as many.
const STEPS_OF_AN_OWN_PAGE: u64 = 10_000_000;

/// Why a page could not be made: a template that can't be read or asks for what there is not. Only templates of the
/// reader's own (`--templates`) can cause it.
#[derive(Debug)]
pub struct PageError {
    message: String,
}

impl fmt::Display for PageError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for PageError {}

impl From<minijinja::Error> for PageError {
    fn from(error: minijinja::Error) -> Self {
        let mut causes = vec![in_words(&error)];
        let mut cause = std::error::Error::source(&error);
        while let Some(below) = cause {
            let words = in_words(below);
            // Of templates that include each other without end each is told once.
            if !causes.contains(&words) {
                causes.push(words);
            }
            cause = below.source();
        }
        Self { message: causes.join(": ") }
    }
}

/// What went wrong; that a page took all its steps, in words of a template.
fn in_words(error: &dyn std::error::Error) -> String {
    let words = error.to_string();
    words.replace(&minijinja::ErrorKind::OutOfFuel.to_string(), "it comes to no end, or makes more than a page can hold")
}

/// Makes the environment of all templates; `own` replaces those of the same name and may add others.
///
/// # Errors
/// Where one of `own` can't be read as a template.
pub(super) fn load_templates(own: &BTreeMap<String, String>) -> Result<Environment<'static>, PageError> {
    let mut templates = Environment::new();
    templates.set_undefined_behavior(UndefinedBehavior::Strict);
    templates.set_fuel(Some(if own.is_empty() { STEPS_OF_A_PAGE } else { STEPS_OF_AN_OWN_PAGE }));
    templates.set_auto_escape_callback(|_| AutoEscape::Html);
    templates.set_syntax(SyntaxConfig::builder().trim_blocks(true).lstrip_blocks(true).keep_trailing_newline(true).build()?);
    for (name, text) in EMBEDDED {
        if !own.contains_key(name) {
            templates.add_template(name, text)?;
        }
    }
    for (name, text) in own {
        templates.add_template_owned(name.clone(), text.clone())?;
    }
    templates.add_filter("figure", |text: Cow<'_, str>| grouped(&text, Shown::Page));
    templates.add_filter("money", |text: Cow<'_, str>, currency: Cow<'_, str>| money(&text, &currency, Shown::Page));
    templates.add_filter("to_three", |text: Cow<'_, str>| to_three(&text).into_owned());
    templates.add_filter("unit_cost", unit_cost);
    templates.add_filter("hours", |minutes: Cow<'_, str>| hours(&minutes, Shown::Page));
    templates.add_filter("ticks", |text: Cow<'_, str>| ticks(&text));
    templates.add_filter("sentence", |text: Cow<'_, str>| ticks(&capital(&text)));
    templates.add_filter("quoted", |words: Cow<'_, str>| in_style(&words));
    templates.add_filter("slug", |words: Cow<'_, str>| slug(&words));
    templates.add_filter("anchor", |name: Cow<'_, str>| anchor(&name));
    templates.add_test("nothing", |value: &Value| value.kind() == ValueKind::String && value.as_str().is_some_and(is_zero));
    Ok(templates)
}

/// A cost per unit as a sentence rounds it, with every digit small below it where it has more.
/// Only digits and signs of a number pass unescaped.
fn unit_cost(text: Cow<'_, str>) -> Value {
    if !text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.' || byte == b'-') {
        return Value::from(text.into_owned());
    }
    let (glance, all) = at_a_glance(&text);
    let all = all.map_or_else(String::new, |all| format!(" <small>{}</small>", grouped(all, Shown::Page)));
    Value::from_safe_string(format!("{}{all}", grouped(&glance, Shown::Page)))
}

/// Words in which what stands between backticks is set as the book's own text. All of it is escaped.
fn ticks(text: &str) -> Value {
    let mut out = String::with_capacity(text.len() + 32);
    let mut parts = text.split('`').peekable();
    let mut within = false;
    while let Some(part) = parts.next() {
        let closed = parts.peek().is_some();
        match (within, closed) {
            (true, true) => out.push_str(&format!("<code>{}</code>", HtmlEscape(part))),
            // A backtick that nothing closes stands as it is.
            (true, false) => out.push_str(&format!("`{}", HtmlEscape(part))),
            (false, _) => out.push_str(&HtmlEscape(part).to_string()),
        }
        within = !within;
    }
    Value::from_safe_string(out)
}

/// Words with a capital letter first; a name of the book's own, between backticks, keeps its letters.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// A name as part of an address: a `/` within it is written `_`, and a `_` can't stand in a name.
pub(super) fn anchor(name: &str) -> String {
    name.replace('/', "_")
}

/// Words between single quotes in a stylesheet, in which one would end them.
pub(super) fn in_style(words: &str) -> String {
    words.replace(['\\', '\n'], " ").replace('\'', "\u{2019}")
}

/// Words as they stand in a figure's name: small letters and digits, with a `-` for all between.
fn slug(words: &str) -> String {
    let small = words.to_lowercase();
    small.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty()).collect::<Vec<_>>().join("-")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_small_digits_of_a_cost_are_set_apart_and_nothing_else_passes_unescaped() {
        assert_eq!(unit_cost(Cow::Borrowed("-1234.567")).to_string(), "\u{2212}1,234.57 <small>\u{2212}1,234.567</small>");
        assert!(!unit_cost(Cow::Borrowed("0.00<script>")).is_safe());
        assert_eq!(unit_cost(Cow::Borrowed("9.33")).to_string(), "9.33");
    }

    #[test]
    fn what_stands_between_backticks_is_set_apart_and_still_escaped() {
        let seen = |text: &str| ticks(text).to_string();
        assert_eq!(seen("`dust-fan` left"), "<code>dust-fan</code> left");
        assert_eq!(seen("<b> `<i>` & `"), "&lt;b&gt; <code>&lt;i&gt;</code> &amp; `");
        assert_eq!(seen("plain"), "plain");
        assert_eq!(capital("is `gift-shop` it?"), "Is `gift-shop` it?");
        assert_eq!(capital("`gift-shop` is"), "`gift-shop` is");
    }

    #[test]
    fn words_in_a_figure_s_name_are_small_and_joined() {
        assert_eq!(slug("Paid margins, by (Line 4)"), "paid-margins-by-line-4");
    }

    #[test]
    fn a_template_of_one_s_own_takes_the_place_of_the_one_that_is_carried() {
        let own = BTreeMap::from([("index.html".to_owned(), "{{ shop }}!".to_owned())]);
        let templates = load_templates(&own).expect("read");
        let page = templates.get_template("index.html").expect("there");
        assert_eq!(page.render(minijinja::context! { shop => "<b>" }).expect("a page"), "&lt;b&gt;!");
    }

    #[test]
    fn a_template_that_asks_for_what_there_is_not_is_an_error_with_its_place() {
        let own = BTreeMap::from([("own.txt".to_owned(), "x\n{{ shopp }}".to_owned())]);
        let templates = load_templates(&own).expect("read");
        let error = templates.get_template("own.txt").expect("there").render(()).expect_err("strict");
        let told = PageError::from(error).to_string();
        assert!(told.contains("own.txt:2"), "{told}");
    }

    #[test]
    fn a_template_that_comes_to_no_end_is_an_error_with_its_place() {
        let loops = "{% for a in range(90000) %}{% for b in range(90000) %}{% endfor %}{% endfor %}";
        let doubles =
            "{% set all = namespace(text='x') %}{% for a in range(90) %}{% set all.text = all.text ~ all.text %}{% endfor %}";
        let repeats = "{{ 'x' * 9000000000 }}";
        for text in [loops, doubles, repeats] {
            let own = BTreeMap::from([("own.txt".to_owned(), text.to_owned())]);
            let templates = load_templates(&own).expect("read");
            let error = templates.get_template("own.txt").expect("there").render(()).expect_err("it never ends");
            let told = PageError::from(error).to_string();
            assert!(
                told.contains("own.txt:1") && told.contains("it comes to no end, or makes more than a page can hold"),
                "{told}"
            );
        }
    }

    #[test]
    fn a_template_that_includes_itself_is_told_once() {
        let own = BTreeMap::from([
            ("a.html".to_owned(), "{% include 'b.html' %}".to_owned()),
            ("b.html".to_owned(), "x\n{% include 'a.html' %}".to_owned()),
        ]);
        let templates = load_templates(&own).expect("read");
        let error = templates.get_template("a.html").expect("there").render(()).expect_err("it never ends");
        let told = PageError::from(error).to_string();
        assert!(told.contains("a.html:1") && told.contains("b.html:2") && told.len() < 400, "{told}");
    }

    #[test]
    fn a_template_that_can_t_be_read_is_an_error() {
        let own = BTreeMap::from([("cost.html".to_owned(), "{% if %}".to_owned())]);
        let told = load_templates(&own).expect_err("unreadable").to_string();
        assert!(told.contains("cost.html:1"), "{told}");
    }
}

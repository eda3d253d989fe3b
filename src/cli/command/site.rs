//! `kerfbook site --out DIR`: everything as one folder of linked pages.

use std::collections::BTreeMap;

use chrono::Datelike;

use super::cost::cost_in;
use super::pays::pays_in;
use super::stock::stock_on;
use super::{Book, Done, compile};
use crate::cli::args::SiteArgs;
use crate::cli::faults::{says_nothing_of, too_large};
use crate::cli::options::period;
use crate::cli::outcome::{Outcome, Status};
use crate::cli::progress;
use crate::cli::site_folder::write_folder;
use crate::cli::streams::Streams;
use crate::cli::templates::read_templates;
use crate::render::html::{Answers, Neighbours, PageLink, Pages, Question};
use crate::reports::{Period, YearReport, proof_line, report_proof, report_year};

/// Runs it.
pub(super) fn run(args: &SiteArgs, streams: &Streams) -> Done {
    let days = period(&args.period).map_err(Outcome::refused)?;
    let own = read_templates(args.templates.as_deref()).map_err(Outcome::refused)?;
    let book = compile(&args.book, streams)?;
    let site = make_site(&book, days, &own)?;
    write_folder(&args.out, &site.files).map_err(Outcome::refused)?;
    let compiled = &book.compiled;
    let out = format!(
        "wrote {} pages; open {}\n{}\n",
        site.files.len(),
        args.out.join("index.html").display(),
        proof_line(&compiled.book, &compiled.costed)
    );
    let err = if site.has_year { String::new() } else { no_year(compiled.book.shop.tax_form.as_deref()) };
    Ok(Outcome { out, err, status: Status::Good })
}

/// The pages of a site, made and not yet written.
pub(super) struct Site {
    /// Each file by its name.
    pub(super) files: BTreeMap<String, String>,
    /// Whether there is a page on a tax form.
    pub(super) has_year: bool,
}

/// Makes the site of a book without mistakes, `own` templates in place of those of the same name.
///
/// # Errors
/// A refusal: where the book says nothing of the days, a figure is too large, or a template can't be used.
pub(super) fn make_site(book: &Book, days: Period, own: &BTreeMap<String, String>) -> Result<Site, Outcome> {
    let compiled = &book.compiled;
    if let Some(nothing) = says_nothing_of(compiled, days) {
        return Err(nothing);
    }
    progress::at("making the pages");
    let cost = cost_in(compiled, days, None).ok_or_else(too_large)?;
    let stock = stock_on(compiled, days).ok_or_else(too_large)?;
    let pays = pays_in(book, days).ok_or_else(too_large)?;
    let proof = report_proof(&compiled.book, &compiled.costed, compiled.log.first_day);
    let years = compiled.years.iter().filter(|year| touches(days, year.year));
    let years: Option<Vec<YearReport>> = years.map(|year| report_year(compiled.books(), year)).collect();
    let years = years.ok_or_else(too_large)?;

    let pages = Pages::new(own, neighbours(&years)).map_err(Outcome::refused)?;
    let answers = Answers { cost: &cost, stock: &stock, pays: &pays, year: years.last(), proof: &proof };
    let mut made = vec![
        ("index.html".to_owned(), pages.render_index(&answers)),
        ("cost.html".to_owned(), pages.render_cost(&cost)),
        ("stock.html".to_owned(), pages.render_stock(&stock)),
        ("pays.html".to_owned(), pages.render_pays(&pays)),
        ("proof.html".to_owned(), pages.render_proof(&proof)),
    ];
    made.extend(years.iter().map(|year| (year_file(year), pages.render_year(year))));
    let mut files = BTreeMap::new();
    for (name, page) in made {
        files.insert(name, page.map_err(Outcome::refused)?);
    }
    Ok(Site { files, has_year: !years.is_empty() })
}

/// Whether a period has a day of a year.
fn touches(days: Period, year: i32) -> bool {
    days.from.is_none_or(|from| from.year() <= year) && days.to.is_none_or(|to| year <= to.year())
}

fn year_file(year: &YearReport) -> String {
    format!("year-{}.html", year.year)
}

/// The pages and where they stand; the question about the form leads to the last year.
fn neighbours(years: &[YearReport]) -> Neighbours {
    let link = |question, file: &str| PageLink { question, file: file.to_owned() };
    let mut pages =
        vec![link(Question::Cost, "cost.html"), link(Question::Stock, "stock.html"), link(Question::Pays, "pays.html")];
    if let Some(last) = years.last() {
        pages.push(link(Question::Year, &year_file(last)));
    }
    pages.push(link(Question::Proof, "proof.html"));
    let several = if years.len() > 1 { years } else { &[] };
    Neighbours { pages, years: several.iter().map(|year| (year.year, year_file(year))).collect() }
}

/// Why there is no page on the form.
fn no_year(form: Option<&str>) -> String {
    match form {
        Some(form) => format!("no page on the tax form: there is no data of `{form}` for these years\n"),
        None => "no page on the tax form: the shop names none (`tax form` in `shop`)\n".to_owned(),
    }
}

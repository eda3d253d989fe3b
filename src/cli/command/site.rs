//! `kerfbook site --out DIR`: everything as one folder of linked pages.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use super::site_pages::make_pages;
use super::{Book, Done, compile};
use crate::cli::args::SiteArgs;
use crate::cli::options::period;
use crate::cli::outcome::{Outcome, Status};
use crate::cli::site_folder::SiteFolder;
use crate::cli::streams::Streams;
use crate::cli::templates::read_templates;
use crate::reports::{Period, proof_line};

/// Runs it.
pub(super) fn run(args: &SiteArgs, streams: &Streams) -> Done {
    let days = period(&args.period).map_err(Outcome::refused)?;
    let own = read_templates(args.templates.as_deref()).map_err(Outcome::refused)?;
    let book = compile(&args.book, streams)?;
    let folder = SiteFolder::begin(&args.out).map_err(Outcome::refused)?;
    let has_year = make_pages(&book, days, &own, &|file, text| folder.write(file, text))?;
    let pages = folder.finish().map_err(Outcome::refused)?;
    let compiled = &book.compiled;
    let out = format!(
        "wrote {} pages; open {}\n{}\n",
        pages,
        args.out.join("index.html").display(),
        proof_line(&compiled.book, &compiled.costed)
    );
    let err = if has_year { String::new() } else { no_year(compiled.book.shop.tax_form.as_deref()) };
    Ok(Outcome { out, more: Vec::new(), err, status: Status::Good })
}

/// Makes the site of a book without mistakes, `own` templates in place of those of the same name, and keeps its pages.
///
/// # Errors
/// As [`make_pages`] does.
pub(super) fn make_site(book: &Book, days: Period, own: &BTreeMap<String, String>) -> Result<BTreeMap<String, String>, Outcome> {
    let files = Mutex::new(BTreeMap::new());
    let put = |file: &str, text: &str| {
        files.lock().unwrap_or_else(PoisonError::into_inner).insert(file.to_owned(), text.to_owned());
        Ok(())
    };
    make_pages(book, days, own, &put)?;
    Ok(files.into_inner().unwrap_or_else(PoisonError::into_inner))
}

/// Why there is no page on the form.
fn no_year(form: Option<&str>) -> String {
    match form {
        Some(form) => format!("no page on the tax form: there is no data of `{form}` for these years\n"),
        None => "no page on the tax form: the shop names none (`tax form` in `shop`)\n".to_owned(),
    }
}

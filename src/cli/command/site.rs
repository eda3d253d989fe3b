//! `kerfbook site --out DIR`: everything as one folder of linked pages.

use std::collections::BTreeMap;

use super::pays::pays_in;
use super::stock::stock_on;
use super::{Done, compile};
use crate::cli::args::SiteArgs;
use crate::cli::faults::too_large;
use crate::cli::options::period;
use crate::cli::outcome::Outcome;
use crate::cli::site_folder::write_folder;
use crate::cli::streams::Streams;
use crate::cli::templates::read_templates;
use crate::render::html::{Answers, Neighbours, PageLink, Pages, Question};
use crate::reports::{proof_line, report_cost, report_proof};

/// Runs it.
pub(super) fn run(args: &SiteArgs, streams: &Streams) -> Done {
    let days = period(&args.period).map_err(Outcome::refused)?;
    let own = read_templates(args.templates.as_deref()).map_err(Outcome::refused)?;
    let compiled = compile(&args.book, streams)?;
    let cost = report_cost(&compiled.book, &compiled.log, &compiled.costed, days, None).ok_or_else(too_large)?;
    let stock = stock_on(&compiled, days).ok_or_else(too_large)?;
    let pays = pays_in(&compiled, days).ok_or_else(too_large)?;
    let proof = report_proof(&compiled.book, &compiled.costed, compiled.log.first_day);

    let link = |question, file: &str| PageLink { question, file: file.to_owned() };
    let links = vec![
        link(Question::Cost, "cost.html"),
        link(Question::Stock, "stock.html"),
        link(Question::Pays, "pays.html"),
        link(Question::Proof, "proof.html"),
    ];
    let neighbours = Neighbours { pages: links, years: Vec::new() };
    let pages = Pages::new(&own, neighbours).map_err(Outcome::refused)?;
    let answers = Answers { cost: &cost, stock: &stock, pays: &pays, year: None, proof: &proof };
    let made = [
        ("index.html", pages.render_index(&answers)),
        ("cost.html", pages.render_cost(&cost)),
        ("stock.html", pages.render_stock(&stock)),
        ("pays.html", pages.render_pays(&pays)),
        ("proof.html", pages.render_proof(&proof)),
    ];
    let mut files = BTreeMap::new();
    for (name, page) in made {
        files.insert(name.to_owned(), page.map_err(Outcome::refused)?);
    }
    write_folder(&args.out, &files).map_err(Outcome::refused)?;
    let out = format!(
        "wrote {} pages; open {}\n{}\n",
        files.len(),
        args.out.join("index.html").display(),
        proof_line(&compiled.book, &compiled.costed)
    );
    Ok(Outcome::said(out))
}

//! The pages of the questions: cost, stock, what pays, the form, and the proof.

use minijinja::context;
use minijinja::value::{Serde, Value};
use serde::Serialize;

use super::index_page::months_covered;
use super::proof_table::proof_part;
use super::templates::anchor;
use super::{PageError, Pages, Question};
use crate::render::answer::{
    Answer, answer_cost, answer_pays, answer_proof, answer_stock, answer_unassigned, answer_year, how_to_answer,
};
use crate::render::charts;
use crate::render::number_format::{Shown, is_zero};
use crate::render::spoken::kind_heading;
use crate::reports::{
    CostReport, PaysReport, PaysVerdict, ProductCost, ProofReport, ReportHead, StockItem, StockReport, YearReport,
};

impl Pages {
    /// *What does it cost?*
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_cost(&self, report: &CostReport) -> Result<String, PageError> {
        // In a site each product has a page of its own.
        let products = if self.site.is_some() { &[][..] } else { report.products.as_slice() };
        let parts: Vec<Value> = products
            .iter()
            .map(|product| {
                context! {
                    product => Value::from(Serde(product)),
                    picture => charts::draw_cost_by_batch(product, &format!("batches-of-{}", anchor(&product.name))),
                    variances => variances_of(product),
                }
            })
            .collect();
        let overview = charts::draw_cost_by_product(&report.products);
        let own = context! { overview, parts };
        self.page("cost.html", Question::Cost, report, &report.head, &answer_cost(report, Shown::Page), own)
    }

    /// *What have I?*
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_stock(&self, report: &StockReport) -> Result<String, PageError> {
        let kinds: Vec<Value> = ["material", "wear", "packing", "product"]
            .into_iter()
            .filter_map(|kind| {
                let list: Vec<&StockItem> = report.items.iter().filter(|item| item.kind == kind).collect();
                let list = (!list.is_empty()).then_some(list)?;
                Some(context! { kind, heading => kind_heading(kind), list => Value::from(Serde(list)) })
            })
            .collect();
        let mut to_reorder: Vec<&StockItem> = report.items.iter().filter(|item| item.reorder).collect();
        to_reorder.dedup_by(|a, b| a.name == b.name);
        let own = context! {
            kinds,
            // In a site each thing has a page of its own, with its lots.
            shows_lots => self.site.is_none(),
            to_reorder => Value::from(Serde(to_reorder)),
            stock_months => Value::from(Serde(&self.times.stock_months)),
            over_time => charts::draw_stock_over_time(&report.over_time),
        };
        self.page("stock.html", Question::Stock, report, &report.head, &answer_stock(report, Shown::Page), own)
    }

    /// *What pays?*
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_pays(&self, report: &PaysReport) -> Result<String, PageError> {
        let kinds: Vec<Value> = ["line", "channel", "product"]
            .into_iter()
            .filter_map(|by| {
                let list: Vec<_> = report.groups.iter().filter(|group| group.by == by).collect();
                let list = (!list.is_empty()).then_some(list)?;
                let rest: Vec<_> = report.rest.iter().filter(|rest| rest.by == by).collect();
                Some(context! { by, heading => kind_heading(by), list => Value::from(Serde(list)), rest => Value::from(Serde(rest)) })
            })
            .collect();
        let judged: Vec<Value> = ["line", "channel", "product", "fair"]
            .into_iter()
            .filter_map(|by| {
                let list: Vec<_> = report.verdicts.iter().filter(|one| one.by == by).map(judged_row).collect();
                (!list.is_empty()).then(|| context! { by, heading => kind_heading(by), list })
            })
            .collect();
        let fairs: Vec<Value> = report
            .fairs
            .iter()
            .map(|fair| context! { channel => channel_of_fair(&fair.name), row => Value::from(Serde(fair)) })
            .collect();
        let of_no_fair: Vec<Value> = report
            .rest
            .iter()
            .filter(|rest| rest.by == "fair")
            .map(|rest| context! { channel => rest.name.as_deref(), row => Value::from(Serde(rest)) })
            .collect();
        let own = context! {
            kinds,
            judged,
            fairs,
            of_no_fair,
            has_years => report.trend.iter().any(|one| one.years.len() > 1),
            unassigned => self.phrases(&answer_unassigned(report, Shown::Page), &self.links_of("pays.html")),
            margins => charts::draw_margins(&report.groups),
            by_hour => charts::draw_earned_per_hour(report),
            steps => charts::draw_hours_by_step(&report.hours),
            months => charts::draw_income_and_cost(months_covered(report), "in the table below"),
        };
        self.page("pays.html", Question::Pays, report, &report.head, &answer_pays(report, Shown::Page), own)
    }

    /// *What goes on the form?*
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_year(&self, report: &YearReport) -> Result<String, PageError> {
        let years: Vec<Value> = self
            .neighbours
            .years
            .iter()
            .map(|(year, file)| context! { text => year.to_string(), file => file.as_str(), is_here => *year == report.year })
            .collect();
        let how_to_answer = how_to_answer(report.year);
        let file = format!("year-{}.html", report.year);
        let goods_line = self.times.goods_lines.get(&report.year).cloned().unwrap_or_default();
        let own = context! { file, goods_line, years, how_to_answer, bridge => charts::draw_bridge(&report.bridge) };
        self.page("year.html", Question::Year, report, &report.head, &answer_year(report, Shown::Page), own)
    }

    /// The proof.
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_proof(&self, report: &ProofReport) -> Result<String, PageError> {
        let mut parts = vec![proof_part("whole", "The whole book", &report.components)];
        if report.years.len() > 1 {
            parts.extend(report.years.iter().map(|(year, components)| proof_part(year, year, components)));
        }
        let own = context! { parts };
        self.page("proof.html", Question::Proof, report, &report.head, &answer_proof(report, Shown::Page), own)
    }

    pub(super) fn page<R: Serialize>(
        &self,
        template: &str,
        question: Question,
        report: &R,
        head: &ReportHead,
        answer: &Answer,
        own: Value,
    ) -> Result<String, PageError> {
        let file = match template {
            "year.html" => own.get_attr("file")?.as_str().unwrap_or(template).to_owned(),
            _ => template.to_owned(),
        };
        let frame = self.frame(&file, Some(question), head, question.asked());
        let answer = self.phrases(answer, &self.links_of(&file));
        let context = context! { answer, report => Value::from(Serde(report)), ..context! { ..own, ..frame } };
        Ok(self.templates.get_template(template)?.render(context)?)
    }
}

/// A verdict with the kind and name of the page that is about it.
fn judged_row(one: &PaysVerdict) -> Value {
    let (page, name) = match one.by.as_str() {
        "product" => ("thing", one.name.as_str()),
        "fair" => ("channel", channel_of_fair(&one.name)),
        by => (by, one.name.as_str()),
    };
    context! { page, name, one => Value::from(Serde(one)) }
}

/// The channel of a fair, which stands before its day.
fn channel_of_fair(name: &str) -> &str {
    name.rsplit_once('/').map_or(name, |(channel, _)| channel)
}

/// The batches that cost other than their recipe allows, each with what differs.
fn variances_of(product: &ProductCost) -> Vec<Value> {
    let mut batches = Vec::new();
    for batch in &product.batches {
        let list: Vec<_> = batch.variances.iter().filter(|variance| !is_zero(&variance.amount)).collect();
        if !list.is_empty() {
            batches.push(context! { name => batch.name.as_str(), list => Value::from(Serde(list)) });
        }
    }
    batches
}

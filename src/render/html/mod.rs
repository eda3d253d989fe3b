//! Reports as pages: what a template gets to print.
//!
//! In: report models, and the pages that a page may point to. Out: whole HTML documents that need nothing from a network.
//! The templates lay out; the answer, the pictures and the order of things are settled here.

mod links;
mod mistakes;
mod proof_table;
mod templates;

use std::collections::BTreeMap;

use minijinja::value::{Serde, Value};
use minijinja::{Environment, context};
use serde::Serialize;

use self::proof_table::proof_part;
use self::templates::anchor;
use crate::render::answer::{
    Answer, answer_cost, answer_pays, answer_proof, answer_stock, answer_year, how_to_answer, unassigned_words,
};
use crate::render::charts;
use crate::render::number_format::{Shown, is_zero};
use crate::render::spoken::kind_heading;
use crate::reports::{CostReport, PaysReport, ProductCost, ProofReport, ReportHead, StockItem, StockReport, YearReport};

pub use self::links::{Neighbours, PageLink, Question};
pub use self::mistakes::{Mistake, render_mistakes};
pub use self::templates::{EMBEDDED, PageError};

/// Makes pages.
pub struct Pages {
    templates: Environment<'static>,
    neighbours: Neighbours,
}

impl Pages {
    /// Makes pages from the templates that come with the program, `own` in place of those of the same name.
    ///
    /// # Errors
    /// Where one of `own` can't be read as a template.
    pub fn new(own: &BTreeMap<String, String>, neighbours: Neighbours) -> Result<Self, PageError> {
        Ok(Self { templates: templates::load_templates(own)?, neighbours })
    }

    /// *What does it cost?*
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_cost(&self, report: &CostReport) -> Result<String, PageError> {
        let parts: Vec<Value> = report
            .products
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
                Some(context! { heading => kind_heading(kind), list => Value::from(Serde(list)) })
            })
            .collect();
        let mut to_reorder: Vec<&StockItem> = report.items.iter().filter(|item| item.reorder).collect();
        to_reorder.dedup_by(|a, b| a.name == b.name);
        let own = context! {
            kinds,
            to_reorder => Value::from(Serde(to_reorder)),
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
                Some(context! { heading => kind_heading(by), list => Value::from(Serde(list)) })
            })
            .collect();
        let own = context! {
            kinds,
            unassigned => unassigned_words(report, Shown::Page),
            margins => charts::draw_margins(&report.groups),
            by_hour => charts::draw_earned_per_hour(report),
            steps => charts::draw_hours_by_step(&report.hours),
            months => charts::draw_income_and_cost(&report.months),
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
        let own = context! { years, how_to_answer, bridge => charts::draw_bridge(&report.bridge) };
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

    /// The page that asks all questions and says each answer.
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_index(&self, answers: &Answers<'_>) -> Result<String, PageError> {
        let entries: Vec<Value> = self
            .neighbours
            .pages
            .iter()
            .filter_map(|page| {
                let answer = answers.to(page.question)?;
                Some(context! { text => page.question.asked(), file => page.file.as_str(), answer => phrases(&answer) })
            })
            .collect();
        let head = &answers.cost.head;
        let context = context! {
            shop => head.whose(),
            currency => head.currency.as_str(),
            question => "What the day book says",
            links => Vec::<Value>::new(),
            answer => Vec::<Value>::new(),
            period => period(head),
            entries,
        };
        Ok(self.templates.get_template("index.html")?.render(context)?)
    }

    fn page<R: Serialize>(
        &self,
        template: &str,
        question: Question,
        report: &R,
        head: &ReportHead,
        answer: &Answer,
        own: Value,
    ) -> Result<String, PageError> {
        let links: Vec<Value> = self
            .neighbours
            .pages
            .iter()
            .map(|page| {
                context! { text => page.question.asked(), file => page.file.as_str(), is_here => page.question == question }
            })
            .collect();
        let context = context! {
            shop => head.whose(),
            currency => head.currency.as_str(),
            question => question.asked(),
            links,
            answer => phrases(answer),
            period => period(head),
            report => Value::from(Serde(report)),
            ..own
        };
        Ok(self.templates.get_template(template)?.render(context)?)
    }
}

/// The reports whose answers stand on the first page.
#[derive(Clone, Copy)]
pub struct Answers<'r> {
    /// The cost report.
    pub cost: &'r CostReport,
    /// The stock report.
    pub stock: &'r StockReport,
    /// The margins.
    pub pays: &'r PaysReport,
    /// The tax year, where there is one.
    pub year: Option<&'r YearReport>,
    /// The proof.
    pub proof: &'r ProofReport,
}

impl Answers<'_> {
    fn to(&self, question: Question) -> Option<Answer> {
        Some(match question {
            Question::Cost => answer_cost(self.cost, Shown::Page),
            Question::Stock => answer_stock(self.stock, Shown::Page),
            Question::Pays => answer_pays(self.pays, Shown::Page),
            Question::Year => answer_year(self.year?, Shown::Page),
            Question::Proof => answer_proof(self.proof, Shown::Page),
        })
    }
}

fn phrases(answer: &Answer) -> Vec<Value> {
    answer.phrases().iter().map(|phrase| context! { text => phrase.text.as_str(), is_figure => phrase.is_figure }).collect()
}

/// The days covered, in words; empty for an empty book.
fn period(head: &ReportHead) -> String {
    match (&head.from, &head.to) {
        (Some(from), Some(to)) => format!("From {from} to {to}, in {}.", head.currency),
        _ => String::new(),
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    fn neighbours() -> Neighbours {
        let file = |question: Question| match question {
            Question::Cost => "cost.html",
            Question::Stock => "stock.html",
            Question::Pays => "pays.html",
            Question::Year => "year-2026.html",
            Question::Proof => "proof.html",
        };
        Neighbours {
            pages: Question::ALL.into_iter().map(|question| PageLink { question, file: file(question).to_owned() }).collect(),
            years: vec![(2025, "year-2025.html".to_owned()), (2026, "year-2026.html".to_owned())],
        }
    }

    fn made_up_pages(neighbours: Neighbours) -> Vec<(&'static str, String)> {
        let pages = Pages::new(&BTreeMap::new(), neighbours).expect("templates");
        let (cost, stock, pays) = (made_up::cost(), made_up::stock(), made_up::pays());
        let (year, proof) = (made_up::year(), made_up::proof());
        let answers = Answers { cost: &cost, stock: &stock, pays: &pays, year: Some(&year), proof: &proof };
        vec![
            ("cost.html", pages.render_cost(&cost).expect("cost")),
            ("stock.html", pages.render_stock(&stock).expect("stock")),
            ("pays.html", pages.render_pays(&pays).expect("pays")),
            ("year-2026.html", pages.render_year(&year).expect("year")),
            ("proof.html", pages.render_proof(&proof).expect("proof")),
            ("index.html", pages.render_index(&answers).expect("index")),
        ]
    }

    #[test]
    fn every_page_opens_with_its_question_and_answer() {
        for (file, page) in made_up_pages(neighbours()) {
            assert!(page.starts_with("<!doctype html>\n<html lang=\"en\">\n"), "{file}");
            assert!(page.contains("<h1>"), "{file}");
            assert!(page.contains("Wren &amp; Gable Woodshop"), "{file}");
        }
    }

    #[test]
    fn nothing_that_a_book_says_is_read_as_markup() {
        for (file, page) in made_up_pages(neighbours()) {
            assert!(!page.contains("<script"), "{file}");
            assert!(!page.contains("<b>"), "{file}");
        }
        let (_, cost) = made_up_pages(neighbours()).swap_remove(0);
        assert!(cost.contains("Cutting board &lt;script&gt;"));
    }

    #[test]
    fn no_page_fetches_anything() {
        for (file, page) in made_up_pages(neighbours()) {
            for fetching in ["http:", "https:", "//", "src=", "@import", "url(h", "<script", "<iframe", "<img"] {
                let page = page.replace("default-src", "").replace("style-src", "").replace("img-src", "");
                assert!(!page.contains(fetching), "{file} has {fetching}");
            }
        }
    }

    #[test]
    fn the_year_s_page_says_first_that_it_is_no_advice() {
        let (_, page) = made_up_pages(neighbours()).swap_remove(3);
        let caution = page.find("A worksheet, not advice: ").expect("the caution");
        assert!(caution < page.find("<h1>").expect("the question"));
        assert!(page.contains("Schedule C (Form 1040), tax year 2026, provisional"));
        assert!(page.contains("licensed preparer"));
    }

    #[test]
    fn a_page_that_stands_alone_points_nowhere() {
        for (file, page) in made_up_pages(Neighbours::default()) {
            assert!(!page.contains("<nav"), "{file}");
            assert!(!page.contains(".html\""), "{file}");
        }
    }

    #[test]
    fn hours_that_nobody_knows_are_said_to_be_unknown() {
        let (_, pays) = made_up_pages(neighbours()).swap_remove(2);
        assert!(pays.contains("hours unknown"));
    }

    #[test]
    fn an_empty_book_has_pages_too() {
        let pages = Pages::new(&BTreeMap::new(), Neighbours::default()).expect("templates");
        let mut cost = made_up::cost();
        cost.products.clear();
        assert!(pages.render_cost(&cost).expect("cost").contains("Nothing was finished"));
        let mut stock = made_up::stock();
        (stock.on, stock.items, stock.on_the_bench, stock.over_time) = (None, Vec::new(), Vec::new(), Vec::new());
        assert!(pages.render_stock(&stock).expect("stock").contains("The book is empty"));
        let mut pays = made_up::pays();
        (pays.groups, pays.months) = (Vec::new(), Vec::new());
        assert!(pages.render_pays(&pays).expect("pays").contains("No goods were sold"));
    }
}

//! Reports as pages: what a template gets to print.
//!
//! In: report models, and the pages that a page may point to. Out: whole HTML documents that need nothing from a network.
//! The templates lay out; the answer, the pictures and the order of things are settled here.

mod addresses;
mod decision_pages;
mod derivation_months;
mod derivation_rows;
mod index_page;
mod links;
mod mistakes;
mod page_links;
mod proof_table;
mod question_pages;
mod sheet_page;
mod templates;

use std::collections::BTreeMap;
use std::sync::Arc;

use minijinja::value::Value;
use minijinja::{Environment, context};

use self::page_links::{PageLinks, link_value};
use crate::render::answer::{Answer, AnsweredBy};
use crate::reports::{ReportHead, Sheet, SheetName, pays_group};

pub use self::addresses::{Addresses, further_page, told_with};
pub use self::index_page::{Answers, ToDecide};
pub use self::links::{Neighbours, PageLink, Question};
pub use self::mistakes::{Mistake, render_mistakes};
pub use self::sheet_page::{MadePage, SheetPage, picture_of_product};
pub use self::templates::{EMBEDDED, PageError};

/// The file of a site that says how its pages look.
pub const STYLESHEET: &str = "page.css";

/// Makes pages.
pub struct Pages {
    templates: Environment<'static>,
    neighbours: Neighbours,
    /// Where everything stands, for the pages of a site.
    site: Option<Arc<Addresses>>,
    times: FigureTimes,
}

/// How the figures of a site's reports are named by their time.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FigureTimes {
    /// The end of the names of costs and margins: nothing for the whole book, `/2026` for a year; none for a time that figures have no name for.
    pub when: Option<String>,
    /// Whether the stock is that of the book's end.
    pub stock_at_end: bool,
    /// The figure of all stock at the end of each month.
    pub stock_months: BTreeMap<String, String>,
    /// The figure of the line that holds the cost of goods, by tax year.
    pub goods_lines: BTreeMap<i32, String>,
}

impl Pages {
    /// Makes pages that stand alone, from the templates that come with the program, `own` in place of those of the same name.
    ///
    /// # Errors
    /// Where one of `own` can't be read as a template.
    pub fn new(own: &BTreeMap<String, String>, neighbours: Neighbours) -> Result<Self, PageError> {
        let templates = templates::load_templates(own)?;
        Ok(Self { templates, neighbours, site: None, times: FigureTimes::default() })
    }

    /// Makes the pages of a site, likewise.
    ///
    /// # Errors
    /// Where one of `own` can't be read as a template.
    pub fn of_site(
        own: &BTreeMap<String, String>,
        neighbours: Neighbours,
        site: Arc<Addresses>,
        times: FigureTimes,
    ) -> Result<Self, PageError> {
        Ok(Self { site: Some(site), times, ..Self::new(own, neighbours)? })
    }

    /// The stylesheet of a site.
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_stylesheet(&self) -> Result<String, PageError> {
        Ok(self.templates.get_template(STYLESHEET)?.render(context! {})?)
    }

    /// The page of a sheet of the site.
    #[must_use]
    pub fn page_of(&self, sheet: &SheetName) -> Option<&str> {
        self.site.as_ref()?.page(sheet)
    }

    fn file_of(&self, sheet: &Sheet) -> Option<String> {
        self.site.as_ref()?.page(&sheet.name).map(str::to_owned)
    }

    fn links_of(&self, file: &str) -> PageLinks {
        self.site.as_ref().map_or_else(PageLinks::default, |site| PageLinks::of(site, file))
    }

    /// A page of a site that answers none of the questions itself.
    fn site_page(&self, template: &str, file: &str, head: &ReportHead, title: &str, own: Value) -> Result<String, PageError> {
        let frame = self.frame(file, None, head, title);
        Ok(self.templates.get_template(template)?.render(context! { ..own, ..frame })?)
    }

    /// What every page has.
    fn frame(&self, file: &str, here: Option<Question>, head: &ReportHead, title: &str) -> Value {
        let links = self.links_of(file);
        let pages = self.neighbours.pages.iter().map(|page| {
            let link = links.file(&page.file).map_or_else(|| Value::from(page.file.as_str()), Value::from);
            context! { text => page.question.asked(), file => link, is_here => Some(page.question) == here }
        });
        context! {
            shop => head.whose(),
            currency => head.currency.as_str(),
            question => title,
            links => pages.collect::<Vec<_>>(),
            stylesheet => link_value(links.file(STYLESHEET)),
            first_page => link_value(links.file("index.html").filter(|_| file != "index.html")),
            period => period(head, year_of(file)),
            home => links.home_function(),
            page_of => links.page_function(),
            cost_of => self.timed_function("cost", &links),
            pays_of => self.timed_function("pays", &links),
            stock_of => self.stock_function("", &links),
            stock_total => self.stock_function("totals/", &links),
        }
    }

    /// `cost_of("pull-cart", "paid")`: the link to a figure of the report's own time; empty where it is not told.
    fn timed_function(&self, kind: &'static str, links: &PageLinks) -> Value {
        let (when, links) = (self.times.when.clone(), links.clone());
        Value::from_function(move |name: std::borrow::Cow<'_, str>, part: std::borrow::Cow<'_, str>| {
            let figure = |name: String| {
                let when = when.as_ref()?;
                links.figure(&match part.is_empty() {
                    true => format!("{kind}/{name}{when}"),
                    false => format!("{kind}/{name}{when}/{part}"),
                })
            };
            link_value(match (kind, name.as_ref()) {
                ("pays", "") => figure("all".to_owned()),
                // A line, channel or product that is called so comes before the totals, which need no name.
                ("pays", name) => figure(pays_group(name)).or_else(|| figure(templates::anchor(name))),
                (_, name) => figure(templates::anchor(name)),
            })
        })
    }

    /// `stock_of("red-oak")`: the link to what the stock of a thing, or of a kind that no thing is called after, is worth; `stock_total("materials")`: to
    /// that of a kind or of all, whatever things are called.
    fn stock_function(&self, of: &'static str, links: &PageLinks) -> Value {
        let (at_end, links) = (self.times.stock_at_end, links.clone());
        Value::from_function(move |name: std::borrow::Cow<'_, str>| {
            let figure = at_end.then(|| format!("stock/{of}{}", templates::anchor(&name)));
            link_value(figure.and_then(|figure| links.figure(&figure)))
        })
    }

    /// An answer's words, its numbers with the link to their derivation.
    fn phrases(&self, answer: &Answer, links: &PageLinks) -> Vec<Value> {
        let named = |figure: &AnsweredBy| match figure {
            AnsweredBy::Cost(name, part) => Some(format!("cost/{}{}/{part}", templates::anchor(name), self.times.when.as_ref()?)),
            AnsweredBy::Pays(name, part) => Some(format!("pays/{}{}/{part}", pays_group(name), self.times.when.as_ref()?)),
            AnsweredBy::PaysAll(part) => Some(format!("pays/all{}/{part}", self.times.when.as_ref()?)),
            AnsweredBy::Stock => self.times.stock_at_end.then(|| "stock/totals/all".to_owned()),
            AnsweredBy::Named(name) => Some(name.clone()),
        };
        let phrases = answer.phrases().iter().map(|phrase| {
            let link = phrase.figure.as_ref().and_then(named).and_then(|figure| links.figure(&figure));
            context! { text => phrase.text.as_str(), is_figure => phrase.is_figure, link => link_value(link) }
        });
        phrases.collect()
    }
}

/// The days covered, in words, those of one year where the page is of that alone; empty for an empty book.
fn period(head: &ReportHead, year: Option<&str>) -> String {
    match (&head.from, &head.to) {
        (Some(from), Some(to)) => {
            let (first, last) = year.map(|year| (format!("{year}-01-01"), format!("{year}-12-31"))).unzip();
            // Days are spelled so that their order is that of their letters.
            let from = first.as_ref().map_or(from, |first| first.max(from));
            let to = last.as_ref().map_or(to, |last| last.min(to));
            format!("From {from} to {to}, in {}.", head.currency)
        }
        _ => String::new(),
    }
}

/// The year of which alone a page is, by its file.
fn year_of(file: &str) -> Option<&str> {
    const OF_A_YEAR: [&str; 4] = ["pays-all-", "pays-months-", "proof-", "why/year-"];
    let year = OF_A_YEAR.iter().find_map(|begin| file.strip_prefix(begin))?.strip_suffix(".html")?;
    (year.len() == 4 && year.bytes().all(|byte| byte.is_ascii_digit())).then_some(year)
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
            Question::Places => "places.html",
            Question::Price => "price.html",
            Question::Plan => "plan.html",
            Question::Trace => "trace.html",
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
            ("index.html", pages.render_index(&answers, ToDecide::default()).expect("index")),
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

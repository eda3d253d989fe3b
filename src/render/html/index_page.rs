//! The first page of a site: the year at a glance. The questions with their answers, a picture, what wants a decision, the years, and the lists.

use minijinja::context;
use minijinja::value::Value;

use super::page_links::{Link, link_value};
use super::{PageError, Pages, Question};
use crate::render::answer::{Answer, answer_cost, answer_pays, answer_proof, answer_stock, answer_year};
use crate::render::charts;
use crate::render::number_format::Shown;
use crate::reports::{CostReport, OwedByChannel, PaysReport, ProofReport, Sheet, SheetKind, SheetName, StockReport, YearReport};

/// Of each kind of what wants a decision, so many are named; the page that lists them all is linked.
const MOST_NAMED: usize = 8;

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
            Question::Places | Question::Price | Question::Plan | Question::Trace => return None,
        })
    }
}

/// What waits for the maker.
#[derive(Clone, Copy, Debug, Default)]
pub struct ToDecide<'r> {
    /// Orders that are not paid, by channel.
    pub owed: &'r [OwedByChannel],
    /// The lists of the site.
    pub lists: &'r [Sheet],
}

/// A thing that waits.
struct Waiting {
    text: String,
    detail: String,
    link: Option<Link>,
}

impl From<Waiting> for Value {
    fn from(waiting: Waiting) -> Self {
        context! { text => waiting.text, detail => waiting.detail, link => link_value(waiting.link) }
    }
}

impl Pages {
    /// The page that asks all questions and says each answer.
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_index(&self, answers: &Answers<'_>, decide: ToDecide<'_>) -> Result<String, PageError> {
        let file = "index.html";
        let links = self.links_of(file);
        let entries: Vec<Value> = self
            .neighbours
            .pages
            .iter()
            .filter_map(|page| {
                let answer = answers.to(page.question)?;
                Some(context! { text => page.question.asked(), file => page.file.as_str(), answer => self.phrases(&answer, &links) })
            })
            .collect();
        let years: Vec<Value> = self
            .neighbours
            .years
            .iter()
            .map(|(year, file)| context! { text => year.to_string(), file => file.as_str() })
            .collect();
        let lists: Vec<Value> = decide
            .lists
            .iter()
            .filter_map(|list| {
                let rows: usize = list.tables.iter().map(|table| table.rows.len()).sum();
                Some(context! { text => list.title.as_str(), count => rows, file => Value::from(links.sheet(&list.name)?) })
            })
            .collect();
        let own = context! {
            answer => Vec::<Value>::new(),
            entries,
            years,
            lists,
            questions => self.open_questions(answers),
            reorder => self.to_reorder(answers.stock).into_iter().map(Value::from).collect::<Vec<_>>(),
            owed => decide.owed.iter().map(|one| Value::from(self.owed(one))).collect::<Vec<_>>(),
            months => charts::draw_income_and_cost(&answers.pays.months),
        };
        self.site_page("index.html", file, &answers.cost.head, "What the day book says", own)
    }

    fn open_questions(&self, answers: &Answers<'_>) -> Value {
        let Some(year) = answers.year else { return Value::from(()) };
        let file = self.neighbours.pages.iter().find(|page| page.question == Question::Year).map(|page| page.file.as_str());
        let open: Vec<String> =
            year.open_questions.iter().filter(|one| one.answer.is_none()).map(|one| one.question.clone()).collect();
        let more = open.len().saturating_sub(MOST_NAMED);
        let named: Vec<String> = open.into_iter().take(MOST_NAMED).collect();
        context! { year => year.year, file, named, more }
    }

    fn to_reorder(&self, stock: &StockReport) -> Vec<Waiting> {
        let links = self.links_of("index.html");
        let mut low: Vec<_> = stock.items.iter().filter(|item| item.reorder).collect();
        low.dedup_by(|one, next| one.name == next.name);
        let waiting = low.into_iter().map(|item| Waiting {
            text: item.title.clone(),
            detail: item.reorder_at.as_ref().map_or_else(String::new, |at| format!("at {at} {} or less", item.unit)),
            link: links.sheet(&SheetName::new(SheetKind::Thing, item.name.replace('/', "_"))),
        });
        waiting.collect()
    }

    fn owed(&self, one: &OwedByChannel) -> Waiting {
        let links = self.links_of("index.html");
        let orders = if one.orders == 1 { "one order".to_owned() } else { format!("{} orders", one.orders) };
        Waiting { text: one.title.clone(), detail: format!("{} for {orders}", one.sum), link: links.sheet(&one.sheet) }
    }
}

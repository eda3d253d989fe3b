//! The first page of a site: the year at a glance. The questions with their answers, a picture, what wants a decision, the years, and the lists.

use minijinja::context;
use minijinja::value::Value;

use super::page_links::{Link, link_value};
use super::{PageError, Pages, Question};
use crate::render::answer::{Answer, answer_cost, answer_pays, answer_proof, answer_stock, answer_year};
use crate::render::charts;
use crate::render::number_format::{Shown, is_zero, money};
use crate::reports::{
    CostReport, OwedByChannel, PaysMonth, PaysReport, PlaceList, ProofReport, Sheet, SheetKind, SheetName, StockReport,
    YearReport,
};

/// Of each kind of what wants a decision, so many are named; the page that lists them all is linked.
const MOST_NAMED: usize = 8;

/// A count that is older than these days is said to be: a quarter, common practice, no source.
const COUNT_AGAIN_AFTER: i64 = 91;

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
    /// What lies at places away from home.
    pub places: &'r [PlaceList],
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
                let rows = list.tables.first().map_or(0, |table| table.rows.len());
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
            below => self.below_cost(answers.pays).into_iter().map(Value::from).collect::<Vec<_>>(),
            places => self.at_places(decide.places).into_iter().map(Value::from).collect::<Vec<_>>(),
            owed => decide.owed.iter().map(|one| Value::from(self.owed(one))).collect::<Vec<_>>(),
            months => charts::draw_income_and_cost(months_covered(answers.pays), "on the page of what pays"),
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

    /// Channels and products whose sales did not bring in what was paid, or the full cost.
    fn below_cost(&self, pays: &PaysReport) -> Vec<Waiting> {
        let links = self.links_of("index.html");
        let below = pays.groups.iter().filter(|group| group.by != "line").filter_map(|group| {
            let (left, short) = (group.sums.paid_margin.strip_prefix('-'), group.sums.full_margin.strip_prefix('-'));
            let money = |text: &str| money(text, &pays.head.currency, Shown::Page);
            let detail = match (left, short) {
                (Some(lost), _) => format!("{} less came in than was paid for it", money(lost)),
                (None, Some(short)) => format!("{} short of its full cost, own time and overhead with it", money(short)),
                (None, None) => return None,
            };
            let kind = if group.by == "channel" { SheetKind::Channel } else { SheetKind::Thing };
            let link = links.sheet(&SheetName::new(kind, group.name.replace('/', "_")));
            Some(Waiting { text: group.title.clone(), detail, link })
        });
        below.collect()
    }

    /// What lies at places, and when it was last counted.
    fn at_places(&self, places: &[PlaceList]) -> Vec<Waiting> {
        let links = self.links_of("index.html");
        // Wood in a barn is nobody's to settle.
        let lies = |place: &&PlaceList| place.is_channel && place.rows.iter().any(|row| !is_zero(&row.left));
        let waiting = places.iter().filter(lies).map(|place| {
            let things = place.rows.iter().filter(|row| !is_zero(&row.left)).count();
            let things = if things == 1 { "goods of one kind".to_owned() } else { format!("goods of {things} kinds") };
            let counted = match &place.last_count {
                Some(day) => match place.days_since_count {
                    Some(days) if days > COUNT_AGAIN_AFTER => format!("last counted on {day}, {days} days before the book's end"),
                    _ => format!("last counted on {day}"),
                },
                None => "never counted".to_owned(),
            };
            let detail = format!("{things} there, marked at {} in all, {counted}", place.left_at_price);
            let link = links.sheet(&SheetName::new(SheetKind::Place, place.name.replace('/', "_")));
            let link = link.or_else(|| links.file("stock.html"));
            Waiting { text: place.title.clone(), detail, link }
        });
        waiting.collect()
    }

    fn owed(&self, one: &OwedByChannel) -> Waiting {
        let links = self.links_of("index.html");
        let orders = if one.orders == 1 { "one order".to_owned() } else { format!("{} orders", one.orders) };
        let days = match one.oldest_days {
            0 => "of today".to_owned(),
            1 => "a day old".to_owned(),
            days => format!("{days} days old"),
        };
        let days = if one.orders == 1 { days } else { format!("the oldest {days}") };
        Waiting { text: one.title.clone(), detail: format!("{} for {orders}, {days}", one.sum), link: links.sheet(&one.sheet) }
    }
}

/// The months of the report up to its last day: what is meant for a later one, as an expense that is paid ahead, is no month of these days.
pub(super) fn months_covered(pays: &PaysReport) -> &[PaysMonth] {
    let Some(last) = pays.head.to.as_deref().and_then(|to| to.get(..7)) else { return &pays.months };
    let covered = pays.months.iter().take_while(|month| month.month.as_str() <= last).count();
    pays.months.get(..covered).unwrap_or(&pays.months)
}

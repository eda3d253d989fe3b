//! The answer that a report opens with: one sentence with its number, the same in text and on the page.
//!
//! In: a report. Out: an [`Answer`]. Which product or line is named is chosen by comparing the report's own figures; no
//! figure is made here.

use rust_decimal::Decimal;

use crate::render::number_format::{Shown, figure, grouped, hours, is_zero, money, rounded};
use crate::render::spoken::kind_heading;
use crate::reports::{
    CostReport, FiguresReport, PaysGroup, PaysReport, PerUnit, ProductCost, ProofReport, StockReport, WhyReport, YearReport,
};

/// A piece of an answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Phrase {
    /// Its words.
    pub(crate) text: String,
    /// Whether it is a number that answers the question.
    pub(crate) is_figure: bool,
    /// The figure that it is, where it has a name.
    pub(crate) figure: Option<AnsweredBy>,
}

/// The figure by which a question is answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum AnsweredBy {
    /// A part of what a product costs, in the time of the report.
    Cost(String, &'static str),
    /// What all stock is worth.
    Stock,
    /// A column of what a group left, in the time of the report.
    Pays(String, &'static str),
    /// A column of what all sales left, in the time of the report.
    PaysAll(&'static str),
    /// A figure by its whole name.
    Named(String),
}

/// One or two sentences.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Answer {
    phrases: Vec<Phrase>,
    currency: String,
    shown: Shown,
}

impl Answer {
    pub(crate) fn new(currency: &str, shown: Shown) -> Self {
        Self { phrases: Vec::new(), currency: currency.to_owned(), shown }
    }

    pub(crate) fn say(mut self, words: impl Into<String>) -> Self {
        self.phrases.push(Phrase { text: words.into(), is_figure: false, figure: None });
        self
    }

    pub(crate) fn figure(mut self, text: String) -> Self {
        self.phrases.push(Phrase { text, is_figure: true, figure: None });
        self
    }

    pub(crate) fn money(self, text: &str) -> Self {
        let text = money(&rounded(text), &self.currency, self.shown);
        self.figure(text)
    }

    pub(crate) fn hours(self, minutes: &str) -> Self {
        let text = hours(minutes, self.shown);
        self.figure(text)
    }

    /// Says which figure the number before is.
    fn by(mut self, figure: AnsweredBy) -> Self {
        if let Some(last) = self.phrases.last_mut() {
            last.figure = Some(figure);
        }
        self
    }

    /// Its pieces.
    pub(crate) fn phrases(&self) -> &[Phrase] {
        &self.phrases
    }

    /// The whole as plain words.
    pub(crate) fn words(&self) -> String {
        self.phrases.iter().map(|phrase| phrase.text.as_str()).collect()
    }
}

/// Answers *What does it cost?* with the product into which most went, or the only one.
pub(crate) fn answer_cost(report: &CostReport, shown: Shown) -> Answer {
    let answer = Answer::new(&report.head.currency, shown);
    let made: Vec<(&ProductCost, &PerUnit)> =
        report.products.iter().filter_map(|product| Some((product, product.per_unit.as_ref()?))).collect();
    let went_in = |(product, per_unit): &(&ProductCost, &PerUnit)| figure(&product.made)?.checked_mul(figure(&per_unit.full)?);
    let Some((product, per_unit)) = first_largest(&made, went_in) else {
        return answer.say("Nothing was finished in this time, so nothing has a cost per piece yet.");
    };
    let answer = match made.len() {
        1 => answer.say(format!("One {} costs ", product.title)),
        _ => answer.say(format!("One {} (into which most went) costs ", product.title)),
    };
    let of = |part: &'static str| AnsweredBy::Cost(product.name.clone(), part);
    let answer = answer.money(&per_unit.paid).by(of("paid")).say(" to lay out and ").money(&per_unit.full).by(of("full"));
    match &product.minutes_per_unit {
        Some(minutes) => {
            answer.say(" with your own time and overhead; it takes ").hours(minutes).by(of("minutes")).say(" of yours.")
        }
        None => {
            let known = product.hours_unknown().unwrap_or_else(|| "so far as hours are known".to_owned());
            answer.say(format!(" with your own time and overhead, {known}."))
        }
    }
}

/// Answers *What have I?* with the paid cost of all stock and the bench, and how many things are to be reordered.
pub(crate) fn answer_stock(report: &StockReport, shown: Shown) -> Answer {
    let answer = Answer::new(&report.head.currency, shown);
    let Some(on) = &report.on else { return answer.say("The book is empty, so nothing is on hand.") };
    let answer = answer
        .say(format!("At the end of {on} you had "))
        .money(&report.totals.paid)
        .by(AnsweredBy::Stock)
        .say(" laid out in goods, on the shelf, on the bench and elsewhere.");
    let mut low: Vec<&str> = report.items.iter().filter(|item| item.reorder).map(|item| item.title.as_str()).collect();
    low.dedup();
    match low.as_slice() {
        [] => answer,
        [_] | [_, _] | [_, _, _] => answer.say(format!(" To be reordered: {}.", low.join("; "))),
        several => answer.say(format!(" {} things are to be reordered.", several.len())),
    }
}

/// Answers *What pays?* with the product line that earns most for an hour, else with the largest paid margin.
pub(crate) fn answer_pays(report: &PaysReport, shown: Shown) -> Answer {
    let answer = Answer::new(&report.head.currency, shown);
    if report.groups.is_empty() {
        return answer.say("No goods were sold in this time, so there is no margin to show.");
    }
    let is_sold = |group: &PaysGroup| !is_zero(&group.sums.revenue) || !is_zero(&group.units);
    if !report.groups.iter().any(is_sold) {
        return all_sales(report, answer.say("Nothing was sold in this time that did not come back."));
    }
    let lines: Vec<&PaysGroup> = report.groups.iter().filter(|group| group.by == "line").collect();
    let ranked = ranked_by_hour(report);
    let by_hour = first_largest(&ranked, |group| group.earned_per_hour.as_deref().and_then(figure));
    let answer = match (by_hour.copied(), by_hour.and_then(|group| group.earned_per_hour.as_deref())) {
        (Some(group), Some(per_hour)) => best_by_hour(report, answer, (group, per_hour), ranked.len()),
        _ => match first_largest(&lines, |group| figure(&group.sums.paid_margin)) {
            Some(group) => {
                let by = AnsweredBy::Pays(group.name.clone(), "paid-margin");
                let margin = &group.sums.paid_margin;
                match (margin.strip_prefix('-'), is_zero(margin)) {
                    (Some(lost), _) => answer
                        .say(format!("No product line brought what was paid for it: the least was lost with {}, ", group.title))
                        .money(lost)
                        .by(by)
                        .say("."),
                    (None, true) => answer.say("No product line left anything after what was paid for it."),
                    _ => {
                        answer.say(format!("What brings most is {}: ", group.title)).money(margin).by(by).say(" of paid margin.")
                    }
                }
            }
            None => answer,
        },
    };
    all_sales(report, answer)
}

/// The group that earns most for an hour, of so many of its kind of which the hours are known.
fn best_by_hour(report: &PaysReport, answer: Answer, (group, per_hour): (&PaysGroup, &str), known: usize) -> Answer {
    let by = AnsweredBy::Pays(group.name.clone(), "earned-per-hour");
    let on = group.sold_in_words().map_or_else(String::new, |sold| format!(", on {sold}"));
    if let Some(lost) = per_hour.strip_prefix('-') {
        let opening = if known > 1 {
            format!(
                "None of the {} earned anything for your hours; {} lost least, ",
                kind_heading(&group.by).to_lowercase(),
                group.title
            )
        } else {
            format!("{} earned nothing for your hours; it lost ", group.title)
        };
        return answer.say(opening).money(lost).by(by).say(format!(" an hour{on}."));
    }
    if is_zero(per_hour) {
        return answer.say("What was sold earned nothing for your hours.");
    }
    let alike = report.groups.iter().filter(|one| one.by == group.by).count();
    let opening = match (known, alike == known) {
        (1, true) => "What was sold is".to_owned(),
        (1, false) => format!("Of {alike} {} your hours are known of one", kind_heading(&group.by).to_lowercase()),
        (_, true) => format!("Of the {}, what pays best is", kind_heading(&group.by).to_lowercase()),
        (known, false) => {
            format!("Of the {known} {} of which your hours are known, what pays best is", kind_heading(&group.by).to_lowercase())
        }
    };
    let opening = if known == 1 && alike > 1 { format!("{opening},") } else { opening };
    answer.say(format!("{opening} {}: ", group.title)).money(per_hour).by(by).say(format!(" for an hour of yours{on}."))
}

/// What all sales left, and for an hour.
fn all_sales(report: &PaysReport, answer: Answer) -> Answer {
    let by = AnsweredBy::PaysAll("paid-margin");
    let margin = &report.totals.sums.paid_margin;
    let answer = match margin.strip_prefix('-') {
        Some(lost) => answer.say(" All sales together brought ").money(lost).by(by).say(" less than was paid for them"),
        None => answer.say(" All sales together left ").money(margin).by(by).say(" after what was paid for them"),
    };
    match &report.totals.earned_per_hour {
        Some(per_hour) if !per_hour.starts_with('-') => {
            answer.say(", ").money(per_hour).by(AnsweredBy::PaysAll("earned-per-hour")).say(" for an hour in those goods.")
        }
        _ => answer.say("."),
    }
}

/// The groups among which one pays best for an hour: of product lines, channels or products, the first kind of which the hours of several
/// are known; else of which those of one are.
fn ranked_by_hour(report: &PaysReport) -> Vec<&PaysGroup> {
    let known =
        |by: &str| report.groups.iter().filter(|group| group.by == by && group.earned_per_hour.is_some()).collect::<Vec<_>>();
    let kinds = ["line", "channel", "product"].map(known);
    let several = kinds.iter().find(|groups| groups.len() > 1).or_else(|| kinds.iter().find(|groups| !groups.is_empty()));
    several.cloned().unwrap_or_default()
}

/// Says what belongs to no piece.
pub(crate) fn answer_unassigned(report: &PaysReport, shown: Shown) -> Answer {
    let all = |part: &'static str| AnsweredBy::Pays("all".to_owned(), part);
    let answer = Answer::new(&report.head.currency, shown).say("Not in any piece: ");
    let answer = answer.hours(&report.unassigned.indirect_minutes).by(all("indirect-minutes")).say(" of your time");
    let overhead = &report.unassigned.overhead_under_applied;
    let answer = match overhead.strip_prefix('-') {
        Some(over) => {
            answer.say(". The pieces bore ").money(over).by(all("overhead-under-applied")).say(" more overhead than was spent.")
        }
        None => answer.say(", and ").money(overhead).by(all("overhead-under-applied")).say(" of overhead that no piece bore."),
    };
    // Costing rule 13: hours on a line or channel have no paid cost and are in no margin.
    let answer = answer.say(" Hours at a booth, or on a line, count in what an hour earned and in neither margin.");
    let answer = answer.say(" Cents are rounded so that each column adds up to its last row; a row may then be a cent off.");
    match &report.year_per_hour {
        Some(per_hour) => answer
            .say(" The net profit on the form over all hours of the year is ")
            .money(per_hour)
            .by(all("year-per-hour"))
            .say(" an hour; that is another question."),
        None => answer,
    }
}

/// Answers *What goes on the form?* with the net profit as it is printed on its line.
pub(crate) fn answer_year(report: &YearReport, shown: Shown) -> Answer {
    let answer = Answer::new(&report.head.currency, shown);
    let answer = match report.lines.iter().find(|line| line.line == report.net_profit_line) {
        Some(line) => {
            let (what, magnitude) = match line.printed.strip_prefix('-') {
                Some(loss) => ("a net loss", loss),
                None => ("a net profit", line.printed.as_str()),
            };
            answer
                .say(format!("For {} the books come to {what} of ", report.year))
                .money(magnitude)
                .by(AnsweredBy::Named(line.figure.clone()))
                .say(format!(" on line {}.", line.line))
        }
        None => answer.say(format!("These are the form's lines for {}.", report.year)),
    };
    match report.open_questions.iter().filter(|question| question.answer.is_none()).count() {
        0 => answer,
        1 => answer.say(" One question is still open."),
        open => answer.say(format!(" {open} questions are still open.")),
    }
}

/// How a question of a tax year is settled.
pub(crate) fn how_to_answer(year: i32) -> String {
    format!(
        "a question is settled by the detail that it asks for, or in words, by its name: `answered {year}-12-31 \"NAME\" \"what is so\"`"
    )
}

/// Answers why a figure is what it is, in the derivation's own sentence.
pub(crate) fn answer_why(report: &WhyReport, shown: Shown) -> Answer {
    Answer::new(&report.head.currency, shown).say(report.answer.as_str())
}

/// Answers how many figures there are to ask for.
pub(crate) fn answer_figures(report: &FiguresReport, shown: Shown) -> Answer {
    let answer = Answer::new(&report.head.currency, shown).figure(grouped(&report.count.to_string(), shown));
    let figures = if report.count == 1 { "figure" } else { "figures" };
    match &report.begins {
        None => {
            answer.say(format!(" {figures} of this book can be taken apart; a few of each kind, to ask for with `kerfbook why`:"))
        }
        Some(begins) => answer.say(format!(" {figures} of this book begin with `{begins}`:")),
    }
}

/// Answers for the proof whether it comes out at zero.
pub(crate) fn answer_proof(report: &ProofReport, shown: Shown) -> Answer {
    let answer = Answer::new(&report.head.currency, shown);
    if report.holds {
        let answer =
            answer.say("Every cent and minute has its place: what came in less what became of it is ").figure("0".to_owned());
        return match report.components.len() {
            0 => answer.say("."),
            one_or_more => answer.say(format!(" in each of {one_or_more} figures, to the last digit.")),
        };
    }
    answer.say("The proof does not come out at zero. That is a fault of the program, and no figure here may be relied on.")
}

/// The first of those with the largest value; those without a value are passed over.
pub(crate) fn first_largest<T>(list: &[T], value: impl Fn(&T) -> Option<Decimal>) -> Option<&T> {
    let mut best: Option<(&T, Decimal)> = None;
    for one in list {
        let Some(this) = value(one) else { continue };
        if best.is_none_or(|(_, most)| this > most) {
            best = Some((one, this));
        }
    }
    best.map(|(one, _)| one)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    #[test]
    fn the_cost_is_answered_with_the_piece_into_which_most_went() {
        assert_eq!(
            answer_cost(&made_up::cost(), Shown::Terminal).words(),
            "One Pull-along cart (into which most went) costs $12.48 to lay out and $31.07 with your own time and overhead; \
             it takes 39 min of yours."
        );
    }

    #[test]
    fn a_single_product_is_not_compared() {
        let mut report = made_up::cost();
        report.products.truncate(1);
        assert!(answer_cost(&report, Shown::Terminal).words().starts_with("One Cutting board <script> costs "));
        report.products.clear();
        assert!(answer_cost(&report, Shown::Terminal).words().starts_with("Nothing was finished"));
    }

    #[test]
    fn stock_is_answered_with_its_worth_and_what_to_reorder() {
        assert_eq!(
            answer_stock(&made_up::stock(), Shown::Terminal).words(),
            "At the end of 2026-12-31 you had $1,843.20 laid out in goods, on the shelf, on the bench and elsewhere. \
             To be reordered: Red oak, kiln dried; Blade no. 7."
        );
    }

    #[test]
    fn what_pays_is_answered_with_the_line_that_earns_most_for_an_hour() {
        let words = answer_pays(&made_up::pays(), Shown::Terminal).words();
        assert!(
            words.starts_with(
                "Of the product lines, what pays best is Kitchen boards: $31.20 for an hour of yours, on 61 pieces."
            ),
            "{words}"
        );
    }

    #[test]
    fn overhead_may_be_borne_in_part_or_more_than_was_spent() {
        let mut report = made_up::pays();
        assert!(answer_unassigned(&report, Shown::Terminal).words().contains("and $112.44 of overhead that no piece bore."));
        report.unassigned.overhead_under_applied = "-9.33".to_owned();
        assert!(
            answer_unassigned(&report, Shown::Terminal).words().contains("The pieces bore $9.33 more overhead than was spent.")
        );
    }

    #[test]
    fn where_some_hours_are_unknown_the_answer_says_so() {
        let mut report = made_up::pays();
        report.groups[0].earned_per_hour = None;
        let words = answer_pays(&report, Shown::Terminal).words();
        // Of one of two lines they are known, of two of three channels: one line alone is not the best of anything.
        let channels = "Of the 2 channels of which your hours are known, what pays best is Booth at fairs: $18.75";
        assert!(words.starts_with(channels), "{words}");
        report.groups.retain(|group| group.by == "line");
        let words = answer_pays(&report, Shown::Terminal).words();
        assert!(words.starts_with("Of 2 product lines your hours are known of one, Kitchen boards: $31.20"), "{words}");
    }

    #[test]
    fn where_no_hours_are_known_the_largest_margin_answers() {
        let mut report = made_up::pays();
        for group in &mut report.groups {
            group.earned_per_hour = None;
        }
        let words = answer_pays(&report, Shown::Terminal).words();
        assert!(words.starts_with("What brings most is Rolling toys: $2,310.55 of paid margin."), "{words}");
    }

    #[test]
    fn a_loss_is_called_a_loss() {
        let mut report = made_up::year();
        assert!(answer_year(&report, Shown::Terminal).words().contains("a net profit of $5,214 on line 31."));
        for line in &mut report.lines {
            line.printed.insert(0, '-');
        }
        assert!(answer_year(&report, Shown::Terminal).words().contains("a net loss of $5,214 on line 31."));
    }

    #[test]
    fn a_proof_that_fails_is_not_praised() {
        let mut report = made_up::proof();
        assert!(answer_proof(&report, Shown::Terminal).words().starts_with("Every cent and minute has its place"));
        report.holds = false;
        assert!(answer_proof(&report, Shown::Terminal).words().contains("fault of the program"));
    }
}

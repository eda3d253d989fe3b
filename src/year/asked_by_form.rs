//! What a form has no line for: asked by the form's own questions, with the amounts and entries that flow there.
//!
//! Nothing of it is in a line or in the net profit, which each question says. What the form wants besides its lines is asked in every
//! year.

use chrono::Datelike;

use crate::sources::Span;
use crate::units::Fixed6;
use crate::year::Feed;
use crate::year::books::BooksOfYear;
use crate::year::forms::form::AskedByForm;
use crate::year::forms::source_note::{SourceNote, SourceNotes};
use crate::year::ledger::Ledger;
use crate::year::questions::Questions;
use crate::year::tax_year::{Mileage, Question, ToolYear};

/// What the year came to that is no sum of money yet, because the form's data doesn't say how to figure it.
pub(crate) struct Unfigured<'a> {
    pub(crate) equipment: &'a [ToolYear],
    pub(crate) mileage: &'a Mileage,
    /// The home workshop in words.
    pub(crate) home: Option<String>,
}

/// What of a year flows to one question.
#[derive(Default)]
struct Flowing {
    parts: Vec<String>,
    entries: Vec<Span>,
}

/// Asks. `None` on overflow.
pub(crate) fn ask_by_form(
    of: &BooksOfYear<'_>,
    ledger: &Ledger,
    unfigured: &Unfigured<'_>,
    questions: &mut Questions,
    sources: &mut SourceNotes,
) -> Option<()> {
    for asked in &of.form.asked {
        let flowing = flowing_to(of, asked, ledger, unfigured)?;
        if flowing.parts.is_empty() && !asked.always {
            continue;
        }
        let question = match flowing.parts.as_slice() {
            [] => asked.question.clone(),
            parts => format!("{} On no line here, and not in the net profit: {}", asked.question, parts.join("; ")),
        };
        let source = of.form.sources.get(asked.source);
        if let Some(source) = source {
            sources.note(source);
        }
        questions.ask_by_form(Question {
            name: asked.name.clone(),
            question,
            rule: asked.rule.clone(),
            source: source.map_or_else(String::new, SourceNote::says),
            answer_with: asked.answer_with.clone(),
            entries: flowing.entries,
            answer: None,
        });
    }
    Some(())
}

/// Asks how a book in another currency than the form's is turned into that.
pub(crate) fn ask_of_currency(of: &BooksOfYear<'_>, questions: &mut Questions) {
    let kept = of.book().shop.currency.code();
    let Some(currency) = of.form.currency.as_deref().filter(|currency| *currency != kept) else { return };
    let source = of.form.sources.first();
    questions.ask_by_form(Question {
        name: "form-currency".to_owned(),
        question: format!(
            "the book is kept in {kept}, and the form takes amounts in {currency}: at which rate is each turned into it?"
        ),
        rule: format!("every amount here is in {kept}, as it stands in the book"),
        source: source.map_or_else(String::new, SourceNote::says),
        answer_with: "answered … with the rates and where they are from".to_owned(),
        entries: vec![of.book().shop.span],
        answer: None,
    });
}

fn flowing_to(of: &BooksOfYear<'_>, asked: &AskedByForm, ledger: &Ledger, unfigured: &Unfigured<'_>) -> Option<Flowing> {
    let mut flowing = Flowing::default();
    let sums = ledger.asked().iter().filter(|(feed, sum)| asked.feeds.contains(feed) && !sum.amount.is_zero());
    let (mut all, mut count) = (Fixed6::ZERO, 0);
    for (_, sum) in sums {
        let share = if sum.share.is_empty() { String::new() } else { format!(" ({})", sum.share) };
        flowing.parts.push(format!("{}{share} {}", sum.name, of.money(sum.amount)));
        flowing.entries.extend(sum.items.iter().map(|item| item.span).filter(|span| !span.is_empty()));
        all = all.checked_add(sum.amount)?;
        count += 1;
    }
    if count > 1 {
        flowing.parts.push(format!("{} in all", of.money(all)));
    }
    for tool in unfigured.equipment.iter().filter(|tool| tool.asked) {
        // What is expensed at once matters in the years in which it came and left.
        let is_past = tool.feed == Some(Feed::ToolsAtOnce) && tool.in_use_from.year() != of.year && tool.disposed.is_none();
        if is_past || !tool.feed.is_some_and(|feed| asked.feeds.contains(&feed)) {
            continue;
        }
        flowing.parts.push(tool_in_words(of, tool));
        flowing.entries.push(tool.line);
    }
    if asked.feeds.contains(&Feed::Miles) && !unfigured.mileage.miles.is_zero() {
        flowing.parts.push(format!("{} miles driven", unfigured.mileage.miles.normalize()));
        flowing.entries.extend(of.costed().miles.iter().filter(|drive| of.has(drive.date)).map(|drive| of.head(drive.event)));
    }
    if asked.feeds.contains(&Feed::HomeWorkshop)
        && let Some(home) = &unfigured.home
    {
        flowing.parts.push(home.clone());
        flowing.entries.push(of.book().shop.span);
    }
    Some(flowing)
}

fn tool_in_words(of: &BooksOfYear<'_>, tool: &ToolYear) -> String {
    let name = &of.book().tool(tool.tool).named.title;
    let mut words = format!("`{name}`, in use from {}, cost {}", tool.in_use_from, of.money(tool.cost));
    if tool.business_use != rust_decimal::Decimal::ONE_HUNDRED {
        words.push_str(&format!(", {}% for the business", tool.business_use.normalize()));
    }
    if !tool.before.is_zero() {
        words.push_str(&format!(", {} of it recovered before", of.money(tool.before)));
    }
    if let Some(gone) = tool.disposed {
        words.push_str(&format!(", left on {} for {}", gone.date, of.money(gone.proceeds)));
    }
    words
}

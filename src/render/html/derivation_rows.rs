//! A derivation as a template prints it: its steps one after another, each with what it opens and closes.
//!
//! A list of rows instead of a tree, so that a template needs no recursion, and a derivation of any depth is printed.

use std::collections::BTreeMap;

use minijinja::context;
use minijinja::value::Value;

use super::page_links::{PageLinks, link_value};
use crate::render::number_format::{Shown, grouped, hours, is_zero};
use crate::reports::{Excerpt, WhyMeasure, WhyReport, WhyRule, WhyStep};

/// Levels that are open when a page is opened.
const OPEN_LEVELS: usize = 2;

/// The excerpts of a page, and where each line of them stands.
pub(super) struct ShownExcerpts {
    places: BTreeMap<(String, usize), String>,
    excerpts: Vec<Value>,
}

impl ShownExcerpts {
    /// Numbers the excerpts of a page.
    pub(super) fn of(excerpts: &[Excerpt]) -> Self {
        let mut shown = Self { places: BTreeMap::new(), excerpts: Vec::with_capacity(excerpts.len()) };
        for excerpt in excerpts {
            let mut lines = Vec::with_capacity(excerpt.lines.len());
            for line in &excerpt.lines {
                let id = format!("L{}", shown.places.len().saturating_add(1));
                shown.places.insert((excerpt.file.clone(), line.number), id.clone());
                let (number, text) = (line.number, line.text.as_str());
                lines.push(context! { id, number, text, is_named => line.is_named, is_head => line.is_head, after_gap => line.after_gap });
            }
            shown.excerpts.push(context! { file => excerpt.file.as_str(), lines });
        }
        shown
    }

    pub(super) fn values(&self) -> Value {
        Value::from(self.excerpts.clone())
    }

    /// The link to a line, where it is shown.
    pub(super) fn line(&self, file: &str, line: usize) -> Option<Value> {
        Some(Value::from_safe_string(format!("#{}", self.places.get(&(file.to_owned(), line))?)))
    }

    fn place(&self, step: &WhyStep) -> Option<Value> {
        let at = step.at.as_ref()?;
        let id = self.places.get(&(at.file.clone(), at.line))?;
        Some(context! { text => format!("{}:{}", at.file, at.line), link => Value::from_safe_string(format!("#{id}")) })
    }
}

/// A derivation as a site tells it: what is told at a home of its own is not told again, only linked; a part of such a thing is linked itself.
pub(super) fn folded(mut told: WhyReport, links: &PageLinks) -> WhyReport {
    let here = format!("#{}", links.anchor(&told.figure));
    let mut waiting: Vec<&mut WhyStep> = told.steps.iter_mut().collect();
    while let Some(step) = waiting.pop() {
        let home =
            |step: &WhyStep| step.figure.as_deref().and_then(|figure| links.figure(figure)).filter(|link| link.as_str() != here);
        if home(step).is_some() {
            step.steps.clear();
        } else {
            step.figure = None;
        }
        if let [below] = step.steps.as_slice()
            && step.rule == WhyRule::PartOf
            && home(below).is_some()
        {
            step.figure.clone_from(&below.figure);
            step.steps.clear();
        }
        waiting.extend(&mut step.steps);
    }
    told
}

/// The only first step of a derivation, where it says no more than the sentence above it: its rows are told without it.
fn said_above<'w>(told: &'w WhyReport, beside: Option<&WhyReport>) -> Option<&'w WhyStep> {
    let [only] = told.steps.as_slice() else { return None };
    let says = |one: &WhyReport, amount: &str| {
        one.answer.split_whitespace().any(|word| word.trim_end_matches(['.', ',', ';', ':']) == amount)
    };
    // Steps of the form say more: which line, and what it asks.
    let is_of_goods = ["batch/", "order/", "stock/"].iter().any(|kind| told.figure.starts_with(kind));
    let is_sum = is_of_goods && only.rule == WhyRule::SumOf && only.month.is_none() && !only.steps.is_empty();
    let is_said = says(told, &only.paid) && (told.measure != WhyMeasure::PaidAndFull || says(told, &only.full));
    let is_said_beside = match beside {
        // What is told beside others stands at the fold, which one row alone has not.
        Some(beside) => only.steps.len() > 1 && beside.steps.first().is_some_and(|other| says(beside, &other.paid)),
        None => true,
    };
    (is_sum && is_said && is_said_beside).then_some(only)
}

/// A derivation with its rows.
///
/// `beside` has the same rows with other amounts, which are told with these; `months` are the pages of the months that stand on pages of their own.
pub(super) fn derivation_rows(
    told: &WhyReport,
    beside: Option<&WhyReport>,
    links: &PageLinks,
    excerpts: &ShownExcerpts,
    months: &BTreeMap<String, String>,
) -> Value {
    let mut rows = Vec::new();
    let of_figure = |step: &WhyStep| step.figure.as_deref().and_then(|figure| links.figure(figure));
    let said_above = said_above(told, beside).filter(|only| of_figure(only).is_none() && excerpts.place(only).is_none());
    let others = beside.map(|one| one.steps.as_slice());
    let (mut waiting, levels_above) = match said_above {
        Some(only) => (below(&only.steps, others.and_then(|steps| Some(steps.first()?.steps.as_slice())), 0), 1),
        None => (below(&told.steps, others, 0), 0),
    };
    while let Some((step, other, level)) = waiting.pop() {
        waiting.extend(below(&step.steps, other.map(|one| one.steps.as_slice()), level.saturating_add(1)));
        // A step closes the lists down to the level of the next one.
        let next = waiting.last().map_or(0, |(_, _, level)| *level);
        let closes = if step.steps.is_empty() { level.saturating_sub(next) } else { 0 };
        let rule = match step.rule {
            WhyRule::PartOf => "a part of it",
            WhyRule::PerUnit => "divided by the units",
            WhyRule::Figured => "figured from these",
            WhyRule::Above => "told further up",
            WhyRule::SumOf | WhyRule::Said | WhyRule::Deeper => "",
        };
        let has_full = told.measure == WhyMeasure::PaidAndFull && step.full != step.paid;
        let more = match (other, beside) {
            (Some(other), Some(beside)) => format!("in {}", amount(beside, other, &other.paid)),
            _ if has_full => format!("full {}", amount(told, step, &step.full)),
            _ => String::new(),
        };
        rows.push(context! {
            says => step.says.as_str(),
            paid => amount(told, step, &step.paid),
            more,
            rule,
            link => link_value(of_figure(step).or_else(|| links.file(months.get(step.month.as_deref()?)?))),
            place => excerpts.place(step),
            opens => !step.steps.is_empty(),
            is_open => level.saturating_add(levels_above) < OPEN_LEVELS,
            closes,
        });
    }
    // Of nothing the sentence says it all.
    if let [only] = told.steps.as_slice()
        && only.steps.is_empty()
        && is_zero(&only.paid)
        && is_zero(&only.full)
        && only.at.is_none()
    {
        rows.clear();
    }
    context! {
        id => links.anchor(&told.figure),
        figure => told.figure.as_str(),
        answer => told.answer.as_str(),
        beside => beside.map(|one| context! { id => links.anchor(&one.figure), answer => one.answer.as_str() }),
        rows,
    }
}

/// A step that waits, with the one that is told beside it, and its level.
type Waiting<'t> = (&'t WhyStep, Option<&'t WhyStep>, usize);

/// The steps below one, the first of them last.
fn below<'t>(steps: &'t [WhyStep], beside: Option<&'t [WhyStep]>, level: usize) -> Vec<Waiting<'t>> {
    let of = |at: usize| beside.and_then(|others| others.get(at));
    steps.iter().enumerate().rev().map(|(at, step)| (step, of(at), level)).collect()
}

fn amount(told: &WhyReport, step: &WhyStep, text: &str) -> String {
    match (step.measure.unwrap_or(told.measure), step.unit.as_deref()) {
        (WhyMeasure::Minutes, _) => hours(text, Shown::Page),
        (WhyMeasure::Units, Some(unit)) if unit != "ea" => format!("{} {unit}", grouped(text, Shown::Page)),
        _ => grouped(text, Shown::Page),
    }
}

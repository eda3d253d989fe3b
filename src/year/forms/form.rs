//! A form's lines, as data: what feeds each, or which lines it adds.
//!
//! Read from `forms/FORM/YEAR.toml`. A line is found by its stable name; its number is only printed. Nothing of any form is in
//! code. What flows where the form has no line is asked, by name. What a file must hold is checked when it is read (`form_check`), so
//! that later steps can rely on it.

use serde::Deserialize;

use crate::year::forms::form_check::check_form;
use crate::year::{Feed, FormBox, Says, SourceNote};

/// Whose categories of a book may name a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Takes {
    /// Expenses that are no house costs.
    Expense,
    /// Incomes without goods.
    Income,
    /// Expenses that count as house cost.
    House,
}

/// A yearly part that a line's sum is multiplied by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Times {
    /// The part of meals that counts.
    Meals,
}

/// A line of a form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// As printed on the form: `27b`.
    pub number: String,
    /// Its stable name.
    pub name: String,
    /// The part of the form.
    pub part: String,
    /// Its label on the form.
    pub label: String,
    /// What flows into it.
    pub feeds: Vec<Feed>,
    /// Whose categories may name it.
    pub takes: Vec<Takes>,
    /// Further names by which a book may call it in `form line`.
    pub also: Vec<String>,
    /// The lines that it adds (true) or subtracts, as indices; empty for a line that is fed.
    pub adds: Vec<(bool, usize)>,
    /// What its sum is multiplied by.
    pub times: Option<Times>,
    /// Whether the form wants a list of what it is made of.
    pub itemized: bool,
    /// What is asked where a category names it by its number; empty for nothing.
    pub caution: String,
    /// Its source, as an index into [`Form::sources`].
    pub source: usize,
}

impl Line {
    /// Whether it is a working, which is not on the form.
    #[must_use]
    pub fn is_working(&self) -> bool {
        self.part == "working"
    }
}

/// What a form has no line for, or wants besides its lines: it is asked, and in no figure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AskedByForm {
    /// The question's stable name.
    pub name: String,
    /// The question, in a sentence without its mark.
    pub question: String,
    /// The rule behind it.
    pub rule: String,
    /// What answers it.
    pub answer_with: String,
    /// What flows there, and stands on no line.
    pub feeds: Vec<Feed>,
    /// Whether it is asked in a year in which nothing flows there too.
    pub always: bool,
    /// Its source, as an index into [`Form::sources`].
    pub source: usize,
}

/// A line of the schedule that takes the net profit on, for self-employment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScheduleLine {
    /// As printed.
    pub number: String,
    /// Its stable name.
    pub name: String,
    /// Its label.
    pub label: String,
    /// Its source, as an index into [`Form::sources`].
    pub source: usize,
}

/// A form of one tax year.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Form {
    /// Its name: `us-schedule-c`.
    pub name: String,
    /// Its title.
    pub title: String,
    /// The title of the schedule behind it; empty where it has none.
    pub schedule_title: String,
    /// The list on which the gains and losses of sold tools belong, as `Form 4797`; empty where the data names none.
    pub sold_tools: String,
    /// The code of the currency that its amounts are in; none where the data doesn't say.
    pub currency: Option<String>,
    /// The tax year that its data is for.
    pub year: i32,
    /// Whether the form was taken over from an earlier year, unread.
    pub provisional: bool,
    /// Where its wording comes from.
    pub sources: Vec<SourceNote>,
    /// Its lines, in its own order.
    pub lines: Vec<Line>,
    /// Index of the line that holds the net profit or loss.
    pub net_profit: usize,
    /// Index of the line that limits the home workshop; none where that is asked.
    pub home_limit: Option<usize>,
    /// Index of the line that holds the cost of goods sold; none where that is asked.
    pub cost_of_goods: Option<usize>,
    /// What is asked beside its lines, in the file's order.
    pub asked: Vec<AskedByForm>,
    /// The schedule for self-employment; empty where there is none.
    pub schedule: Vec<ScheduleLine>,
    /// Boxes that want words in place of an amount.
    pub boxes: Vec<FormBox>,
}

impl Form {
    /// The index of a line by its stable name.
    #[must_use]
    pub fn index_of(&self, name: &str) -> Option<usize> {
        self.lines.iter().position(|line| line.name == name)
    }

    /// The index of the line into which a feed flows.
    #[must_use]
    pub fn line_of(&self, feed: Feed) -> Option<usize> {
        self.lines.iter().position(|line| line.feeds.contains(&feed))
    }

    /// What asks for a feed that has no line.
    #[must_use]
    pub fn asked_of(&self, feed: Feed) -> Option<&AskedByForm> {
        self.asked.iter().find(|asked| asked.feeds.contains(&feed))
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FormText {
    form: String,
    year: i32,
    title: String,
    #[serde(default)]
    schedule_title: String,
    #[serde(default)]
    sold_tools: String,
    currency: Option<String>,
    #[serde(default)]
    provisional: bool,
    net_profit: String,
    home_limit: Option<String>,
    cost_of_goods: Option<String>,
    source: Vec<SourceText>,
    line: Vec<LineText>,
    #[serde(default)]
    asked: Vec<AskedText>,
    #[serde(default)]
    schedule_line: Vec<ScheduleText>,
    #[serde(default, rename = "box")]
    boxes: Vec<BoxText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AskedText {
    name: String,
    question: String,
    rule: String,
    answer_with: String,
    #[serde(default)]
    feeds: Vec<String>,
    #[serde(default)]
    always: bool,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SourceText {
    id: String,
    text: String,
    mark: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LineText {
    line: String,
    name: String,
    part: String,
    label: String,
    #[serde(default)]
    feeds: Vec<String>,
    #[serde(default)]
    takes: Vec<Takes>,
    #[serde(default)]
    also: Vec<String>,
    #[serde(default)]
    adds: Vec<String>,
    times: Option<Times>,
    #[serde(default)]
    itemized: bool,
    #[serde(default)]
    caution: String,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ScheduleText {
    line: String,
    name: String,
    label: String,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct BoxText {
    line: String,
    label: String,
    says: Says,
    source: String,
}

/// Reads a form's file.
///
/// # Errors
/// A sentence that says what is wrong with the file.
pub(crate) fn parse_form(text: &str) -> Result<Form, String> {
    let raw: FormText = toml::from_str(text).map_err(|error| error.to_string().trim_end().to_owned())?;
    let source_of = |id: &str| {
        raw.source.iter().position(|source| source.id == id).ok_or_else(|| format!("no `[[source]]` has the id `{id}`"))
    };
    let index_of =
        |name: &str| raw.line.iter().position(|line| line.name == name).ok_or_else(|| format!("no line has the name `{name}`"));
    let mut lines = Vec::with_capacity(raw.line.len());
    for line in &raw.line {
        let adds = line.adds.iter().map(|signed| match (signed.strip_prefix('+'), signed.strip_prefix('-')) {
            (Some(name), _) => Ok((true, index_of(name)?)),
            (None, Some(name)) => Ok((false, index_of(name)?)),
            (None, None) => Err(format!("`{signed}` in `adds` begins neither with `+` nor with `-`")),
        });
        lines.push(Line {
            number: line.line.clone(),
            name: line.name.clone(),
            part: line.part.clone(),
            label: line.label.clone(),
            feeds: feeds_of(&line.feeds)?,
            takes: line.takes.clone(),
            also: line.also.clone(),
            adds: adds.collect::<Result<_, String>>()?,
            times: line.times,
            itemized: line.itemized,
            caution: line.caution.clone(),
            source: source_of(&line.source)?,
        });
    }
    let schedule = raw.schedule_line.iter().map(|line| {
        let source = source_of(&line.source)?;
        Ok(ScheduleLine { number: line.line.clone(), name: line.name.clone(), label: line.label.clone(), source })
    });
    let boxes = raw.boxes.iter().map(|one| {
        Ok(FormBox { number: one.line.clone(), label: one.label.clone(), says: one.says, source: source_of(&one.source)? })
    });
    let asked = raw.asked.iter().map(|asked| {
        Ok(AskedByForm {
            name: asked.name.clone(),
            question: asked.question.clone(),
            rule: asked.rule.clone(),
            answer_with: asked.answer_with.clone(),
            feeds: feeds_of(&asked.feeds)?,
            always: asked.always,
            source: source_of(&asked.source)?,
        })
    });
    let form = Form {
        boxes: boxes.collect::<Result<_, String>>()?,
        asked: asked.collect::<Result<_, String>>()?,
        schedule: schedule.collect::<Result<_, String>>()?,
        net_profit: index_of(&raw.net_profit)?,
        home_limit: raw.home_limit.as_deref().map(index_of).transpose()?,
        cost_of_goods: raw.cost_of_goods.as_deref().map(index_of).transpose()?,
        sources: raw.source.iter().map(|one| SourceNote { text: one.text.clone(), mark: one.mark.clone() }).collect(),
        name: raw.form,
        title: raw.title,
        schedule_title: raw.schedule_title,
        sold_tools: raw.sold_tools,
        currency: raw.currency,
        year: raw.year,
        provisional: raw.provisional,
        lines,
    };
    check_form(&form)?;
    Ok(form)
}

fn feeds_of(names: &[String]) -> Result<Vec<Feed>, String> {
    names.iter().map(|name| Feed::of_name(name).ok_or_else(|| format!("nothing feeds by the name `{name}`"))).collect()
}

//! A form's lines, as data: what feeds each, or which lines it adds.
//!
//! Read from `forms/FORM/YEAR.toml`. A line is found by its stable name; its number is only printed. Nothing of any form is in
//! code. What a file must hold is checked here, so that later steps can rely on it: every feed has one line, and no line adds
//! itself.

use serde::Deserialize;

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
    /// Index of the line that limits the home workshop.
    pub home_limit: usize,
    /// Index of the line that holds the cost of goods sold.
    pub cost_of_goods: usize,
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
    #[serde(default)]
    provisional: bool,
    net_profit: String,
    home_limit: String,
    cost_of_goods: String,
    source: Vec<SourceText>,
    line: Vec<LineText>,
    #[serde(default)]
    schedule_line: Vec<ScheduleText>,
    #[serde(default, rename = "box")]
    boxes: Vec<BoxText>,
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
        let feeds =
            line.feeds.iter().map(|name| Feed::of_name(name).ok_or_else(|| format!("nothing feeds by the name `{name}`")));
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
            feeds: feeds.collect::<Result<_, String>>()?,
            takes: line.takes.clone(),
            also: line.also.clone(),
            adds: adds.collect::<Result<_, String>>()?,
            times: line.times,
            itemized: line.itemized,
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
    let form = Form {
        boxes: boxes.collect::<Result<_, String>>()?,
        schedule: schedule.collect::<Result<_, String>>()?,
        net_profit: index_of(&raw.net_profit)?,
        home_limit: index_of(&raw.home_limit)?,
        cost_of_goods: index_of(&raw.cost_of_goods)?,
        sources: raw.source.iter().map(|one| SourceNote { text: one.text.clone(), mark: one.mark.clone() }).collect(),
        name: raw.form,
        title: raw.title,
        schedule_title: raw.schedule_title,
        sold_tools: raw.sold_tools,
        year: raw.year,
        provisional: raw.provisional,
        lines,
    };
    check(&form)?;
    Ok(form)
}

fn check(form: &Form) -> Result<(), String> {
    for (at, line) in form.lines.iter().enumerate() {
        if form.lines.iter().take(at).any(|other| other.name == line.name) {
            return Err(format!("two lines have the name `{}`", line.name));
        }
        if !line.adds.is_empty() && (!line.feeds.is_empty() || !line.takes.is_empty()) {
            return Err(format!("line {} both adds lines and is fed", line.number));
        }
        // A line that adds may name only lines that do not, in turn, add it.
        if adds(form, at, at) {
            return Err(format!("line {} adds itself", line.number));
        }
    }
    for feed in Feed::ALL {
        match form.lines.iter().filter(|line| line.feeds.contains(&feed)).count() {
            1 => {}
            0 => return Err(format!("no line has `{}` in its `feeds`", feed.name())),
            _ => return Err(format!("two lines have `{}` in their `feeds`", feed.name())),
        }
    }
    let home = form.line_of(Feed::HomeWorkshop);
    if home.is_some_and(|home| home == form.home_limit || adds(form, form.home_limit, home)) {
        return Err("the line that limits the home workshop adds it".to_owned());
    }
    Ok(())
}

/// Whether the line `from` adds `wanted`, at any depth.
fn adds(form: &Form, from: usize, wanted: usize) -> bool {
    let mut seen = vec![false; form.lines.len()];
    let mut next = vec![from];
    while let Some(at) = next.pop() {
        for (_, added) in form.lines.get(at).map_or(&[][..], |line| &line.adds) {
            if *added == wanted {
                return true;
            }
            if seen.get(*added) == Some(&false) {
                seen[*added] = true;
                next.push(*added);
            }
        }
    }
    false
}

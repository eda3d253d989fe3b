//! What can be asked of a book: its figures by kind with examples, or those whose names begin in a way.

use rustc_hash::FxHashMap;
use schemars::JsonSchema;
use serde::Serialize;

use super::kinds::{FigureKind, KINDS};
use super::{FigureName, FigureNames};
use crate::reports::{Period, ReportHead};

/// The most names that are listed one by one; more are told by how they go on.
const MOST: usize = 40;

/// A figure, or several whose names begin alike.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FigureRow {
    /// The figure's name, or how several begin.
    pub figure: String,
    /// How many names begin so, itself included.
    pub count: usize,
    /// Whether that is itself a figure.
    pub is_figure: bool,
}

/// The figures of a kind.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FigureGroup {
    /// The question of the report that prints them.
    pub question: String,
    /// The word with which they begin.
    pub kind: String,
    /// How a name is formed.
    pub form: String,
    /// What they tell.
    pub tells: String,
    /// How many there are; of plans, as many as one asks for, so none are counted.
    pub count: usize,
    /// Examples, or the figures themselves where they are few or were asked for.
    pub rows: Vec<FigureRow>,
}

/// What can be asked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FiguresReport {
    /// Its head.
    #[serde(flatten)]
    pub head: ReportHead,
    /// How the names begin that were asked for; nothing for all.
    pub begins: Option<String>,
    /// How many there are.
    pub count: usize,
    /// By kind; a kind of which there is none is left out.
    pub groups: Vec<FigureGroup>,
}

/// Lists the figures of a book: of each kind examples, or where it is said how the names begin all that do. Where those are more than a page they
/// are told by how they go on.
#[must_use]
pub fn list_figures(names: &FigureNames<'_>, begins: Option<&str>) -> FiguresReport {
    let begins = begins.map(|text| text.trim_end_matches('/')).filter(|text| !text.is_empty());
    let all: Vec<String> = names.all().into_iter().map(|figure| figure.text(names)).collect();
    let exact = begins.is_some_and(|begins| all.iter().any(|text| goes_on(text, begins)));
    let asked: Vec<&str> = all
        .iter()
        .map(String::as_str)
        .filter(|text| begins.is_none_or(|begins| if exact { goes_on(text, begins) } else { text.starts_with(begins) }))
        .collect();
    let mut groups = Vec::new();
    for kind in KINDS {
        let of_kind: Vec<&str> = asked.iter().copied().filter(|text| goes_on(text, kind.word)).collect();
        if of_kind.is_empty() && begins.is_none() && kind.word == "plan" {
            // A plan is none of the book's own figures, and has to be found all the same.
            groups.extend(names.plan_of_one().map(|plan| {
                let row = FigureRow { figure: format!("{plan}/cash-needed"), count: 1, is_figure: true };
                group(kind, 0, vec![row])
            }));
            continue;
        }
        if of_kind.is_empty() {
            continue;
        }
        let rows = match begins {
            None => examples(&of_kind),
            Some(begins) => rows_of(&of_kind, if exact { begins } else { kind.word }),
        };
        groups.push(group(kind, of_kind.len(), rows));
    }
    let books = names.books();
    let head = Period::default().head("figures", books.book, books.log.first_day, books.costed.until);
    FiguresReport { head, begins: begins.map(str::to_owned), count: asked.len(), groups }
}

fn group(kind: FigureKind, count: usize, rows: Vec<FigureRow>) -> FigureGroup {
    FigureGroup {
        question: kind.question.to_owned(),
        kind: kind.word.to_owned(),
        form: kind.form.to_owned(),
        tells: kind.tells.to_owned(),
        count,
        rows,
    }
}

/// Whether a name is another or goes on from it with a further segment.
fn goes_on(text: &str, begins: &str) -> bool {
    text.strip_prefix(begins).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
}

/// The first name of each number of segments, at most three.
fn examples(of_kind: &[&str]) -> Vec<FigureRow> {
    let mut rows: Vec<FigureRow> = Vec::new();
    let mut lengths: Vec<usize> = Vec::new();
    for text in of_kind {
        let length = text.split('/').count();
        if rows.len() < 3 && !lengths.contains(&length) {
            lengths.push(length);
            rows.push(FigureRow { figure: (*text).to_owned(), count: 1, is_figure: true });
        }
    }
    rows
}

/// All names where they are few, else each way in which they go on by a further segment. Nothing is left out.
fn rows_of(asked: &[&str], begins: &str) -> Vec<FigureRow> {
    if asked.len() <= MOST {
        return asked.iter().map(|text| FigureRow { figure: (*text).to_owned(), count: 1, is_figure: true }).collect();
    }
    let depth = begins.split('/').count();
    let mut rows: Vec<FigureRow> = Vec::new();
    let mut places: FxHashMap<&str, usize> = FxHashMap::default();
    for text in asked {
        let end = text.match_indices('/').nth(depth).map_or(text.len(), |(at, _)| at);
        let begin = text.get(..end).unwrap_or(text);
        let place = *places.entry(begin).or_insert_with(|| {
            rows.push(FigureRow { figure: begin.to_owned(), count: 0, is_figure: false });
            rows.len().saturating_sub(1)
        });
        if let Some(row) = rows.get_mut(place) {
            row.count = row.count.saturating_add(1);
            row.is_figure |= begin == *text;
        }
    }
    rows
}

impl FigureName {
    /// Whether any figure's name begins so: with these segments; or with these letters, where they are of its kind.
    #[must_use]
    pub fn any_begins(text: &str, names: &FigureNames<'_>) -> bool {
        let begins = text.trim_end_matches('/');
        let by_letters = !begins.contains('/');
        !begins.is_empty()
            && names.all().into_iter().any(|figure| {
                let text = figure.text(names);
                if by_letters { text.starts_with(begins) } else { goes_on(&text, begins) }
            })
    }
}

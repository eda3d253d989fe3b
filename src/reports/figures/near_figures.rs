//! The figures whose names are near to one that is none: each of its segments is judged by itself, the kind, the name, the year, the part.

use super::{FigureName, FigureNames, PatternOf, PatternPart, PaysColumn, PaysFigure, PlaceOf, PriceOf, SlowFigure, SlowPart};
use crate::diagnostics::edits;

/// The most that are offered.
const MOST: usize = 3;

/// The nearest figures of a book, the nearest first: of as many segments, each within a third of its length; else those that have the very name
/// elsewhere. A year is near only to
/// itself, since another year is another question.
pub(super) fn near_figures(typed: &str, names: &FigureNames<'_>) -> Vec<String> {
    let typed: Vec<&str> = typed.trim_matches('/').split('/').collect();
    if let ["stock", _, day] = typed.as_slice()
        && is_number(day)
    {
        // A day is wrong by itself.
        return Vec::new();
    }
    if let Some(joined) = joined(&typed, names) {
        return vec![joined];
    }
    let mut near: Vec<(usize, usize, String)> = Vec::new();
    let mut elsewhere: Vec<String> = Vec::new();
    // The name is what is neither the kind nor a year.
    let name = typed.iter().find(|segment| !is_number(segment) && !super::is_kind(segment)).copied();
    for (place, figure) in names.all().into_iter().enumerate() {
        let text = figure.text(names);
        let segments: Vec<&str> = text.split('/').collect();
        if let Some(distance) = all_apart(&typed, &segments) {
            near.push((distance, place, text));
            near.sort_unstable();
            near.truncate(MOST);
        } else if is_whole(figure)
            && name.is_some_and(|name| segments.iter().skip(1).any(|one| *one == name))
            && !elsewhere.iter().any(|one| one.split('/').next() == segments.first().copied())
        {
            elsewhere.push(text);
        }
    }
    elsewhere.truncate(MOST);
    if near.is_empty() { elsewhere } else { near.into_iter().map(|(_, _, text)| text).collect() }
}

/// The figure that is meant where a name was typed with its `/`: within a figure's name that is a `_`.
fn joined(typed: &[&str], names: &FigureNames<'_>) -> Option<String> {
    for end in (3..=typed.len()).rev() {
        for begin in 1..end.saturating_sub(1) {
            let (Some(before), Some(name), Some(after)) = (typed.get(..begin), typed.get(begin..end), typed.get(end..)) else {
                continue;
            };
            let name = name.join("_");
            let segments: Vec<&str> = before.iter().copied().chain([name.as_str()]).chain(after.iter().copied()).collect();
            let text = segments.join("/");
            if let Ok(figure) = FigureName::read_exactly(&text, names) {
                return Some(figure.text(names));
            }
        }
    }
    None
}

/// How far a name is from another of as many segments; nothing where one of them is too far.
fn all_apart(typed: &[&str], known: &[&str]) -> Option<usize> {
    if typed.len() != known.len() {
        return None;
    }
    typed.iter().zip(known).try_fold(0, |sum: usize, (typed, known)| sum.checked_add(apart(typed, known)?))
}

/// How far a segment is from a known one; nothing where that is too far.
fn apart(typed: &str, known: &str) -> Option<usize> {
    if typed.eq_ignore_ascii_case(known) {
        return Some(0);
    }
    if is_number(typed) || is_number(known) {
        // `26` may be 2026, and no other year.
        return (is_number(typed) && known.len() == 4 && known.ends_with(typed)).then_some(1);
    }
    let letters = typed.chars().count();
    let most = (letters / 3).max(1);
    if known.chars().count().abs_diff(letters) > most {
        return None;
    }
    let distance = edits(typed, known);
    (distance <= most).then_some(distance)
}

/// Whether a segment is a year or a day.
fn is_number(segment: &str) -> bool {
    segment.starts_with(|first: char| first.is_ascii_digit()) && segment.chars().all(|one| one.is_ascii_digit() || one == '-')
}

/// Whether a figure is no part of another, and of no one year.
fn is_whole(figure: FigureName) -> bool {
    match figure {
        FigureName::Cost(figure) => figure.part.is_none() && figure.year.is_none(),
        FigureName::Batch(figure) => figure.part.is_none(),
        FigureName::Lot(figure) => figure.part.is_none(),
        FigureName::Order(figure) => figure.part.is_none(),
        FigureName::Pays(PaysFigure::Column { year, column, .. }) => year.is_none() && column == PaysColumn::PaidMargin,
        FigureName::Pays(_) | FigureName::Plan(_) | FigureName::CostRow(_) | FigureName::Variance(_) => false,
        FigureName::Price(figure) => matches!(figure.of, PriceOf::Piece(None)),
        FigureName::Places(figure) => figure.of == PlaceOf::Owed,
        FigureName::Pattern(figure) => figure.of == PatternOf::All(PatternPart::Made),
        FigureName::Slow(figure) => matches!(figure, SlowFigure::Thing(_, SlowPart::SlowPaid)),
        FigureName::Proof(figure) => figure.year.is_none() && figure.flow.is_none(),
        FigureName::Stock(_) | FigureName::CostOfGoods { .. } | FigureName::Line { .. } | FigureName::Schedule(_) => true,
    }
}
